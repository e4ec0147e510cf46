package fair

import (
	"math"
	"slices"

	"batchwright/jigplan/quote"
	"batchwright/orders/measure"
)

// worths says what binds, and what one more of each limit would bring: the mix
// is solved again with it.
func (f *fairing) worths() {
	now := f.solve(f.model.Capacity)
	f.fair.Best, f.fair.Proven = measure.Money(math.Ceil(now.Bound)), now.Proven
	for r := range f.limits {
		l := &f.limits[r]
		if l.step > 0 {
			more := slices.Clone(f.model.Capacity)
			more[r] += l.step
			l.Worth = max(0, measure.Money(math.Round(f.solve(more).Value-now.Value)))
		}
		l.Binds = l.Worth > 0
		f.fair.Limits = append(f.fair.Limits, l.Limit)
	}
	free := make([]float64, len(f.model.Capacity))
	for r := range free {
		free[r] = endless
	}
	f.fair.Free = measure.Money(math.Round(f.solve(free).Value))
}

// money adds up what the fair brings and what it has to pay.
func (f *fairing) money() {
	r, fair := &f.set.Rates, f.fair
	fair.Fixed = r.StallCost + r.TravelCost + r.Labour.At(measure.Exact(r.StandHours))
	gain, variance, revenue := 0.0, 0.0, 0.0
	for line := range f.lines {
		first := &f.ways[f.lines[line][0]]
		brought, home, spent := 0, 0.0, 0.0
		for _, at := range f.lines[line] {
			w := &f.ways[at]
			brought += w.Brought()
			home += float64(w.Brought()) * float64(w.Home)
			spent += w.spent(w.Made, w.Half, w.New)
		}
		for k := 1; k <= max(brought, first.Alone)+5; k++ {
			fair.Demand[line] = append(fair.Demand[line], first.demand.Reaches(k))
		}
		if brought == 0 {
			continue
		}
		n := float64(brought)
		sold := first.demand.Sold(brought)
		fair.Sold += sold
		revenue += sold * float64(first.Price-first.Tax)
		gain += sold * (float64(first.Net) - spent/n)
		swing := float64(first.Net) - home/n
		variance += swing * swing * (first.demand.SoldSquare(brought) - sold*sold)
	}
	fair.Revenue = measure.Money(math.Round(revenue))
	fair.Spread = measure.Money(math.Round(math.Sqrt(variance)))
	if fair.Sold > 0 {
		fair.Even = quote.UnitsFor(float64(fair.Fixed), gain/fair.Sold)
		fair.Target = quote.UnitsFor(float64(fair.Fixed+r.ProfitWanted), gain/fair.Sold)
	}
	if r.ProfitWanted == 0 {
		fair.Target = 0
	}
	switch left := float64(fair.Expected - fair.Fixed); {
	case variance > 0:
		fair.Pays = 0.5 * math.Erfc(-left/math.Sqrt(2*variance))
	case left >= 0:
		fair.Pays = 1
	}
	for i := range f.ways {
		w := &f.ways[i]
		if w.Brought() == 0 && w.Why == "" {
			w.Why = f.whyNone(w)
		}
		fair.Stalls = append(fair.Stalls, w.Stall)
	}
}

// whyNone says why nothing of a way is brought although it could be made.
func (f *fairing) whyNone(w *way) string {
	switch {
	case w.Net <= w.Material:
		return "its price is not above its wood and supplies"
	case w.Alone == 0:
		return "too few are likely to be sold"
	case len(f.lines[w.Line]) > 1 && f.broughtOf(w.Line) > 0:
		return "another wood earns more"
	}
	for _, l := range f.limits {
		if needs := l.uses(w, 0, 0, 1); needs > l.Has*(1+1e-7)+1e-7 {
			return "not one fits: " + l.Name
		}
	}
	return "what it needs earns more in another box"
}

func (f *fairing) broughtOf(line int) (n int) {
	for _, at := range f.lines[line] {
		n += f.ways[at].Brought()
	}
	return n
}
