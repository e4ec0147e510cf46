package reports

import (
	"strings"
	"testing"

	"batchwright/jigplan"
	"batchwright/nesting"
	"batchwright/orders"
)

func TestParseLabelSheet(t *testing.T) {
	for text, want := range map[string]LabelSheet{
		"3 x 10, 66.7 x 25.4 mm":               {Columns: 3, Rows: 10, Width: 66.7, Height: 25.4},
		"3x10, 2-5/8 x 1 in, gaps 1/8 x 0 in":  {Columns: 3, Rows: 10, Width: 66.675, Height: 25.4, Gap: 3.175},
		"Plain 2 x 8, 90 x 30 mm":              {Columns: 2, Rows: 8, Width: 90, Height: 30, Plain: true},
		"4 x 12, 45.7 x 21.2, gaps 2.5 x 0 mm": {Columns: 4, Rows: 12, Width: 45.7, Height: 21.2, Gap: 2.5},
	} {
		if got, err := ParseLabelSheet(text); err != nil || got != want {
			t.Errorf("%q: %+v, %v; want %+v", text, got, err, want)
		}
	}
	for _, text := range []string{"", "3 x 10", "x, 60 x 20 mm", "0 x 3, 60 x 20 mm", "3 x 10, 5 x 5 mm", "3 x 10, wide x 20 mm", "3 x 10, 60 x 20 mm, 1, 2"} {
		if got, err := ParseLabelSheet(text); err == nil || !strings.Contains(err.Error(), "for example") {
			t.Errorf("%q is read as %+v, %v", text, got, err)
		}
	}
}

// Every part that is cut has one label, with its marks and its board.
func TestPartLabels(t *testing.T) {
	p := plates()
	for i := range p.Parts {
		p.Parts[i].Joint = &orders.Joint{Ends: [2]int{1, 2}}
	}
	labels := PartLabels(p)
	if len(labels) != len(p.Parts) {
		t.Fatalf("%d labels for %d parts", len(labels), len(p.Parts))
	}
	want := PartLabel{Box: "T", Part: "side 2", Which: "box 1 of 2", Left: "2", Right: "1", Board: "R1", Size: labels[1].Size, Code: "T-1-S2"}
	if labels[1] != want {
		t.Errorf("%+v, want %+v", labels[1], want)
	}
	if none := PartLabels(&jigplan.Plan{Order: p.Order, Layout: nesting.Layout{}}); len(none) != 0 {
		t.Errorf("%d labels for no board", len(none))
	}
}
