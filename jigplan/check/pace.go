package check

import (
	"fmt"
	"math"

	"batchwright/jigplan"
)

// Time adds a plan's time up again: elements that are counted take count
// times each, all of them add up to the minutes, no time is negative, the
// eighth decile is not below the median, and every stack takes what its
// program and the settings say.
func Time(p *jigplan.Plan) []error {
	var found []error
	wrong := func(format string, a ...any) { found = append(found, fmt.Errorf(format, a...)) }
	sum := 0.0
	for _, e := range p.Time.Elements {
		sum += e.Minutes
		if e.Minutes < 0 || e.Count < 0 || e.Each < 0 {
			wrong("time: element %q is negative", e.Name)
		}
		if e.Each > 0 && !near(e.Minutes, e.Count*e.Each/60) {
			wrong("time: %v times %v s of %q is not %.4f min", e.Count, e.Each, e.Name, e.Minutes)
		}
	}
	if math.Abs(sum-p.Time.Minutes) > 1e-6 {
		wrong("time: elements add up to %.6f min, not %.6f", sum, p.Time.Minutes)
	}
	if p.Time.P80Minutes < p.Time.Minutes-tolerance {
		wrong("time: %.3f min at 80 in 100 is below the median %.3f", p.Time.P80Minutes, p.Time.Minutes)
	}
	saw := newSaw(p)
	for _, s := range p.Stacks {
		program := saw.programs[saw.setups[s.Setup].Program]
		if want := saw.stackEnd(program) / 60; !near(s.Minutes, want) {
			wrong("time: stack %q takes %.4f min, its program %.4f", s.ID, s.Minutes, want)
		}
	}
	return found
}

// stackEnd counts the steps on the card: load, every pass, every turn out and
// home, every slot verified; all but the load once more, and a shim put in,
// where the card is cut twice. Seconds.
func (s *saw) stackEnd(p jigplan.Program) float64 {
	seconds := s.times.LoadStack
	slot := 0
	for _, step := range p.Steps {
		seconds += s.times.CutPass + step.Turns.Float()*(s.times.ForwardTurn+s.times.ReturnTurn)
		if step.Slot != slot {
			slot = step.Slot
			seconds += s.times.VerifySlot
		}
	}
	if p.SecondPass.Sign() > 0 {
		seconds += seconds - s.times.LoadStack + s.times.ChangeSpacer
	}
	return seconds
}
