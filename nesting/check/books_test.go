package check_test

import (
	"slices"
	"testing"

	"batchwright/nesting"
	"batchwright/nesting/check"
	"batchwright/nesting/cutting"
	"batchwright/orders"
	"batchwright/orders/measure"
	"batchwright/orders/settings"
)

// TestFaultsOfBooksAreFound plants each way in which four corners would not
// match into a layout that has none.
func TestFaultsOfBooksAreFound(t *testing.T) {
	const in = measure.Inch
	set := settings.Default()
	set.ResawUpTo = 8 * in
	wall := func(id, run string, place int, length measure.Length) orders.Part {
		return orders.Part{ID: id, Wood: "cherry", Grain: orders.AlongLength, Length: length, CutLength: length,
			Width: 3 * in, CutWidth: 3 * in, Thickness: in / 4, Run: run, Place: place, Book: "box"}
	}
	parts := []orders.Part{wall("S1", "a", 1, 12*in), wall("E1", "a", 2, 8*in), wall("S2", "b", 2, 12*in), wall("E2", "b", 1, 8*in)}
	rack := []orders.Board{{ID: "K", Wood: "cherry", Class: "8/4", Count: 1, Length: 40 * in, Width: 7 * in, Cost: 1000, CostKnown: true}}
	given := check.Given{Parts: parts, Rack: rack, Settings: set}
	whole := cutting.Nest(cutting.Job{Parts: parts, Rack: rack, Settings: set}, nesting.Limits{Seed: 1})
	if faults := check.Layout(whole, given); len(faults) > 0 || len(whole.Short) > 0 {
		t.Fatalf("the layout is at fault before anything is planted: %v %v", faults, whole.Short)
	}
	for _, c := range []struct {
		why   string
		plant func(l *nesting.Layout)
	}{
		{"one leaf is not beside the other", func(l *nesting.Layout) {
			for i := range l.Boards {
				b := &l.Boards[i]
				b.Leaf.N = []int{1, 3, 2, 4}[b.Leaf.N-1]
			}
		}},
		{"one leaf is of another board", func(l *nesting.Layout) { leafWith(l, "S1").Leaf.Of = "L" }},
		{"a run lies further along", func(l *nesting.Layout) {
			b := leafWith(l, "S1")
			for i := range b.Pieces {
				b.Pieces[i].X += in
			}
		}},
		{"a run lies higher", func(l *nesting.Layout) {
			b := leafWith(l, "E2")
			for i := range b.Pieces {
				b.Pieces[i].Y += in
			}
		}},
		{"both runs are cut from one leaf", func(l *nesting.Layout) {
			a, b := leafWith(l, "S1"), leafWith(l, "S2")
			for _, p := range b.Pieces {
				p.Y += 3*in + set.RipKerf
				a.Pieces = append(a.Pieces, p)
			}
			b.Pieces = nil
		}},
		{"one run is short", func(l *nesting.Layout) {
			b := leafWith(l, "S2")
			for _, p := range b.Pieces {
				l.Short = append(l.Short, nesting.Short{Part: p.Part, Why: "lost"})
			}
			b.Pieces = nil
		}},
	} {
		l := whole
		l.Boards = slices.Clone(whole.Boards)
		for i := range l.Boards {
			l.Boards[i].Pieces = slices.Clone(l.Boards[i].Pieces)
		}
		c.plant(&l)
		if !slices.ContainsFunc(check.Layout(l, given), func(f check.Fault) bool { return f.Rule == "book" }) {
			t.Errorf("%s: not found among %v", c.why, check.Layout(l, given))
		}
	}
}

// leafWith is the board a part is cut from.
func leafWith(l *nesting.Layout, part string) *nesting.CutBoard {
	for i := range l.Boards {
		for _, p := range l.Boards[i].Pieces {
			if p.Part == part {
				return &l.Boards[i]
			}
		}
	}
	return nil
}
