package batch

import (
	"fmt"

	"batchwright/jigplan"
	"batchwright/orders"
)

// boughtWood lists the boards that are not on the rack, equal ones together.
func boughtWood(p *jigplan.Plan) (out []jigplan.Purchase) {
	type kind struct {
		wood, class string
		l, w, t     orders.Money
	}
	at := map[kind]int{}
	counts := []int{}
	for _, b := range p.Layout.Boards {
		if b.Stock.Origin == orders.FromRack || b.Stock.Origin == orders.FromOffcut {
			continue
		}
		k := kind{b.Stock.Wood, b.Stock.Class, orders.Money(b.Length), orders.Money(b.Width), orders.Money(b.Thickness)}
		i, seen := at[k]
		if !seen {
			i = len(out)
			at[k] = i
			counts = append(counts, 0)
			units := p.Order.Settings.Units
			out = append(out, jigplan.Purchase{
				What: b.Stock.Wood, Kind: "wood", CostSaid: b.Stock.CostKnown,
				Size: fmt.Sprintf("%s x %s x %s", b.Length.Show(units), b.Width.Show(units), b.Thickness.Show(units)),
			})
		}
		counts[i]++
		out[i].Cost += b.Cost
		out[i].Quantity = fmt.Sprintf("%d boards", counts[i])
		if counts[i] == 1 {
			out[i].Quantity = "1 board"
		}
	}
	return out
}
