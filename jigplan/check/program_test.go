package check

import (
	"strings"
	"testing"

	"batchwright/jigplan"
	"batchwright/orders/measure"
)

// handCut is a program worked out by hand: 1/16 in lead, 1/8 in kerf, two cuts
// a slot one turn apart, five turns past the pin. Slot 3/16, pin 3/16, period
// 3/8, fit 0 in; on boards of 9/16 in: three fingers.
func handCut() jigplan.Program {
	in := func(num, den int64) measure.Ratio { return measure.Frac(num*int64(measure.Inch), den) }
	p := jigplan.Program{
		ID: "J1", Rows: jigplan.BothRows, Regular: true, Lead: in(1, 16), StopsPerTurn: 1, Kerf: measure.Inch / 8,
		Finger: in(3, 16), Slot: in(3, 16), Pin: in(3, 16), Fit: measure.Whole(0), Period: in(3, 8), Spacer: in(3, 16),
		CutsPerSlot: 2, PastPin: measure.Whole(5), TotalCuts: 4, ReturnTurns: measure.Whole(7), Travel: in(7, 16),
	}
	one, five := measure.Whole(1), measure.Whole(5)
	p.Slots = []jigplan.Slot{
		{N: 1, Width: p.Slot, Cuts: 2, StepTurns: []measure.Ratio{one}, PastTurns: five},
		{N: 2, Width: p.Slot, Cuts: 2, StepTurns: []measure.Ratio{one}},
	}
	for i, turns := range []int64{0, 1, 6, 7} {
		step := jigplan.Step{Slot: 1 + i/2, Cut: 1 + i%2, TotalTurns: measure.Whole(turns), Clock: "12", Travel: in(turns, 16)}
		if i > 0 {
			step.Turns = step.TotalTurns.Sub(p.Steps[i-1].TotalTurns)
		}
		p.Steps = append(p.Steps, step)
	}
	notch, pin := jigplan.Edge{Notch: true, Width: p.Slot}, jigplan.Edge{Width: p.Pin}
	p.Heights = []jigplan.Height{{
		Height: measure.Inch * 9 / 16, Layout: "centred symmetric", ALow: notch, AHigh: notch, BLow: pin, BHigh: pin, SmallestAtAll: p.Pin,
	}}
	return p
}

// rowsApart is the same joint as one program a row.
func rowsApart() (a, b jigplan.Program) {
	a, b = handCut(), handCut()
	a.Rows, a.Mate = jigplan.OnlyA, "J2"
	b.ID, b.Rows, b.Mate = "J2", jigplan.OnlyB, "J1"
	b.Origin = b.Spacer
	b.Steps, b.Slots = b.Steps[:2:2], b.Slots[:1:1]
	b.Slots[0].PastTurns = measure.Whole(0)
	b.TotalCuts, b.ReturnTurns, b.Travel = 2, measure.Whole(1), b.Steps[1].Travel
	return a, b
}

func TestHandCutProgramIsSound(t *testing.T) {
	if faults := Program(handCut()); len(faults) > 0 {
		t.Error(faults)
	}
	a, b := rowsApart()
	if faults := Programs([]jigplan.Program{a, b}); len(faults) > 0 {
		t.Error(faults)
	}
}

// TestProgramFindsPlantedFaults plants one fault at a time.
func TestProgramFindsPlantedFaults(t *testing.T) {
	tick := measure.Whole(1)
	for _, c := range []struct {
		reason string
		plant  func(*jigplan.Program)
		says   string
	}{
		{"a kerf too thin leaves a fin and jams", func(p *jigplan.Program) { p.Kerf = measure.Inch / 20 }, "wood meets wood"},
		{"a kerf thinner than a step leaves wood between two passes", func(p *jigplan.Program) { p.Kerf = measure.Inch / 20 }, "a fin of"},
		{"a kerf too thick gaps", func(p *jigplan.Program) { p.Kerf += measure.Inch / 100 }, "a gap of"},
		{"one turn too many past the pin", func(p *jigplan.Program) { shift(p, 2, 1) }, "wood meets wood"},
		{"one turn too few past the pin", func(p *jigplan.Program) { shift(p, 2, -1) }, "a gap of"},
		{"a pass left out", func(p *jigplan.Program) { p.Steps = append(p.Steps[:1:1], p.Steps[2:]...) }, "total turns at cut 2"},
		{"a cut that touches nothing", func(p *jigplan.Program) { addCut(p, 30) }, "touches no board"},
		{"a travel off by a tick", func(p *jigplan.Program) { p.Steps[2].Travel = p.Steps[2].Travel.Add(tick) }, "travel at cut 3"},
		{"turns that do not add up", func(p *jigplan.Program) { p.Steps[1].Turns = measure.Whole(2) }, "total turns"},
		{"a stop the wheel does not have", func(p *jigplan.Program) {
			p.Steps[1].Turns, p.Steps[1].TotalTurns = measure.Frac(1, 2), measure.Frac(1, 2)
		}, "between two stops"},
		{"a clock that is wrong", func(p *jigplan.Program) { p.Steps[3].Clock = "3" }, "the handle at cut 4"},
		{"return turns", func(p *jigplan.Program) { p.ReturnTurns = measure.Whole(8) }, "return turns"},
		{"total cuts", func(p *jigplan.Program) { p.TotalCuts = 5 }, "total cuts"},
		{"travel of the whole", func(p *jigplan.Program) { p.Travel = tick }, "travel says"},
		{"the fit", func(p *jigplan.Program) { p.Fit = tick }, "fit says"},
		{"the period", func(p *jigplan.Program) { p.Period = p.Period.Add(tick) }, "slot plus pin"},
		{"the spacer", func(p *jigplan.Program) { p.Spacer = p.Spacer.Add(tick) }, "twice the spacer"},
		{"the finger", func(p *jigplan.Program) { p.Finger = tick }, "twice the finger"},
		{"a slot's width", func(p *jigplan.Program) { p.Slots[0].Width = tick }, "width of slot 1"},
		{"a slot's cuts", func(p *jigplan.Program) { p.Slots[0].Cuts = 1 }, "slot 1 is listed"},
		{"turns past a slot", func(p *jigplan.Program) { p.Slots[0].PastTurns = measure.Whole(4) }, "turns past slot 1"},
		{"turns past the pin", func(p *jigplan.Program) { p.PastPin = measure.Whole(4) }, "turns past slot 1"},
		{"step turns", func(p *jigplan.Program) { p.Slots[1].StepTurns[0] = measure.Whole(2) }, "step 1 of slot 2"},
		{"a step in the wrong slot", func(p *jigplan.Program) { p.Steps[1].Slot = 2 }, "is named slot 2"},
		{"an edge", func(p *jigplan.Program) { p.Heights[0].ALow.Width = tick }, "marked edge: says notch"},
		{"an edge of the other kind", func(p *jigplan.Program) { p.Heights[0].BHigh.Notch = true }, "other edge: says notch"},
		{"a height that leaves a sliver", func(p *jigplan.Program) { p.Heights[0].Height += measure.Inch / 50 }, "is a sliver"},
		{"a shim below nothing", func(p *jigplan.Program) { p.Heights[0].Shim = tick.Neg() }, "asks for a shim"},
		{"an origin off by a tick", func(p *jigplan.Program) { p.Origin = tick }, "the cuts leave"},
		{"no cuts", func(p *jigplan.Program) { p.Steps = nil }, "0 cuts"},
		{"no lead", func(p *jigplan.Program) { p.Lead = measure.Whole(0) }, "more than zero"},
	} {
		p := handCut()
		c.plant(&p)
		reported(t, c.reason, Program(p), c.says)
	}
}

// TestPairFindsPlantedFaults plants faults between two programs.
func TestPairFindsPlantedFaults(t *testing.T) {
	for _, c := range []struct {
		reason string
		plant  func(a, b *jigplan.Program)
		says   string
	}{
		{"row B's origin without the spacer", func(_, b *jigplan.Program) { b.Origin = measure.Whole(0) }, "wood meets wood"},
		{"another fit", func(_, b *jigplan.Program) { b.Fit = measure.Whole(9) }, "the fit differs"},
		{"another spacer", func(_, b *jigplan.Program) { b.Spacer = measure.Whole(9) }, "the spacer differs"},
		{"another height", func(_, b *jigplan.Program) { b.Heights[0].Height++ }, "height 1 differs"},
		{"a height missing", func(_, b *jigplan.Program) { b.Heights = nil }, "0 heights"},
		{"a mate that names nobody", func(_, b *jigplan.Program) { b.Mate = "" }, "name it back"},
		{"two of the same row", func(_, b *jigplan.Program) { b.Rows = jigplan.OnlyA }, "name it back"},
		{"a shim on one row only", func(a, _ *jigplan.Program) { a.Heights[0].Shim = measure.Inch.Ratio().Over(16) }, "wood meets wood"},
	} {
		a, b := rowsApart()
		c.plant(&a, &b)
		reported(t, c.reason, Programs([]jigplan.Program{a, b}), c.says)
	}
}

// TestTurned: three fingers read the same from both edges, so turned boards
// clash; two fingers change places and mate.
func TestTurned(t *testing.T) {
	reported(t, "three fingers", Turned(handCut()), "wood meets wood")
	p := handCut()
	p.Heights[0].Height = measure.Inch * 6 / 16
	if faults := Turned(p); len(faults) > 0 {
		t.Errorf("two fingers: %v", faults)
	}
}

func reported(t *testing.T, reason string, faults []error, says string) {
	t.Helper()
	for _, f := range faults {
		if strings.Contains(f.Error(), says) {
			return
		}
	}
	t.Errorf("%s: %q was not among %v", reason, says, faults)
}

// shift moves every cut from index i on by so many turns, figures and all.
func shift(p *jigplan.Program, i int, turns int64) {
	more := measure.Whole(turns)
	p.Steps[i].Turns = p.Steps[i].Turns.Add(more)
	for j := i; j < len(p.Steps); j++ {
		p.Steps[j].TotalTurns = p.Steps[j].TotalTurns.Add(more)
		p.Steps[j].Travel = p.Steps[j].TotalTurns.Mul(p.Lead)
	}
	last := p.Steps[len(p.Steps)-1]
	p.ReturnTurns, p.Travel, p.PastPin = last.TotalTurns, last.Travel, p.Steps[i].Turns
	p.Slots[0].PastTurns = p.PastPin
}

// addCut puts one more cut so many turns from home.
func addCut(p *jigplan.Program, turns int64) {
	total := measure.Whole(turns)
	p.Steps = append(p.Steps, jigplan.Step{Slot: 3, Cut: 1, Turns: total.Sub(p.ReturnTurns), TotalTurns: total, Clock: "12", Travel: total.Mul(p.Lead)})
}
