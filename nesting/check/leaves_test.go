package check

import (
	"fmt"
	"slices"
	"testing"

	"batchwright/nesting"
	"batchwright/orders"
	"batchwright/orders/measure"
	"batchwright/orders/settings"
)

// Off the band saw, worked by hand for an 8/4 board: 2 in less 1/16 in for its
// cup and a kerf of 1/16 in between leaves is twice 15/16 in or thrice 29/48 in;
// 1/16 in off each face leaves 13/16 in and 23/48 in.
const (
	offTwo   = inch * 15 / 16
	offThree = inch * 29 / 48
)

// resawnLayout is two boards of 40 x 6 in: K#1 gives two leaves with a part of
// 3/4 in on each, K#2 three leaves, two with a part of 3/8 in and one that goes
// back whole.
func resawnLayout() (nesting.Layout, Given) {
	set := settings.Default()
	set.ResawUpTo = 6 * inch
	board := orders.Board{ID: "K", Origin: orders.FromRack, Count: 2, Wood: "cherry", Class: "8/4", Length: 40 * inch, Width: 6 * inch,
		Cost: 1501, CostKnown: true, Defects: []orders.Defect{{X: 30 * inch, Length: inch, Width: 6 * inch}}}
	given := Given{Rack: []orders.Board{board}, Settings: set}
	part := func(id string, thick measure.Length) {
		given.Parts = append(given.Parts, orders.Part{ID: id, Wood: "cherry", Grain: orders.AlongLength, Thickness: thick,
			CutLength: 20 * inch, CutWidth: 5 * inch})
	}
	part("A", inch*3/4)
	part("B", inch*3/4)
	part("C", inch*3/8)
	part("D", inch*3/8)
	l := nesting.Layout{Cost: 3002, CostBound: 1501, CostKnown: true, Stop: nesting.StopBudget, Boards: []nesting.CutBoard{
		leafWithPart(board, "K#1/1", nesting.Leaf{Of: "K#1", N: 1, Count: 2}, offTwo, 750, "A"),
		leafWithPart(board, "K#1/2", nesting.Leaf{Of: "K#1", N: 2, Count: 2}, offTwo, 751, "B"),
		leafWithPart(board, "K#2/1", nesting.Leaf{Of: "K#2", N: 1, Count: 3}, offThree, 500, "C"),
		leafWithPart(board, "K#2/2", nesting.Leaf{Of: "K#2", N: 2, Count: 3}, offThree, 500, "D"),
		spareLeafOf(board, "K#2/3", nesting.Leaf{Of: "K#2", N: 3, Count: 3}, offThree, 501),
	}}
	for range l.Boards {
		l.AreaUsed = l.AreaUsed.Add((40 * inch).Times(6 * inch))
	}
	back := l.Boards[4].Offcuts[0]
	l.AreaUsed = l.AreaUsed.Sub(back.Length.Times(back.Width))
	l.AreaParts = (20 * inch).Times(20 * inch)
	// 10 crosscuts of 25 s, 10 rips of 30 s and 10 s a foot, 4 settings of 60 s for
	// the leaves that are cut alike and 4 for the spare one.
	l.CutMinutes = (250 + 300 + 10*(8*20+2*38)/12.0 + 480) / 60
	return l, given
}

// leafWithPart is a leaf with one part of 20 x 5 in beside its raw end and edge.
func leafWithPart(board orders.Board, id string, leaf nesting.Leaf, thick measure.Length, cost measure.Money, part string) nesting.CutBoard {
	b := nesting.CutBoard{ID: id, Stock: board, Leaf: leaf, Length: board.Length, Width: board.Width, Thickness: thick, Cost: cost}
	b.Pieces = []nesting.Piece{{Part: part, X: inch, Y: eighth, Length: 20 * inch, Width: 5 * inch}}
	b.Cuts = []nesting.Cut{
		trim(1, nesting.Crosscut, inch-eighth, 0, 6*inch, nesting.MarkedEnd, inch-eighth, inch),
		trim(2, nesting.Crosscut, 21*inch, 0, 6*inch, nesting.FreshEnd, 20*inch, 19*inch),
		trim(3, nesting.Rip, 0, inch, 21*inch, nesting.FarEdge, 6*inch-eighth, eighth),
		trim(4, nesting.Rip, 5*inch+eighth, inch, 21*inch, nesting.FreshEdge, 5*inch, 7*eighth),
	}
	return b
}

// spareLeafOf is a leaf that goes back to the rack, squared and unplaned.
func spareLeafOf(board orders.Board, id string, leaf nesting.Leaf, thick measure.Length, cost measure.Money) nesting.CutBoard {
	b := nesting.CutBoard{ID: id, Stock: board, Leaf: leaf, Length: board.Length, Width: board.Width, Thickness: thick, Cost: cost}
	b.Cuts = []nesting.Cut{
		trim(1, nesting.Crosscut, inch-eighth, 0, 6*inch, nesting.MarkedEnd, inch-eighth, inch),
		trim(2, nesting.Crosscut, 39*inch, 0, 6*inch, nesting.FreshEnd, 38*inch, inch),
		trim(3, nesting.Rip, 0, inch, 39*inch, nesting.FarEdge, 6*inch-eighth, eighth),
		trim(4, nesting.Rip, 6*inch-eighth, inch, 39*inch, nesting.FreshEdge, 6*inch-2*eighth, eighth),
	}
	for i := range b.Cuts {
		b.Cuts[i].Rough = true
	}
	b.Offcuts = []nesting.Offcut{{X: inch, Y: eighth, Length: 38 * inch, Width: 6*inch - 2*eighth, Keep: true}}
	return b
}

// renumber gives a leaf another number, and the name that goes with it.
func renumber(b *nesting.CutBoard, n int) {
	b.Leaf.N, b.ID = n, fmt.Sprintf("%s/%d", b.Leaf.Of, n)
}

func TestAValidResawnLayoutHasNoFault(t *testing.T) {
	l, given := resawnLayout()
	for _, f := range Layout(l, given) {
		t.Error(f)
	}
}

// TestEveryFaultOfLeavesIsFound plants one fault at a time into boards that are
// resawn rightly, and wants it named on the board that has it.
func TestEveryFaultOfLeavesIsFound(t *testing.T) {
	type layout = *nesting.Layout
	type from = *Given
	for _, c := range []struct {
		name, board, rule string
		plant             func(layout, from)
	}{
		{"a leaf is missing", "K#1", "leaf", func(l layout, _ from) { l.Boards = slices.Delete(l.Boards, 1, 2) }},
		{"a board is one leaf of itself", "K#1", "leaf", func(l layout, _ from) {
			l.Boards = slices.Delete(l.Boards, 1, 2)
			l.Boards[0].Leaf.Count = 1
		}},
		{"a leaf is listed that nobody counted", "K#2", "leaf", func(l layout, _ from) {
			for i := range l.Boards {
				l.Boards[i].Leaf.Count = 2
			}
		}},
		{"more leaves than a board is sawn into", "K#2", "leaf", func(l layout, _ from) {
			for i := range l.Boards {
				l.Boards[i].Leaf.Count = orders.MaxLeaves + 1
			}
		}},
		{"two leaves have one number", "K#1/1", "leaf", func(l layout, _ from) { renumber(&l.Boards[1], 1) }},
		{"a leaf is numbered beyond the last", "K#1/3", "leaf", func(l layout, _ from) { renumber(&l.Boards[1], 3) }},
		{"a leaf is numbered before the first", "K#1/0", "leaf", func(l layout, _ from) { renumber(&l.Boards[0], 0) }},
		{"leaves of one board are counted two ways", "K#1/2", "leaf", func(l layout, _ from) { l.Boards[1].Leaf.Count = 3 }},
		{"a leaf has another's name", "K#1/7", "leaf", func(l layout, _ from) { l.Boards[1].ID = "K#1/7" }},
		{"two leaves have one name", "K#1/1", "supply", func(l layout, _ from) { l.Boards[1].ID = "K#1/1" }},
		{"a board is cut whole and resawn", "K#1", "leaf", func(l layout, _ from) {
			whole := l.Boards[0]
			whole.ID, whole.Leaf = "K#1", nesting.Leaf{}
			l.Boards = append(l.Boards, whole)
		}},
		{"a board is resawn that is not there", "K#2/1", "supply", func(_ layout, g from) { g.Rack[0].Count = 1 }},
		{"a resawn board is named after no line", "L/1", "supply", func(l layout, _ from) {
			for i := range 2 {
				l.Boards[i].Leaf.Of, l.Boards[i].ID = "L", "L"+l.Boards[i].ID[3:]
			}
		}},
		{"the leaves are of two boards", "K#1/2", "leaf", func(l layout, g from) {
			g.Rack = append(g.Rack, g.Rack[0])
			g.Rack[1].ID, l.Boards[1].Stock.ID = "L", "L"
		}},
		{"a leaf is longer than its board", "K#1/2", "supply", func(l layout, _ from) { l.Boards[1].Length += inch }},
		{"a leaf is wider than its board", "K#1/2", "supply", func(l layout, _ from) { l.Boards[1].Width += inch }},
		{"a leaf lacks a flaw of its board", "K#1/2", "supply", func(l layout, _ from) { l.Boards[1].Stock.Defects = nil }},
		{"a part lies on a flaw that runs through all leaves", "K#1/2", "defect", func(l layout, g from) {
			for i := range l.Boards {
				l.Boards[i].Stock.Defects = []orders.Defect{{X: 21*inch - 1, Length: inch, Width: 6 * inch}}
			}
			g.Rack[0].Defects = l.Boards[0].Stock.Defects
		}},
		{"the shop has no band saw", "K#1", "leaf", func(_ layout, g from) { g.Settings.ResawUpTo = 0 }},
		{"the band saw is a tick too low", "K#1", "leaf", func(_ layout, g from) { g.Settings.ResawUpTo = 6*inch - 1 }},
		{"the wide end of a tapered board is too high", "K#1", "leaf", func(l layout, g from) {
			for i := range l.Boards {
				l.Boards[i].Stock.WideEnd = 6*inch + 1
			}
			g.Rack[0].WideEnd = 6*inch + 1
		}},
		{"a manufactured sheet is resawn", "K#1", "leaf", func(l layout, g from) {
			for i := range l.Boards {
				l.Boards[i].Stock.Sheet = true
			}
			g.Rack[0].Sheet = true
		}},
		{"a board is too short to be flattened", "K#1", "machine", func(_ layout, g from) { g.Settings.ShortestMachine = 40*inch + 1 }},
		{"a kerf is left out", "K#1/1", "leaf", func(l layout, _ from) { l.Boards[0].Thickness += inch / 32 }},
		{"the cup is left out", "K#2/1", "leaf", func(l layout, _ from) { l.Boards[2].Thickness += inch / 48 }},
		{"a leaf is a tick too thick", "K#1/1", "leaf", func(l layout, _ from) { l.Boards[0].Thickness++ }},
		{"a leaf is thinner than it comes off the saw", "K#1/1", "leaf", func(l layout, _ from) { l.Boards[0].Thickness -= 2 }},
		{"the class gives thinner leaves", "K#1/1", "leaf", func(l layout, g from) {
			for i := range l.Boards {
				l.Boards[i].Stock.Class = "7/4"
			}
			g.Rack[0].Class = "7/4"
		}},
		{"the board is thinner than its class", "K#1/1", "leaf", func(l layout, g from) {
			for i := range l.Boards {
				l.Boards[i].Stock.Thickness = inch * 31 / 16
			}
			g.Rack[0].Thickness = inch * 31 / 16
		}},
		{"clean-up leaves a tick too little", "K#1/1", "thickness", func(_ layout, g from) { g.Parts[0].Thickness = offTwo - inch/8 + 1 }},
		{"clean-up takes more", "K#2/2", "thickness", func(_ layout, g from) { g.Settings.ResawCleanUp = inch * 3 / 16 }},
		{"the leaves cost more than their board", "K#1", "cost", func(l layout, _ from) {
			l.Boards[0].Cost, l.Cost = 751, 3003
		}},
		{"one leaf pays for another", "K#1/1", "cost", func(l layout, _ from) { l.Boards[0].Cost, l.Boards[1].Cost = 0, 1501 }},
		{"a leaf that nothing is cut from falls to pieces", "K#2/3", "leaf", func(l layout, _ from) {
			l.Boards[4].Offcuts = []nesting.Offcut{{X: inch, Y: eighth, Length: 12 * inch, Width: 5 * inch}, {X: 14 * inch, Y: eighth, Length: 12 * inch, Width: 5 * inch}}
		}},
		{"a leaf goes back unsquared", "K#2/3", "cut", func(l layout, _ from) { l.Boards[4].Cuts = l.Boards[4].Cuts[:3] }},
		{"a part of a leaf reaches into the raw edge", "K#2/1", "trim", func(l layout, _ from) { l.Boards[2].Pieces[0].Y-- }},
	} {
		l, given := resawnLayout()
		c.plant(&l, &given)
		found := Layout(l, given)
		if !slices.ContainsFunc(found, func(f Fault) bool { return f.Rule == c.rule && f.Board == c.board }) {
			t.Errorf("%s: no fault of rule %q on %s among %v", c.name, c.rule, c.board, found)
		}
	}
}

// TestTheBoardIsTheOneGiven: a layout may not be made for a better board than
// the one on the rack, whether it is resawn or not.
func TestTheBoardIsTheOneGiven(t *testing.T) {
	for _, c := range []struct {
		why   string
		plant func(*orders.Board)
	}{
		{"a flaw is left out", func(b *orders.Board) { b.Defects = nil }},
		{"a flaw lies elsewhere", func(b *orders.Board) { b.Defects = []orders.Defect{{X: 50 * inch, Length: inch, Width: inch}} }},
		{"a flaw is called sapwood", func(b *orders.Board) {
			b.Defects = slices.Clone(b.Defects)
			b.Defects[0].Sapwood = true
		}},
		{"raw ends are called sawn", func(b *orders.Board) { b.Origin = orders.FromOffcut }},
		{"it is called a sheet", func(b *orders.Board) { b.Sheet = true }},
		{"it costs less", func(b *orders.Board) { b.Cost-- }},
		{"its cost is forgotten", func(b *orders.Board) { b.CostKnown = false }},
		{"its wide end is forgotten", func(b *orders.Board) { b.WideEnd = 7 * inch }},
		{"its wood is another", func(b *orders.Board) { b.Wood = "oak" }},
		{"its class is another", func(b *orders.Board) { b.Class = "5/4" }},
		{"it is thicker", func(b *orders.Board) { b.Thickness = 2 * inch }},
		{"it was read elsewhere", func(b *orders.Board) { b.Source.Cell = "A9" }},
	} {
		l, given := valid()
		c.plant(&l.Boards[0].Stock)
		if !slices.ContainsFunc(Layout(l, given), func(f Fault) bool { return f.Rule == "supply" && f.Board == "R1" }) {
			t.Errorf("%s: not found", c.why)
		}
	}
}
