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

// shortestTallied is the least length of hardwood that has a surface measure:
// standard lengths are 4 to 16 ft by whole feet (hardwood dealers' rule).
const shortestTallied = 4 * measure.Foot

// Tally is boards of one thickness, or sheets, in a yard's measures.
type Tally struct {
	Boards  int
	Surface int64    // NHLA surface measure, square feet
	Feet    *big.Rat // board feet: surface measure times nominal thickness; nil: sheets
	Area    *big.Rat // square metres, exact
	Volume  *big.Rat // cubic metres as the boards lie, exact
}

// TallyOf measures n boards of one size. A board too short for the surface
// measure counts its board feet exactly.
func TallyOf(b Board, n int) Tally {
	metre := 1000 * measure.Millimetre
	times := big.NewRat(int64(n), 1)
	t := Tally{Boards: n,
		Area:   new(big.Rat).SetFrac(product(b.Length, b.Width, 1), product(metre, metre, 1)),
		Volume: new(big.Rat).SetFrac(product(b.Length, b.Width, b.Rough()), product(metre, metre, metre)),
	}
	t.Area.Mul(t.Area, times)
	t.Volume.Mul(t.Volume, times)
	switch {
	case b.Sheet:
		return t
	case b.Length < shortestTallied:
		t.Feet = b.BoardFeet()
		t.Feet.Mul(t.Feet, times)
	default:
		t.Surface = SurfaceMeasure(b.Length, b.Width) * int64(n)
		t.Feet = big.NewRat(t.Surface, 1)
		t.Feet.Mul(t.Feet, big.NewRat(int64(b.Tally()), int64(measure.Inch)))
	}
	return t
}

// Plus is both together; nothing is rounded.
func (t Tally) Plus(u Tally) Tally {
	return Tally{t.Boards + u.Boards, t.Surface + u.Surface, sum(t.Feet, u.Feet), sum(t.Area, u.Area), sum(t.Volume, u.Volume)}
}

func sum(a, b *big.Rat) *big.Rat {
	switch {
	case a == nil:
		return b
	case b == nil:
		return a
	}
	return new(big.Rat).Add(a, b)
}
