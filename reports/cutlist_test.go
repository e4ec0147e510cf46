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

// People read names: equal parts together with the boxes they are of, and one
// part by its whole name.
func TestNames(t *testing.T) {
	p := &jigplan.Plan{Order: &orders.Order{Settings: settings.Default(),
		Boxes: []orders.Box{{Name: "Recipe box"}, {Name: "Tray"}, {Name: "Tray"}}, Loose: []orders.LoosePart{{Name: "Test blank"}}}}
	add := func(line int, box, id string, unit int, role orders.Role) {
		p.Parts = append(p.Parts, orders.Part{ID: id, Box: box, Line: line, Unit: unit, Role: role, Source: orders.Source{Cell: "A" + string(rune('5'+line))}})
	}
	for unit := 1; unit <= 3; unit++ {
		n := string(rune('0' + unit))
		for _, wall := range []string{"S1", "S2"} {
			add(0, "Recipe box", "B5-"+n+"-"+wall, unit, orders.Side)
		}
		add(0, "Recipe box", "B5-"+n+"-BT", unit, orders.BottomP)
		add(0, "", "P2-"+n, unit, orders.Loose)
	}
	add(1, "Tray", "B6-1-LD", 1, orders.LidP)
	names := NamesOf(p)
	for code, want := range map[string]string{
		"B5-3-S2": "Recipe box, side 2, box 3 of 3",
		"B5-1-BT": "Recipe box, bottom, box 1 of 3",
		"P2-2":    "Test blank, 2 of 3",
		"B6-1-LD": "Tray (A6), lid",
		"X1":      "X1",
	} {
		if got := names.Of(code).String(); got != want {
			t.Errorf("%s is called %q, want %q", code, got, want)
		}
	}
	for _, c := range []struct {
		codes []string
		want  string
	}{
		{[]string{"B5-1-S1", "B5-1-S2", "B5-2-S1"}, "Recipe box: sides of box 1, side 1 of box 2"},
		{[]string{"B5-1-S1", "B5-2-S1", "B5-1-S2", "B5-2-S2", "B5-2-BT"}, "Recipe box: sides of boxes 1-2, bottom of box 2"},
		{[]string{"P2-1", "P2-2", "B6-1-LD"}, "Test blank 1-2; Tray (A6): lid"},
	} {
		if got := names.Together(c.codes, false); got != c.want {
			t.Errorf("%v together: %q, want %q", c.codes, got, c.want)
		}
	}
	if l := CutList(p)[0]; l.Name != "6 sides, boxes 1-3" {
		t.Errorf("the first line is called %q", l.Name)
	}
}
