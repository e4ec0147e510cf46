package measure

import (
	"math/big"
	"strconv"
	"strings"
)

// About stands in front of a printed length that was rounded.
const About = "~"

// Show writes l for people: inches as a fraction to the nearest 1/64
// ("3-1/2"), millimetres to the nearest 0.001 ("88.9"), with About in front
// when that is not all of it. Any unit but millimetres prints as inches.
func (l Length) Show(unit Unit) string {
	if unit.Metric() {
		return unit.Mark(l.millimetres())
	}
	return l.Fraction()
}

// ShowUnit is Show with the unit behind it: "3-1/2 in", "88.9 mm".
func (l Length) ShowUnit(unit Unit) string {
	if unit.Metric() {
		return unit.Mark(l.millimetres()) + " mm"
	}
	return l.Fraction() + " in"
}

// OnRule is ShowUnit for a length that is set or read at the bench: millimetres
// to the hundredth where that is all of it, else to the tenth a rule shows.
func (l Length) OnRule(unit Unit) string {
	if !unit.Metric() {
		return l.ShowUnit(unit)
	}
	return l.BareOnRule(unit) + " mm"
}

// BareOnRule is OnRule without the unit.
func (l Length) BareOnRule(unit Unit) string {
	if !unit.Metric() {
		return l.Show(unit)
	}
	places := 1
	if l%(10*Micrometre) == 0 {
		places = 2
	}
	return unit.Mark(trimZeros(l.Ratio().Places(Millimetres, places)))
}

// Fraction writes l in inches to the nearest 1/64, reduced: "3-1/2", "1/8",
// "~13/32". A tie between two 64ths goes to the even one.
func (l Length) Fraction() string { return l.NearestFraction(64) }

// NearestFraction writes l in inches to the nearest 1/den: 64 or 32 as rules
// are ruled. Ties go to the even count.
func (l Length) NearestFraction(den int64) string {
	parts := l.Ratio().Mul(Frac(den, int64(Inch)))
	n := parts.Round()
	out := fractionText(abs(n), den)
	if n < 0 {
		out = "-" + out
	}
	if !parts.IsWhole() {
		out = About + out
	}
	return out
}

func fractionText(n, den int64) string {
	whole, rest := n/den, Frac(n%den, den)
	switch {
	case rest.Sign() == 0:
		return strconv.FormatInt(whole, 10)
	case whole == 0:
		return rest.String()
	}
	return strconv.FormatInt(whole, 10) + "-" + rest.String()
}

func (l Length) millimetres() string {
	r := l.Ratio()
	out := trimZeros(r.Places(Millimetres, 3))
	if !r.Mul(Frac(1000, int64(Millimetre))).IsWhole() {
		out = About + out
	}
	return out
}

// DecimalInches writes l in inches as a decimal: exact where it ends within
// six places ("0.0955"), else rounded there with About in front.
func (l Length) DecimalInches() string {
	r := l.Ratio()
	out := trimZeros(r.Places(Inches, 6))
	if !r.Mul(Frac(1_000_000, int64(Inch))).IsWhole() {
		out = About + out
	}
	return out
}

// Show writes a ratio of ticks as a joint card does: inches to four places,
// millimetres to three, rounded half to even.
func (r Ratio) Show(unit Unit) string {
	if unit.Metric() {
		return r.Places(unit, 3)
	}
	return r.Places(Inches.Written(unit.Comma(), 0), 4)
}

// Places writes a ratio of ticks in the unit with that many decimals, rounded
// half to even. Trailing zeros stay, so that columns line up.
func (r Ratio) Places(unit Unit, places int) string {
	if unit.Plain() == NoUnit {
		unit = unit.In(Inches)
	}
	scale := new(big.Int).Exp(big.NewInt(10), big.NewInt(int64(places)), nil)
	num := new(big.Int).Mul(big.NewInt(abs(r.num)), scale)
	den := new(big.Int).Mul(big.NewInt(r.Den()), big.NewInt(int64(unit.Ticks())))
	digits := divideHalfEven(num, den).String()
	if short := places + 1 - len(digits); short > 0 {
		digits = strings.Repeat("0", short) + digits
	}
	out := digits[:len(digits)-places]
	if places > 0 {
		out += "." + digits[len(digits)-places:]
	}
	if r.num < 0 && strings.Trim(digits, "0") != "" {
		out = "-" + out
	}
	return unit.Mark(out)
}

// divideHalfEven is num/den rounded to the nearest whole number, halves to even.
func divideHalfEven(num, den *big.Int) *big.Int {
	q, rest := new(big.Int).QuoRem(num, den, new(big.Int))
	switch rest.Lsh(rest, 1).Cmp(den) {
	case 1:
		q.Add(q, big.NewInt(1))
	case 0:
		q.Add(q, big.NewInt(int64(q.Bit(0))))
	}
	return q
}

func trimZeros(decimal string) string {
	if !strings.Contains(decimal, ".") {
		return decimal
	}
	return strings.TrimRight(strings.TrimRight(decimal, "0"), ".")
}
