package reports

import (
	"testing"

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
