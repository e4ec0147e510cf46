package joint

import (
	"math"
	"strings"
	"testing"

	"batchwright/orders/measure"
)

// TestMeasured feeds the solver corners cut with another kerf and lead than
// planned: it must find both.
func TestMeasured(t *testing.T) {
	q := plainRequest(measure.Inch/4, measure.Inch*7/2)
	a, err := Solve(q)
	if err != nil || a.Refused != nil {
		t.Fatal(err, a.Refused)
	}
	p := a.Best()
	slotWith := func(kerf measure.Length) measure.Length { return kerf + 3*measure.Inch/16 }
	for _, c := range []struct {
		reason string
		kerf   measure.Length
		shim   string
		do     string
	}{
		{"as planned", 955 * 2032, "0.0000 in", "go ahead: the fit is 0.0035 in (good)"},
		{"worn by 0.0025: 0.005 tighter", 930 * 2032, "0.0025 in", "repeat the first cut"},
		{"a kerf of 0.093 jams by 0.0015 (the trade's own figure)", 93 * thou, "0.0025 in", "too tight, fit -0.0015 in"},
		{"thicker than thought", 102 * thou, "0.0000 in", "use another blade"},
	} {
		cal, err := Measured(p, Corner{Slot: slotWith(c.kerf)}, q.Settings)
		if err != nil || cal.Kerf.Cmp(c.kerf.Ratio()) != 0 || say(cal.Shim, measure.Inches) != c.shim || !strings.Contains(cal.Do, c.do) {
			t.Errorf("%s: %+v (%v)", c.reason, cal, err)
		}
	}
	// A rod 0.2 % long: slot and period both grow.
	lead := measure.Inch.Ratio().Over(16).Mul(measure.Frac(1002, 1000))
	slot := measure.Length(955 * 2032).Ratio().Add(lead.Times(3)).Length()
	cal, err := Measured(p, Corner{Slot: slot, Over: lead.Times(45).Length(), Periods: 5}, q.Settings)
	if err != nil || math.Abs(cal.Lead.Float()-lead.Float()) > 1 || math.Abs(cal.Kerf.Float()-955*2032) > 3 {
		t.Errorf("long rod: lead %v kerf %v (%v), want %v and %v", cal.Lead, cal.Kerf, err, lead, 955*2032)
	}
	for reason, corner := range map[string]Corner{
		"an edge notch":        {Slot: measure.Inch * 2 / 10},
		"no periods":           {Slot: slot, Over: measure.Inch},
		"periods miscounted":   {Slot: slot, Over: measure.Inch * 9 / 4, Periods: 5},
		"nothing was measured": {},
	} {
		if _, err := Measured(p, corner, q.Settings); err == nil {
			t.Errorf("%s was believed", reason)
		}
	}
}

// TestWhatATestCornerMeans: what the maker must know beside kerf and fit.
func TestWhatATestCornerMeans(t *testing.T) {
	q := plainRequest(measure.Inch/4, measure.Inch*7/2)
	a, err := Solve(q)
	if err != nil || a.Refused != nil {
		t.Fatal(err, a.Refused)
	}
	p := a.Best() // four cuts a turn of 1/16 in apart
	for _, c := range []struct {
		reason string
		corner Corner
		says   string
		not    string
	}{
		{"the kerf as it was", Corner{Slot: 2830 * 2032}, "the kerf is as planned", "twice as much"},
		{"a worn blade that this rod cannot use: the advice holds for the whole batch", Corner{Slot: 2805 * 2032},
			"With it 3/8-16 and 1 stop per turn have no usable fit", "as planned"},
		{"a thinner one that it can", Corner{Slot: 2820 * 2032}, "write Blade kerf 0.0945 in", "no fit of their own"},
		{"a blade so thin that passes would leave fins", Corner{Slot: 2500 * 2032}, "stop: with this kerf neighboring passes overlap by 0.0000 in", "shim of"},
		{"a rod that is 0.3 % long", Corner{Slot: 2830 * 2032, Over: 16925 * 2032, Periods: 3}, "The lead is +0.3% off: measure it over at least 4 in", "as planned"},
		{"a rod as it should be", Corner{Slot: 2830 * 2032, Over: 16875 * 2032, Periods: 3}, "as planned", "lead"},
	} {
		cal, err := Measured(p, c.corner, q.Settings)
		if all := cal.Do + "; " + cal.Note; err != nil || !strings.Contains(all, c.says) || strings.Contains(all, c.not) {
			t.Errorf("%s: %q (%v), want %q and no %q", c.reason, all, err, c.says, c.not)
		}
	}
	if _, err := Measured(p, Corner{}, q.Settings); err == nil || !strings.Contains(err.Error(), "no slot was measured") {
		t.Errorf("no slot: %v", err)
	}
}

// TestShimCures saws a tight joint, repeats the first cut of every slot with
// the shim, and looks at slots and pins.
func TestShimCures(t *testing.T) {
	q := plainRequest(measure.Inch/4, measure.Inch*27/8)
	a, err := Solve(q)
	if err != nil || a.Refused != nil {
		t.Fatal(err, a.Refused)
	}
	p, kerf := a.Best(), 93*thou
	cal, err := Measured(p, Corner{Slot: kerf + 3*measure.Inch/16}, q.Settings)
	if err != nil {
		t.Fatal(err)
	}
	var kerfs []measure.Ratio
	for _, s := range p.Steps {
		kerfs = append(kerfs, p.Origin.Add(s.Travel))
		if s.Cut == 1 {
			kerfs = append(kerfs, p.Origin.Add(s.Travel).Sub(cal.Shim)) // the shim moves the board away from the stop
		}
	}
	height := q.Heights[0]
	rowA, rowB := sawn(kerfs, kerf.Ratio(), measure.Ratio{}, height), sawn(kerfs, kerf.Ratio(), p.Spacer, height)
	if clash := shared(wood(rowA, height), wood(rowB, height)); len(clash) > 0 {
		t.Errorf("wood still meets wood over %v", clash)
	}
	want := cal.Fit.Add(cal.Shim.Times(2))
	slot, pin := rowA[1], wood(rowB, height)[1]
	if got := slot.high.Sub(slot.low).Sub(pin.high.Sub(pin.low)); got.Cmp(want) != 0 {
		t.Errorf("the fit became %s, foretold %s", got, want)
	}
}

// TestBudget holds the trade's own figures: 0.2 % of a spacer of 9/32 in is
// 0.0006 in, of 3-3/8 in 0.0068 in; ten degrees of 1/16 in are 0.0017 in.
func TestBudget(t *testing.T) {
	q := plainRequest(measure.Inch/4, measure.Inch*27/8)
	a, err := Solve(q)
	if err != nil || a.Refused != nil {
		t.Fatal(err, a.Refused)
	}
	b := BudgetOf(a.Best(), UsualHabits, measure.Inches)
	text := ""
	for _, h := range b.Hazards {
		text += h.Say + "\n"
		if h.Cause == "handle" && math.Abs(h.High/float64(measure.Inch)-2*0.0017361) > 1e-6 {
			t.Errorf("ten degrees of the handle change the fit by %v ticks", h.High)
		}
	}
	for _, figure := range []string{"0.0006 in", "0.0068 in"} {
		if !strings.Contains(text, figure) {
			t.Errorf("%s is not said: %s", figure, text)
		}
	}
	if b.WorstLow >= b.Low || b.High >= b.WorstHigh || b.Low >= b.High {
		t.Errorf("the ranges do not nest: %+v", b)
	}
}

// TestFitMap compares with worked programs: which pairs are dead, and what
// fits the live ones have.
func TestFitMap(t *testing.T) {
	for _, row := range readTable(t, "programs.csv") {
		rod, err := ParseRod(row["rod"])
		if err != nil {
			t.Fatal(err)
		}
		stops := atoi(t, row["N"])
		m := Map([]Rod{rod}, []measure.Length{row.length(t, "kerf")}, []int{stops}, 0, 10*thou, 10*thou)
		dead := row["status"] == "REJECT_FIT"
		if len(m) != 1 || m[0].Dead() != dead {
			t.Errorf("%s: dead %v, want %v", row["id"], m[0].Dead(), dead)
			continue
		}
		if got := m[0].Loose; dead && got.Cmp(row.size(t, "c")) != 0 {
			t.Errorf("%s: next looser %s, want %s", row["id"], got, row["c"])
		}
		if !dead && (m[0].Fits[0].Fit.Cmp(row.size(t, "c")) != 0 || m[0].Fits[0].M != row.ratio(t, "m").Num()) {
			t.Errorf("%s: fit %+v, want %s at m %s", row["id"], m[0].Fits[0], row["c"], row["m"])
		}
	}
}

// TestEvenHeights: the nearest heights in whole fingers, and a height nudged.
func TestEvenHeights(t *testing.T) {
	finger := measure.Inch.Ratio().Times(9).Over(32)
	got := EvenHeights(finger, measure.Ratio{}, measure.Inch*7/2, measure.Inch/4)
	if len(got) != 2 || got[0].Height != measure.Inch*27/8 || got[0].Fingers != 12 || got[1].Height != measure.Inch*117/32 {
		t.Errorf("%+v, want 3-3/8 in with 12 fingers before 3-21/32 in with 13", got)
	}
	q := plainRequest(measure.Inch/4, measure.Inch*7/2)
	even, c, ok := Nudge(q, measure.Inch*7/2, measure.Inch/4)
	if !ok || even.Height != measure.Inch*27/8 || c.Program.Heights[0].Layout != EdgeLayout {
		t.Errorf("nudged to %+v, %v", even, ok)
	}
	if _, _, ok := Nudge(q, measure.Inch*7/2, measure.Inch/64); ok {
		t.Error("nudged further than allowed")
	}
}
