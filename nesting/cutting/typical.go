package cutting

import (
	"fmt"

	"batchwright/orders"
	"batchwright/orders/measure"
)

// typical lists the boards a yard usually has of every wood and thickness the
// job needs: as many as wanted.
func (p *problem) typical() []orders.Board {
	type want struct {
		wood  string
		class string
		thick measure.Length
	}
	seen := map[want]bool{}
	var out []orders.Board
	for i := range p.items {
		it := &p.items[i]
		part := p.job.Parts[it.units[0][0]]
		w := want{wood: it.wood}
		b := orders.Board{Origin: orders.FromTypical, Unlimited: true, Wood: part.Wood,
			Length: p.set.TypicalLength, Width: p.set.TypicalWidth}
		class, ok := orders.ClassFor(it.thick, p.set.TypicalClass)
		switch {
		case orders.IsSheetWood(part.Wood):
			b.Sheet, b.Thickness = true, it.thick
			b.Length, b.Width = p.set.SheetLength, p.set.SheetWidth
			w.thick = it.thick
		case ok:
			b.Class = class.Name
			w.class = class.Name
		default:
			continue
		}
		if !seen[w] {
			seen[w] = true
			b.ID = fmt.Sprintf("T%d", len(out)+1)
			out = append(out, b)
		}
	}
	return out
}
