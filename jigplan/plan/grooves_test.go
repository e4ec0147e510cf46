package plan

import (
	"slices"
	"testing"

	"batchwright/nesting"
	"batchwright/orders"
	"batchwright/orders/measure"
	"batchwright/orders/settings"
)

// A box with a bottom in a groove: its grooves are placed among the fingers of
// its program, and where they may run out no pin shows them.
func TestGroovesArePlacedAmongTheFingers(t *testing.T) {
	s := settings.Default()
	s.BladeKerf, s.KerfMeasured = 955*measure.Inch/10_000, true
	o := &orders.Order{Settings: s, Boxes: []orders.Box{{
		Source: orders.Source{Sheet: "Boxes", Cell: "A2"}, Name: "tea", Count: 1,
		Length: 12 * measure.Inch, Width: 8 * measure.Inch, Height: 4 * measure.Inch,
		Thickness: measure.Inch / 2, EndThickness: measure.Inch / 2, Wood: "walnut", Finger: measure.Inch / 2,
		Bottom: orders.Bottom{Kind: orders.GrooveBottom, Wood: "birch ply"},
		Lid:    orders.Lid{Kind: orders.SawnOffLid, Wood: "birch ply"},
	}}}
	p, err := Plan(o, Options{Limits: nesting.Limits{Seed: 1}})
	if err != nil {
		t.Fatal(err)
	}
	b := p.Builds[0]
	if len(b.Grooves) != 2 || len(b.Grooves[0].Walls) != 4 {
		t.Fatalf("grooves not placed: %+v", b.Grooves)
	}
	through := slices.ContainsFunc(b.Grooves[0].Walls, func(w orders.GrooveWall) bool { return w.Through[0] })
	stopped := slices.ContainsFunc(b.Grooves[0].Walls, func(w orders.GrooveWall) bool { return w.Block[0] > 0 })
	if !through || !stopped {
		t.Errorf("a groove from %s inside a 17/32 finger runs out in one row and stops in the other: %+v", b.Grooves[0].From.Fraction(), b.Grooves[0].Walls)
	}
	if b.Parting.Below == 0 || b.Parting.PinTurns.Sign() == 0 {
		t.Errorf("parting line not placed: %+v", b.Parting)
	}
}

// A box whose height was moved to whole fingers keeps that height when its
// grooves are placed: 12 fingers of 9/32 in are 3-3/8 in, and a groove for a
// 1/4 in bottom a quarter inch up leaves 2-7/8 in inside.
func TestPlacedGroovesKeepTheHeightThatWasMoved(t *testing.T) {
	s := settings.Default()
	s.BladeKerf, s.KerfMeasured = 955*measure.Inch/10_000, true
	o := &orders.Order{Settings: s, Boxes: []orders.Box{{
		Source: orders.Source{Sheet: "Boxes", Cell: "A2"}, Name: "tray", Count: 1,
		Length: 12 * measure.Inch, Width: 8 * measure.Inch, Height: measure.Inch * 55 / 16, HeightMayVary: measure.Inch / 8,
		Thickness: measure.Inch / 2, EndThickness: measure.Inch / 2, Wood: "walnut", Finger: measure.Inch / 4,
		Bottom: orders.Bottom{Kind: orders.GrooveBottom, Wood: "birch ply", Thickness: measure.Inch / 4},
	}}}
	p, err := Plan(o, Options{Limits: nesting.Limits{Seed: 1}})
	if err != nil {
		t.Fatal(err)
	}
	b := p.Builds[0]
	if want := 3*measure.Inch + measure.Inch*3/8; b.Outside.Height != want || b.Inside.Height != want-b.Grooves[0].From-measure.Inch/4 {
		t.Errorf("outside %s, inside %s high over a groove up to %s, want %s outside", b.Outside.Height.Fraction(), b.Inside.Height.Fraction(), b.Grooves[0].To.Fraction(), want.Fraction())
	}
}
