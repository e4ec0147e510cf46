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
	rough := func(c nesting.Cut) nesting.Cut {
		c.Rough = true
		return c
	}
	x, y := 21*inch+eighth, eighth
	b := nesting.CutBoard{ID: "R1", Stock: board, Length: board.Length, Width: board.Width, Thickness: inch, Cost: 4000,
		Pieces: []nesting.Piece{{Part: "A", X: inch, Y: y, Length: 20 * inch, Width: 5 * inch},
			{Part: "B", X: x, Y: y, Length: 20 * inch, Width: 5 * inch}},
		Cuts: []nesting.Cut{
			rough(trim(1, nesting.Crosscut, 46*inch-eighth, 0, 6*inch, nesting.MarkedEnd, 46*inch-eighth, 0)), // the tail goes back unplaned
			rough(trim(2, nesting.Crosscut, 59*inch, 0, 6*inch, nesting.FreshEnd, 13*inch, inch)),
			rough(trim(3, nesting.Rip, 0, 46*inch, 59*inch, nesting.FarEdge, 6*inch-eighth, eighth)),
			rough(trim(4, nesting.Rip, 6*inch-eighth, 46*inch, 59*inch, nesting.FreshEdge, 6*inch-2*eighth, eighth)),
			trim(5, nesting.Crosscut, inch-eighth, 0, 6*inch, nesting.MarkedEnd, inch-eighth, inch),
			trim(6, nesting.Rip, 0, inch, 46*inch-eighth, nesting.FarEdge, 6*inch-eighth, eighth),
			trim(7, nesting.Rip, 5*inch+eighth, inch, 46*inch-eighth, nesting.FreshEdge, 5*inch, 7*eighth),
			trim(8, nesting.Crosscut, 21*inch, y, y+5*inch, nesting.FreshEnd, 20*inch, 0),
			trim(9, nesting.Crosscut, x+20*inch, y, y+5*inch, nesting.FreshEnd, 20*inch, 46*inch-eighth-x-20*inch),
		},
		Offcuts: []nesting.Offcut{{X: 46 * inch, Y: eighth, Length: 13 * inch, Width: 6*inch - 2*eighth, Keep: true}}}
	off := b.Offcuts[0]
	l := nesting.Layout{Boards: []nesting.CutBoard{b}, Short: []nesting.Short{{Part: "C", Why: "too long"}},
		Cost: 4000, CostBound: 3000, CostKnown: true, Stop: nesting.StopBudget,
		AreaUsed:  b.Length.Times(b.Width).Sub(off.Length.Times(off.Width)),
		AreaParts: (20 * inch).Times(10 * inch), AreaBound: (20 * inch).Times(10 * inch)}
	l.CutMinutes = workOf()
	return l, given
}

// workOf is by hand the time of the cuts of the layout, none of them at the
// setting of the one before but the last: a crosscut 25 s, a rip 30 s and 10 s a
// foot, a setting 60 s.
func workOf() float64 {
	return (5*25 + 4*30 + 10*(2*13+2*44.875)/12 + 8*60) / 60
}

// trim is a cut after planing: what it is set to, from where, and what it takes
// off (0: both sides are used).
func trim(n int, kind nesting.CutKind, at, from, to measure.Length, ref nesting.Reference, set, takes measure.Length) nesting.Cut {
	guide := nesting.ByStop
	if kind == nesting.Rip {
		guide = nesting.ByFence
	}
	return nesting.Cut{N: n, Kind: kind, At: at, From: from, To: to, Kerf: eighth, Guide: guide, Reference: ref, Set: set, Takes: takes}
}

// cutThrough is a crosscut after planing.
func cutThrough(n int, at, from, to measure.Length) nesting.Cut {
	return trim(n, nesting.Crosscut, at, from, to, nesting.FreshEnd, 4*inch, 0)
}

func TestAValidLayoutHasNoFault(t *testing.T) {
	l, given := valid()
	for _, f := range Layout(l, given) {
		t.Error(f)
	}
}

// TestEveryPlantedFaultIsFound plants one fault at a time.
func TestEveryPlantedFaultIsFound(t *testing.T) {
	x, y := 21*inch+eighth, eighth // of part B
	cases := []struct {
		name, rule string
		plant      func(*nesting.Layout, *nesting.CutBoard, *Given)
	}{
		{"a part is left out", "parts", func(l *nesting.Layout, b *nesting.CutBoard, g *Given) { l.Short = nil }},
		{"a part is cut twice", "parts", func(l *nesting.Layout, b *nesting.CutBoard, g *Given) { b.Pieces[1].Part = "A" }},
		{"a stranger is cut", "parts", func(l *nesting.Layout, b *nesting.CutBoard, g *Given) { b.Pieces[1].Part = "X" }},
		{"a part is cut and short", "parts", func(l *nesting.Layout, b *nesting.CutBoard, g *Given) {
			l.Short = append(l.Short, nesting.Short{Part: "A", Why: "?"})
		}},
		{"no reason is given", "parts", func(l *nesting.Layout, b *nesting.CutBoard, g *Given) { l.Short[0].Why = "" }},
		{"a piece is a tick long", "size", func(l *nesting.Layout, b *nesting.CutBoard, g *Given) { b.Pieces[0].Length++ }},
		{"a part lies across its grain", "grain", func(l *nesting.Layout, b *nesting.CutBoard, g *Given) { b.Pieces[0].Turned = true }},
		{"the wood is another", "wood", func(l *nesting.Layout, b *nesting.CutBoard, g *Given) { g.Parts[0].Wood = "oak" }},
		{"a class yields less", "thickness", func(l *nesting.Layout, b *nesting.CutBoard, g *Given) {
			g.Parts[0].Thickness, g.Parts[1].Thickness = inch*27/32, inch*27/32
		}},
		{"a true thickness yields less", "thickness", func(l *nesting.Layout, b *nesting.CutBoard, g *Given) {
			b.Stock.Class, b.Stock.Thickness = "", inch*9/16-1
			g.Rack[0].Class, g.Rack[0].Thickness = "", inch*9/16-1
		}},
		{"a sheet is thicker", "thickness", func(l *nesting.Layout, b *nesting.CutBoard, g *Given) { b.Stock.Sheet = true }},
		{"a piece reaches into the end trim", "trim", func(l *nesting.Layout, b *nesting.CutBoard, g *Given) { b.Pieces[0].X-- }},
		{"a piece reaches into the edge trim", "trim", func(l *nesting.Layout, b *nesting.CutBoard, g *Given) { b.Pieces[0].Y-- }},
		{"pieces lie a tick too near", "kerf", func(l *nesting.Layout, b *nesting.CutBoard, g *Given) { b.Pieces[1].X-- }},
		{"a piece lies on a defect", "defect", func(l *nesting.Layout, b *nesting.CutBoard, g *Given) {
			b.Stock.Defects[0].X = 41*inch + eighth - 1
		}},
		{"a crack runs through a piece", "defect", func(l *nesting.Layout, b *nesting.CutBoard, g *Given) {
			b.Stock.Defects = append(b.Stock.Defects, orders.Defect{X: 5 * inch, Y: 0, Length: 0, Width: 6 * inch})
		}},
		{"a cut stops half way", "cut", func(l *nesting.Layout, b *nesting.CutBoard, g *Given) { b.Cuts[4].To -= inch }},
		{"a cut runs through a part", "cut", func(l *nesting.Layout, b *nesting.CutBoard, g *Given) { b.Cuts[5].At -= inch }},
		{"a cut comes before its turn", "cut", func(l *nesting.Layout, b *nesting.CutBoard, g *Given) {
			b.Cuts[4], b.Cuts[7] = b.Cuts[7], b.Cuts[4]
		}},
		{"a setting leaves out the kerf", "setting", func(l *nesting.Layout, b *nesting.CutBoard, g *Given) { b.Cuts[8].Set -= eighth }},
		{"a fence is two divisions off", "setting", func(l *nesting.Layout, b *nesting.CutBoard, g *Given) { b.Cuts[6].Set += inch / 32 }},
		{"a setting is between two divisions", "setting", func(l *nesting.Layout, b *nesting.CutBoard, g *Given) { b.Cuts[8].Set++ }},
		{"a shop of millimeters has another rule", "setting", func(l *nesting.Layout, b *nesting.CutBoard, g *Given) { g.Settings.Units = measure.Millimetres }},
		{"a fresh end is called marked", "setting", func(l *nesting.Layout, b *nesting.CutBoard, g *Given) { b.Cuts[8].Reference = nesting.MarkedEnd }},
		{"a marked end is called fresh", "setting", func(l *nesting.Layout, b *nesting.CutBoard, g *Given) { b.Cuts[4].Reference = nesting.FreshEnd }},
		{"a far edge is called fresh", "setting", func(l *nesting.Layout, b *nesting.CutBoard, g *Given) { b.Cuts[5].Reference = nesting.MarkedEdge }},
		{"a rip is set from an end", "setting", func(l *nesting.Layout, b *nesting.CutBoard, g *Given) { b.Cuts[6].Reference = nesting.FreshEnd }},
		{"a trim takes off more than it says", "setting", func(l *nesting.Layout, b *nesting.CutBoard, g *Given) { b.Cuts[8].Takes -= inch / 64 }},
		{"a trim does not say what it takes off", "setting", func(l *nesting.Layout, b *nesting.CutBoard, g *Given) { b.Cuts[4].Takes = 0 }},
		{"a rip is too short", "safety", func(l *nesting.Layout, b *nesting.CutBoard, g *Given) { g.Settings.ShortestRip = 13*inch + 1 }},
		{"the fence does not reach", "safety", func(l *nesting.Layout, b *nesting.CutBoard, g *Given) { g.Settings.FenceReaches = 5 * inch }},
		{"the sled is too narrow", "safety", func(l *nesting.Layout, b *nesting.CutBoard, g *Given) { g.Settings.SledTakes = 6*inch - 1 }},
		{"a rip against a stop", "safety", func(l *nesting.Layout, b *nesting.CutBoard, g *Given) { b.Cuts[6].Guide = nesting.ByStop }},
		{"a rip along a straightedge", "safety", func(l *nesting.Layout, b *nesting.CutBoard, g *Given) { b.Cuts[6].Guide = nesting.ByStraightedge }},
		{"a crosscut along the fence", "safety", func(l *nesting.Layout, b *nesting.CutBoard, g *Given) { b.Cuts[8].Guide = nesting.ByFence }},
		{"a straightedge where the sled takes it", "safety", func(l *nesting.Layout, b *nesting.CutBoard, g *Given) { b.Cuts[8].Guide = nesting.ByStraightedge }},
		{"a cut without a guide", "safety", func(l *nesting.Layout, b *nesting.CutBoard, g *Given) { b.Cuts[8].Guide = "" }},
		{"a run is crosscut before it is ripped", "rip first", func(l *nesting.Layout, b *nesting.CutBoard, g *Given) {
			b.Cuts = append(b.Cuts[:6],
				trim(7, nesting.Crosscut, 21*inch, y, 6*inch, nesting.FreshEnd, 20*inch, 0),
				trim(8, nesting.Rip, 5*inch+eighth, inch, 21*inch, nesting.FreshEdge, 5*inch, 7*eighth),
				trim(9, nesting.Rip, 5*inch+eighth, x, 46*inch-eighth, nesting.FreshEdge, 5*inch, 7*eighth),
				trim(10, nesting.Crosscut, x+20*inch, y, y+5*inch, nesting.FreshEnd, 20*inch, 46*inch-eighth-x-20*inch))
		}},
		{"cuts are numbered wrong", "cut", func(l *nesting.Layout, b *nesting.CutBoard, g *Given) { b.Cuts[4].N = 9 }},
		{"a kerf is not the shop's", "cut", func(l *nesting.Layout, b *nesting.CutBoard, g *Given) { b.Cuts[4].Kerf-- }},
		{"a kerf is wider, where nothing lies beyond", "cut", func(l *nesting.Layout, b *nesting.CutBoard, g *Given) { b.Cuts[8].Kerf += eighth }},
		{"a cut goes through the air", "cut", func(l *nesting.Layout, b *nesting.CutBoard, g *Given) {
			b.Cuts = append(b.Cuts, cutThrough(10, 50*inch, 0, inch))
		}},
		{"a cut goes through an offcut that is named", "cut", func(l *nesting.Layout, b *nesting.CutBoard, g *Given) {
			b.Offcuts[0].Keep, l.AreaUsed = false, b.Length.Times(b.Width)
			b.Cuts = append(b.Cuts, cutThrough(10, 50*inch, eighth, 6*inch-eighth))
		}},
		{"a rough cut comes late", "cut", func(l *nesting.Layout, b *nesting.CutBoard, g *Given) { b.Cuts[8].Rough = true }},
		{"a part is not freed", "cut", func(l *nesting.Layout, b *nesting.CutBoard, g *Given) { b.Cuts = b.Cuts[:8] }},
		{"an offcut is not freed", "cut", func(l *nesting.Layout, b *nesting.CutBoard, g *Given) {
			b.Cuts = slices.Delete(b.Cuts, 3, 4)
		}},
		{"two thicknesses are planed in one piece", "planing", func(l *nesting.Layout, b *nesting.CutBoard, g *Given) {
			g.Parts[1].Thickness = inch / 4
		}},
		{"a piece is too short for the planer", "machine", func(l *nesting.Layout, b *nesting.CutBoard, g *Given) {
			g.Settings.ShortestMachine = 47 * inch
		}},
		{"an offcut is planed", "offcut", func(l *nesting.Layout, b *nesting.CutBoard, g *Given) {
			for i := range b.Cuts {
				b.Cuts[i].Rough = false
			}
		}},
		{"an offcut is too small to keep", "offcut", func(l *nesting.Layout, b *nesting.CutBoard, g *Given) {
			g.Settings.KeepLength = 13*inch + 1
		}},
		{"an offcut overlaps a part", "offcut", func(l *nesting.Layout, b *nesting.CutBoard, g *Given) {
			b.Offcuts = append(b.Offcuts, nesting.Offcut{X: inch, Y: inch, Length: inch, Width: inch})
		}},
		{"offcuts overlap", "offcut", func(l *nesting.Layout, b *nesting.CutBoard, g *Given) {
			b.Offcuts = append(b.Offcuts, b.Offcuts[0])
		}},
		{"an offcut lies beyond the board", "offcut", func(l *nesting.Layout, b *nesting.CutBoard, g *Given) { b.Offcuts[0].Length = 15 * inch }},
		{"a board is used more often than it is there", "supply", func(l *nesting.Layout, b *nesting.CutBoard, g *Given) { g.Rack[0].Count = 0 }},
		{"a board is not on the rack", "supply", func(l *nesting.Layout, b *nesting.CutBoard, g *Given) { g.Rack[0].ID = "R2" }},
		{"a board is longer than on the rack", "supply", func(l *nesting.Layout, b *nesting.CutBoard, g *Given) { b.Length += inch }},
		{"two boards have one name", "supply", func(l *nesting.Layout, b *nesting.CutBoard, g *Given) { l.Boards = append(l.Boards, *b) }},
		{"nothing is cut from a board", "supply", func(l *nesting.Layout, b *nesting.CutBoard, g *Given) {
			idle := *b
			idle.ID, idle.Pieces, idle.Cuts, idle.Offcuts = "R1#2", nil, nil, nil
			g.Rack[0].Count = 2
			l.Boards = append(l.Boards, idle)
		}},
		{"a board has a name of its own", "supply", func(l *nesting.Layout, b *nesting.CutBoard, g *Given) { b.ID = "R11" }},
		{"a run lies on two boards", "run", func(l *nesting.Layout, b *nesting.CutBoard, g *Given) {
			other := *b
			other.ID, other.Pieces = "R1#2", b.Pieces[1:]
			g.Rack[0].Count, b.Pieces = 2, b.Pieces[:1]
			l.Boards = append(l.Boards, other)
		}},
		{"a run is out of order", "run", func(l *nesting.Layout, b *nesting.CutBoard, g *Given) {
			b.Pieces[0].Part, b.Pieces[1].Part = "B", "A"
		}},
		{"a run leaves its line", "run", func(l *nesting.Layout, b *nesting.CutBoard, g *Given) { b.Pieces[1].Y++ }},
		{"a run is broken off", "run", func(l *nesting.Layout, b *nesting.CutBoard, g *Given) { b.Pieces = b.Pieces[:1] }},
		{"a board's cost is not its own", "cost", func(l *nesting.Layout, b *nesting.CutBoard, g *Given) { b.Cost-- }},
		{"costs do not add up", "cost", func(l *nesting.Layout, b *nesting.CutBoard, g *Given) { l.Cost++ }},
		{"areas do not add up", "area", func(l *nesting.Layout, b *nesting.CutBoard, g *Given) { l.AreaUsed = l.AreaUsed.Add(inch.Times(inch)) }},
		{"the time at the saw is another", "work", func(l *nesting.Layout, b *nesting.CutBoard, g *Given) { l.CutMinutes += 1.0 / 60 }},
		{"a setting costs no time", "work", func(l *nesting.Layout, b *nesting.CutBoard, g *Given) { g.Settings.Times.SetSaw = 0 }},
		{"the labor has a rate", "work", func(l *nesting.Layout, b *nesting.CutBoard, g *Given) { g.Settings.Rates.Labour = 3000 }},
		{"the cheapest is dearer", "cost", func(l *nesting.Layout, b *nesting.CutBoard, g *Given) { l.Cheapest = l.Cost + 1 }},
		{"the cost bound is too high", "bound", func(l *nesting.Layout, b *nesting.CutBoard, g *Given) { l.CostBound = 4001 }},
		{"the area bound is too high", "bound", func(l *nesting.Layout, b *nesting.CutBoard, g *Given) { l.AreaBound = l.AreaUsed.Add(inch.Times(1)) }},
		{"proven without proof", "bound", func(l *nesting.Layout, b *nesting.CutBoard, g *Given) {
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
	set.CostOf["walnut"] = settings.WoodCost{Each: 1250, Per: settings.BoardFoot}
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

// TestNothingIsShorterThanItsDistanceFromTheBlade: 14 in along the fence may be
// cut 14 in from it, and no more (common practice); without a limit it may.
func TestNothingIsShorterThanItsDistanceFromTheBlade(t *testing.T) {
	for _, k := range []struct {
		set, least measure.Length
		faults     int
	}{{14 * inch, 12 * inch, 0}, {14*inch + inch/32, 12 * inch, 1}, {20 * inch, 0, 0}} {
		set := settings.Default()
		set.ShortestRip = k.least
		c := &checker{set: &set}
		cut := trim(1, nesting.Rip, k.set, 0, 14*inch, nesting.MarkedEdge, k.set, 0)
		c.safely(&nesting.CutBoard{ID: "R"}, cut)
		if len(c.faults) != k.faults {
			t.Errorf("set to %v in, shortest rip %v in: %v", k.set.Inches(), k.least.Inches(), c.faults)
		}
	}
}
