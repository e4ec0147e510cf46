package orders

import (
	"math/big"
	"strings"

	"batchwright/orders/measure"
	"batchwright/orders/settings"
	"batchwright/orders/spelling"
)

// Class is a commercial thickness of hardwood: what it is sold as and what it
// yields once both faces are surfaced.
type Class struct {
	Name     string
	Rough    measure.Length // nominal, as sold and as tallied
	Surfaced measure.Length // surfaced two sides: the thickest finished part
}

// Classes are the rough hardwood thicknesses, thin to thick. Source: hardwood
// thickness chart, rough to surfaced two sides, as printed on
// engineeringtoolbox.com ("Hardwood Lumber Dimensions"); quarter names of 3/4,
// 7/4 and 14/4 derived.
var Classes = []Class{
	class("3/8", "3/8", 6),
	class("1/2", "1/2", 10),
	class("5/8", "5/8", 14),
	class("3/4", "3/4", 18),
	class("4/4", "1", 26),
	class("5/4", "1-1/4", 34),
	class("6/4", "1-1/2", 42),
	class("7/4", "1-3/4", 48),
	class("8/4", "2", 56),
	class("12/4", "3", 88),
	class("14/4", "3-1/2", 104),
	class("16/4", "4", 120),
}

func class(name, rough string, surfaced32nds int64) Class {
	r, err := measure.Parse(rough, measure.Reading{Bare: measure.Inches})
	if err != nil {
		panic("orders: class " + name + ": " + err.Error())
	}
	return Class{name, r, measure.Inch / 32 * measure.Length(surfaced32nds)}
}

// FindClass looks a class up by its name ("4/4"), spaces ignored.
func FindClass(name string) (Class, bool) {
	plain := strings.ReplaceAll(strings.TrimSpace(name), " ", "")
	for _, c := range Classes {
		if c.Name == plain {
			return c, true
		}
	}
	return Class{}, false
}

// ClassFor is the thinnest class that yields a finished thickness.
func ClassFor(finished measure.Length, atLeast string) (Class, bool) {
	floor, _ := FindClass(atLeast)
	for _, c := range Classes {
		if c.Surfaced >= finished && c.Rough >= floor.Rough {
			return c, true
		}
	}
	return Class{}, false
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
func (b Board) Yields(planing measure.Length) measure.Length {
	if b.Sheet {
		return b.Rough()
	}
	c, known := FindClass(b.Class)
	switch {
	case b.Thickness <= 0:
		return c.Surfaced
	case known:
		return min(c.Surfaced, b.Thickness-planing)
	}
	return b.Thickness - planing
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

// Worth is what one board counts as, and whether that is a known cost: its own
// cost, else the Cost of its wood a board foot, else its area in square metres
// taken as money. Rounded half to even, to the cent.
func (b Board) Worth(s *settings.Shop) (cost measure.Money, known bool) {
	if b.CostKnown {
		return b.Cost, true
	}
	if rate, ok := s.CostOf[spelling.Fold(b.Wood)]; ok {
		return measure.RoundCents(new(big.Rat).Mul(b.BoardFeet(), new(big.Rat).SetInt64(int64(rate)))), true
	}
	metre := 1000 * measure.Millimetre
	area := new(big.Rat).SetFrac(product(b.Length, b.Width, 100), product(metre, metre, 1))
	return measure.RoundCents(area), false
}

func product(a, b, c measure.Length) *big.Int {
	p := new(big.Int).Mul(big.NewInt(int64(a)), big.NewInt(int64(b)))
	return p.Mul(p, big.NewInt(int64(c)))
}
