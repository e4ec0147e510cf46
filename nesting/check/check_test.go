package check

import (
	"slices"
	"testing"

	"batchwright/nesting"
	"batchwright/orders"
	"batchwright/orders/measure"
	"batchwright/orders/settings"
)

const (
	inch   = measure.Inch
	eighth = inch / 8
)

// valid is a board of 48 x 6 in with two parts of 20 x 5 in, cut with kerfs of
// 1/8 in, and what it was made from.
func valid() (nesting.Layout, Given) {
	set := settings.Default()
	board := orders.Board{ID: "R1", Origin: orders.FromRack, Count: 1, Wood: "Walnut", Class: "4/4",
		Length: 60 * inch, Width: 6 * inch, Cost: 4000, CostKnown: true,
		Defects: []orders.Defect{{X: 43 * inch, Y: 0, Length: inch, Width: 6 * inch}}}
	part := func(id string, place int) orders.Part {
		return orders.Part{ID: id, Wood: "walnut", Grain: orders.AlongLength, Thickness: inch / 2,
			CutLength: 20 * inch, CutWidth: 5 * inch, Run: "G1", Place: place}
	}
	given := Given{Parts: []orders.Part{part("A", 1), part("B", 2), {ID: "C", Wood: "walnut", Thickness: inch / 2,
		Grain: orders.EitherWay, CutLength: 99 * inch, CutWidth: inch}}, Rack: []orders.Board{board}, Settings: set}
	cut := func(n int, kind nesting.CutKind, at, from, to measure.Length, rough bool) nesting.Cut {
		return nesting.Cut{N: n, Kind: kind, At: at, From: from, To: to, Kerf: eighth, Rough: rough}
	}
	x, y := 21*inch+eighth, eighth
	b := nesting.Board{ID: "R1", Stock: board, Length: board.Length, Width: board.Width, Thickness: inch, Cost: 4000,
		Pieces: []nesting.Piece{{Part: "A", X: inch, Y: y, Length: 20 * inch, Width: 5 * inch},
			{Part: "B", X: x, Y: y, Length: 20 * inch, Width: 5 * inch}},
		Cuts: []nesting.Cut{
			cut(1, nesting.Crosscut, 46*inch-eighth, 0, 6*inch, true), // the tail goes back unplaned
			cut(2, nesting.Crosscut, 59*inch, 0, 6*inch, true),
			cut(3, nesting.Rip, 0, 46*inch, 59*inch, true),
			cut(4, nesting.Rip, 6*inch-eighth, 46*inch, 59*inch, true),
			cut(5, nesting.Crosscut, inch-eighth, 0, 6*inch, false),
			cut(6, nesting.Crosscut, 21*inch, 0, 6*inch, false),
			cut(7, nesting.Crosscut, 41*inch+eighth, 0, 6*inch, false),
			cut(8, nesting.Rip, 0, inch, 21*inch, false), cut(9, nesting.Rip, 5*inch+eighth, inch, 21*inch, false),
			cut(10, nesting.Rip, 0, x, x+20*inch, false), cut(11, nesting.Rip, 5*inch+eighth, x, x+20*inch, false),
		},
		Offcuts: []nesting.Offcut{{X: 46 * inch, Y: eighth, Length: 13 * inch, Width: 6*inch - 2*eighth, Keep: true}}}
	off := b.Offcuts[0]
	l := nesting.Layout{Boards: []nesting.Board{b}, Short: []nesting.Short{{Part: "C", Why: "too long"}},
		Cost: 4000, CostBound: 3000, CostKnown: true, Stop: nesting.StopBudget,
		AreaUsed:  b.Length.Times(b.Width).Sub(off.Length.Times(off.Width)),
		AreaParts: (20 * inch).Times(10 * inch), AreaBound: (20 * inch).Times(10 * inch)}
	return l, given
}

// cutThrough is a crosscut after planing.
func cutThrough(n int, at, from, to measure.Length) nesting.Cut {
	return nesting.Cut{N: n, Kind: nesting.Crosscut, At: at, From: from, To: to, Kerf: eighth}
}

func TestAValidLayoutHasNoFault(t *testing.T) {
	l, given := valid()
	for _, f := range Layout(l, given) {
		t.Error(f)
	}
}

// TestEveryPlantedFaultIsFound plants one fault at a time.
func TestEveryPlantedFaultIsFound(t *testing.T) {
	cases := []struct {
		name, rule string
		plant      func(*nesting.Layout, *nesting.Board, *Given)
	}{
		{"a part is left out", "parts", func(l *nesting.Layout, b *nesting.Board, g *Given) { l.Short = nil }},
		{"a part is cut twice", "parts", func(l *nesting.Layout, b *nesting.Board, g *Given) { b.Pieces[1].Part = "A" }},
		{"a stranger is cut", "parts", func(l *nesting.Layout, b *nesting.Board, g *Given) { b.Pieces[1].Part = "X" }},
		{"a part is cut and short", "parts", func(l *nesting.Layout, b *nesting.Board, g *Given) {
			l.Short = append(l.Short, nesting.Short{Part: "A", Why: "?"})
		}},
		{"no reason is given", "parts", func(l *nesting.Layout, b *nesting.Board, g *Given) { l.Short[0].Why = "" }},
		{"a piece is a tick long", "size", func(l *nesting.Layout, b *nesting.Board, g *Given) { b.Pieces[0].Length++ }},
		{"a part lies across its grain", "grain", func(l *nesting.Layout, b *nesting.Board, g *Given) { b.Pieces[0].Turned = true }},
		{"the wood is another", "wood", func(l *nesting.Layout, b *nesting.Board, g *Given) { g.Parts[0].Wood = "oak" }},
		{"a class yields less", "thickness", func(l *nesting.Layout, b *nesting.Board, g *Given) {
			g.Parts[0].Thickness, g.Parts[1].Thickness = inch*27/32, inch*27/32
		}},
		{"a true thickness yields less", "thickness", func(l *nesting.Layout, b *nesting.Board, g *Given) {
			b.Stock.Class, b.Stock.Thickness = "", inch*9/16-1
			g.Rack[0].Class, g.Rack[0].Thickness = "", inch*9/16-1
		}},
		{"a sheet is thicker", "thickness", func(l *nesting.Layout, b *nesting.Board, g *Given) { b.Stock.Sheet = true }},
		{"a piece reaches into the end trim", "trim", func(l *nesting.Layout, b *nesting.Board, g *Given) { b.Pieces[0].X-- }},
		{"a piece reaches into the edge trim", "trim", func(l *nesting.Layout, b *nesting.Board, g *Given) { b.Pieces[0].Y-- }},
		{"pieces lie a tick too near", "kerf", func(l *nesting.Layout, b *nesting.Board, g *Given) { b.Pieces[1].X-- }},
		{"a piece lies on a defect", "defect", func(l *nesting.Layout, b *nesting.Board, g *Given) {
			b.Stock.Defects[0].X = 41*inch + eighth - 1
		}},
		{"a crack runs through a piece", "defect", func(l *nesting.Layout, b *nesting.Board, g *Given) {
			b.Stock.Defects = append(b.Stock.Defects, orders.Defect{X: 5 * inch, Y: 0, Length: 0, Width: 6 * inch})
		}},
		{"a cut stops half way", "cut", func(l *nesting.Layout, b *nesting.Board, g *Given) { b.Cuts[4].To -= inch }},
		{"a cut runs through a part", "cut", func(l *nesting.Layout, b *nesting.Board, g *Given) { b.Cuts[5].At -= inch }},
		{"a cut comes before its turn", "cut", func(l *nesting.Layout, b *nesting.Board, g *Given) {
			b.Cuts[4], b.Cuts[7] = b.Cuts[7], b.Cuts[4]
		}},
		{"cuts are numbered wrong", "cut", func(l *nesting.Layout, b *nesting.Board, g *Given) { b.Cuts[4].N = 9 }},
		{"a kerf is not the shop's", "cut", func(l *nesting.Layout, b *nesting.Board, g *Given) { b.Cuts[4].Kerf-- }},
		{"a kerf is wider, where nothing lies beyond", "cut", func(l *nesting.Layout, b *nesting.Board, g *Given) { b.Cuts[10].Kerf += eighth }},
		{"a cut goes through the air", "cut", func(l *nesting.Layout, b *nesting.Board, g *Given) {
			b.Cuts = append(b.Cuts, cutThrough(12, 50*inch, 0, inch))
		}},
		{"a cut goes through an offcut that is named", "cut", func(l *nesting.Layout, b *nesting.Board, g *Given) {
			b.Offcuts[0].Keep, l.AreaUsed = false, b.Length.Times(b.Width)
			b.Cuts = append(b.Cuts, cutThrough(12, 50*inch, eighth, 6*inch-eighth))
		}},
		{"a rough cut comes late", "cut", func(l *nesting.Layout, b *nesting.Board, g *Given) { b.Cuts[10].Rough = true }},
		{"a part is not freed", "cut", func(l *nesting.Layout, b *nesting.Board, g *Given) { b.Cuts = b.Cuts[:10] }},
		{"an offcut is not freed", "cut", func(l *nesting.Layout, b *nesting.Board, g *Given) {
			b.Cuts = slices.Delete(b.Cuts, 3, 4)
		}},
		{"two thicknesses are planed in one piece", "planing", func(l *nesting.Layout, b *nesting.Board, g *Given) {
			g.Parts[1].Thickness = inch / 4
		}},
		{"a piece is too short for the planer", "machine", func(l *nesting.Layout, b *nesting.Board, g *Given) {
			g.Settings.ShortestMachine = 47 * inch
		}},
		{"an offcut is planed", "offcut", func(l *nesting.Layout, b *nesting.Board, g *Given) {
			for i := range b.Cuts {
				b.Cuts[i].Rough = false
			}
		}},
		{"an offcut is too small to keep", "offcut", func(l *nesting.Layout, b *nesting.Board, g *Given) {
			g.Settings.KeepLength = 13*inch + 1
		}},
		{"an offcut overlaps a part", "offcut", func(l *nesting.Layout, b *nesting.Board, g *Given) {
			b.Offcuts = append(b.Offcuts, nesting.Offcut{X: inch, Y: inch, Length: inch, Width: inch})
		}},
		{"offcuts overlap", "offcut", func(l *nesting.Layout, b *nesting.Board, g *Given) {
			b.Offcuts = append(b.Offcuts, b.Offcuts[0])
		}},
		{"an offcut lies beyond the board", "offcut", func(l *nesting.Layout, b *nesting.Board, g *Given) { b.Offcuts[0].Length = 15 * inch }},
		{"a board is used more often than it is there", "supply", func(l *nesting.Layout, b *nesting.Board, g *Given) { g.Rack[0].Count = 0 }},
		{"a board is not on the rack", "supply", func(l *nesting.Layout, b *nesting.Board, g *Given) { g.Rack[0].ID = "R2" }},
		{"a board is longer than on the rack", "supply", func(l *nesting.Layout, b *nesting.Board, g *Given) { b.Length += inch }},
		{"two boards have one name", "supply", func(l *nesting.Layout, b *nesting.Board, g *Given) { l.Boards = append(l.Boards, *b) }},
		{"nothing is cut from a board", "supply", func(l *nesting.Layout, b *nesting.Board, g *Given) {
			idle := *b
			idle.ID, idle.Pieces, idle.Cuts, idle.Offcuts = "R1#2", nil, nil, nil
			g.Rack[0].Count = 2
			l.Boards = append(l.Boards, idle)
		}},
		{"a board has a name of its own", "supply", func(l *nesting.Layout, b *nesting.Board, g *Given) { b.ID = "R11" }},
		{"a run lies on two boards", "run", func(l *nesting.Layout, b *nesting.Board, g *Given) {
			other := *b
			other.ID, other.Pieces = "R1#2", b.Pieces[1:]
			g.Rack[0].Count, b.Pieces = 2, b.Pieces[:1]
			l.Boards = append(l.Boards, other)
		}},
		{"a run is out of order", "run", func(l *nesting.Layout, b *nesting.Board, g *Given) {
			b.Pieces[0].Part, b.Pieces[1].Part = "B", "A"
		}},
		{"a run leaves its line", "run", func(l *nesting.Layout, b *nesting.Board, g *Given) { b.Pieces[1].Y++ }},
		{"a run is broken off", "run", func(l *nesting.Layout, b *nesting.Board, g *Given) { b.Pieces = b.Pieces[:1] }},
		{"a board's cost is not its own", "cost", func(l *nesting.Layout, b *nesting.Board, g *Given) { b.Cost-- }},
		{"costs do not add up", "cost", func(l *nesting.Layout, b *nesting.Board, g *Given) { l.Cost++ }},
		{"areas do not add up", "area", func(l *nesting.Layout, b *nesting.Board, g *Given) { l.AreaUsed = l.AreaUsed.Add(inch.Times(inch)) }},
		{"the cost bound is too high", "bound", func(l *nesting.Layout, b *nesting.Board, g *Given) { l.CostBound = 4001 }},
		{"the area bound is too high", "bound", func(l *nesting.Layout, b *nesting.Board, g *Given) { l.AreaBound = l.AreaUsed.Add(inch.Times(1)) }},
		{"proven without proof", "bound", func(l *nesting.Layout, b *nesting.Board, g *Given) {
			l.Proven, l.Stop = true, nesting.StopProven
		}},
	}
	for _, c := range cases {
		l, given := valid()
		c.plant(&l, &l.Boards[0], &given)
		found := Layout(l, given)
		if !slices.ContainsFunc(found, func(f Fault) bool { return f.Rule == c.rule }) {
			t.Errorf("%s: no fault of rule %q among %v", c.name, c.rule, found)
		}
	}
}

// Board costs, worked by hand: 96 x 6 in of 5/4 is 5 board feet; thin stock is
// tallied as 1 in (worked example W15 for the rule: 3 x 8 in x 10 ft is 20).
func TestCostOfABoard(t *testing.T) {
	set := settings.Default()
	set.CostOf["walnut"] = 1250
	c := &checker{set: &set}
	for _, k := range []struct {
		board orders.Board
		want  measure.Money
		why   string
	}{
		{orders.Board{Wood: "Walnut", Class: "5/4", Length: 96 * inch, Width: 6 * inch}, 6250, "5 bf"},
		{orders.Board{Wood: "walnut", Thickness: inch / 2, Length: 96 * inch, Width: 6 * inch}, 5000, "thin stock, 4 bf"},
		{orders.Board{Wood: "walnut", Thickness: 3 * inch, Length: 120 * inch, Width: 8 * inch}, 25000, "20 bf"},
		{orders.Board{Wood: "walnut", Cost: 77, CostKnown: true, Length: inch, Width: inch}, 77, "its own cost"},
	} {
		if got := c.cost(&k.board); got != k.want {
			t.Errorf("%s: %s, want %s", k.why, got, k.want)
		}
		if got, _ := k.board.Worth(&set); got != k.want {
			t.Errorf("%s: Worth says %s, want %s", k.why, got, k.want)
		}
	}
	oak := orders.Board{Wood: "oak", Length: 1000 * measure.Millimetre, Width: 255 * measure.Millimetre}
	if got := c.cost(&oak); got != 0 {
		t.Errorf("oak has no price and walnut has one: %s, want nothing", got)
	}
	delete(set.CostOf, "walnut")
	if got := c.cost(&oak); got != 26 {
		t.Errorf("no board has a price: 0.255 m2, half to even, is %s", got)
	}
	oak.Width = 245 * measure.Millimetre
	if got := c.cost(&oak); got != 24 {
		t.Errorf("no board has a price: 0.245 m2, half to even, is %s", got)
	}
	c.given.Rack = []orders.Board{{Wood: "ash", Cost: 100, CostKnown: true}}
	if got := c.cost(&oak); got != 0 {
		t.Errorf("a board of ash has a price: %s, want nothing", got)
	}
}
