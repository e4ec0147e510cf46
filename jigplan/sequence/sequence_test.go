package sequence_test

import (
	"fmt"
	"slices"
	"testing"

	"batchwright/jigplan"
	"batchwright/jigplan/check"
	"batchwright/jigplan/sequence"
	"batchwright/orders"
	"batchwright/orders/measure"
	"batchwright/orders/settings"

	"pgregory.net/rapid"
)

// batch draws setups over a few rods, blades, heights and spacers.
func batch(t *rapid.T, most int) (sequence.Input, *jigplan.Plan) {
	settings := settings.Default()
	settings.CornerWhen = rapid.SampledFrom([]string{"unmeasured", "always"}).Draw(t, "test corner when")
	in := sequence.Input{Settings: &settings}
	for i := range rapid.IntRange(1, most).Draw(t, "setups") {
		p := jigplan.Program{ID: fmt.Sprint("J", i+1), Rod: rapid.SampledFrom([]string{"3/8-16", "M10x1.5"}).Draw(t, "rod"), KerfMeasured: rapid.Bool().Draw(t, "measured")}
		in.Programs = append(in.Programs, p)
		in.Setups = append(in.Setups, jigplan.Setup{ID: fmt.Sprint("U", i+1), Program: p.ID,
			Blade:       rapid.SampledFrom([]string{"3/32 in kerf", "1/8 in kerf"}).Draw(t, "blade"),
			BladeHeight: measure.Inch * measure.Length(rapid.IntRange(2, 5).Draw(t, "height")) / 8,
			Spacer:      measure.Frac(int64(measure.Inch)*int64(rapid.IntRange(0, 3).Draw(t, "spacer")), 32)})
	}
	return in, &jigplan.Plan{Order: &orders.Order{Settings: settings}, Programs: in.Programs, Setups: in.Setups}
}

func TestSmallBatchesAgainstEveryOrder(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		in, plan := batch(t, 6)
		got, err := sequence.Order(in)
		if err != nil {
			t.Fatal(err)
		}
		plan.Sequence = got
		for _, err := range check.Sequence(plan) {
			t.Error(err)
		}
		if !got.Proven {
			t.Error("not proven")
		}
		least := got.ChangeoverMinutes
		permutations(len(in.Setups), func(order []int) {
			if m := minutesOf(plan, order); m < least-1e-6 {
				t.Fatalf("order %v takes %v, the answer %v", order, m, least)
			}
		})
		as := make([]int, len(in.Setups))
		for i := range as {
			as[i] = i
		}
		if m := minutesOf(plan, as); m < got.AsWrittenMinutes-1e-6 || m > got.AsWrittenMinutes+1e-6 {
			t.Errorf("as written %v, not %v", m, got.AsWrittenMinutes)
		}
	})
}

// minutesOf times one order with the plain arithmetic of the settings.
func minutesOf(p *jigplan.Plan, order []int) float64 {
	t := p.Order.Settings.Times
	rod, blade, height, spacer := p.Order.Settings.Rod, "", measure.Length(0), measure.Ratio{}
	seconds := 0.0
	for _, i := range order {
		u, program := p.Setups[i], p.Programs[i]
		seconds += t.ChangeCard
		fresh := program.Rod != rod || u.Blade != blade || u.BladeHeight != height
		if program.Rod != rod {
			seconds += t.ChangeRod
		}
		if u.Blade != blade {
			seconds += t.ChangeBlade
		}
		if u.Blade != blade || u.BladeHeight != height {
			seconds += t.ChangeHeight
		}
		if u.Spacer != spacer && u.Spacer.Cmp(spacer) != 0 {
			seconds += t.ChangeSpacer
		}
		if fresh && (p.Order.Settings.CornerWhen == "always" || !program.KerfMeasured) {
			seconds += t.TestCorner
		}
		rod, blade, height, spacer = program.Rod, u.Blade, u.BladeHeight, u.Spacer
	}
	return seconds / 60
}

func permutations(n int, visit func([]int)) {
	order := make([]int, 0, n)
	var extend func()
	extend = func() {
		if len(order) == n {
			visit(order)
			return
		}
		for i := range n {
			if !slices.Contains(order, i) {
				order = append(order, i)
				extend()
				order = order[:len(order)-1]
			}
		}
	}
	extend()
}

func TestLargeBatchesPassTheCheck(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		in, plan := batch(t, 30)
		in.Limits.Work = 100
		got, err := sequence.Order(in)
		if err != nil {
			t.Fatal(err)
		}
		plan.Sequence = got
		for _, err := range check.Sequence(plan) {
			t.Error(err)
		}
	})
}

func TestWhatMustRunFirst(t *testing.T) {
	settings := settings.Default()
	in := sequence.Input{Settings: &settings}
	for _, id := range []string{"U1", "U2", "U3"} {
		in.Setups = append(in.Setups, jigplan.Setup{ID: id, Program: "J" + id, Blade: "b"})
		in.Programs = append(in.Programs, jigplan.Program{ID: "J" + id, Rod: settings.Rod})
	}
	in.Before = [][2]string{{"U3", "U2"}, {"U2", "U1"}}
	got, err := sequence.Order(in)
	if err != nil || !slices.Equal(got.Setups, []string{"U3", "U2", "U1"}) {
		t.Errorf("%v, %v", got.Setups, err)
	}
	in.Before = append(in.Before, [2]string{"U1", "U3"})
	if _, err := sequence.Order(in); err == nil {
		t.Error("a circle is not an error")
	}
	in.Before = [][2]string{{"U1", "U9"}}
	if _, err := sequence.Order(in); err == nil {
		t.Error("an unknown setup is not an error")
	}
}
