package measure

import (
	"fmt"
	"math/big"
	"math/bits"
	"strconv"
	"strings"
)

// Ratio is an exact rational number. Screw positions are Ratios of ticks (one
// turn of an 18 tpi rod is no whole tick), turns are Ratios of one. The zero
// value is 0. Arithmetic that leaves 64 bits panics: with lengths below 100 m
// and denominators below a million it cannot.
type Ratio struct{ num, den int64 }

// Whole is the ratio n/1.
func Whole(n int64) Ratio { return Ratio{n, 1} }

// Frac is num/den in lowest terms; den must not be 0.
func Frac(num, den int64) Ratio {
	if den == 0 {
		panic("measure: ratio with denominator 0")
	}
	if den < 0 {
		num, den = -num, -den
	}
	if g := gcd(abs(num), den); g > 1 {
		num, den = num/g, den/g
	}
	return Ratio{num, den}
}

// Num and Den are the ratio in lowest terms, Den at least 1.
func (r Ratio) Num() int64 { return r.num }

// Den is the denominator in lowest terms, at least 1.
func (r Ratio) Den() int64 { return max(r.den, 1) }

// Add is r + s.
func (r Ratio) Add(s Ratio) Ratio {
	if r.Den() == s.Den() {
		return Frac(checkedAdd(r.num, s.num), r.Den())
	}
	g := gcd(r.Den(), s.Den())
	left := checkedMul(r.num, s.Den()/g)
	right := checkedMul(s.num, r.Den()/g)
	return Frac(checkedAdd(left, right), checkedMul(r.Den(), s.Den()/g))
}

// Sub is r - s.
func (r Ratio) Sub(s Ratio) Ratio { return r.Add(s.Neg()) }

// Neg is -r.
func (r Ratio) Neg() Ratio { return Ratio{-r.num, r.Den()} }

// Mul is r * s.
func (r Ratio) Mul(s Ratio) Ratio {
	a, b := Frac(r.num, s.Den()), Frac(s.num, r.Den())
	return Ratio{checkedMul(a.num, b.num), checkedMul(a.den, b.den)}
}

// Div is r / s; s must not be 0.
func (r Ratio) Div(s Ratio) Ratio { return r.Mul(Frac(s.Den(), s.num)) }

// Times is r * n.
func (r Ratio) Times(n int64) Ratio { return r.Mul(Whole(n)) }

// Over is r / n.
func (r Ratio) Over(n int64) Ratio { return r.Mul(Frac(1, n)) }

// Cmp is -1, 0 or +1 as r is less than, equal to or greater than s.
func (r Ratio) Cmp(s Ratio) int {
	lhi, llo := signedMul(r.num, s.Den())
	rhi, rlo := signedMul(s.num, r.Den())
	switch {
	case lhi != rhi:
		return cmpInt(lhi, rhi)
	case llo != rlo && llo < rlo:
		return -1
	case llo != rlo:
		return 1
	}
	return 0
}

// Sign is -1, 0 or +1.
func (r Ratio) Sign() int { return cmpInt(r.num, 0) }

// Abs is |r|.
func (r Ratio) Abs() Ratio { return Ratio{abs(r.num), r.Den()} }

// Floor is the largest whole number not above r.
func (r Ratio) Floor() int64 {
	q := r.num / r.Den()
	if r.num%r.Den() < 0 {
		q--
	}
	return q
}

// Ceil is the smallest whole number not below r.
func (r Ratio) Ceil() int64 { return -r.Neg().Floor() }

// Mod is r - s*floor(r/s): the remainder in [0, s) for s > 0.
func (r Ratio) Mod(s Ratio) Ratio { return r.Sub(s.Times(r.Div(s).Floor())) }

// IsWhole reports whether r is a whole number.
func (r Ratio) IsWhole() bool { return r.Den() == 1 }

// Round is the whole number nearest to r, halves to even.
func (r Ratio) Round() int64 {
	twice := r.Times(2).Floor()
	low := r.Floor()
	switch {
	case r.Sub(Whole(low)).Cmp(Frac(1, 2)) == 0:
		return low + low&1
	case twice&1 != 0:
		return low + 1
	}
	return low
}

// Length rounds a ratio of ticks to the nearest whole tick, halves to even.
// Use it once, where a position is printed.
func (r Ratio) Length() Length { return Length(r.Round()) }

// Float is r as a float64, for drawing and statistics only.
func (r Ratio) Float() float64 { return float64(r.num) / float64(r.Den()) }

// String writes r as an exact fraction: "6", "13/2", "-3/16".
func (r Ratio) String() string {
	if r.Den() == 1 {
		return strconv.FormatInt(r.num, 10)
	}
	return fmt.Sprintf("%d/%d", r.num, r.Den())
}

// ParseRatio reads what String writes, a whole number with a fraction ("6 1/2",
// "6-1/2") and decimals with a point ("6.5"), with a minus sign in front or none.
func ParseRatio(text string) (Ratio, error) {
	plain, negative := strings.TrimSpace(text), false
	if rest, ok := strings.CutPrefix(strings.Replace(plain, "−", "-", 1), "-"); ok {
		plain, negative = rest, true
	}
	tokens, why := scan(plain, false)
	if why == "" {
		n, rest, fault := takeNumber(tokens)
		if why = fault; fault == "" && len(rest) > 0 {
			why = "something follows the number"
		}
		if why == "" && negative {
			return n.Neg(), nil
		}
		if why == "" {
			return n, nil
		}
	}
	return Ratio{}, fmt.Errorf("%q is not a number or a fraction: %s", text, why)
}

// Decimal writes a ratio of ticks in millimetres: exact where the decimal
// ends, else rounded at 1e-6 mm (halves to even).
func (r Ratio) Decimal() string {
	mm := new(big.Rat).SetFrac64(r.num, r.Den())
	mm.Quo(mm, new(big.Rat).SetInt64(int64(Millimetre)))
	digits, exact := mm.FloatPrec()
	if !exact {
		scaled := r.Mul(Frac(1_000_000, int64(Millimetre)))
		mm.SetFrac64(scaled.Round(), 1_000_000)
		digits, _ = mm.FloatPrec()
	}
	return mm.FloatString(digits)
}

func checkedAdd(a, b int64) int64 {
	sum := a + b
	if (sum > a) != (b > 0) && b != 0 {
		panic("measure: ratio out of range")
	}
	return sum
}

func checkedMul(a, b int64) int64 {
	hi, lo := signedMul(a, b)
	if hi != int64(lo)>>63 {
		panic("measure: ratio out of range")
	}
	return int64(lo)
}

// signedMul is the 128-bit product of a and b in two's complement.
func signedMul(a, b int64) (hi int64, lo uint64) {
	uhi, ulo := bits.Mul64(uint64(a), uint64(b))
	h := int64(uhi)
	if a < 0 {
		h -= b
	}
	if b < 0 {
		h -= a
	}
	return h, ulo
}

func cmpInt(a, b int64) int {
	switch {
	case a < b:
		return -1
	case a > b:
		return 1
	}
	return 0
}

func gcd(a, b int64) int64 {
	for b != 0 {
		a, b = b, a%b
	}
	return a
}

func abs(n int64) int64 {
	if n < 0 {
		return -n
	}
	return n
}
