package orders

import (
	"math/big"

	"batchwright/orders/measure"
)

// SurfaceMeasure is a board's NHLA surface measure in square feet: width in
// inches with its fraction, times length in whole feet rounded down, over 12,
// to the nearest whole number (halves to even). Times the nominal thickness in
// inches it gives the board feet a yard tallies.
func SurfaceMeasure(length, width measure.Length) int64 {
	feet := int64(length / measure.Foot)
	return width.Ratio().Over(int64(measure.Inch)).Times(feet).Over(12).Round()
}

// At is what an exact quantity costs at a price for one, rounded half to even
// to the cent.
func (m Money) At(quantity *big.Rat) Money {
	return roundCents(new(big.Rat).Mul(new(big.Rat).SetInt64(int64(m)), quantity))
}
