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
	Far      []SlotReading  // the same told by a row A board that stands at the stop without a shim: from its marked edge to the far side of a slot
	Done     int            // slots cut so far; 0: the last one that was read, or all with Returned alone
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
	Since int              // last slot before it that was read; 0: none
	Gap   measure.Ratio    // what stays open in one place, once cured
	Clash measure.Ratio    // wood that would meet wood there before the cure; 0: none
	Extra []measure.Ratio  // travel from home of the passes that cure it, rising
	Later []Loss           // slips after the first, without Rest and Say
	Rest  *jigplan.Program // card of what is still to be cut, from the same home; nil: nothing, or not known
	Say   []string         // what is so, what to do, which boards live
}

// FindLost compares rule readings, a measured board and return turns with a
// program. A wheel that stops N times a turn can only be wrong by whole stops,
// so a reading is taken to the nearest one; a reading more than a third of a
// stop off is refused as a misread rule. Where readings are off by different
// amounts there was more than one slip.
func FindLost(p jigplan.Program, c Count, unit measure.Unit) (Loss, error) {
	l := lost{p: p, unit: unit, step: p.Lead.Over(int64(max(p.StopsPerTurn, 1)))}
	readings, err := l.readings(c)
	if err != nil {
		return Loss{}, err
	}
	var slips []Loss
	since, off, width := 0, int64(0), c.Width
	for _, r := range readings {
		now, err := l.stopsOff(r)
		if err != nil {
			return Loss{}, err
		}
		if now != off {
			slip := Loss{Turns: measure.Frac(now-off, int64(p.StopsPerTurn)), Since: since}
			if r.slot == since+1 {
				slip.Slot = r.slot
			}
			l.judge(&slip, width, now-off)
			l.mend(&slip, l.step.Times(off))
			slips, width = append(slips, slip), 0
		}
		since, off = r.slot, now
	}
	if len(slips) == 0 {
		out := Loss{Since: since}
		l.fromReturn(&out, c)
		return out, nil
	}
	out := slips[0]
	out.Later = slips[1:]
	l.tell(&out, max(c.Done, since), c.Returned)
	return out, nil
}

// lost is one program whose count is in doubt.
type lost struct {
	p    jigplan.Program
	unit measure.Unit
	step measure.Ratio
}

func (l lost) say(r measure.Ratio) string { return say(r, l.unit) }

// reading is the carriage's travel at a slot's last cut, and what was read to
// know it: ahead of the travel by the first kerf's place where that was a board.
type reading struct {
	slot   int
	travel measure.Ratio
	ahead  measure.Ratio
	what   string // "the rule", "the board"
}

// readings are those of the rule and of the board, slot by slot.
func (l lost) readings(c Count) ([]reading, error) {
	if err := l.check(c); err != nil {
		return nil, err
	}
	var out []reading
	add := func(list []SlotReading, ahead measure.Ratio, what string) {
		for _, r := range list {
			out = append(out, reading{r.Slot, r.Travel.Ratio().Sub(ahead), ahead, what})
		}
	}
	add(c.Readings, measure.Ratio{}, "the rule")
	add(c.Far, l.p.Origin.Add(l.p.Kerf.Ratio()), "the board")
	slices.SortStableFunc(out, func(a, b reading) int { return a.slot - b.slot })
	for i := 1; i < len(out); i++ {
		a, b := out[i-1], out[i]
		if a.slot == b.slot && a.travel.Sub(b.travel).Abs().Cmp(l.step.Over(2)) > 0 {
			return nil, fmt.Errorf("slot %d was read twice, %s says %s and %s says %s: read it again", a.slot,
				a.what, l.say(a.travel.Add(a.ahead)), b.what, l.say(b.travel.Add(b.ahead)))
		}
	}
	return out, nil
}

func (l lost) check(c Count) error {
	if len(l.p.Slots) == 0 || l.p.Lead.Sign() <= 0 {
		return fmt.Errorf("the program has no cuts")
	}
	for _, r := range slices.Concat(c.Readings, c.Far) {
		if r.Slot < 1 || r.Slot > len(l.p.Slots) {
			return fmt.Errorf("slot %d was read: the program has slots 1 to %d", r.Slot, len(l.p.Slots))
		}
		if r.Travel < 0 || r.Travel > maxHeight {
			return fmt.Errorf("%s was read at slot %d: at least 0 and at most 100 in", l.say(r.Travel.Ratio()), r.Slot)
		}
	}
	if c.Done < 0 || c.Done > len(l.p.Slots) {
		return fmt.Errorf("%d slots are cut: the program has %d", c.Done, len(l.p.Slots))
	}
	if len(c.Readings)+len(c.Far) == 0 && c.Returned == nil {
		return fmt.Errorf("nothing was read: give the rule after a slot (3:1-1/2), where a slot ends on the board, or the turns it took to wind back")
	}
	if r := c.Returned; r != nil && (r.Sign() < 0 || r.Den() > maxRatio || r.Cmp(measure.Whole(100_000)) > 0) {
		return fmt.Errorf("%s turns back is not possible", *r)
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
func (l lost) stopsOff(r reading) (int64, error) {
	right := l.lastStep(r.slot).Travel
	off := r.travel.Sub(right)
	stops := off.Div(l.step).Floor()
	switch below := off.Sub(l.step.Times(stops)); {
	case below.Cmp(l.step.Over(wornGauge)) <= 0:
		return stops, nil
	case l.step.Sub(below).Cmp(l.step.Over(wornGauge)) <= 0:
		return stops + 1, nil
	}
	at := func(stops int64) string { return l.say(right.Add(l.step.Times(stops)).Add(r.ahead)) }
	return 0, fmt.Errorf("%s at slot %d reads %s, between two stops of the wheel (%s and %s): read it again, arriving forward",
		r.what, r.slot, l.say(r.travel.Add(r.ahead)), at(stops), at(stops+1))
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
		fmt.Sprintf("it took %s back, the card says %s: %s too %s%s", turnsOf(*c.Returned), want, turnsOf(out.Turns.Abs()), manyOrFew(out.Turns), after(out.Since)),
		"do not unclamp: with the saw stopped measure on a row A board, one without a shim, from the marked edge to the far side of each slot, and give what is off and the slot before it with --far: the first one that is off names the slot",
	}
	var board measure.Length // of row A without a shim
	for _, h := range l.p.Heights {
		if h.Shim.Sign() == 0 {
			board = max(board, h.Height)
		}
	}
	for _, s := range l.p.Slots[out.Since:] {
		far := l.p.Origin.Add(l.lastStep(s.N).Travel).Add(l.p.Kerf.Ratio())
		if far.Cmp(board.Ratio()) > 0 {
			break
		}
		out.Say = append(out.Say, fmt.Sprintf("slot %d should end %s from the marked edge", s.N, l.say(far)))
	}
}

// after is " after slot 3", or nothing where no slot is known to be right.
func after(slot int) string {
	if slot == 0 {
		return ""
	}
	return fmt.Sprintf(" after slot %d", slot)
}

func manyOrFew(turns measure.Ratio) string {
	if turns.Sign() > 0 {
		return "many"
	}
	return "few"
}
