package check

import (
	"cmp"
	"math"
	"math/big"
	"slices"

	"batchwright/nesting"
	"batchwright/orders"
	"batchwright/orders/measure"
	"batchwright/orders/settings"
	"batchwright/orders/woods"
)

// inPlaceOrder lists the parts of runs, each run's in the order of its places.
func (c *checker) inPlaceOrder() []*orders.Part {
	var out []*orders.Part
	for i := range c.given.Parts {
		if c.given.Parts[i].Run != "" {
			out = append(out, &c.given.Parts[i])
		}
	}
	slices.SortStableFunc(out, func(a, b *orders.Part) int {
		return cmp.Or(cmp.Compare(a.Run, b.Run), cmp.Compare(a.Place, b.Place))
	})
	return out
}

// totals: money and areas add up, and no bound is above what it bounds.
func (c *checker) totals(l nesting.Layout) {
	var cost measure.Money
	var boards, parts, kept measure.Area
	for i := range l.Boards {
		b := &l.Boards[i]
		if want := c.cost(&b.Stock); b.Leaf.Count == 0 && b.Cost != want {
			c.fault(b.ID, "cost", "it costs %s, not %s", b.Cost, want)
		}
		cost += b.Cost
		boards = boards.Add(b.Length.Times(b.Width))
		for _, p := range b.Pieces {
			parts = parts.Add(p.Length.Times(p.Width))
		}
		for _, o := range b.Offcuts {
			if o.Keep {
				kept = kept.Add(o.Length.Times(o.Width))
			}
		}
	}
	if cost != l.Cost {
		c.fault("", "cost", "the boards cost %s, the layout says %s", cost, l.Cost)
	}
	if kept.Cmp(boards) > 0 || boards.Sub(kept) != l.AreaUsed {
		c.fault("", "area", "the area used is not the boards less the offcuts kept")
	}
	if parts != l.AreaParts {
		c.fault("", "area", "the area of the parts does not add up")
	}
	c.bounds(l)
	c.work(l)
}

// work: the minutes at the saw are those of the cuts, each at its own time, and
// of setting stop or fence wherever another setting is on the saw than was
// before; boards cut alike one after another are set for once.
func (c *checker) work(l nesting.Layout) {
	t := &c.set.Times
	seconds := 0.0
	var guide nesting.Guide
	var set measure.Length
	for i, b := range l.Boards {
		alike := i > 0 && slices.Equal(l.Boards[i-1].Cuts, b.Cuts)
		for _, cut := range b.Cuts {
			seconds += map[nesting.CutKind]float64{nesting.Crosscut: t.CrosscutEach,
				nesting.Rip: t.RipEach + t.RipPerFoot*(cut.To-cut.From).Inches()/12}[cut.Kind]
			switch {
			case cut.Guide == nesting.ByStraightedge:
				seconds += t.StraightedgeEach
			case !alike && (cut.Guide != guide || cut.Set != set):
				seconds += t.SetSaw
			}
			guide, set = cut.Guide, cut.Set
		}
	}
	if math.Abs(l.CutMinutes-seconds/60) > 1e-6 {
		c.fault("", "work", "the cuts take %.6f min, the layout says %.6f", seconds/60, l.CutMinutes)
	}
	if cost := float64(c.set.Rates.Labour) * seconds / 3600; math.Abs(float64(l.WorkCost)-cost) > 1 {
		c.fault("", "work", "the cuts cost %.2f in labor, the layout says %s", cost/100, l.WorkCost)
	}
	if l.Cheapest > l.Cost {
		c.fault("", "cost", "the cheapest wood found, %s, is more than the layout's %s", l.Cheapest, l.Cost)
	}
}

func (c *checker) bounds(l nesting.Layout) {
	if l.CostBound > l.Cost {
		c.fault("", "bound", "the cost bound %s is above the cost %s", l.CostBound, l.Cost)
	}
	if l.CostBound < 0 {
		c.fault("", "bound", "the cost bound %s is below nothing", l.CostBound)
	}
	if l.AreaBound.Cmp(l.AreaUsed) > 0 {
		c.fault("", "bound", "the area bound is above the area used")
	}
	if l.Proven != (l.Stop == nesting.StopProven) {
		c.fault("", "bound", "proven and the reason for stopping disagree")
	}
	if l.Proven && l.CostBound != l.Cost {
		c.fault("", "bound", "called proven and the bound is not the cost")
	}
}

// cost is what one board counts as: its own cost, else its wood's a board foot
// (thin stock tallied as 1 in), else nothing where another board has a price,
// else square metres as money.
func (c *checker) cost(b *orders.Board) measure.Money {
	if b.CostKnown {
		return b.Cost
	}
	area := new(big.Rat).SetInt(new(big.Int).Mul(big.NewInt(int64(b.Length)), big.NewInt(int64(b.Width))))
	for wood, rate := range c.set.CostOf {
		if woods.Same(wood, b.Wood) {
			metre := new(big.Rat).SetFrac64(1, 1000*int64(measure.Millimetre))
			foot := new(big.Rat).SetFrac64(1, int64(measure.Foot))
			each := new(big.Rat).SetInt64(int64(rate.Each))
			thick := b.Thickness
			for _, class := range c.set.Classes() {
				if class.Name == b.Class {
					thick = class.Rough
				}
			}
			switch rate.Per {
			case settings.Piece:
				return rate.Each
			case settings.SquareMetre:
				area.Mul(area, metre).Mul(area, metre)
			case settings.SquareFoot:
				area.Mul(area, foot).Mul(area, foot)
			case settings.CubicMetre:
				if b.Thickness > 0 {
					thick = b.Thickness // as it lies
				}
				area.Mul(area, metre).Mul(area, metre).Mul(area, metre).Mul(area, new(big.Rat).SetInt64(int64(thick)))
			default:
				inches := new(big.Rat).SetFrac64(int64(max(thick, measure.Inch)), int64(measure.Inch))
				area.Mul(area, foot).Mul(area, foot).Mul(area, inches)
			}
			return halfEven(area.Mul(area, each))
		}
	}
	if c.priced() {
		return 0
	}
	metre := new(big.Rat).SetFrac64(1, 1000*int64(measure.Millimetre))
	area.Mul(area, metre).Mul(area, metre)
	return halfEven(area.Mul(area, new(big.Rat).SetInt64(100)))
}

// priced reports whether any board that was given has a price.
func (c *checker) priced() bool {
	has := func(b orders.Board) bool { return b.CostKnown }
	return len(c.set.CostOf) > 0 || slices.ContainsFunc(c.given.Rack, has) || slices.ContainsFunc(c.given.Yard, has)
}

func halfEven(r *big.Rat) measure.Money {
	floor := new(big.Int).Quo(r.Num(), r.Denom())
	over := new(big.Rat).Sub(r, new(big.Rat).SetInt(floor))
	switch over.Cmp(big.NewRat(1, 2)) {
	case 1:
		floor.Add(floor, big.NewInt(1))
	case 0:
		floor.Add(floor, new(big.Int).And(floor, big.NewInt(1)))
	}
	return measure.Money(floor.Int64())
}
