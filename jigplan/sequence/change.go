package sequence

import (
	"fmt"

	"batchwright/jigplan"
	"batchwright/orders/measure"
	"batchwright/orders/settings"
)

// State is what is fitted to the saw and the carriage.
type State struct {
	Idle     bool // nothing but the rod is fitted
	Rod      string
	Blade    string
	Height   measure.Length
	Spacer   measure.Ratio
	Program  string
	Measured bool // its blade's kerf was measured
	Ends     int  // stack-ends it cuts
}

// ChangeStep is one thing done between two setups.
type ChangeStep struct {
	Element string // the setting that holds its time: "Change blade"
	Seconds float64
	What    string
}

// Change lists what turns the saw from one state to another, in the order it
// is done. A test corner follows a new rod, blade or height while the kerf of
// the blade is not measured, or always in a shop that wants it so; that makes
// the times asymmetric. Which elements there are is common practice.
func Change(from, to State, s *settings.Shop) []ChangeStep {
	t := s.Times
	var out []ChangeStep
	add := func(element string, seconds float64, what string) {
		out = append(out, ChangeStep{Element: element, Seconds: seconds, What: what})
	}
	rod := from.Rod != to.Rod
	blade := from.Idle || from.Blade != to.Blade
	height := blade || from.Height != to.Height
	if rod {
		add("Change rod", t.ChangeRod, "change the rod to "+to.Rod)
	}
	if blade {
		add("Change blade", t.ChangeBlade, "fit the blade: "+to.Blade)
	}
	if height {
		add("Change height", t.ChangeHeight, "set the blade height to "+to.Height.OnRule(s.Units))
	}
	if from.Spacer.Cmp(to.Spacer) != 0 {
		add("Change spacer", t.ChangeSpacer, spacerWords(from, to, s))
	}
	if from.Program != to.Program {
		add("Change card", t.ChangeCard, CardWords(to.Program))
	}
	switch fresh := rod || height; {
	case fresh && !to.Measured:
		add("Test corner", t.TestCorner, "cut a test corner: the kerf of this blade is not measured")
	case fresh && s.CornerWhen == "always":
		add("Test corner", t.TestCorner, "cut a test corner: rod, blade or height is new")
	}
	return out
}

// CardWords is how the change to a card is said.
func CardWords(card string) string { return "put up card " + card }

func spacerWords(from, to State, s *settings.Shop) string {
	if to.Spacer.Sign() == 0 {
		return "take out the spacer"
	}
	if from.Spacer.Sign() == 0 {
		return fmt.Sprintf("put in the spacer: %s", to.Spacer.Length().ShowUnit(s.Units))
	}
	return fmt.Sprintf("change the spacer to %s", to.Spacer.Length().ShowUnit(s.Units))
}

// statesOf is the idle saw and then each setup.
func statesOf(in Input) []State {
	programs := map[string]jigplan.Program{}
	for _, p := range in.Programs {
		programs[p.ID] = p
	}
	states := []State{{Idle: true, Rod: in.Settings.Rod}}
	for _, s := range in.Setups {
		p := programs[s.Program]
		states = append(states, State{Rod: p.Rod, Blade: s.Blade, Height: s.BladeHeight,
			Spacer: s.Spacer, Program: s.Program, Measured: p.KerfMeasured, Ends: len(s.Stacks)})
	}
	return states
}
