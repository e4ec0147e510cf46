package reports

import (
	"cmp"
	"fmt"
	"math/big"
	"slices"

	"batchwright/jigplan"
	"batchwright/nesting"
	"batchwright/orders"
	"batchwright/orders/measure"
)

// clearSize is a size that must be free of defects in one length, and how many of
// it are needed.
type clearSize struct {
	woodOf
	length, width measure.Length
	count         int
	boards        map[string]bool // those of the layout it lies on
}

// ClearPieces is what to look for at a yard whose boards are not known: the clear
// pieces that the layout on typical boards needs. A matched run is one piece,
// as its parts follow each other. No rows: no board is a typical one.
func ClearPieces(p *jigplan.Plan) Table {
	w := WordsOf(p)
	t := Table{Title: "Clear pieces to look for", Head: []string{"", "Wood", "Thickness", "Clear length", "Clear width", "How many", "On boards"}, Numbers: []int{5, 6}}
	for _, c := range piecesToFind(p) {
		t.Add("☐", c.wood, c.thick, w.Len(c.length), w.Len(c.width), c.count, len(c.boards))
	}
	if len(t.Rows) == 0 {
		return t
	}
	for _, s := range shares(p) {
		t.Note(s)
	}
	length, width := clearSteps(w)
	t.Note(fmt.Sprintf("Sizes as cut, with their allowances, the length up to the next %s and the width to the next %s. Grain runs with the length. "+
		"Take boards until every clear piece is found: a knot or check between them does no harm. Then write what was bought below and plan again.", w.Len(length), w.Len(width)))
	return t
}

// clearSteps are the steps in which clear sizes are told apart, coarse enough
// to be carried in the head.
func clearSteps(w Words) (length, width measure.Length) {
	if w.Unit.Metric() {
		return 10 * measure.Millimetre, 5 * measure.Millimetre
	}
	return measure.Inch, measure.Inch / 2
}

// piecesToFind are gathered over all typical boards, long before short.
func piecesToFind(p *jigplan.Plan) (out []clearSize) {
	type kind struct {
		woodOf
		length, width measure.Length
	}
	w := WordsOf(p)
	at := map[kind]int{}
	run := runs(p)
	byLength, byWidth := clearSteps(w)
	for i := range p.Layout.Boards {
		b := &p.Layout.Boards[i]
		if !typicalBoard(b) {
			continue
		}
		for _, piece := range clearPieces(b, run) {
			k := kind{woodOfBoard(&b.Stock, w), stepped(piece.Length, byLength), stepped(piece.Width, byWidth)}
			i, seen := at[k]
			if !seen {
				i = len(out)
				at[k] = i
				out = append(out, clearSize{k.woodOf, k.length, k.width, 0, map[string]bool{}})
			}
			out[i].count++
			out[i].boards[b.ID] = true
		}
	}
	slices.SortStableFunc(out, func(a, b clearSize) int {
		return cmp.Or(cmp.Compare(a.wood, b.wood), cmp.Compare(a.thick, b.thick), cmp.Compare(b.length, a.length), cmp.Compare(b.width, a.width))
	})
	return out
}

func typicalBoard(b *nesting.CutBoard) bool {
	return b.Stock.Origin == orders.FromTypical && !b.Stock.Sheet
}

func stepped(l, step measure.Length) measure.Length { return (l + step - 1) / step * step }

// runs maps each part of a matched run to it.
func runs(p *jigplan.Plan) map[string]string {
	out := map[string]string{}
	for i := range p.Parts {
		if part := &p.Parts[i]; part.Run != "" {
			out[part.ID] = part.Run
		}
	}
	return out
}

// clearPieces are a board's pieces, those of one run drawn together.
func clearPieces(b *nesting.CutBoard, run map[string]string) (out []nesting.Piece) {
	at := map[string]int{}
	for _, piece := range b.Pieces {
		name := run[piece.Part]
		i, seen := at[name]
		if name == "" || !seen {
			at[name] = len(out)
			out = append(out, piece)
			continue
		}
		out[i] = around(out[i], piece)
	}
	return out
}

// around is the smallest rectangle that holds both.
func around(a, b nesting.Piece) nesting.Piece {
	x, y := min(a.X, b.X), min(a.Y, b.Y)
	a.Length, a.Width = max(a.X+a.Length, b.X+b.Length)-x, max(a.Y+a.Width, b.Y+b.Width)-y
	a.X, a.Y = x, y
	return a
}

// shares says of each wood how much of what is bought must be clear.
func shares(p *jigplan.Plan) (out []string) {
	w := WordsOf(p)
	clear := map[woodOf]*big.Rat{}
	run := runs(p)
	for i := range p.Layout.Boards {
		b := &p.Layout.Boards[i]
		if !typicalBoard(b) {
			continue
		}
		key := woodOfBoard(&b.Stock, w)
		for _, piece := range clearPieces(b, run) {
			one := b.Stock
			one.Length, one.Width = piece.Length, piece.Width
			if clear[key] == nil {
				clear[key] = new(big.Rat)
			}
			clear[key].Add(clear[key], content(&one, w))
		}
	}
	for _, g := range tallies(p) {
		if net := clear[g.woodOf]; net != nil {
			whole, unit := g.Feet.FloatString(0), "board feet"
			if w.Unit.Metric() {
				whole, unit = w.Unit.Mark(g.Volume.FloatString(3)), "m3"
			}
			out = append(out, fmt.Sprintf("%s, %s: bring %s in %s; %s of it must be clear.", g.wood, g.thick, whole+" "+unit, Counted(g.Boards, "board", "boards"), decimalIn(net, w)+" "+unit))
		}
	}
	return out
}

// content is what a board holds, exact: board feet, or cubic metres.
func content(b *orders.Board, w Words) *big.Rat {
	if w.Unit.Metric() {
		return orders.TallyOf(*b, 1).Volume
	}
	return b.BoardFeet()
}

func decimalIn(r *big.Rat, w Words) string {
	if w.Unit.Metric() {
		return w.Unit.Mark(r.FloatString(3))
	}
	return w.Unit.Mark(r.FloatString(1))
}
