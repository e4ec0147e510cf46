package orders

import (
	"math/big"
	"strconv"

	"batchwright/orders/measure"
	"batchwright/orders/settings"
	"batchwright/orders/spelling"
)

// FindClass looks a class up by its name ("4/4", "27"), as every shop knows it.
func FindClass(name string) (settings.Class, bool) {
	plain := settings.ClassName(name)
	for _, c := range settings.InchClasses {
		if c.Name == plain {
			return c, true
		}
	}
	if mm, err := strconv.Atoi(plain); err == nil && settings.IsMetricClass(plain) {
		return settings.Class{Name: plain, Rough: measure.Length(mm) * measure.Millimetre}, true
	}
	return settings.Class{}, false
}

// ClassFor is the thinnest class that yields a finished thickness, of the system
// of units that the class atLeast is of.
func ClassFor(finished measure.Length, atLeast string, s *settings.Shop) (settings.Class, bool) {
	floor, _ := s.FindClass(atLeast)
	for _, c := range s.ClassesOf(atLeast) {
		if c.Surfaced >= finished && c.Rough >= floor.Rough {
			return c, true
		}
	}
	return settings.Class{}, false
}

// Rough is the board's thickness as it lies: the true one where it is known,
// else its class's nominal one; 0 when neither is.
func (b Board) Rough() measure.Length {
	if b.Thickness > 0 {
		return b.Thickness
	}
	c, _ := FindClass(b.Class)
	return c.Rough
}

// Yields is the thickest finished part a board gives: a class its
// surfaced-two-sides figure, a true thickness itself less the planing
// allowance, the smaller of the two where both are known. A manufactured sheet
// is not planed and yields exactly its thickness.
func (b Board) Yields(s *settings.Shop) measure.Length {
	if b.Sheet {
		return b.Rough()
	}
	c, known := s.FindClass(b.Class)
	switch {
	case b.Thickness <= 0:
		return c.Surfaced
	case known:
		return min(c.Surfaced, b.Thickness-s.Planing)
	}
	return b.Thickness - s.Planing
}

// Tally is the thickness a board is sold at: its class, else its own, and
// never less than an inch (stock under 1 in is tallied as 1 in: hardwood
// dealers' rule).
func (b Board) Tally() measure.Length {
	t := b.Thickness
	if c, ok := FindClass(b.Class); ok {
		t = c.Rough
	}
	return max(t, measure.Inch)
}

// BoardFeet is length x width x tally thickness over 144 cubic inches, exact.
func (b Board) BoardFeet() *big.Rat {
	volume := product(b.Length, b.Width, b.Tally())
	foot := product(12*measure.Inch, 12*measure.Inch, measure.Inch)
	return new(big.Rat).SetFrac(volume, foot)
}

// Quantity is how much of a measure one board holds.
func (b Board) Quantity(per settings.Measure) *big.Rat {
	metre := 1000 * measure.Millimetre
	switch per {
	case settings.BoardFoot:
		return b.BoardFeet()
	case settings.CubicMetre:
		return new(big.Rat).SetFrac(product(b.Length, b.Width, b.Rough()), product(metre, metre, metre))
	case settings.SquareMetre:
		return new(big.Rat).SetFrac(product(b.Length, b.Width, 1), product(metre, metre, 1))
	case settings.SquareFoot:
		return new(big.Rat).SetFrac(product(b.Length, b.Width, 1), product(measure.Foot, measure.Foot, 1))
	}
	return big.NewRat(1, 1)
}

// Worth is what one board counts as, and whether that is a known cost: its own
// cost, else the Cost of its wood a board foot, else its area in square metres
// taken as money. Rounded half to even, to the cent.
func (b Board) Worth(s *settings.Shop) (cost measure.Money, known bool) {
	if b.CostKnown {
		return b.Cost, true
	}
	if rate, ok := s.CostOf[spelling.Fold(b.Wood)]; ok {
		return measure.RoundCents(new(big.Rat).Mul(b.Quantity(rate.Per), new(big.Rat).SetInt64(int64(rate.Each)))), true
	}
	metre := 1000 * measure.Millimetre
	area := new(big.Rat).SetFrac(product(b.Length, b.Width, 100), product(metre, metre, 1))
	return measure.RoundCents(area), false
}

func product(a, b, c measure.Length) *big.Int {
	p := new(big.Int).Mul(big.NewInt(int64(a)), big.NewInt(int64(b)))
	return p.Mul(p, big.NewInt(int64(c)))
}
