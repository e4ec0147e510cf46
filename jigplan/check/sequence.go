package check

import (
	"fmt"
	"math"

	"batchwright/jigplan"
	"batchwright/orders/measure"
	"batchwright/orders/settings"
)

// Sequence replays the setups of a plan and times every changeover
// anew: from an idle saw with the shop's rod in place, a change of rod, blade,
// height, spacer or card costs its setting, and a new rod, blade or height of
// a blade whose kerf is not measured, or of any where the shop always cuts
// one, costs a test corner.
func Sequence(p *jigplan.Plan) []error {
	var found []error
	wrong := func(format string, a ...any) { found = append(found, fmt.Errorf(format, a...)) }
	q := p.Sequence
	if len(q.Setups) != len(p.Setups) || len(q.Changes) != len(q.Setups) {
		wrong("sequence: %d setups and %d changeovers for %d setups", len(q.Setups), len(q.Changes), len(p.Setups))
		return found
	}
	saw := newSaw(p)
	ran := map[string]bool{}
	sum := 0.0
	for i, id := range q.Setups {
		setup, known := saw.setups[id]
		if !known || ran[id] {
			wrong("sequence: setup %q does not exist or runs twice", id)
			continue
		}
		ran[id] = true
		minutes := saw.run(setup) / 60
		sum += minutes
		if c := q.Changes[i]; c.Setup != id || !near(c.Minutes, minutes) {
			wrong("sequence: changeover %d is to setup %q in %.4f min; to %q it takes %.4f", i+1, c.Setup, c.Minutes, id, minutes)
		}
	}
	if !near(sum, q.ChangeoverMinutes) {
		wrong("sequence: %.4f min of changeovers, they add up to %.4f", q.ChangeoverMinutes, sum)
	}
	if q.BoundMinutes > q.ChangeoverMinutes+tolerance || q.Proven && !near(q.BoundMinutes, q.ChangeoverMinutes) {
		wrong("sequence: bound %.4f min against %.4f, proven %t", q.BoundMinutes, q.ChangeoverMinutes, q.Proven)
	}
	return found
}

const tolerance = 0.001 // minutes

func near(a, b float64) bool { return math.Abs(a-b) <= tolerance }

// saw is the saw as it stands while the setups run.
type saw struct {
	times    settings.Times
	programs map[string]jigplan.Program
	setups   map[string]jigplan.Setup
	rod      string
	card     string
	blade    string
	height   measure.Length
	spacer   measure.Ratio

	cornerAlways bool
}

func newSaw(p *jigplan.Plan) *saw {
	s := &saw{programs: map[string]jigplan.Program{}, setups: map[string]jigplan.Setup{}}
	if p.Order != nil {
		s.times, s.rod = p.Order.Settings.Times, p.Order.Settings.Rod
		s.cornerAlways = p.Order.Settings.CornerWhen == "always"
	}
	for _, program := range p.Programs {
		s.programs[program.ID] = program
	}
	for _, setup := range p.Setups {
		s.setups[setup.ID] = setup
	}
	return s
}

// run changes the saw over to a setup and returns the seconds that took.
func (s *saw) run(u jigplan.Setup) float64 {
	program := s.programs[u.Program]
	seconds, doubtful := 0.0, false
	if program.Rod != s.rod {
		seconds += s.times.ChangeRod
		doubtful = true
	}
	switch {
	case u.Blade != s.blade:
		seconds += s.times.ChangeBlade + s.times.ChangeHeight
		doubtful = true
	case u.BladeHeight != s.height:
		seconds += s.times.ChangeHeight
		doubtful = true
	}
	if u.Spacer.Cmp(s.spacer) != 0 {
		seconds += s.times.ChangeSpacer
	}
	if u.Program != s.card {
		seconds += s.times.ChangeCard
	}
	if doubtful && (s.cornerAlways || !program.KerfMeasured) {
		seconds += s.times.TestCorner
	}
	s.rod, s.card, s.blade, s.height, s.spacer = program.Rod, u.Program, u.Blade, u.BladeHeight, u.Spacer
	return seconds
}
