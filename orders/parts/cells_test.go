package parts_test

import (
	"slices"
	"testing"

	"batchwright/orders"
	"batchwright/orders/measure"
	"batchwright/orders/parts"
)

// The usual 1/4 finger on a 16-to-the-inch rod with a 3/32 blade: 4 cuts a
// turn apart, then 6 turns; slots and pins of 9/32 (common practice).
func TestCellsOfTheUsualQuarterFinger(t *testing.T) {
	turn, kerf := inch/16, inch*3/32
	var kerfs []parts.Kerf
	for slot := range measure.Length(6) {
		for cut := range measure.Length(4) {
			low := (slot*9 + cut) * turn
			kerfs = append(kerfs, parts.Kerf{From: low, To: low + kerf})
		}
	}
	for _, c := range []struct {
		name   string
		back   measure.Length // the board stands this far behind the stop
		height measure.Length
		want   []orders.Cell
	}{
		{"row A", 0, 3 * inch / 4, lattice(3*inch/4, 9*inch/32, false)},
		{"row B, behind half a period", 9 * inch / 32, 3 * inch / 4, lattice(3*inch/4, 9*inch/32, true)},
		{"higher than the last cut", 0, 4 * inch, append(lattice(3*inch+3*inch/32, 9*inch/32, false), orders.Cell{From: 3*inch + 3*inch/32, To: 4 * inch, Pin: true})},
	} {
		var set []parts.Kerf
		for _, k := range kerfs {
			set = append(set, parts.Kerf{From: k.From - c.back, To: k.To - c.back})
		}
		slices.Reverse(set) // the order of the passes does not matter
		if got := parts.CellsOf(c.height, set, 0); !slices.Equal(got, c.want) {
			t.Errorf("%s: %v, want %v", c.name, got, c.want)
		}
	}
}

func TestGrazesAreNoNotches(t *testing.T) {
	graze := inch / 256
	kerfs := []parts.Kerf{{From: -inch, To: graze}, {From: half, To: 3 * inch / 4}, {From: inch - graze, To: 2 * inch}}
	want := []orders.Cell{{From: 0, To: half, Pin: true}, {From: half, To: 3 * inch / 4}, {From: 3 * inch / 4, To: inch, Pin: true}}
	if got := parts.CellsOf(inch, kerfs, graze); !slices.Equal(got, want) {
		t.Errorf("%v, want %v", got, want)
	}
}
