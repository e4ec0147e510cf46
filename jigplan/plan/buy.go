package plan

import (
	"fmt"
	"slices"
	"strings"

	"batchwright/jigplan"
	"batchwright/nesting"
	"batchwright/orders"
	"batchwright/orders/measure"
	"batchwright/orders/settings"
)

// boughtWood lists the boards that are not on the rack, those of one kind
// together, wood by wood; leaves of one resawn board are one board.
func boughtWood(p *jigplan.Plan) (out []jigplan.Purchase) {
	type kind struct {
		line, wood, class string
		l, w, t           measure.Length
	}
	at := map[kind]int{}
	counted := map[string]bool{}
	for i := range p.Layout.Boards {
		b := &p.Layout.Boards[i]
		if b.Stock.Origin == orders.FromRack || b.Stock.Origin == orders.FromOffcut {
			continue
		}
		k := kind{b.Stock.ID, b.Stock.Wood, b.Stock.Class, b.Length, b.Width, b.Stock.Rough()}
		i, seen := at[k]
		if !seen {
			i = len(out)
			at[k] = i
			out = append(out, purchase(b, &p.Order.Settings))
		}
		out[i].Cost += b.Cost
		if whole := b.Whole(); !counted[whole] {
			counted[whole] = true
			out[i].Count++
		}
	}
	for i := range out {
		out[i].Quantity = pieces(out[i].Count, out[i].Board.Sheet)
	}
	slices.SortStableFunc(out, func(a, b jigplan.Purchase) int { return strings.Compare(a.What, b.What) })
	return out
}

// purchase is one board as a line to which others are added.
func purchase(b *nesting.CutBoard, set *settings.Shop) jigplan.Purchase {
	_, known := b.Stock.Worth(set)
	units := set.Units
	one := b.Stock
	one.Length, one.Width = b.Length, b.Width
	thick := one.Class
	if thick == "" {
		thick = one.Rough().ShowUnit(units) + " thick"
	}
	return jigplan.Purchase{
		What: one.Wood, Kind: "wood", CostSaid: known, Board: one, Why: offer(&one, units),
		Size: fmt.Sprintf("%s x %s, %s", one.Length.Show(units), one.Width.ShowUnit(units), thick),
	}
}

// offer is where a board is to be had.
func offer(b *orders.Board, unit measure.Unit) string {
	if b.Origin == orders.FromTypical {
		return "a standard size"
	}
	why := "the yard's " + b.ID
	if b.Place != "" {
		why += ", " + b.Place
	}
	if !b.Arrives.IsZero() {
		why += ", there from " + unit.Date(b.Arrives)
	}
	return why
}

func pieces(n int, sheets bool) string {
	one := "board"
	if sheets {
		one = "sheet"
	}
	if n == 1 {
		return "1 " + one
	}
	return fmt.Sprintf("%d %ss", n, one)
}
