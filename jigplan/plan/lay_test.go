package plan

import (
	"testing"
	"time"

	"batchwright/jigplan"
	"batchwright/nesting"
	"batchwright/orders"
)

// scarceOrder wants far more boxes than its rack holds wood for.
func scarceOrder() *orders.Order {
	o := shopOrder()
	for i := range o.Boxes {
		o.Boxes[i].Count *= 6
	}
	o.Rack, o.Settings.BuyMissing = o.Rack[:4], "no"
	return o
}

// madeOf counts the walls laid of every box.
func madeOf(p *jigplan.Plan) map[[2]int][2]int {
	short := shortOf(p)
	out := map[[2]int][2]int{}
	for _, part := range p.Parts {
		if part.Joint == nil {
			continue
		}
		n := out[[2]int{part.Line, part.Unit}]
		n[1]++
		if short[part.ID] == "" {
			n[0]++
		}
		out[[2]int{part.Line, part.Unit}] = n
	}
	return out
}

// TestMoreThoughtMakesNoFewer: on a rack far too small, boxes left out are
// tried again, and a longer search starts from what a shorter one found. (It
// was once so that every box broken at first was lost for good.)
func TestMoreThoughtMakesNoFewer(t *testing.T) {
	t.Parallel()
	before := -1
	thoughts := []time.Duration{time.Millisecond, 200 * time.Millisecond, 400 * time.Millisecond}
	if testing.Short() {
		thoughts = []time.Duration{time.Millisecond, 10 * time.Millisecond}
	}
	for _, think := range thoughts {
		p, err := Plan(scarceOrder(), Options{Limits: nesting.Limits{Seed: 1, Think: think}})
		if err != nil {
			t.Fatal(err)
		}
		for box, n := range madeOf(p) {
			if n[0] != 0 && n[0] != n[1] {
				t.Errorf("think %v: box %v has wood for %d of its %d walls", think, box, n[0], n[1])
			}
		}
		short := len(p.Layout.Short)
		if before >= 0 && short > before {
			t.Errorf("think %v leaves %d parts short, less thought left %d", think, short, before)
		}
		before = short
	}
}

// TestBoxesLeftOutAreGivenBack: the boxes left out at last fit nowhere in what
// is over: the rack is used for as many boxes as one effort after another can.
func TestBoxesLeftOutAreGivenBack(t *testing.T) {
	t.Parallel()
	o := scarceOrder()
	p, err := Plan(o, Options{Limits: nesting.Limits{Seed: 1, Think: time.Millisecond}})
	if err != nil {
		t.Fatal(err)
	}
	b := newBoxChoice(&jigplan.Plan{Order: o, Parts: p.Parts}, Options{Limits: nesting.Limits{Seed: 1}})
	first := b.nest(nil, b.limits(firstThink))
	dropped := b.settle(b.broken(first), b.limits(firstThink))
	if got := len(p.Layout.Short); got >= dropped.missing() {
		t.Errorf("%d parts are short, and dropping every broken box at once leaves %d", got, dropped.missing())
	}
}

// TestTheClockBreaksNoBox: a nesting time that is over before it begins still
// gives every wall that the wood there is has room for. (The longer search,
// cut short, once took the place of a whole first plan.)
func TestTheClockBreaksNoBox(t *testing.T) {
	t.Parallel()
	late := nesting.Limits{Seed: 1, Think: time.Second, Deadline: time.Now().Add(-time.Second)}
	p, err := Plan(shopOrder(), Options{Limits: late, Finish: time.Now().Add(time.Minute)})
	if err != nil {
		t.Fatal(err)
	}
	if n := len(p.Layout.Short); n > 0 {
		t.Errorf("%d parts are short, the first: %v", n, p.Layout.Short[0])
	}
}

// TestAnInterruptKeepsWholeBoxes: the maker ends a search of hours, in which a
// first plan has long been made; what comes of it is no worse.
func TestAnInterruptKeepsWholeBoxes(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		why   string
		order func() *orders.Order
	}{
		{"enough wood", shopOrder},
		{"wood for some of the boxes", scarceOrder},
	} {
		began := time.Now()
		first, err := Plan(c.order(), Options{Limits: nesting.Limits{Seed: 1, Think: time.Millisecond}})
		if err != nil {
			t.Fatal(err)
		}
		stop := make(chan struct{})
		time.AfterFunc(3*time.Since(began)+time.Second/2, func() { close(stop) })
		p, err := Plan(c.order(), Options{Limits: nesting.Limits{Seed: 1, Think: 5 * time.Hour, Stop: stop}})
		if err != nil {
			t.Fatal(err)
		}
		for box, n := range madeOf(p) {
			if n[0] != 0 && n[0] != n[1] {
				t.Errorf("%s: box %v has wood for %d of its %d walls", c.why, box, n[0], n[1])
			}
		}
		if n, m := len(p.Layout.Short), len(first.Layout.Short); n > m || n == m && p.Layout.Cost > first.Layout.Cost {
			t.Errorf("%s: %d short at %s, the first plan: %d at %s", c.why, n, p.Layout.Cost, m, first.Layout.Cost)
		}
	}
}
