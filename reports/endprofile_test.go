package reports

import (
	"sort"
	"testing"

	"pgregory.net/rapid"

	"batchwright/jigplan"
	"batchwright/orders"
	"batchwright/orders/measure"
)

func inches(num, den int64) measure.Ratio { return measure.Inch.Ratio().Mul(measure.Frac(num, den)) }

// The 3/32 blade on a 16 turns an inch rod: four cuts a turn apart, then six
// turns. On a board 3-3/8 high that is six slots of 9/32 on row A, and row B,
// set back by 9/32, has a pin where A has a slot (worked by hand).
func TestEndOfInterleaves(t *testing.T) {
	p := &jigplan.Program{Rows: jigplan.BothRows, Kerf: measure.Inch * 3 / 32, Spacer: inches(9, 32)}
	for slot := range int64(7) {
		for cut := range int64(4) {
			p.Steps = append(p.Steps, jigplan.Step{Travel: inches(slot*9+cut, 16)})
		}
	}
	h := &jigplan.Height{Height: measure.Inch * 27 / 8}
	a, b := EndOf(p, h, orders.RowA), EndOf(p, h, orders.RowB)
	for i, pin := range a.Pins() {
		if !same(pin, b.Slots[i]) {
			t.Errorf("pin %d of A is %v, B's slot is %v", i, pin, b.Slots[i])
		}
	}
	for i, pin := range b.Pins() {
		if !same(pin, a.Slots[i]) {
			t.Errorf("pin %d of B is %v, A's slot is %v", i, pin, a.Slots[i])
		}
	}
	if got := len(a.Slots); got != 6 {
		t.Errorf("A has %d slots, want 6", got)
	}
	if a.Slots[0].Wide().Cmp(inches(9, 32)) != 0 {
		t.Errorf("the first slot is %v wide", a.Slots[0].Wide())
	}
	if a.Fingers(measure.Ratio{}) != 6 || b.Fingers(measure.Ratio{}) != 6 {
		t.Errorf("fingers %d and %d, want 6 and 6", a.Fingers(measure.Ratio{}), b.Fingers(measure.Ratio{}))
	}
}

func same(a, b Span) bool { return a.From.Cmp(b.From) == 0 && a.To.Cmp(b.To) == 0 }

// Slots and pins of any cuts whatever cover the height once: nothing is lost,
// nothing counted twice.
func TestSlotsAndPinsCoverTheHeight(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := &jigplan.Program{Rows: jigplan.BothRows, Kerf: measure.Length(rapid.Int64Range(1, 3_000_000).Draw(t, "kerf")),
			Spacer: measure.Frac(rapid.Int64Range(0, 40_000_000).Draw(t, "spacer"), 7), Origin: measure.Frac(rapid.Int64Range(-9_000_000, 9_000_000).Draw(t, "origin"), 3)}
		for _, at := range rapid.SliceOfN(rapid.Int64Range(0, 90_000_000), 0, 30).Draw(t, "travel") {
			p.Steps = append(p.Steps, jigplan.Step{Travel: measure.Frac(at, 9)})
		}
		h := &jigplan.Height{Height: measure.Length(rapid.Int64Range(1, 90_000_000).Draw(t, "height"))}
		for _, row := range []orders.Row{orders.RowA, orders.RowB} {
			c := EndOf(p, h, row)
			spans := append(append([]Span{}, c.Slots...), c.Pins()...)
			sort.Slice(spans, func(i, j int) bool { return spans[i].From.Cmp(spans[j].From) < 0 })
			at := measure.Ratio{}
			for _, s := range spans {
				if s.From.Cmp(at) != 0 || s.Wide().Sign() <= 0 {
					t.Fatalf("row %s: a span from %v to %v after %v", row, s.From, s.To, at)
				}
				at = s.To
			}
			if at.Cmp(h.Height.Ratio()) != 0 {
				t.Fatalf("row %s ends at %v of %v", row, at, h.Height)
			}
		}
	})
}
