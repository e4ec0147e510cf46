package plan

import (
	"slices"
	"testing"

	"batchwright/orders"
)

// TestGeneralNamesUseOneSpeciesABox: a box of 12 x 8 x 3-1/2 in takes two sides
// and two ends, which one board of 48 x 5 in gives (12 + 8 + 12 + 8 in, kerfs and
// allowances, within the 46 in between the trims).
func TestGeneralNamesUseOneSpeciesABox(t *testing.T) {
	board := func(id, wood string, n int) orders.Board {
		return orders.Board{ID: id, Origin: orders.FromRack, Count: n, Wood: wood, Class: "4/4", Length: 48 * in, Width: 5 * in, Cost: 1000, CostKnown: true}
	}
	for _, c := range []struct {
		why    string
		rack   []orders.Board
		buy    string
		boxes  int
		want   map[string]int // boxes of each wood
		unmade int
	}{
		{"all from one species", []orders.Board{board("r", "red oak", 3), board("w", "white oak", 1)}, "no", 2, map[string]int{"red oak": 2}, 0},
		{"two boxes of one, one of the other", []orders.Board{board("r", "red oak", 2), board("w", "white oak", 1)}, "no", 3, map[string]int{"red oak": 2, "white oak": 1}, 0},
		{"boards that are called oak", []orders.Board{board("o", "oak", 2)}, "no", 2, map[string]int{"oak": 2}, 0},
		{"no such wood on hand: bought by its name", []orders.Board{board("p", "pine", 2)}, "yes", 1, map[string]int{"oak": 1}, 0},
	} {
		o := shopOrder()
		o.Boxes = o.Boxes[:1]
		b := &o.Boxes[0]
		b.Count, b.Wood, b.Matched, b.Inside = c.boxes, "oak", false, false
		b.Length, b.Width, b.Height = 12*in, 8*in, 3*in+in/2
		b.Bottom, b.Lid, b.Dividers = orders.Bottom{Kind: orders.NoBottom}, orders.Lid{Kind: orders.NoLid}, orders.Dividers{}
		o.Rack, o.Yard, o.Settings.BuyMissing = c.rack, nil, c.buy
		p := planned(t, o)
		species := map[int][]string{}
		for _, part := range p.Parts {
			if !slices.Contains(species[part.Unit], part.Wood) {
				species[part.Unit] = append(species[part.Unit], part.Wood)
			}
		}
		got := map[string]int{}
		for unit, woods := range species {
			if len(woods) != 1 {
				t.Errorf("%s: box %d is of %v", c.why, unit, woods)
			}
			got[woods[0]]++
		}
		for wood, n := range c.want {
			if got[wood] != n {
				t.Errorf("%s: %v, want %v", c.why, got, c.want)
			}
		}
		if len(p.Layout.Short) != c.unmade {
			t.Errorf("%s: short %v", c.why, p.Layout.Short)
		}
	}
}
