package measure

import (
	"bytes"
	"fmt"
	"math/big"
)

// A document has lengths and areas in millimetres. A ratio that no decimal gives
// back exactly stands in quotes as its fraction, of ticks where it is a length.

// MarshalJSON writes a ratio of ticks in millimetres, as Decimal does.
func (r Ratio) MarshalJSON() ([]byte, error) { return []byte(r.Decimal()), nil }

// UnmarshalJSON reads a fraction in quotes, or millimetres; null is nothing.
func (r *Ratio) UnmarshalJSON(data []byte) error {
	if string(data) == "null" {
		return nil
	}
	text, number := bytes.CutPrefix(data, []byte(`"`))
	exact, ok := new(big.Rat).SetString(string(bytes.TrimSuffix(text, []byte(`"`))))
	if ok && !number {
		exact.Mul(exact, new(big.Rat).SetInt64(int64(Millimetre)))
	}
	if !ok || !exact.Num().IsInt64() || !exact.Denom().IsInt64() {
		return fmt.Errorf("%s is not an exact number", data)
	}
	*r = Frac(exact.Num().Int64(), exact.Denom().Int64())
	return nil
}

// UnmarshalJSON reads millimetres.
func (l *Length) UnmarshalJSON(data []byte) error {
	var r Ratio
	if err := r.UnmarshalJSON(data); err != nil || !r.IsWhole() || data[0] == '"' {
		return fmt.Errorf("%s is not a length in millimeters", data)
	}
	*l = Length(r.Num())
	return nil
}

// UnmarshalJSON reads an amount with two decimals.
func (m *Money) UnmarshalJSON(data []byte) error {
	exact, ok := new(big.Rat).SetString(string(data))
	if ok {
		exact.Mul(exact, big.NewRat(100, 1))
	}
	if !ok || !exact.IsInt() || !exact.Num().IsInt64() {
		return fmt.Errorf("%s is not an amount of money", data)
	}
	*m = Money(exact.Num().Int64())
	return nil
}

// MarshalJSON writes square millimetres, as Decimal does.
func (a Area) MarshalJSON() ([]byte, error) { return []byte(a.Decimal()), nil }

// UnmarshalJSON reads square millimetres.
func (a *Area) UnmarshalJSON(data []byte) error {
	exact, ok := new(big.Rat).SetString(string(data))
	if ok {
		exact.Mul(exact, squareMillimetre)
	}
	if !ok || !exact.IsInt() || exact.Sign() < 0 || exact.Num().BitLen() > 128 {
		return fmt.Errorf("%s is not an exact area", data)
	}
	low := new(big.Int).And(exact.Num(), new(big.Int).SetUint64(^uint64(0)))
	*a = Area{new(big.Int).Rsh(exact.Num(), 64).Uint64(), low.Uint64()}
	return nil
}

// Exact writes a in mm2, whole: a square tick is 1.5625e-12 mm2, so that the
// decimal ends.
func (a Area) Exact() string {
	ticks := new(big.Int).Lsh(new(big.Int).SetUint64(a.hi), 64)
	mm2 := new(big.Rat).SetInt(ticks.Or(ticks, new(big.Int).SetUint64(a.lo)))
	mm2.Quo(mm2, squareMillimetre)
	digits, _ := mm2.FloatPrec()
	return mm2.FloatString(digits)
}

var squareMillimetre = new(big.Rat).SetInt64(int64(Millimetre) * int64(Millimetre))
