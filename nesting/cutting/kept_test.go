package cutting_test

import (
	"testing"

	"batchwright/nesting"
	"batchwright/nesting/cutting"
	"batchwright/orders"
	"batchwright/orders/measure"
	"batchwright/orders/settings"
)

// TestKeptOffcutsCount, worked by hand: two parts of 24-1/2 in take a board of 52
// in whole, or leave 42-7/8 in of one of 96 in, 44.7 % of it: of 40.00 that is
// 17.86, so that counted in full the larger board costs 22.14 net and not 30.00.
// Counted at half it is 31.07, and the smaller board is the cheaper one.
func TestKeptOffcutsCount(t *testing.T) {
	set := settings.Default()
	set.EndTrim, set.EdgeTrim = inch, 0
	board := func(id string, long int, cents measure.Money) orders.Board {
		return orders.Board{ID: id, Wood: "oak", Class: "4/4", Count: 1, Length: measure.Length(long) * inch, Width: 4 * inch, Cost: cents, CostKnown: true}
	}
	part := func(id string) orders.Part {
		return orders.Part{ID: id, Wood: "oak", Grain: orders.AlongLength, Length: 49 * inch / 2, CutLength: 49 * inch / 2, Width: 4 * inch, CutWidth: 4 * inch, Thickness: inch / 2}
	}
	for _, c := range []struct {
		percent float64
		id      string
		cost    measure.Money
	}{
		{0, "small", 3000},
		{50, "small", 3000},
		{100, "large", 4000},
	} {
		job := cutting.Job{Parts: []orders.Part{part("a"), part("b")}, Rack: []orders.Board{board("small", 52, 3000), board("large", 96, 4000)}, Settings: set}
		job.Settings.KeptCounts = c.percent
		l := cutting.Nest(job, nesting.Limits{Seed: 1})
		verify(t, job, l)
		if len(l.Boards) != 1 || l.Boards[0].ID != c.id || l.Cost != c.cost || l.CostBound > 3000 {
			t.Errorf("kept offcuts at %v %%: %d boards, the first %s, cost %s, bound %s, credit %s", c.percent, len(l.Boards), l.Boards[0].ID, l.Cost, l.CostBound, l.Credit)
		}
	}
}
