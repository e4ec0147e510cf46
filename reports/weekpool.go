package reports

import (
	"batchwright/jigplan"
	"batchwright/nesting"
	"batchwright/orders"
	"batchwright/orders/measure"
)

// rest is a rectangle of wood that is left over.
type rest struct{ length, width measure.Length }

// share lets jobs use what the ones before them leave of the same board or
// sheet: the parts of a board go together, laid out as they are, onto the
// smallest offcut that the layouts keep and that holds them. It lowers Count to
// the boards that are enough.
func (p *pool) share() {
	var free []rest
	enough := 0
	for _, b := range p.boards {
		if b.Leaf.Count > 0 {
			return // resawn boards are not cut along with others
		}
		used := rest{}
		for _, piece := range b.Pieces {
			used.length, used.width = max(used.length, piece.X+piece.Length), max(used.width, piece.Y+piece.Width)
		}
		used.length, used.width = used.length+p.kerf, used.width+p.kerf
		at := -1
		for k, f := range free {
			if used.length <= f.length && used.width <= f.width && (at < 0 || f.length < free[at].length || f.length == free[at].length && f.width < free[at].width) {
				at = k
			}
		}
		if at < 0 {
			enough++
			for _, o := range b.Offcuts {
				if o.Keep {
					free = append(free, rest{o.Length, o.Width})
				}
			}
			continue
		}
		f := free[at]
		free[at] = rest{f.length - used.length, f.width}
		free = append(free, rest{used.length, f.width - used.width})
	}
	if len(p.boards) == p.Count && enough < p.Count {
		p.saved = p.Count - enough
		p.Cost = p.Cost / measure.Money(p.Count) * measure.Money(enough)
		p.Count = enough
	}
}

// boughtAs are the boards of a plan that a line of wood buys.
func boughtAs(plan *jigplan.Plan, buy *jigplan.Purchase) (out []*nesting.CutBoard) {
	if buy.Count == 0 {
		return nil
	}
	for i := range plan.Layout.Boards {
		b := &plan.Layout.Boards[i]
		bought := b.Stock.Origin != orders.FromRack && b.Stock.Origin != orders.FromOffcut
		if bought && b.Stock.ID == buy.Board.ID && b.Length == buy.Board.Length && b.Width == buy.Board.Width {
			out = append(out, b)
		}
	}
	return out
}
