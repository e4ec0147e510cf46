package joint

import (
	"slices"
	"testing"

	"pgregory.net/rapid"

	"batchwright/jigplan"
	"batchwright/jigplan/check"
	"batchwright/orders/measure"
	"batchwright/orders/settings"
)

// TestSecondPass: a blade that is 0.002 in thinner after sharpening makes every
// joint 0.004 in tighter (fit = 2 kerf - m step); a shim of half the missing
// fit at the stop, and the whole card once more, brings it back (common
// practice: the paper shim).
func TestSecondPass(t *testing.T) {
	q := plainRequest(measure.Inch/4, 3*measure.Inch)
	q.Settings.BladeKerf, q.Settings.WheelStops = 935*measure.Inch/10_000, []int{1, 2, 4}
	refused, err := Solve(q)
	if err != nil || refused.Refused == nil {
		t.Fatalf("a press fit was accepted: %v", err)
	}
	var kinds []jigplan.WayKind
	for _, way := range refused.Refused.Ways {
		kinds = append(kinds, way.Kind)
	}
	if want := []jigplan.WayKind{jigplan.TighterFit, jigplan.SecondPass, jigplan.BuyTools}; !slices.Equal(kinds, want) {
		t.Errorf("ways out %v, want %v", kinds, want)
	}
	for _, way := range refused.Refused.Ways { // each works when it is typed
		changed := q
		changed.Settings = q.Settings.Clone()
		if err := changed.Settings.Set(way.Setting, way.Value, settings.Entry{}); err != nil {
			t.Errorf("%s: %v", way.Kind, err)
		}
		if a, err := Solve(changed); err != nil || a.Refused != nil {
			t.Errorf("%s: %s %s is refused again: %v", way.Kind, way.Setting, way.Value, err)
		}
	}
	q.Settings.SecondPass = "yes"
	a, err := Solve(q)
	if err != nil || a.Refused != nil {
		t.Fatalf("refused with a second pass: %v", err)
	}
	p := a.Best()
	if want := (2 * measure.Inch / 1000).Ratio(); p.SecondPass.Cmp(want) != 0 || p.Origin.Sign() != 0 {
		t.Errorf("shim %s, origin %s: want %s, and the first pass from the usual home", p.SecondPass, p.Origin, want)
	}
	if want := (35 * measure.Inch / 10_000).Ratio(); p.Fit.Cmp(want) != 0 {
		t.Errorf("fit %s, want %s", p.Fit, want)
	}
	p.SecondPass = measure.Ratio{}
	if len(check.Program(p)) == 0 {
		t.Error("the check does not miss the second pass")
	}
}

// TestSecondPassFits: whatever rod, blade and height, a program of two passes
// leaves boards that go together within the limits.
func TestSecondPassFits(t *testing.T) {
	found := 0
	rapid.Check(t, func(t *rapid.T) {
		q := plainRequest(measure.Inch/4, 0)
		q.Heights = nil
		q.Settings.SecondPass = "yes"
		q.Settings.BladeKerf = measure.Length(rapid.Int64Range(60, 140).Draw(t, "kerf")) * thou
		q.Settings.Rod = rapid.SampledFrom([]string{"3/8-16", "M8", "M10", "1/2-10 acme", "1/4-20"}).Draw(t, "rod")
		q.Settings.Layout = rapid.SampledFrom([]string{"best", "edge", "centred"}).Draw(t, "layout")
		q.Settings.FitAtLeast = -measure.Length(rapid.SampledFrom([]int64{0, 1, 5}).Draw(t, "press fit")) * thou
		for range rapid.IntRange(1, 3).Draw(t, "heights") {
			q.Heights = append(q.Heights, measure.Length(rapid.Int64Range(64, 400).Draw(t, "height"))*measure.Inch/64)
		}
		if rapid.Bool().Draw(t, "unequal walls") {
			q.RowB = 3 * measure.Inch / 8
		}
		a, err := Solve(q)
		if err != nil || a.Refused != nil {
			return
		}
		for _, c := range a.Candidates {
			if c.Program.SecondPass.Sign() > 0 {
				found++
			}
			if c.Program.Fit.Cmp(q.Settings.FitAtLeast.Ratio()) < 0 || c.Program.Fit.Cmp(q.Settings.FitAtMost.Ratio()) > 0 {
				t.Fatalf("fit %s", c.Program.Fit)
			}
			programs := named(c)
			for _, wrong := range check.Programs(programs) {
				t.Fatal(wrong)
			}
		}
	})
	if found == 0 {
		t.Error("no second pass was drawn")
	}
}

func named(c Candidate) []jigplan.Program {
	programs := c.Programs()
	for i := range programs {
		programs[i].ID = string(rune('A' + i))
	}
	if len(programs) == 2 {
		programs[0].Mate, programs[1].Mate = programs[1].ID, programs[0].ID
	}
	return programs
}
