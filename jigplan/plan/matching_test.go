package plan

import (
	"testing"
	"time"

	"batchwright/jigplan"
	"batchwright/nesting"
	"batchwright/orders"
	"batchwright/orders/measure"
)

// matchedOrder is one box of matched grain, 34 in round: its run takes the one
// long board at 50.00, its walls alone two short ones at 5.00, two walls on
// each, since three of them (at least 24-1/4 in) are longer than the 22 in
// between the trims.
func matchedOrder() *orders.Order {
	o := shopOrder()
	o.Boxes = o.Boxes[:1]
	o.Boxes[0].Count = 1
	o.Settings.BuyMissing = "no"
	board := func(id string, n int, length measure.Length, cost measure.Money) orders.Board {
		return orders.Board{ID: id, Origin: orders.FromRack, Count: n, Wood: "walnut", Class: "4/4",
			Length: length, Width: 5*in + in/4, Cost: cost, CostKnown: true}
	}
	o.Rack = []orders.Board{board("long", 1, 40*in, 5000), board("short", 2, 24*in, 500)}
	return o
}

// TestMatchedGrainIsPricedInWood: worked by hand, see matchedOrder.
func TestMatchedGrainIsPricedInWood(t *testing.T) {
	t.Parallel()
	unpriced := func(o *orders.Order) {
		for i := range o.Rack {
			o.Rack[i].CostKnown = false
		}
	}
	cheap := func(o *orders.Order) { o.Rack[0].Cost = 900 }
	free := func(o *orders.Order) { o.Boxes[0].Matched = false }
	scarce := func(o *orders.Order) { o.Rack = o.Rack[1:] }
	for _, c := range []struct {
		why       string
		change    func(*orders.Order)
		runs      int
		money     bool
		saves     measure.Money
		mostBelow measure.Money
	}{
		{"the long board costs 40.00 more than the short ones", func(*orders.Order) {}, 1, true, 4000, 5000},
		{"the long board is the cheaper one: nothing, and not less than nothing", cheap, 1, true, 0, 900},
		{"no board has a cost: 40 in of board count in square metres, 48 in would be more", unpriced, 1, false, 0, 100},
		{"no grain is matched", free, 0, false, 0, 0},
		{"no run is laid", scarce, 0, false, 0, 0},
	} {
		o := matchedOrder()
		c.change(o)
		p, err := Plan(o, Options{Limits: nesting.Limits{Seed: 1, Think: time.Millisecond}})
		if err != nil {
			t.Fatal(err)
		}
		m := p.Matching
		if m.Runs != c.runs || m.Compared != (c.runs > 0) || m.InMoney != c.money || m.Saves != c.saves {
			t.Errorf("%s: %+v", c.why, m)
		}
		if m.MostSaves < m.Saves || m.MostSaves > c.mostBelow || m.MostArea.Cmp(m.Area) < 0 {
			t.Errorf("%s: saves %s, at most %s; want at most %s", c.why, m.Saves, m.MostSaves, c.mostBelow)
		}
	}
}

// TestPricingMatchedGrainChangesNoPlan, and an interrupted one is not believed.
func TestPricingMatchedGrainChangesNoPlan(t *testing.T) {
	t.Parallel()
	limits := nesting.Limits{Seed: 1, Think: time.Millisecond}
	p, err := Plan(shopOrder(), Options{Limits: limits})
	if err != nil {
		t.Fatal(err)
	}
	alone := &jigplan.Plan{Order: p.Order, Parts: p.Parts}
	lay(alone, Options{Limits: limits})
	if alone.Layout.Cost != p.Layout.Cost || len(alone.Layout.Boards) != len(p.Layout.Boards) || p.Matching.Runs != 2 {
		t.Errorf("%s on %d boards alone, %s on %d in the plan, %d runs", alone.Layout.Cost, len(alone.Layout.Boards), p.Layout.Cost, len(p.Layout.Boards), p.Matching.Runs)
	}
}

// TestAnInterruptedComparisonIsNotBelieved: the plan is kept, its price is not
// said.
func TestAnInterruptedComparisonIsNotBelieved(t *testing.T) {
	t.Parallel()
	stop := make(chan struct{})
	close(stop)
	p, err := Plan(matchedOrder(), Options{Limits: nesting.Limits{Seed: 1, Stop: stop}})
	if err != nil {
		t.Fatal(err)
	}
	if p.Incomplete() || p.Matching != (jigplan.Matching{Runs: 1}) {
		t.Errorf("%d short, stop %q, matching %+v", len(p.Layout.Short), p.Layout.Stop, p.Matching)
	}
}
