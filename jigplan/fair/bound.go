package fair

import (
	"math"
	"slices"

	"batchwright/orders/measure"
	"batchwright/orders/woods"
)

// bound is what no mix brings more than, whatever the plan makes of it: as if
// setups and the blade cost nothing, no wood were wasted and the cheapest board
// of each wood went round, hand work had been learned on every box that might
// be made, and every hour the shop is open were of use.
func (f *fairing) bound() {
	g := *f
	g.ways = slices.Clone(f.ways)
	for i := range g.ways {
		g.ideal(&g.ways[i])
	}
	g.build()
	capacity := slices.Clone(f.has)
	for r := range capacity {
		capacity[r] = math.Max(capacity[r], f.model.Capacity[r])
	}
	f.fair.Bound = measure.Money(math.Ceil(g.solve(capacity).Bound - 1e-6))
}

// ideal makes of a way what no plan of it betters.
func (f *fairing) ideal(w *way) {
	if w.Area == nil {
		return
	}
	wood := 0.0
	for key, area := range w.net {
		wood += area * f.cheapestOf(key)
	}
	w.Material = min(w.Material, w.supplies+measure.Money(math.Floor(wood)))
	w.Area, w.Setup = w.net, 0
	w.Ratio = CriticalRatio(float64(w.Net-w.Material), float64(w.Material-w.Home))
	w.Alone = w.demand.Best(w.Ratio)
	learned := 1.0
	if w.Alone > w.reckoned {
		learned = math.Pow(float64(w.reckoned)/float64(w.Alone), f.set.Times.LearningExponent)
	}
	w.Minutes, w.Saw = w.Minutes*learned, w.Saw*learned
}

// cheapestOf is the least that a square meter of a wood costs in cents, of the
// boards that are there or can be bought; 0 where that is not known.
func (f *fairing) cheapestOf(key string) float64 {
	least := math.Inf(1)
	for _, b := range slices.Concat(f.Order.Rack, f.Order.Yard) {
		if woods.Key(b.Wood) != key {
			continue
		}
		cost, known := b.Worth(f.set)
		if !known {
			return 0
		}
		least = math.Min(least, float64(cost)/(b.Length.Times(b.Width).SquareMillimetres()/1e6))
	}
	if math.IsInf(least, 1) {
		return 0
	}
	return least
}
