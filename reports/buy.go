package reports

import (
	"fmt"
	"math/big"
	"path/filepath"
	"strings"

	"batchwright/jigplan"
	"batchwright/orders"
	"batchwright/orders/measure"
)

// Buy is the buying list.
func Buy(p *jigplan.Plan) Table {
	t := Table{Title: "To buy", Head: []string{"", "What", "Kind", "Quantity", "Yard's measure", "Size", "Cost", "Why"}, Numbers: []int{6}}
	var total measure.Money
	known := true
	for i := range p.Buy {
		b := &p.Buy[i]
		var cost any = ""
		if b.CostSaid {
			cost = b.Cost
			total += b.Cost
		} else {
			known = false
		}
		t.Add("☐", b.What, b.Kind, b.Quantity, yardMeasure(b, WordsOf(p)), b.Size, cost, b.Why)
	}
	sum := Money(&p.Order.Settings, total)
	short := len(p.Layout.Short)
	switch {
	case len(p.Buy) == 0 && len(p.Layout.Boards) == 0:
		t.Note("Nothing to buy: no box of this order can be made as it is. See Summary.")
	case len(p.Buy) == 0:
		t.Note("Nothing to buy: the rack has the wood, and no supplies are needed.")
	case known:
		t.Note("All of it: " + sum + ".")
	case total > 0:
		t.Note("Items with a price add up to " + sum + "; the others have no price.")
	}
	if short > 0 && len(p.Layout.Boards) > 0 {
		t.Note(Counted(short, "part has no board and is", "parts have no board and are") + " not on this list: see Summary.")
	}
	return t
}

// mostListed is how many bought boards get a row each.
const mostListed = 24

// Bought is where the sizes of the boards that were bought are written: the rack
// reads it back. No rows: no wood is bought.
func Bought(p *jigplan.Plan) Table {
	w := WordsOf(p)
	unit := " (" + p.Order.Settings.Units.String() + ")"
	t := Table{Title: "What was bought", Head: []string{"Board", "Count", "Wood", "Thickness", "Length" + unit, "Width" + unit, "Cost"}, Numbers: []int{1}}
	total, n := 0, 0
	for i := range p.Buy {
		total += p.Buy[i].Count
	}
	stem := strings.TrimSuffix(p.Order.File, filepath.Ext(p.Order.File))
	for i := range p.Buy {
		b := &p.Buy[i]
		rows, each := b.Count, 1
		if total > mostListed {
			rows, each = min(1, b.Count), b.Count
		}
		for range rows {
			n++
			of := woodOfBoard(&b.Board, w)
			t.Add(fmt.Sprintf("%s B%d", stem, n), each, of.wood, of.thick, "", "", "")
		}
	}
	return t
}

// yardMeasure is what a yard reckons a line of wood as; empty: not wood.
func yardMeasure(b *jigplan.Purchase, w Words) string {
	if b.Count == 0 {
		return ""
	}
	tally := orders.TallyOf(b.Board, b.Count)
	switch {
	case b.Board.Sheet && w.Unit.Metric():
		return w.Unit.Mark(decimal(tally.Area, 2)) + " m2"
	case b.Board.Sheet:
		return decimal(squareFeet(tally.Area), 1) + " sq ft"
	case w.Unit.Metric():
		return w.Unit.Mark(tally.Volume.FloatString(3)) + " m3"
	}
	return decimal(tally.Feet, 2) + " board feet"
}

// squareFeet turns square metres into square feet of 0.3048 m a side, exact.
func squareFeet(metres *big.Rat) *big.Rat {
	foot := big.NewRat(3048, 10_000)
	return new(big.Rat).Quo(metres, foot.Mul(foot, foot))
}

func decimal(r *big.Rat, places int) string { return trimZeros(r.FloatString(places)) }

// woodOf is the wood and thickness that boards are asked for by.
type woodOf struct {
	wood, thick string
	sheet       bool
}

func woodOfBoard(b *orders.Board, w Words) woodOf {
	thick := b.Class
	if thick == "" {
		thick = w.Len(b.Rough())
	}
	return woodOf{b.Wood, thick, b.Sheet}
}

// YardTally is the wood to buy by wood and thickness, as the yard's bill has
// it; no rows: no wood is bought.
func YardTally(p *jigplan.Plan) Table {
	w := WordsOf(p)
	t := Table{Title: "The yard's tally", Head: []string{"Wood", "Thickness", "Pieces", "Square feet, surface measure", "Board feet"}, Numbers: []int{2, 3, 4}}
	metric := w.Unit.Metric()
	if metric {
		t.Head[3], t.Head[4] = "Square metres", "Cubic metres"
	}
	var solid orders.Tally
	for _, g := range tallies(p) {
		if !g.sheet {
			solid = solid.Plus(g.Tally)
		}
		t.tallied(g.wood, g.thick, g.Tally, metric)
	}
	if len(t.Rows) > 1 && solid.Boards > 0 {
		t.tallied("All boards", "", solid, metric)
	}
	switch {
	case metric && len(t.Rows) > 0:
		t.Note("Boards at their rough size, sheets at their full size.")
	case solid.Boards > 0:
		t.Note("Surface measure (NHLA): width in inches, with its fraction, times the length in whole feet, over 12, to the nearest whole number. " +
			"The sum of one thickness times its nominal thickness, at least 1 in, gives board feet. Boards under 4 ft count their exact board feet. Costs go by the exact size, so the yard's bill can differ a little.")
	}
	return t
}

func (t *Table) tallied(wood, thick string, n orders.Tally, metric bool) {
	switch {
	case metric && n.Feet == nil:
		t.Add(wood, thick, n.Boards, n.Area.FloatString(2), "")
	case metric:
		t.Add(wood, thick, n.Boards, n.Area.FloatString(2), n.Volume.FloatString(3))
	case n.Feet == nil:
		t.Add(wood, thick, n.Boards, squareFeet(n.Area).FloatString(0), "")
	default:
		t.Add(wood, thick, n.Boards, n.Surface, n.Feet.FloatString(0))
	}
}

type woodTally struct {
	woodOf
	orders.Tally
}

// tallies adds the bought boards up by wood and thickness, in the list's order.
func tallies(p *jigplan.Plan) (out []woodTally) {
	at := map[woodOf]int{}
	for i := range p.Buy {
		b := &p.Buy[i]
		if b.Count == 0 {
			continue
		}
		key := woodOfBoard(&b.Board, WordsOf(p))
		i, seen := at[key]
		if !seen {
			i = len(out)
			at[key] = i
			out = append(out, woodTally{woodOf: key})
		}
		out[i].Tally = out[i].Plus(orders.TallyOf(b.Board, b.Count))
	}
	return out
}
