package measure

import (
	"fmt"
	"math/big"
	"strconv"
)

// Money is an amount in cents of the shop's currency.
type Money int64

// String is the amount with two decimals: "12.50".
func (m Money) String() string {
	sign := ""
	if m < 0 {
		sign, m = "-", -m
	}
	return fmt.Sprintf("%s%d.%02d", sign, m/100, m%100)
}

// MarshalJSON writes the amount as a decimal number.
func (m Money) MarshalJSON() ([]byte, error) { return []byte(m.String()), nil }

// Per is the amount over a number above zero, rounded half to even to the cent.
func (m Money) Per(n float64) Money {
	return RoundCents(new(big.Rat).Quo(new(big.Rat).SetInt64(int64(m)), Exact(n)))
}

// Exact is the decimal number, of at most nine places, that a float was read
// from: 0.15 is 3/20. What is no number is 0.
func Exact(f float64) *big.Rat {
	r, ok := new(big.Rat).SetString(strconv.FormatFloat(f, 'f', 9, 64))
	if !ok {
		return new(big.Rat)
	}
	return r
}

// RoundTo is the multiple of step nearest to an exact number of cents, half to
// even; a step of 0 is a cent.
func RoundTo(cents *big.Rat, step Money) Money {
	if step <= 1 {
		return RoundCents(cents)
	}
	steps := new(big.Rat).Quo(cents, new(big.Rat).SetInt64(int64(step)))
	return RoundCents(steps) * step
}

// RoundCents rounds half to even.
func RoundCents(r *big.Rat) Money {
	double := new(big.Int).Lsh(r.Num(), 1)
	q, rem := new(big.Int).DivMod(double, r.Denom(), new(big.Int))
	n := q.Int64()
	low := n >> 1
	if n&1 == 1 && (rem.Sign() != 0 || low&1 == 1) {
		low++
	}
	return Money(low)
}

// At is what an exact quantity costs at a price for one, rounded half to even
// to the cent.
func (m Money) At(quantity *big.Rat) Money {
	return RoundCents(new(big.Rat).Mul(new(big.Rat).SetInt64(int64(m)), quantity))
}
