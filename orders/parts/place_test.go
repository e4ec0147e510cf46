package parts_test

import (
	"strings"
	"testing"

	"batchwright/orders"
	"batchwright/orders/measure"
	"batchwright/orders/parts"
)

// lattice is a row's cells up to a height: equal fingers from the marked edge.
func lattice(height, finger measure.Length, pin bool) []orders.Cell {
	var out []orders.Cell
	for at := measure.Length(0); at < height; at += finger {
		out = append(out, orders.Cell{From: at, To: min(at+finger, height), Pin: pin})
		pin = !pin
	}
	return out
}

// mates are both rows: a side starts with a notch, an end with a pin.
func mates(height, finger measure.Length) parts.Cells {
	return parts.Cells{Side: lattice(height, finger, false), End: lattice(height, finger, true)}
}

func place(t *testing.T, b orders.Box, c parts.Cells) (orders.Build, []orders.Finding) {
	t.Helper()
	o := order(b)
	r := parts.Make(o)
	if len(r.Builds) != 1 {
		t.Fatalf("refused: %v", r.Findings)
	}
	return parts.Placed(o, r.Builds[0], c)
}

func grooved() orders.Box {
	b := plain()
	b.Bottom = orders.Bottom{Kind: orders.GrooveBottom, Wood: "plywood"}
	return b
}

// A groove inside one finger runs out through the slots of one row, where the
// mate's pin covers it, and is stopped in the pins of the other (common
// practice).
func TestGrooveInOneFinger(t *testing.T) {
	build, problems := place(t, grooved(), mates(7*half, 19*inch/32)) // 1/4 to 1/2 in the first of 19/32
	g := build.Grooves[0]
	if len(problems) > 0 || g.Moved != 0 || len(g.Walls) != 4 {
		t.Fatalf("%+v %v", g, problems)
	}
	for _, w := range g.Walls {
		through := w.Wall[0] == 'S' // a side has its notch there
		if w.Through != [2]bool{through, through} {
			t.Errorf("%s runs through: %v", w.Wall, w.Through)
		}
		// full width to the mate's 1/2 less the groove's 1/4 from the finished
		// end, on a blank standing 1/64 proud
		if want := inch/64 + quarter; !through && w.Block != [2]measure.Length{want, want} {
			t.Errorf("%s: stop blocks at %v, want %v", w.Wall, w.Block, want)
		}
	}
}

func TestStraddlingGrooveIsStoppedInEveryWall(t *testing.T) {
	build, problems := place(t, grooved(), mates(7*half, 9*inch/32))
	g := build.Grooves[0]
	if len(problems) > 0 || g.Moved != 0 {
		t.Fatalf("%+v %v", g, problems)
	}
	for _, w := range g.Walls {
		if w.Through != [2]bool{} || w.Block[0] == 0 {
			t.Errorf("%s: %+v", w.Wall, w)
		}
	}
}

func TestGrooveMovesIntoOneFingerWhereNothingDependsOnIt(t *testing.T) {
	// fingers of 15/32, a groove of 17/64 (panel 1/4, play 1/64): 1/4 to 33/64
	// straddles; 9/64 to 13/32 leaves the margin
	c := mates(7*half, 15*inch/32)
	build, problems := place(t, grooved(), c)
	g := build.Grooves[0]
	if g.From != 9*inch/64 || g.Moved != -7*inch/64 || !g.Walls[0].Through[0] {
		t.Fatalf("groove at %s, moved %s", g.From.Fraction(), g.Moved.Fraction())
	}
	if len(problems) != 1 || problems[0].Level != orders.Note {
		t.Errorf("the move is said once: %v", problems)
	}
	if build.Inside.Height != 7*half-half+7*inch/64 || build.Panels[0].Above != g.From {
		t.Errorf("inside %s, panel at %s: they follow the groove", build.Inside.Height.Fraction(), build.Panels[0].Above.Fraction())
	}
	inside := grooved()
	inside.Inside = true
	if build, _ = place(t, inside, c); build.Grooves[0].Moved != 0 || build.Inside.Height != 7*half {
		t.Errorf("an inside height asked for is kept: moved %v", build.Grooves[0].Moved)
	}
	divided := grooved()
	divided.Dividers.Along = 2
	if build, _ = place(t, divided, c); build.Grooves[0].Moved != 0 {
		t.Errorf("dividers stand on the bottom: moved %v", build.Grooves[0].Moved)
	}
}

func TestCutterThatBreaksOutIsRefused(t *testing.T) {
	for _, c := range []struct {
		name    string
		wall    measure.Length
		refused bool
		notched bool
	}{
		{"1/2 in walls: square corners", half, false, false},
		// groove 3/16 deep: 3/16 less the radius 1/8 is the margin exactly
		{"3/8 in walls: just square", 3 * inch / 8, false, false},
		{"1/4 in walls: notch the panel", quarter, false, true},
		{"1/8 in walls: the cutter breaks out", inch / 8, true, false},
	} {
		b := grooved()
		b.Thickness, b.EndThickness = c.wall, c.wall
		build, problems := place(t, b, mates(7*half, inch/4))
		if g := build.Grooves[0]; (g.Refused != "") != c.refused || (len(problems) > 0) != c.refused {
			t.Errorf("%s: %q %v", c.name, g.Refused, problems)
		}
		if got := hasStep(build, "notch the corners"); got != c.notched {
			t.Errorf("%s: notched %v", c.name, got)
		}
	}
}

func TestGrooveAtTheEdgeIsRefused(t *testing.T) {
	o := order(grooved())
	o.Settings.Making.GrooveSetback = inch / 32
	r := parts.Make(o)
	_, problems := parts.Placed(o, r.Builds[0], mates(7*half, 9*inch/32))
	if len(problems) != 1 || !strings.Contains(problems[0].Did, "edge of the wall") || problems[0].Fix == "" {
		t.Errorf("%v", problems)
	}
}

// Three boards are grooved for a sliding lid; it leaves over the front E1,
// whose corners with the sides are S1(1) and S2(2).
func TestSlidingLidGrooveRunsOutAtTheFront(t *testing.T) {
	b := grooved()
	b.Lid = orders.Lid{Kind: orders.SlidingLid, Wood: "plywood"}
	build, _ := place(t, b, mates(7*half, 9*inch/32))
	walls := map[string][2]bool{}
	for _, w := range build.Grooves[1].Walls {
		walls[w.Wall] = w.Through
	}
	if len(walls) != 3 || walls["S1"] != [2]bool{true, false} || walls["S2"] != [2]bool{false, true} || walls["E2"] != [2]bool{} {
		t.Errorf("%v", walls)
	}
	// the front is ripped to 3 in; its pins start at even multiples of 9/32:
	// 10 x 9/32 = 2-13/16, so 3/16 of that pin stays
	if build.FrontTop != 3*inch/16 {
		t.Errorf("front's top finger %s", build.FrontTop.Fraction())
	}
	if !hasStep(build, "rip the end E1, over which the lid slides out, down to 3 in") {
		t.Error("nobody is told to rip the end the lid slides out over")
	}
}

func TestSliverOnALoweredFrontIsWarnedOf(t *testing.T) {
	b := grooved()
	b.Height, b.Lid = 27*inch/8, orders.Lid{Kind: orders.SlidingLid, Wood: "plywood"}
	// 3-3/8 less 1/2 is 2-7/8; a pin starts at 10 x 9/32 = 2-13/16: 1/16 stays
	if _, problems := place(t, b, mates(b.Height, 9*inch/32)); len(problems) > 0 {
		t.Errorf("1/16 is enough: %v", problems)
	}
	b.Height -= inch / 64
	if _, problems := place(t, b, mates(b.Height, 9*inch/32)); len(problems) != 1 || problems[0].Level != orders.Warning {
		t.Errorf("3/64 is a sliver: %v", problems)
	}
}

// A plain finger sawn in its middle leaves (W - kerf - 2 clean-up) / 2 on each
// side, about 0.08 of a 1/4 finger, which is ugly; a boundary leaves nearly
// whole ones (common practice).
func TestPartingLineLiesOnABoundary(t *testing.T) {
	b := plain()
	b.Lid = orders.Lid{Kind: orders.SawnOffLid, Wood: "plywood"}
	finger := 9 * inch / 32
	height := 7*half + inch/8 // with kerf 3/32 and clean-up 2 x 1/64
	build, problems := place(t, b, mates(height, finger))
	p := build.Parting
	middle := (p.Low + p.High) / 2
	if middle%finger != 0 || p.High-p.Low != inch/8 {
		t.Errorf("line from %s to %s", p.Low.Fraction(), p.High.Fraction())
	}
	if p.Below != finger-inch/16 || p.Above != finger-inch/16 {
		t.Errorf("left %s and %s", p.Below.Fraction(), p.Above.Fraction())
	}
	if len(problems) != 1 || problems[0].Level != orders.Note {
		t.Errorf("%v", problems)
	}
}

// u = (2W + kerf + 2 clean-up + k) / q: the parting pin, in stops of the wheel
// past the slot (common practice).
func TestPartingPin(t *testing.T) {
	b := plain()
	b.Lid = orders.Lid{Kind: orders.SawnOffLid, Wood: "plywood"}
	finger := 9 * inch / 32
	c := mates(7*half+inch/8, finger)
	c.Kerf, c.Step, c.Stops = inch*3/32, (inch / 16).Ratio(), 1
	build, problems := place(t, b, c)
	if len(problems) != 1 || !strings.Contains(problems[0].Did, "13 turns past its slot") {
		t.Errorf("%v", problems)
	}
	// (9/16 + 1/8 + 3/32) / (1/16) = 12.5, so 13 turns
	if p := build.Parting; p.PinTurns != measure.Whole(13) || p.Pin != 13*inch/16-inch*3/32 {
		t.Errorf("%s turns, pin %s", p.PinTurns, p.Pin.Fraction())
	}
}

func hasStep(b orders.Build, text string) bool {
	for _, s := range b.Steps {
		if strings.Contains(s.What, text) {
			return true
		}
	}
	return false
}

func TestWhatIsCutBeforeAndAfterGlueUp(t *testing.T) {
	for _, c := range []struct {
		bottom orders.BottomKind
		lid    orders.LidKind
		step   string
		when   orders.When
		why    string
	}{
		{orders.GrooveBottom, orders.NoLid, "groove all four walls", orders.BeforeGlue, "the panel is shut in"},
		{orders.GrooveBottom, orders.NoLid, "cut the bottom", orders.BeforeGlue, "the panel is shut in"},
		{orders.RabbetBottom, orders.NoLid, "rout a rabbet", orders.AfterGlue, "it would show at the corners"},
		{orders.NailedBottom, orders.NoLid, "nail on", orders.AfterGlue, "it lies under the walls"},
		{orders.NoBottom, orders.SawnOffLid, "saw the lid off", orders.AfterGlue, "it is jointed as one box"},
		{orders.NoBottom, orders.SlidingLid, "rip the end E1", orders.BeforeGlue, "its fingers are cut at full height"},
		{orders.NoBottom, orders.LiftOffLid, "rabbet it underneath", orders.AfterGlue, "it is fitted to its box"},
		{orders.NoBottom, orders.HingedLid, "hinges", orders.AfterGlue, "box and lid are flush by then"},
	} {
		b := plain()
		b.Bottom, b.Lid = orders.Bottom{Kind: c.bottom, Wood: "plywood"}, orders.Lid{Kind: c.lid, Wood: "plywood"}
		build, _ := one(t, b)
		found := false
		last := 0
		for _, s := range build.Steps {
			found = found || s.When == c.when && strings.Contains(s.What, c.step)
			at := map[orders.When]int{orders.BeforeJoints: 1, orders.BeforeGlue: 2, orders.GlueUp: 3, orders.AfterGlue: 4}[s.When]
			if at < last || s.What == "" || s.Why == "" {
				t.Errorf("%s %s: step out of order or unreasoned: %+v", c.bottom, c.lid, s)
			}
			last = at
		}
		if !found {
			t.Errorf("%s bottom, %s lid: no %q %s, though %s", c.bottom, c.lid, c.step, c.when, c.why)
		}
	}
}
