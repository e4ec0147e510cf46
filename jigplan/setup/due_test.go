package setup_test

import (
	"testing"
	"time"

	"batchwright/jigplan/setup"
	"batchwright/orders"
)

// Six boxes of two lines that fill more than one stack: the line with the
// earlier date is cut first, though it is written last, and no stack more is
// needed for it.
func TestTheEarlierDateIsCutFirst(t *testing.T) {
	o := newOrder()
	o.boxes(3, 10*inch, 8*inch, 3*inch, inch/2, inch/2)
	second := len(o.parts) // the line's number
	o.boxes(3, 12*inch, 8*inch, 3*inch, inch/2, inch/2)
	in := setup.Input{Parts: o.parts, Programs: o.programs, ProgramOf: o.of, Settings: &o.settings, Boxes: make([]orders.Box, second+1)}
	plain := setup.Group(in)
	in.Boxes[0].Due = time.Date(2027, 3, 19, 0, 0, 0, 0, time.UTC)
	in.Boxes[second].Due = time.Date(2027, 3, 12, 0, 0, 0, 0, time.UTC)
	dated := setup.Group(in)
	line := map[string]int{}
	for _, p := range in.Parts {
		line[p.ID] = p.Line
	}
	if got := line[plain.Stacks[0].Boards[0].Part]; got != 0 {
		t.Errorf("without dates line %d is cut first", got)
	}
	if got := line[dated.Stacks[0].Boards[0].Part]; got != second {
		t.Errorf("line %d is cut first, the sooner one is %d", got, second)
	}
	if len(dated.Stacks) != len(plain.Stacks) || dated.StackBound != len(dated.Stacks) {
		t.Errorf("%d stacks with dates, %d without, bound %d", len(dated.Stacks), len(plain.Stacks), dated.StackBound)
	}
}
