package reports

import (
	"fmt"
	"strings"

	"batchwright/jigplan"
	"batchwright/nesting"
	"batchwright/orders"
	"batchwright/orders/measure"
)

// Layout is one way of cutting up a board, and all the boards cut so.
type Layout struct {
	Boards []*nesting.CutBoard // equal in size, defects, pieces and cuts
	Pieces []LayoutPiece
	Cuts   []CutSetting
	Kept   []nesting.Offcut
	Used   float64 // share of the board that becomes parts, 0 to 1
	mills  []jigplan.Milling
	root   *node
}

// LayoutPiece is one piece of a layout; N is its number in the drawing. Part
// is the one on the first board.
type LayoutPiece struct {
	N    int
	Part *orders.Part
	*nesting.Piece
}

// CutSetting is a cut, set as the plan says, and what is finished with it.
type CutSetting struct {
	*nesting.Cut
	Gets []*node
	of   *node // what it takes apart
}

// Layouts groups the boards that are cut alike, in the plan's order.
func Layouts(p *jigplan.Plan) []Layout {
	parts := map[string]*orders.Part{}
	for i := range p.Parts {
		parts[p.Parts[i].ID] = &p.Parts[i]
	}
	index := map[string]int{}
	var out []Layout
	for i := range p.Layout.Boards {
		b := &p.Layout.Boards[i]
		key := layoutKey(b, parts)
		at, ok := index[key]
		if !ok {
			at = len(out)
			index[key] = at
			out = append(out, newLayout(b, parts))
		}
		out[at].Boards = append(out[at].Boards, b)
		index[b.ID] = at
	}
	for i := range p.Milling {
		m := &p.Milling[i]
		for _, id := range m.Boards {
			if at, ok := index[id]; ok && m.Kind != ripToWidth {
				out[at].mills = append(out[at].mills, *m)
			}
		}
	}
	return out
}

// layoutKey is equal for boards that are cut alike into like parts.
func layoutKey(b *nesting.CutBoard, parts map[string]*orders.Part) string {
	var key strings.Builder
	fmt.Fprint(&key, b.Stock.Wood, b.Stock.Class, b.Length, b.Width, b.Thickness, b.Leaf.Count, b.Stock.Defects, b.Cuts, b.Offcuts)
	for _, piece := range b.Pieces {
		fmt.Fprint(&key, piece.X, piece.Y, piece.Length, piece.Width, piece.Turned)
		if part := parts[piece.Part]; part != nil {
			key.WriteString(Label(part))
		}
	}
	return key.String()
}

func newLayout(b *nesting.CutBoard, parts map[string]*orders.Part) Layout {
	l := Layout{}
	var used measure.Area
	for i := range b.Pieces {
		piece := &b.Pieces[i]
		part := parts[piece.Part]
		if part == nil {
			part = &orders.Part{ID: piece.Part}
		}
		l.Pieces = append(l.Pieces, LayoutPiece{i + 1, part, piece})
		used = used.Add(piece.Length.Times(piece.Width))
	}
	for _, o := range b.Offcuts {
		if o.Keep {
			l.Kept = append(l.Kept, o)
		}
	}
	if whole := b.Length.Times(b.Width).SquareMillimetres(); whole > 0 {
		l.Used = used.SquareMillimetres() / whole
	}
	l.takeApart(b)
	return l
}
