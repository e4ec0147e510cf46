package reports

import (
	"fmt"
	"strings"

	"batchwright/jigplan"
	"batchwright/orders"
)

// MadeNow says of each box line how many of its boxes can be made from the
// boards on hand, where that is fewer than ordered; empty: all of them.
func MadeNow(p *jigplan.Plan) string {
	onHand := map[string]bool{}
	for i := range p.Layout.Boards {
		b := &p.Layout.Boards[i]
		if b.Stock.Origin != orders.FromRack {
			continue
		}
		for _, piece := range b.Pieces {
			onHand[piece.Part] = true
		}
	}
	type box struct{ line, unit int }
	lacking := map[box]bool{}
	for i := range p.Parts {
		if part := &p.Parts[i]; !part.IsLoose() && !onHand[part.ID] {
			lacking[box{part.Line, part.Unit}] = true
		}
	}
	units := unitsOf(p)
	var out []string
	for i := range p.Order.Boxes {
		b, made := &p.Order.Boxes[i], 0
		for unit := 1; unit <= units[i]; unit++ {
			if !lacking[box{i, unit}] {
				made++
			}
		}
		if made < units[i] {
			out = append(out, fmt.Sprintf("%d of %d %s", made, units[i], b.Name))
		}
	}
	if len(out) == 0 {
		return ""
	}
	return Listed(out, 4) + " can be made from the rack now"
}

// ToBuy is the wood to buy, in a line; empty: none.
func ToBuy(p *jigplan.Plan) string {
	var wood []string
	for i := range p.Buy {
		if b := &p.Buy[i]; b.Count > 0 {
			wood = append(wood, fmt.Sprintf("%s %s, %s", b.Quantity, b.What, b.Size))
		}
	}
	return strings.Join(wood, "; ")
}
