package cutting

import (
	"batchwright/nesting"
	"batchwright/orders"
	"batchwright/orders/measure"
	"batchwright/orders/settings"
	"batchwright/orders/woods"
)

// money says what boards count as. A board's worth is printed: its cost, else
// nothing when other boards have prices, else its area in square metres. What
// it counts for decides between layouts: a rack board counts its share of its
// worth, a purchase without a price comes after everything on the rack.
type money struct {
	set    *settings.Shop
	priced bool                     // some board has a price
	last   map[string]measure.Money // by wood: more than its boards on the rack count for together
}

func newMoney(job *Job) *money {
	m := &money{set: &job.Settings, priced: len(job.Settings.CostOf) > 0, last: map[string]measure.Money{}}
	for _, list := range [][]orders.Board{job.Rack, job.Yard} {
		for i := range list {
			m.priced = m.priced || list[i].CostKnown
		}
	}
	for _, b := range job.Rack {
		b.Origin = orders.FromRack
		m.last[woods.Key(b.Wood)] += measure.Money(max(0, b.Count))*m.counts(&b) + 1
	}
	return m
}

// lastResort is how often over the area of a purchase without a price counts
// where the rack has boards of its wood: no cutting time saved is worth so much.
const lastResort = 20_000

// worth is the printed cost of a board, and whether it is known.
func (m *money) worth(b *orders.Board) (cost measure.Money, known bool) {
	cost, known = b.Worth(m.set)
	if !known && m.priced {
		cost = 0
	}
	return cost, known
}

// counts is what a board counts for when layouts are compared.
func (m *money) counts(b *orders.Board) measure.Money {
	worth, known := m.worth(b)
	switch {
	case !isBought(b):
		return measure.Money(float64(worth) * m.set.RackCounts / 100)
	case known:
		return worth
	}
	area, _ := b.Worth(m.set)
	if last := m.last[woods.Key(b.Wood)]; last > 0 {
		return lastResort*area + last
	}
	return area
}

// counted is what one board of a layout counts for; of a leaf, its share.
func (m *money) counted(b *nesting.CutBoard) measure.Money {
	all := m.counts(&b.Stock)
	if b.Leaf.Count == 0 {
		return all
	}
	n, k := measure.Money(b.Leaf.Count), measure.Money(b.Leaf.N)
	return all*k/n - all*(k-1)/n
}
