package plan

import (
	"slices"
	"strings"
	"testing"
	"time"

	"batchwright/jigplan"
	"batchwright/jigplan/check"
	"batchwright/nesting"
	"batchwright/orders"
	"batchwright/orders/measure"
)

// panelOrder is one box of 16 x 14 in with a nailed bottom of cherry, and a rack
// of cherry boards of these widths, 48 in long.
func panelOrder(lid orders.LidKind, widths ...measure.Length) *orders.Order {
	o := shopOrder()
	o.Boxes = o.Boxes[:1]
	b := &o.Boxes[0]
	b.Count, b.Length, b.Width, b.Inside, b.Matched, b.Wood = 1, 16*in, 14*in, false, false, "cherry"
	b.Bottom = orders.Bottom{Kind: orders.NailedBottom, Thickness: in / 2}
	b.Lid = orders.Lid{Kind: lid, Thickness: in / 2}
	b.Dividers = orders.Dividers{}
	o.Rack, o.Yard = nil, nil
	for i, w := range widths {
		o.Rack = append(o.Rack, orders.Board{ID: "C" + string(rune('a'+i)), Origin: orders.FromRack, Count: 4, Wood: "cherry", Class: "4/4",
			Length: 48 * in, Width: w, Cost: 2000, CostKnown: true})
	}
	return o
}

func planned(t *testing.T, o *orders.Order) *jigplan.Plan {
	t.Helper()
	p, err := Plan(o, Options{Limits: nesting.Limits{Seed: 1, Think: time.Millisecond}})
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// TestPanelsAreGluedFromTheFewestStrips, worked by hand for a bottom 14 in wide:
// trims of 1/8 in leave 7-1/4 in of a board of 7-1/2 in. Two strips of 7 in are
// cut 7-3/16 in (1/8 in for the joint, 1/16 in for the outer edge); an inner one
// of three is cut 1/4 in wider than its share.
func TestPanelsAreGluedFromTheFewestStrips(t *testing.T) {
	for _, c := range []struct {
		why   string
		wide  measure.Length // of the boards
		buy   string
		strip int // of the bottom; 0: whole
	}{
		{"a board that holds it", 14*in + in/2, "no", 0},
		{"two of 7 in fit boards of 7-1/2 in", 7*in + in/2, "no", 2},
		{"a board 1/8 in narrower takes three", 7*in + in/4, "no", 3},
		{"boards of 4 in take four of 3-1/2 in, cut 3-3/4", 4 * in, "no", 4},
		{"bought boards of 6 in take three", 3 * in, "yes", 3},
		{"the rack's own are wider than those", 7*in + in/2, "yes", 2},
	} {
		o := panelOrder(orders.NoLid, c.wide)
		o.Boxes[0].Height = 3 * in
		o.Settings.BuyMissing = c.buy
		p := planned(t, o)
		at := slices.IndexFunc(p.Panels, func(g orders.GluedPanel) bool { return g.Role == orders.BottomP })
		n := 0
		if at >= 0 {
			n = len(p.Panels[at].Strips)
		}
		if n != c.strip {
			t.Errorf("%s: %d strips, want %d; short %v", c.why, n, c.strip, p.Layout.Short)
		}
		if p.Incomplete() {
			t.Errorf("%s: short %v", c.why, p.Layout.Short)
		}
	}
}

// TestWhatIsNotGlued: plywood, a shop that glues none, strips too narrow.
func TestWhatIsNotGlued(t *testing.T) {
	for why, change := range map[string]func(*orders.Order){
		"the shop glues no panels":                 func(o *orders.Order) { o.Settings.GlueUp = "no" },
		"every strip would be under the narrowest": func(o *orders.Order) { o.Settings.NarrowestStrip = 8 * in },
		"plywood": func(o *orders.Order) { o.Boxes[0].Bottom.Wood = "birch ply" },
	} {
		o := panelOrder(orders.NoLid, 7*in+in/2)
		change(o)
		if p := planned(t, o); len(p.Panels) > 0 {
			t.Errorf("%s: %d panels are glued up", why, len(p.Panels))
		}
	}
}

// TestLidsHaveNoJointUnderTheHandle: a handle is put in the middle of a lid
// (common practice), so the joint of two strips lies half an inch or more off it.
func TestLidsHaveNoJointUnderTheHandle(t *testing.T) {
	p := planned(t, panelOrder(orders.LiftOffLid, 8*in))
	for _, g := range p.Panels {
		var edge measure.Length
		for _, id := range g.Strips[:len(g.Strips)-1] {
			at := slices.IndexFunc(p.Parts, func(part orders.Part) bool { return part.ID == id })
			edge += p.Parts[at].Width
			if off := max(edge-g.Width/2, g.Width/2-edge); g.Role == orders.LidP && off < in/2 {
				t.Errorf("a joint of the lid lies %v in off its middle", off.Inches())
			}
		}
	}
	if len(p.Panels) != 2 {
		t.Errorf("%d panels, want a bottom and a lid", len(p.Panels))
	}
}

// TestGlueingUpTakesItsTime: 12 minutes a panel and 3 a joint; the steps and the
// note are there once.
func TestGlueingUpTakesItsTime(t *testing.T) {
	p := planned(t, panelOrder(orders.NoLid, 7*in+in/2))
	minutes := map[string]float64{}
	for _, e := range p.Time.Elements {
		minutes[e.Name] = e.Minutes
	}
	if minutes["Panel glue-up"] != 12 || minutes["Panel joint"] != 3 {
		t.Errorf("a panel of two strips takes %v and %v minutes", minutes["Panel glue-up"], minutes["Panel joint"])
	}
	steps := 0
	for _, s := range p.Builds[0].Steps {
		if strings.Contains(s.What, "clamp with 3 clamps") {
			steps++
		}
	}
	if steps != 1 {
		t.Errorf("%d steps clamp the panel of 16 in with 3 clamps", steps)
	}
}

// TestPanelFaultsAreFound plants one fault at a time.
func TestPanelFaultsAreFound(t *testing.T) {
	good := planned(t, panelOrder(orders.NoLid, 5*in))
	at := slices.IndexFunc(good.Parts, func(p orders.Part) bool { return p.Role == orders.Strip })
	if faults := check.Panels(good); len(faults) > 0 || at < 0 {
		t.Fatal(at, faults)
	}
	for why, plant := range map[string]func(p *jigplan.Plan, s *orders.Part){
		"a strip is narrower than its share": func(_ *jigplan.Plan, s *orders.Part) { s.Width-- },
		"nothing is left for the joint":      func(p *jigplan.Plan, s *orders.Part) { s.CutWidth = s.Width },
		"nothing is left to trim":            func(_ *jigplan.Plan, s *orders.Part) { s.CutLength = s.Length },
		"nothing is left to flatten":         func(p *jigplan.Plan, s *orders.Part) { s.Thickness = p.Panels[0].Thickness },
		"another wood":                       func(_ *jigplan.Plan, s *orders.Part) { s.Wood = "walnut" },
		"its grain may turn":                 func(_ *jigplan.Plan, s *orders.Part) { s.Grain = orders.EitherWay },
		"a strip of no panel":                func(_ *jigplan.Plan, s *orders.Part) { s.Panel = "" },
		"a part that is no strip":            func(_ *jigplan.Plan, s *orders.Part) { s.Role = orders.BottomP },
		"a strip is listed twice":            func(p *jigplan.Plan, s *orders.Part) { p.Panels[0].Strips[1] = s.ID },
		"a panel is wider than its strips":   func(p *jigplan.Plan, _ *orders.Part) { p.Panels[0].Width += in },
		"a panel of one strip":               func(p *jigplan.Plan, _ *orders.Part) { p.Panels[0].Strips = p.Panels[0].Strips[:1] },
		"a panel that is a part as well":     func(p *jigplan.Plan, s *orders.Part) { p.Panels[0].ID = s.ID },
		"narrower than the narrowest allowed": func(p *jigplan.Plan, s *orders.Part) {
			o := *p.Order
			o.Settings.NarrowestStrip = s.Width + 1
			p.Order = &o
		},
	} {
		p := *good
		p.Parts, p.Panels = slices.Clone(good.Parts), slices.Clone(good.Panels)
		p.Panels[0].Strips = slices.Clone(p.Panels[0].Strips)
		plant(&p, &p.Parts[at])
		if len(check.Panels(&p)) == 0 {
			t.Errorf("%s: not found", why)
		}
	}
}
