// Package measure holds exact lengths, areas, screw positions and amounts of
// money, and reads and prints them the way people in a shop write them. It
// leaves every other meaning (what is being measured, and why) to its callers.
package measure

import (
	"math/bits"
	"strconv"
	"strings"
)

// Length is an exact count of ticks; one tick is 1/800,000 mm. Every kerf,
// inch fraction down to 1/256 in, ten-thousandth of an inch and micrometre is
// a whole number of ticks.
type Length int64

// Whole units in ticks. The inch is 25.4 mm exactly (NIST Handbook 44,
// Appendix C).
const (
	Tick       Length = 1
	Micrometre Length = 800
	Millimetre Length = 800_000
	Centimetre Length = 10 * Millimetre
	Inch       Length = 20_320_000
	Foot       Length = 12 * Inch
)

// Unit is what a bare number means and how a length is printed. It carries how
// the shop writes numbers and dates too, so that whoever prints a length can
// print them the same way (see style.go).
type Unit int

// The units a shop writes in. The zero value means "not said".
const (
	NoUnit Unit = iota
	Inches
	Millimetres
	Centimetres
	Feet
)

// String gives the unit's own suffix ("in", "mm", "cm", "ft"); empty when not said.
func (u Unit) String() string {
	return [...]string{"", "in", "mm", "cm", "ft"}[u.Plain()]
}

// Ticks is the size of one unit; 0 when not said.
func (u Unit) Ticks() Length {
	return [...]Length{0, Inch, Millimetre, Centimetre, Foot}[u.Plain()]
}

// Millimetres is l in mm as a float, for drawing and statistics only.
func (l Length) Millimetres() float64 { return float64(l) / float64(Millimetre) }

// Inches is l in inches as a float, for drawing and statistics only.
func (l Length) Inches() float64 { return float64(l) / float64(Inch) }

// Decimal writes l in millimetres as an exact decimal: a tick is 0.00000125 mm,
// so that eight places are always enough.
func (l Length) Decimal() string {
	sign, ticks := "", uint64(l)
	if l < 0 {
		sign, ticks = "-", -ticks
	}
	out := sign + strconv.FormatUint(ticks/uint64(Millimetre), 10)
	if rest := ticks % uint64(Millimetre) * 125; rest > 0 {
		places := strconv.FormatUint(100_000_000+rest, 10)[1:]
		out += "." + strings.TrimRight(places, "0")
	}
	return out
}

// MarshalJSON writes l in millimetres as an exact decimal.
func (l Length) MarshalJSON() ([]byte, error) { return []byte(l.Decimal()), nil }

// Ratio is l as an exact number of ticks.
func (l Length) Ratio() Ratio { return Ratio{num: int64(l), den: 1} }

// Area is an exact area in square ticks, 128 bits wide so that no rack is too
// large. The zero value is no area. Areas are never negative.
type Area struct{ hi, lo uint64 }

// Times is the area of a rectangle l by w; both must be zero or more.
func (l Length) Times(w Length) Area {
	if l < 0 || w < 0 {
		panic("measure: area of a negative length")
	}
	hi, lo := bits.Mul64(uint64(l), uint64(w))
	return Area{hi, lo}
}

// Add is a + b.
func (a Area) Add(b Area) Area {
	lo, carry := bits.Add64(a.lo, b.lo, 0)
	hi, _ := bits.Add64(a.hi, b.hi, carry)
	return Area{hi, lo}
}

// Sub is a - b; b must not be larger than a.
func (a Area) Sub(b Area) Area {
	lo, borrow := bits.Sub64(a.lo, b.lo, 0)
	hi, under := bits.Sub64(a.hi, b.hi, borrow)
	if under != 0 {
		panic("measure: negative area")
	}
	return Area{hi, lo}
}

// Cmp is -1, 0 or +1 as a is smaller than, equal to or larger than b.
func (a Area) Cmp(b Area) int {
	switch {
	case a.hi < b.hi || a.hi == b.hi && a.lo < b.lo:
		return -1
	case a == b:
		return 0
	}
	return 1
}

// SquareMillimetres is a in mm2 as a float (for shares, prices and drawing).
func (a Area) SquareMillimetres() float64 {
	const perMM2 = float64(Millimetre) * float64(Millimetre)
	return (float64(a.hi)*18446744073709551616 + float64(a.lo)) / perMM2
}

// Decimal writes a in mm2, rounded at 1e-6.
func (a Area) Decimal() string {
	const perMicro = 640_000 // (800,000)^2 ticks2 a mm2, over 1e6 millionths of a mm2
	hi, rest := a.hi/perMicro, a.hi%perMicro
	lo, rem := bits.Div64(rest, a.lo, perMicro)
	if rem*2 >= perMicro {
		var carry uint64
		lo, carry = bits.Add64(lo, 1, 0)
		hi += carry
	}
	whole, millionths := bits.Div64(hi, lo, 1_000_000)
	out := strconv.AppendUint(nil, whole, 10)
	return string(appendFraction(out, millionths, 6))
}

// appendFraction writes .ddd for n/10^digits without trailing zeros.
func appendFraction(out []byte, n uint64, digits int) []byte {
	if n == 0 {
		return out
	}
	text := strconv.FormatUint(n, 10)
	out = append(out, '.')
	for range digits - len(text) {
		out = append(out, '0')
	}
	end := len(text)
	for text[end-1] == '0' {
		end--
	}
	return append(out, text[:end]...)
}
