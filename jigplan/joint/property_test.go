package joint

import (
	"testing"

	"pgregory.net/rapid"

	"batchwright/jigplan"
	"batchwright/jigplan/check"
	"batchwright/orders/measure"
	"batchwright/orders/settings"
)

// anyRequest draws rods, blades, fingers and boards that a shop could have,
// written in either system.
func anyRequest(t *rapid.T) Request {
	s := settings.Default()
	s.Rod = rapid.SampledFrom(Rods()).Draw(t, "rod").Name
	if rapid.Bool().Draw(t, "measured lead") {
		s.Lead = measure.Length(rapid.Int64Range(1000, 6000).Draw(t, "lead")) * measure.Micrometre
	}
	s.StopsPerTurn = rapid.SampledFrom([]int{1, 1, 2, 3, 4, 5, 8}).Draw(t, "stops")
	s.BladeKerf = measure.Length(rapid.Int64Range(600, 2600).Draw(t, "kerf")) * 2032 // ten thousandths of an inch
	s.Layout = rapid.SampledFrom([]string{"best", "edge", "centred"}).Draw(t, "layout")
	s.FitAtMost = measure.Length(rapid.SampledFrom([]int64{10, 40}).Draw(t, "fit at most")) * measure.Inch / 1000
	s.EdgeOrigin = measure.Frac(rapid.Int64Range(-12, 12).Draw(t, "origin"), 4)
	s.RodTravel = 20 * measure.Inch
	q := Request{Settings: s, RowA: measure.Inch / 2, RowB: measure.Inch / 2}
	if rapid.Bool().Draw(t, "unequal") {
		q.RowB = measure.Inch * 3 / 8
	}
	q.Finger = measure.Length(rapid.Int64Range(8, 64).Draw(t, "finger")) * measure.Inch / 64
	for range rapid.IntRange(1, 4).Draw(t, "heights") {
		q.Heights = append(q.Heights, measure.Length(rapid.Int64Range(1000, 8000).Draw(t, "height"))*measure.Inch/1000)
	}
	return q
}

// TestEveryCandidateIsSound cuts every program kerf by kerf, with code that
// shares nothing with what made it.
func TestEveryCandidateIsSound(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a, err := Solve(anyRequest(t))
		if err != nil {
			t.Fatal(err)
		}
		if (len(a.Candidates) == 0) != (a.Refused != nil) {
			t.Fatalf("%d candidates and refusal %v", len(a.Candidates), a.Refused)
		}
		if a.Refused != nil && (a.Refused.Why == "" || a.Refused.Nearest == "") {
			t.Fatalf("a refusal without reason or way out: %+v", a.Refused)
		}
		for _, c := range a.Candidates {
			sound(t, c.Programs()...)
		}
		for _, d := range a.Dialled {
			sound(t, d.A, d.B)
			if !d.Turns.Times(int64(d.A.StopsPerTurn)).IsWhole() {
				t.Errorf("dialled by %s turns, which is no stop", d.Turns)
			}
		}
	})
}

// sound names the programs as a plan would and checks them.
func sound(t interface{ Errorf(string, ...any) }, programs ...jigplan.Program) {
	if len(programs) == 2 {
		programs = []jigplan.Program{programs[0], programs[1]}
		programs[0].ID, programs[0].Mate = "J1", "J2"
		programs[1].ID, programs[1].Mate = "J2", "J1"
	}
	for _, fault := range check.Programs(programs) {
		t.Errorf("%v", fault)
	}
}

// TestCentredNeverLeavesASliver holds the trade's promise: for every height
// the better centred layout leaves at least half a finger at every edge, less
// a quarter of the fit by which mating features differ.
func TestCentredNeverLeavesASliver(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := screw{
			lead:    rapid.SampledFrom(Rods()).Draw(t, "rod").Lead(),
			stops:   rapid.Int64Range(1, 4).Draw(t, "stops"),
			kerf:    measure.Length(rapid.Int64Range(600, 2600).Draw(t, "kerf") * 2032).Ratio(),
			overlap: measure.Length(20320).Ratio(),
		}
		sh := shapeOf(s, rapid.Int64Range(0, 12).Draw(t, "a"), s.mFor(measure.Ratio{}))
		if sh.u < 1 || sh.pin().Sign() <= 0 {
			t.Skip("no pin")
		}
		height := sh.period().Ceil() + rapid.Int64Range(0, int64(8*measure.Inch)).Draw(t, "height")
		lay := sh.centred(measure.Length(height))
		if least := sh.finger().Over(2).Sub(sh.clearance().Over(4)); lay.smallest.Cmp(least) < 0 {
			t.Fatalf("%s leaves %s of a finger %s at height %d", lay.layout, lay.smallest, sh.finger(), height)
		}
	})
}
