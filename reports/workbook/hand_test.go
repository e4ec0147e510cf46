package workbook_test

import (
	"fmt"

	"batchwright/jigplan"
	"batchwright/nesting"
	"batchwright/orders"
	"batchwright/orders/measure"
	"batchwright/orders/settings"
)

func inches(num, den int64) measure.Ratio { return in.Ratio().Mul(measure.Frac(num, den)) }

// quarterProgram is the worked program of a 3/32 kerf on 16 turns an inch:
// four cuts a turn apart, then six turns; slots and pins of 9/32.
func quarterProgram(id string, slots int64, height measure.Length) jigplan.Program {
	one := []measure.Ratio{measure.Whole(1), measure.Whole(1), measure.Whole(1)}
	p := jigplan.Program{ID: id, Rows: jigplan.BothRows, Regular: true, Rod: "3/8-16", Lead: inches(1, 16), StopsPerTurn: 1, Kerf: 3 * in / 32,
		Finger: inches(9, 32), Slot: inches(9, 32), Pin: inches(9, 32), Period: inches(9, 16), Spacer: inches(9, 32),
		CutsPerSlot: 4, PastPin: measure.Whole(6), MateThickness: in / 2}
	for slot := range slots {
		s := jigplan.Slot{N: int(slot) + 1, Width: inches(9, 32), Cuts: 4, StepTurns: one, PastTurns: measure.Whole(6)}
		for cut := range int64(4) {
			total := slot*9 + cut
			turns := measure.Whole(1)
			if cut == 0 {
				turns = measure.Whole(min(slot, 1) * 6)
			}
			p.Steps = append(p.Steps, jigplan.Step{Slot: s.N, Cut: int(cut) + 1, Turns: turns, TotalTurns: measure.Whole(total), Clock: "12", Travel: inches(total, 16)})
		}
		p.Slots = append(p.Slots, s)
	}
	last := p.Steps[len(p.Steps)-1]
	p.TotalCuts, p.ReturnTurns, p.Travel = len(p.Steps), last.TotalTurns, last.Travel
	notch, pin := jigplan.Edge{Notch: true, Width: inches(9, 32)}, jigplan.Edge{Width: inches(9, 32)}
	p.Heights = []jigplan.Height{{Height: height, Layout: "edge", ALow: notch, AHigh: pin, BLow: pin, BHigh: notch}}
	return p
}

// patternProgram is a program whose slots differ, on a wheel of two stops.
func patternProgram(id string) jigplan.Program {
	p := quarterProgram(id, 3, 3*in)
	p.Regular, p.Rows, p.Mate, p.StopsPerTurn, p.CutsPerSlot, p.PastPin = false, jigplan.OnlyA, "J3", 2, 0, measure.Ratio{}
	p.Slots, p.Steps = nil, nil
	half := measure.Frac(1, 2)
	total := measure.Ratio{}
	for slot, cuts := range []int{2, 5, 3} {
		for cut := range cuts {
			turns := measure.Whole(1)
			switch {
			case slot == 0 && cut == 0:
				turns = measure.Ratio{}
			case cut == 0:
				turns = measure.Whole(int64(8 - slot)).Add(half)
			case cut == cuts-1:
				turns = half
			}
			total = total.Add(turns)
			clock := "12"
			if !total.IsWhole() {
				clock = "6"
			}
			p.Steps = append(p.Steps, jigplan.Step{Slot: slot + 1, Cut: cut + 1, Turns: turns, TotalTurns: total, Clock: clock, Travel: total.Mul(p.Lead)})
		}
	}
	p.TotalCuts, p.ReturnTurns, p.Travel = len(p.Steps), total, total.Mul(p.Lead)
	p.Warnings = []string{"the last slot is 1/64 in wider than its pin"}
	return p
}

// handPlan is two trays on three boards, two of them cut alike; the bottom of
// the second tray finds no board.
func handPlan() *jigplan.Plan {
	o := &orders.Order{File: "hand.xlsx", SHA256: "00", Settings: settings.Default(), HasRack: true}
	at := orders.Source{Sheet: "Boxes", Cell: "B7"}
	o.Boxes = []orders.Box{{Source: at, Name: "Tray", Count: 2, Length: 12 * in, Width: 8 * in, Height: 27 * in / 8,
		Thickness: in / 2, EndThickness: in / 2, Wood: "cherry", Finish: "oil", Notes: "no knots!", Bottom: orders.Bottom{Kind: orders.NailedBottom}}}
	o.Readings = []orders.Reading{{Source: at, Heading: "Count", Text: "1 pr", Meaning: "2 boxes"}}
	o.Findings = []orders.Finding{{Level: orders.Warning, Source: orders.Source{Sheet: "Boxes", Cell: "J7"}, Read: "chery", Did: "is taken as cherry", Fix: "write cherry"}}
	p := &jigplan.Plan{Order: o, Seed: 1, Programs: []jigplan.Program{quarterProgram("J1", 7, 27*in/8)}}
	for unit := 1; unit <= 2; unit++ {
		handBox(p, unit, at)
	}
	p.Layout = handLayout()
	p.Setups = []jigplan.Setup{{ID: "U1", Program: "J1", Blade: "3/32 in, flat-top", BladeHeight: 33 * in / 64, Spacer: inches(9, 32), Stacks: []string{"K1", "K2"}}}
	p.Stacks = []jigplan.Stack{handStack("K1", 1), handStack("K2", 2)}
	p.Sequence = jigplan.Sequence{Setups: []string{"U1"}, ChangeoverMinutes: 20, BoundMinutes: 20, Proven: true, AsWrittenMinutes: 26,
		Changes: []jigplan.Changeover{{Setup: "U1", Minutes: 20, What: []string{"fit the blade: 3/32 in", "put in the spacer: 9/32 in"}}}}
	p.Time = jigplan.Time{Minutes: 95, P80Minutes: 112, Elements: []jigplan.Element{
		{Name: "Cut pass", Count: 56, Each: 7, Minutes: 6.5333, Source: "common practice"}, {Name: "Changeover", Minutes: 88.4667, Source: "common practice"}}}
	p.Buy = []jigplan.Purchase{{What: "wood glue", Kind: "glue", Quantity: "40 g", Why: "joints of 2 boxes"},
		{What: "cherry", Kind: "wood", Quantity: "1 board", Size: "96 x 9 in, 4/4", Cost: 1850, CostSaid: true, Why: "bottom of Tray 2",
			Count: 1, Board: orders.Board{Wood: "cherry", Class: "4/4", Length: 96 * in, Width: 9 * in}}}
	return p
}

func handBox(p *jigplan.Plan, unit int, at orders.Source) {
	part := func(label string, role orders.Role, l, w, t measure.Length, row orders.Row) {
		one := orders.Part{ID: fmt.Sprintf("Tray-%d-%s", unit, label), Source: at, Box: "Tray", Unit: unit, Role: role, Wood: "cherry",
			Grain: orders.AlongLength, Length: l, Width: w, Thickness: t, CutLength: l + 3*in/32, CutWidth: w + in/8}
		if row != "" {
			one.Joint = &orders.Joint{Row: row, Height: w, Mate: in / 2, Ends: [2]int{1, 2}}
		}
		p.Parts = append(p.Parts, one)
	}
	height := 27 * in / 8
	part("S1", orders.Side, 12*in, height, in/2, orders.RowA)
	part("S2", orders.Side, 12*in, height, in/2, orders.RowA)
	part("E1", orders.End, 8*in, height, in/2, orders.RowB)
	part("E2", orders.End, 8*in, height, in/2, orders.RowB)
	part("BT", orders.BottomP, 12*in, 8*in, in/4, "")
}

func handStack(id string, end int) jigplan.Stack {
	s := jigplan.Stack{ID: id, Setup: "U1", End: end, Thickness: 4 * in, Minutes: 6.8}
	for unit := 1; unit <= 2; unit++ {
		for _, b := range []struct {
			label string
			row   orders.Row
		}{{"S1", orders.RowA}, {"S2", orders.RowA}, {"E1", orders.RowB}, {"E2", orders.RowB}} {
			s.Boards = append(s.Boards, jigplan.StackBoard{Part: fmt.Sprintf("Tray-%d-%s", unit, b.label), Row: b.row})
		}
	}
	return s
}

// handLayout lays the walls of each tray on a board of their own, cut alike,
// and the first bottom on a third.
func handLayout() nesting.Layout {
	l := nesting.Layout{CostKnown: true, Cost: 6000, CostBound: 5600, Stop: nesting.StopBudget}
	kerf := in / 8
	for unit := 1; unit <= 2; unit++ {
		b := nesting.CutBoard{ID: fmt.Sprintf("R%d", unit), Length: 48 * in, Width: 5 * in, Thickness: in, Cost: 2000,
			Stock: orders.Board{Origin: orders.FromRack, Wood: "cherry", Class: "4/4", Length: 48 * in, Width: 5 * in, Place: "north wall"}}
		b.Cuts = append(b.Cuts, nesting.Cut{N: 1, Kind: nesting.Rip, At: 0, To: 48 * in, Kerf: kerf,
			Guide: nesting.ByFence, Reference: nesting.FarEdge, Set: b.Width - kerf, Takes: kerf},
			nesting.Cut{N: 2, Kind: nesting.Rip, At: kerf + 7*in/2, To: 48 * in, Kerf: kerf,
				Guide: nesting.ByFence, Reference: nesting.FreshEdge, Set: 7 * in / 2},
			nesting.Cut{N: 3, Kind: nesting.Crosscut, At: 7 * in / 8, From: kerf, To: kerf + 7*in/2, Kerf: kerf,
				Guide: nesting.ByStop, Reference: nesting.MarkedEnd, Set: 7 * in / 8, Takes: in})
		x := in
		for i, label := range []string{"S1", "S2", "E1", "E2"} {
			long := 12*in + 3*in/32
			if i > 1 {
				long = 8*in + 3*in/32
			}
			b.Pieces = append(b.Pieces, nesting.Piece{Part: fmt.Sprintf("Tray-%d-%s", unit, label), X: x, Y: kerf, Length: long, Width: 7 * in / 2})
			b.Cuts = append(b.Cuts, nesting.Cut{N: 4 + i, Kind: nesting.Crosscut, At: x + long, From: kerf, To: kerf + 7*in/2, Kerf: kerf,
				Guide: nesting.ByStop, Reference: nesting.FreshEnd, Set: long})
			x += long + kerf
		}
		l.Boards = append(l.Boards, b)
	}
	bottom := nesting.CutBoard{ID: "R3", Length: 40 * in, Width: 9 * in, Thickness: in, Cost: 2000,
		Stock: orders.Board{Origin: orders.FromRack, Wood: "cherry", Class: "4/4", Length: 40 * in, Width: 9 * in,
			Defects: []orders.Defect{{X: 15 * in, Length: in, Width: 9 * in}}},
		Pieces: []nesting.Piece{{Part: "Tray-1-BT", X: in, Y: kerf, Length: 12*in + 3*in/32, Width: 8*in + in/8}},
		Cuts: []nesting.Cut{{N: 1, Kind: nesting.Crosscut, At: 14 * in, To: 9 * in, Kerf: kerf, Rough: true,
			Guide: nesting.ByStop, Reference: nesting.MarkedEnd, Set: 14 * in}},
		Offcuts: []nesting.Offcut{{X: 16 * in, Length: 24 * in, Width: 9 * in, Keep: true}}}
	l.Boards = append(l.Boards, bottom)
	l.Short = []nesting.Short{{Part: "Tray-2-BT", Why: "no clear length of 12-3/32 in is left"}}
	l.AreaUsed, l.AreaParts, l.AreaBound = (84 * in).Times(9*in), (70 * in).Times(8*in), (80 * in).Times(8*in)
	return l
}
