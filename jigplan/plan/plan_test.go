package plan

import (
	"os"
	"testing"

	"batchwright/jigplan/document"
	"batchwright/nesting"
	"batchwright/orders"
	"batchwright/orders/measure"
	"batchwright/orders/settings"
)

const in = measure.Inch

// shopOrder is three sizes of box and a rack, as intake would hand them over.
func shopOrder() *orders.Order {
	s := settings.Default()
	if err := s.Set("Blade kerf", "0.0955", settings.Entry{Source: orders.Source{Sheet: "Shop", Cell: "A2"}}); err != nil {
		panic(err)
	}
	o := &orders.Order{File: "hand.xlsx", SHA256: "00", Settings: s, HasRack: true}
	size := func(cell, name string, n int, l, w, h, t measure.Length) {
		o.Boxes = append(o.Boxes, orders.Box{
			Source: orders.Source{Sheet: "Boxes", Cell: cell}, Name: name, Count: n, Length: l, Width: w, Height: h,
			Thickness: t, EndThickness: t, Wood: "walnut", Finger: in / 4,
			Bottom: orders.Bottom{Kind: orders.NoBottom}, Lid: orders.Lid{Kind: orders.NoLid}, Matched: name == "tall",
		})
	}
	size("B2", "tall", 2, 10*in, 7*in, 4*in+in/2, in/2)
	size("B3", "tray", 3, 12*in, 8*in, 3*in+3*in/8, in/2)
	size("B4", "small", 2, 8*in, 6*in, 2*in+in/4, 3*in/8)
	for i, id := range []string{"R1", "R2", "R3", "R4", "R5", "R6", "R7", "R8"} {
		o.Rack = append(o.Rack, orders.Board{
			ID: id, Origin: orders.FromRack, Count: 1, Wood: "walnut", Class: "4/4",
			Length: measure.Length(60+4*i) * in, Width: measure.Length(6+i%3) * in, Cost: 2000, CostKnown: true,
			Defects: []orders.Defect{{X: 20 * in, Y: 0, Length: 2 * in, Width: 2 * in}},
		})
	}
	return o
}

func TestPlanMakesEverything(t *testing.T) {
	p, err := Plan(shopOrder(), Options{Limits: nesting.Limits{Seed: 1}})
	if err != nil {
		t.Fatal(err)
	}
	if p.Incomplete() {
		t.Errorf("short: %v, refused: %v", p.Layout.Short, p.Refusals)
	}
	if got := len(p.Parts); got != 7*4 {
		t.Errorf("%d parts, want four walls for each of 7 boxes", got)
	}
	data, err := document.Marshal(p)
	if err != nil {
		t.Fatal(err)
	}
	if file := os.Getenv("BATCHWRIGHT_KEEP"); file != "" {
		if err := os.WriteFile(file, data, 0o644); err != nil {
			t.Fatal(err)
		}
	}
}

// A height that may vary is moved to whole fingers, and only within the limits
// (16 tpi, kerf 0.0955: fingers of 9/32, so 12 of them are 3-3/8 in).
func TestHeightMayVaryComesOutInWholeFingers(t *testing.T) {
	for _, c := range []struct {
		why                string
		height, vary, want measure.Length
	}{
		{"a sixteenth off, an eighth allowed", 3*in + 7*in/16, in / 8, 3*in + 3*in/8},
		{"the same, too little allowed", 3*in + 7*in/16, in / 32, 3*in + 7*in/16},
		{"even as it is", 3*in + 3*in/8, in / 4, 3*in + 3*in/8},
		{"not asked for", 3*in + 7*in/16, 0, 3*in + 7*in/16},
	} {
		o := shopOrder()
		o.Boxes[1].Height, o.Boxes[1].HeightMayVary = c.height, c.vary
		p, err := Plan(o, Options{})
		if err != nil {
			t.Fatal(c.why, err)
		}
		if got := firstWalls(p.Parts)[1].Width; got != c.want {
			t.Errorf("%s: walls %s high, want %s", c.why, got.Show(measure.Inches), c.want.Show(measure.Inches))
		}
		if o.Boxes[1].Height != c.height {
			t.Errorf("%s: the order itself was changed", c.why)
		}
	}
}

// A rack that cannot hold every wall: whole boxes are left out, never a wall
// without its mates, and what is left passes every check.
func TestTooLittleWoodLeavesWholeBoxesOut(t *testing.T) {
	for _, boards := range []int{1, 3} {
		o := shopOrder()
		o.Rack = o.Rack[:boards]
		o.Settings.BuyMissing = "no"
		for i := range o.Rack {
			o.Rack[i].Length = 30 * in
		}
		p, err := Plan(o, Options{Limits: nesting.Limits{Seed: 1}})
		if err != nil {
			t.Fatal(err)
		}
		if !p.Incomplete() {
			t.Fatalf("%d short boards hold seven boxes", boards)
		}
		left := map[[2]int]int{}
		short := map[string]bool{}
		for _, s := range p.Layout.Short {
			short[s.Part] = true
		}
		for _, part := range p.Parts {
			if short[part.ID] {
				left[[2]int{part.Line, part.Unit}]++
			}
		}
		for unit, walls := range left {
			if walls != 4 {
				t.Errorf("%d boards: box %v has %d of its 4 walls left out", boards, unit, walls)
			}
		}
	}
}
