package check_test

import (
	"fmt"
	"testing"

	"batchwright/jigplan"
	"batchwright/jigplan/check"
	"batchwright/orders"
	"batchwright/orders/measure"
	"batchwright/orders/settings"
)

// goodPlan is one box of half-inch boards, cut in two stacks of four, written
// down by hand.
func goodPlan() *jigplan.Plan {
	const inch = measure.Inch
	p := &jigplan.Plan{Order: &orders.Order{Settings: settings.Default()}}
	half := measure.Frac(int64(inch)*9, 32)
	p.Programs = []jigplan.Program{{ID: "J1", Rows: jigplan.BothRows, Rod: "3/8-16", MateThickness: inch / 2, Spacer: half,
		Heights: []jigplan.Height{{Height: 3 * inch}}, TotalCuts: 2, ReturnTurns: measure.Whole(6),
		Slots: []jigplan.Slot{{N: 1, Cuts: 1}, {N: 2, Cuts: 1}},
		Steps: []jigplan.Step{{Slot: 1, Cut: 1}, {Slot: 2, Cut: 1, Turns: measure.Whole(6), TotalTurns: measure.Whole(6)}}}}
	stacks := [2]jigplan.Stack{}
	for i, role := range []orders.Role{orders.Side, orders.End, orders.Side, orders.End} {
		row := []orders.Row{orders.RowA, orders.RowB}[i%2]
		id := fmt.Sprintf("T-1-%s%d", role, i)
		p.Parts = append(p.Parts, orders.Part{ID: id, Unit: 1, Role: role, Length: 8 * inch, Width: 3 * inch, Thickness: inch / 2,
			Joint: &orders.Joint{Row: row, Height: 3 * inch, Mate: inch / 2, Ends: [2]int{1, 2}}})
		for end := range 2 {
			stacks[end].Boards = append(stacks[end].Boards, jigplan.StackBoard{Part: id, Row: row})
		}
	}
	for end := range 2 {
		s := &stacks[end]
		s.ID, s.Setup, s.End, s.Thickness = fmt.Sprint("U1-", end+1), "U1", end+1, 2*inch
		s.Minutes = (90 + 2*7 + 6*1.9 + 2*2) / 60.0
	}
	p.Stacks = stacks[:]
	p.Setups = []jigplan.Setup{{ID: "U1", Program: "J1", Blade: "3/32 in kerf", BladeHeight: inch/2 + inch/64, Spacer: half, Stacks: []string{"U1-1", "U1-2"}}}
	minutes := (480 + 180 + 60 + 30 + 480) / 60.0 // blade, height, spacer, card, test corner
	p.Sequence = jigplan.Sequence{Setups: []string{"U1"}, ChangeoverMinutes: minutes, BoundMinutes: minutes, Proven: true,
		Changes: []jigplan.Changeover{{Setup: "U1", Minutes: minutes}}}
	p.Time = jigplan.Time{Minutes: 25, P80Minutes: 28, Elements: []jigplan.Element{{Name: "Cut pass", Count: 60, Each: 7, Minutes: 7}, {Name: "Sanding", Minutes: 18}}}
	return p
}

func TestStacksFindsPlantedFaults(t *testing.T) {
	planted(t, check.Stacks, []fault{
		{"a board left out", func(p *jigplan.Plan) { s := &p.Stacks[0]; s.Boards = s.Boards[:3]; s.Thickness = measure.Inch * 3 / 2 }},
		{"an end cut twice", func(p *jigplan.Plan) { p.Stacks[1].End = 1 }},
		{"a wrong end number", func(p *jigplan.Plan) { p.Stacks[1].End = 3 }},
		{"a wrong sum of boards", func(p *jigplan.Plan) { p.Stacks[0].Thickness++ }},
		{"an opening too small", func(p *jigplan.Plan) { p.Order.Settings.Opening = 2 * measure.Inch }},
		{"more boards than can be replaced", func(p *jigplan.Plan) { p.Order.Settings.Replaceable = 3 }},
		{"a corner torn apart", func(p *jigplan.Plan) {
			torn := p.Stacks[0]
			torn.ID, torn.Boards, torn.Thickness = "U1-3", torn.Boards[3:], measure.Inch/2
			p.Stacks[0].Boards, p.Stacks[0].Thickness = p.Stacks[0].Boards[:3], measure.Inch*3/2
			p.Stacks = append(p.Stacks, torn)
			p.Setups[0].Stacks = append(p.Setups[0].Stacks, "U1-3")
		}},
		{"a wrong row", func(p *jigplan.Plan) { p.Stacks[0].Boards[0].Row = orders.RowB }},
		{"a wrong shim", func(p *jigplan.Plan) { p.Stacks[0].Boards[0].Shim = measure.Whole(1) }},
		{"a program that does not serve the height", func(p *jigplan.Plan) { p.Programs[0].Heights[0].Height++ }},
		{"mixed thickness", func(p *jigplan.Plan) { p.Parts[2].Thickness++; p.Stacks[0].Thickness++; p.Stacks[1].Thickness++ }},
		{"a board too short", func(p *jigplan.Plan) { p.Parts[0].Length = measure.Inch }},
		{"a wrong blade height", func(p *jigplan.Plan) { p.Setups[0].BladeHeight++ }},
		{"a wrong spacer", func(p *jigplan.Plan) { p.Setups[0].Spacer = measure.Ratio{} }},
		{"a stack no setup lists", func(p *jigplan.Plan) { p.Setups[0].Stacks = p.Setups[0].Stacks[:1] }},
		{"a stack that does not exist", func(p *jigplan.Plan) { p.Setups[0].Stacks = append(p.Setups[0].Stacks, "U9") }},
		{"an unknown program", func(p *jigplan.Plan) { p.Setups[0].Program = "J9" }},
		{"a row cut by the other row's program", func(p *jigplan.Plan) { p.Programs[0].Rows = jigplan.OnlyB }},
	})
}

func TestSequenceFindsPlantedFaults(t *testing.T) {
	planted(t, check.Sequence, []fault{
		{"a setup that never runs", func(p *jigplan.Plan) { p.Sequence.Setups = nil }},
		{"an unknown setup", func(p *jigplan.Plan) { p.Sequence.Setups[0] = "U9" }},
		{"a changeover too short", func(p *jigplan.Plan) { p.Sequence.Changes[0].Minutes-- }},
		{"a sum that is wrong", func(p *jigplan.Plan) { p.Sequence.ChangeoverMinutes++ }},
		{"a bound above the answer", func(p *jigplan.Plan) { p.Sequence.BoundMinutes++ }},
		{"proven below the answer", func(p *jigplan.Plan) { p.Sequence.BoundMinutes-- }},
		{"a rod that must be changed", func(p *jigplan.Plan) { p.Programs[0].Rod = "M10" }},
		{"a test corner the shop always cuts", func(p *jigplan.Plan) {
			p.Programs[0].KerfMeasured, p.Order.Settings.CornerWhen = true, "always"
			p.Sequence.ChangeoverMinutes -= 8
			p.Sequence.BoundMinutes -= 8
			p.Sequence.Changes[0].Minutes -= 8
		}},
		{"a test corner not needed", func(p *jigplan.Plan) { p.Programs[0].KerfMeasured = true }},
	})
}

func TestTimeFindsPlantedFaults(t *testing.T) {
	planted(t, check.Time, []fault{
		{"an element forgotten", func(p *jigplan.Plan) { p.Time.Elements = p.Time.Elements[:1] }},
		{"a sum that is wrong", func(p *jigplan.Plan) { p.Time.Minutes++ }},
		{"a count that does not give the minutes", func(p *jigplan.Plan) { p.Time.Elements[0].Count++ }},
		{"a negative element", func(p *jigplan.Plan) { p.Time.Elements[1].Count = -1 }},
		{"P80 below the median", func(p *jigplan.Plan) { p.Time.P80Minutes = 20 }},
		{"a stack too quick", func(p *jigplan.Plan) { p.Stacks[0].Minutes /= 2 }},
	})
}

type fault struct {
	name  string
	plant func(*jigplan.Plan)
}

// planted runs a check on the good plan, then on the plan with each fault.
func planted(t *testing.T, run func(*jigplan.Plan) []error, faults []fault) {
	t.Helper()
	if found := run(goodPlan()); len(found) > 0 {
		t.Fatalf("the good plan is refused: %v", found)
	}
	for _, f := range faults {
		p := goodPlan()
		f.plant(p)
		if len(run(p)) == 0 {
			t.Errorf("%s: not found", f.name)
		}
	}
}
