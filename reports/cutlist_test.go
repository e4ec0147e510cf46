package reports

import (
	"strings"
	"testing"

	"batchwright/jigplan"
	"batchwright/orders"
	"batchwright/orders/parts"
	"batchwright/orders/settings"
)

// TestEqualMarksMeetWithShowFacesOutside walks round the box from outside:
// what is at the right end of one wall is at the left end of the next.
func TestEqualMarksMeetWithShowFacesOutside(t *testing.T) {
	at := func(wall string, mark int) string {
		p := orders.Part{Role: orders.Side, Joint: &orders.Joint{Ends: [2]int{1, 2}}}
		if wall[0] == 'E' {
			p.Role = orders.End
		}
		left, _, _ := strings.Cut(Marks(&p), " | ")
		if left == string(rune('0'+mark)) {
			return "left"
		}
		return "right"
	}
	for _, c := range parts.Corners() {
		if at(c.Side, c.Mark) == at(c.End, c.Mark) {
			t.Errorf("corner of %s and %s: mark %d is at the %s end of both, one show face would lie inside", c.Side, c.End, c.Mark, at(c.Side, c.Mark))
		}
	}
}

// TestCutListSaysWhereGroovesAreCut: a groove that was moved into a finger
// stands on the list where it is cut, and the lid's groove beside it.
func TestCutListSaysWhereGroovesAreCut(t *testing.T) {
	wall := func(id string, role orders.Role) orders.Part {
		return orders.Part{ID: id, Unit: 1, Role: role, Joint: &orders.Joint{Ends: [2]int{1, 2}}}
	}
	p := &jigplan.Plan{Order: &orders.Order{Settings: settings.Default()},
		Parts: []orders.Part{wall("B2-1-S1", orders.Side), wall("B2-1-E1", orders.End), {ID: "B2-1-BT", Unit: 1, Role: orders.BottomP}, {ID: "P1-1", Unit: 1, Role: orders.Loose}},
		Builds: []orders.Build{{Grooves: []orders.Groove{
			{For: "bottom", From: in * 7 / 32, To: in * 15 / 32, Front: true, Moved: -in / 32},
			{For: "lid", From: in * 3, To: in * 13 / 4},
		}}}}
	want := []string{
		"bottom groove 7/32 to 15/32 in from the marked edge; lid groove 3 to 3-1/4 in from the marked edge",
		"bottom groove 7/32 to 15/32 in from the marked edge; lid groove 3 to 3-1/4 in from the marked edge (E2 alone)",
		"", "",
	}
	for i, l := range CutList(p) {
		if got := l.Extras(WordsOf(p)); got != want[i] {
			t.Errorf("%s: %q, want %q", l.Part.ID, got, want[i])
		}
	}
}
