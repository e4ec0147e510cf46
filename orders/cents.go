package orders

import (
	"math/big"
	"strconv"
)

// Per is the amount over a number above zero, rounded half to even to the cent.
func (m Money) Per(n float64) Money {
	return roundCents(new(big.Rat).Quo(new(big.Rat).SetInt64(int64(m)), Exact(n)))
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
		return roundCents(cents)
	}
	steps := new(big.Rat).Quo(cents, new(big.Rat).SetInt64(int64(step)))
	return roundCents(steps) * step
}
