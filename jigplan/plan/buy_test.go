package plan

import (
	"fmt"
	"testing"

	"batchwright/jigplan"
	"batchwright/nesting"
	"batchwright/orders"
	"batchwright/orders/measure"
	"batchwright/orders/settings"
)

// Boards on the rack are not bought; those of one line of the yard are one
// line; leaves of one resawn board are one board; a stroke in the yard's own
// name makes no leaf.
func TestBoughtWoodCountsBoards(t *testing.T) {
	p := &jigplan.Plan{Order: &orders.Order{Settings: settings.Default()}}
	lay := func(id, line string, origin orders.BoardOrigin) {
		p.Layout.Boards = append(p.Layout.Boards, nesting.CutBoard{ID: id, Length: 96 * in, Width: 6 * in, Cost: 1000,
			Stock: orders.Board{ID: line, Origin: origin, Wood: "walnut", Class: "8/4", CostKnown: true}})
	}
	lay("R1", "R1", orders.FromRack)
	lay("F1", "F1", orders.FromOffcut)
	for n := 1; n <= 2; n++ {
		lay(fmt.Sprint("Y/1#1/", n), "Y/1", orders.FromYard)
		p.Layout.Boards[len(p.Layout.Boards)-1].Leaf = nesting.Leaf{Of: "Y/1#1", N: n, Count: 2}
	}
	lay("Y/1#2", "Y/1", orders.FromYard)
	lay("Y/2", "Y/2", orders.FromYard)
	got := boughtWood(p)
	if len(got) != 2 {
		t.Fatalf("%d lines: %v", len(got), got)
	}
	for i, want := range []struct {
		count    int
		quantity string
		cost     measure.Money
	}{{2, "2 boards", 3000}, {1, "1 board", 1000}} {
		if g := got[i]; g.Count != want.count || g.Quantity != want.quantity || g.Cost != want.cost || g.Size != "96 x 6 in, 8/4" {
			t.Errorf("line %d: %d, %q, %v, %q", i, g.Count, g.Quantity, g.Cost, g.Size)
		}
	}
}
