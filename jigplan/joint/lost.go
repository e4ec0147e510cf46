package joint

import (
	"fmt"
	"slices"

	"batchwright/jigplan"
	"batchwright/orders/measure"
)

// Count is what is known when a count is in doubt. The stack is still clamped.
type Count struct {
	Readings []SlotReading  // of the rule after a slot's last cut, in any order
	Done     int            // slots cut so far; 0: the last one that was read, or all with Returned
	Width    measure.Length // of the first slot that is off, measured; 0: not measured
	Returned *measure.Ratio // turns it took to wind back to zero; nil: not wound back
}

// SlotReading is the carriage's travel from home after a slot's last cut.
type SlotReading struct {
	Slot   int
	Travel measure.Length
}

// Slip is the kind of mistake.
type Slip string

// The slips that leave a reading off.
const (
	NoSlip    Slip = ""
	MoveSlip  Slip = "move" // turned too far, or not far enough, to a slot
	PassSlip  Slip = "pass" // one pass too many, or too few, inside a slot
	NotTold   Slip = "more must be read"
	wornGauge      = 3 // a reading further from a stop than a third of one is a misread rule
)

// Loss is what went wrong and what saves the stack.
type Loss struct {
	Kind  Slip
	Turns measure.Ratio    // of the wheel too many (+) or too few (-)
	Slot  int              // where it happened; 0: not known
	Since int              // last slot known to be right; 0: none
	Gap   measure.Ratio    // what stays open in one place, once cured
	Clash measure.Ratio    // wood that would meet wood there before the cure; 0: none
	Extra []measure.Ratio  // travel from home of the passes that cure it, rising
	Rest  *jigplan.Program // card of what is still to be cut, from the same home; nil: nothing, or not known
	Say   []string         // what is so, what to do, which boards live
}

// FindLost compares rule readings and return turns with a program. A wheel
// that stops N times a turn can only be wrong by whole stops, so a reading is
// taken to the nearest one; a reading more than a third of a stop off is
// refused as a misread rule.
func FindLost(p jigplan.Program, c Count, unit measure.Unit) (Loss, error) {
	l := lost{p: p, unit: unit, step: p.Lead.Over(int64(max(p.StopsPerTurn, 1)))}
	if err := l.check(c); err != nil {
		return Loss{}, err
	}
	readings := slices.Clone(c.Readings)
	slices.SortFunc(readings, func(a, b SlotReading) int { return a.Slot - b.Slot })
	out := Loss{}
	for _, r := range readings {
		off, err := l.stopsOff(r)
		if err != nil {
			return Loss{}, err
		}
		if off == 0 {
			out.Since = r.Slot
			continue
		}
		out.Turns = measure.Frac(off, int64(p.StopsPerTurn))
		if r.Slot == out.Since+1 {
			out.Slot = r.Slot
		}
		l.judge(&out, c.Width, off)
		l.cure(&out, max(c.Done, r.Slot))
		return out, nil
	}
	l.fromReturn(&out, c)
	return out, nil
}

// lost is one program whose count is in doubt.
type lost struct {
	p    jigplan.Program
	unit measure.Unit
	step measure.Ratio
}

func (l lost) say(r measure.Ratio) string { return say(r, l.unit) }

func (l lost) check(c Count) error {
	if len(l.p.Slots) == 0 || l.p.Lead.Sign() <= 0 {
		return fmt.Errorf("the program has no cuts")
	}
	for _, r := range c.Readings {
		if r.Slot < 1 || r.Slot > len(l.p.Slots) {
			return fmt.Errorf("slot %d was read: the program has slots 1 to %d", r.Slot, len(l.p.Slots))
		}
		if r.Travel < 0 || r.Travel > maxHeight {
			return fmt.Errorf("the rule at slot %d reads %s: at least 0 and at most 100 in", r.Slot, l.say(r.Travel.Ratio()))
		}
	}
	if c.Done < 0 || c.Done > len(l.p.Slots) {
		return fmt.Errorf("%d slots are cut: the program has %d", c.Done, len(l.p.Slots))
	}
	if len(c.Readings) == 0 && c.Returned == nil {
		return fmt.Errorf("nothing was read: give the rule after a slot (3: 1-1/2) or the turns it took to wind back")
	}
	if r := c.Returned; r != nil && (r.Sign() < 0 || r.Den() > maxRatio || r.Cmp(measure.Whole(100_000)) > 0) {
		return fmt.Errorf("%s turns back cannot be right", *r)
	}
	return nil
}

// lastStep is the last cut of a slot.
func (l lost) lastStep(slot int) jigplan.Step {
	var last jigplan.Step
	for _, s := range l.p.Steps {
		if s.Slot == slot {
			last = s
		}
	}
	return last
}

// stopsOff is how many index stops the carriage is off at a slot's end.
func (l lost) stopsOff(r SlotReading) (int64, error) {
	off := r.Travel.Ratio().Sub(l.lastStep(r.Slot).Travel)
	stops := off.Div(l.step).Round()
	if rest := off.Sub(l.step.Times(stops)).Abs(); rest.Cmp(l.step.Over(wornGauge)) > 0 {
		return 0, fmt.Errorf("the rule at slot %d reads %s, between two stops of the wheel (%s and %s): read it again, arriving forward",
			r.Slot, l.say(r.Travel.Ratio()), l.say(l.lastStep(r.Slot).Travel.Add(l.step.Times(stops))), l.say(l.lastStep(r.Slot).Travel.Add(l.step.Times(stops+1))))
	}
	return stops, nil
}

// fromReturn judges by the turns back to zero alone: how far off, not where.
func (l lost) fromReturn(out *Loss, c Count) {
	if c.Returned == nil {
		out.Say = []string{fmt.Sprintf("every reading up to slot %d is right: carry on", out.Since)}
		return
	}
	done := c.Done
	if done == 0 {
		done = len(l.p.Slots)
	}
	want := l.lastStep(done).TotalTurns
	out.Turns = c.Returned.Sub(want)
	if out.Turns.Sign() == 0 {
		out.Say = []string{fmt.Sprintf("%s turns back from slot %d is right: the count holds, unless two slips cancelled: try the corner before gluing", want, done)}
		return
	}
	out.Kind = NotTold
	out.Say = []string{
		fmt.Sprintf("it took %s back, the card says %s: %s too %s somewhere after slot %d", turnsOf(*c.Returned), want, turnsOf(out.Turns.Abs()), manyOrFew(out.Turns), out.Since),
		"do not unclamp: measure from the marked edge of a row A board to the far side of each slot and give those readings; the first one that is off names the slot",
	}
	for _, s := range l.p.Slots[out.Since:] {
		far := l.p.Origin.Add(l.lastStep(s.N).Travel).Add(l.p.Kerf.Ratio())
		out.Say = append(out.Say, fmt.Sprintf("slot %d should end %s from the marked edge", s.N, l.say(far)))
	}
}

func manyOrFew(turns measure.Ratio) string {
	if turns.Sign() > 0 {
		return "many"
	}
	return "few"
}
