package joint

import (
	"fmt"
	"slices"
	"strings"

	"batchwright/jigplan"
	"batchwright/orders/measure"
)

// judge tells a wrong move from a wrong count of passes: a move leaves the slot
// as wide as it should be.
func (l lost) judge(out *Loss, width measure.Length, off int64) {
	out.Kind = MoveSlip
	switch {
	case out.Slot == 0:
		out.Kind = NotTold
	case out.Slot == 1: // no move leads to the first slot
		out.Kind = PassSlip
	case width > 0:
		if more := width.Ratio().Sub(l.width(out.Slot)).Div(l.step).Round(); more == off {
			out.Kind = PassSlip
		}
	}
}

// width is a slot's on the board as the card cuts it.
func (l lost) width(slot int) measure.Ratio {
	var first, last measure.Ratio
	for i := len(l.p.Steps) - 1; i >= 0; i-- {
		if s := l.p.Steps[i]; s.Slot == slot {
			first = s.Travel
			last = greater(last, s.Travel)
		}
	}
	return last.Sub(first).Add(l.p.Kerf.Ratio())
}

// mend finds what a slip did and the passes that cure it; before is how far
// off the carriage was already. On a stack of both rows every board has the
// same slip, so all later fingers still mate: wood is gone in one place
// already, or a few more passes take it away there.
func (l lost) mend(out *Loss, before measure.Ratio) {
	if l.p.Rows != jigplan.BothRows || out.Kind == NotTold {
		return
	}
	slip := out.Turns.Mul(l.p.Lead)
	half := greater(l.p.Fit.Over(2), measure.Ratio{})
	out.Gap = slip.Abs().Add(half)
	switch {
	case out.Kind == MoveSlip && slip.Sign() > 0:
		out.Clash = slip.Sub(half)
		out.Extra = l.passesFrom(l.firstStep(out.Slot).Travel.Add(before), slip)
	case out.Kind == PassSlip && slip.Sign() < 0:
		out.Clash = slip.Abs().Sub(half)
		out.Extra = l.lostPasses(l.lastStep(out.Slot).Travel.Add(before), slip.Abs())
	}
}

// tell words the slips and what to do, and makes the card of the rest.
func (l lost) tell(out *Loss, done int, returned *measure.Ratio) {
	slips := append([]Loss{*out}, out.Later...)
	var total measure.Ratio
	told := true
	for i := range slips {
		out.Say = append(out.Say, l.happened(&slips[i], len(slips)))
		total = total.Add(slips[i].Turns)
		told = told && slips[i].Kind != NotTold
	}
	if l.p.Rows != jigplan.BothRows {
		out.Say = append(out.Say, "these boards meet boards of another stack, which do not share the slip: put them aside as scrap and cut new ones from home")
		return
	}
	if want := l.lastStep(done).TotalTurns.Add(total); returned != nil && returned.Cmp(want) != 0 {
		out.Say = append(out.Say, fmt.Sprintf("winding back from slot %d should then have taken %s, not %s: something else slipped; read every slot up to %d before cutting on", done, turnsOf(want), *returned, done))
		return
	}
	if !told {
		out.Say = append(out.Say, fmt.Sprintf("read the rule, or measure the board, at every slot from %d on: the cure depends on which move it was", out.Since+1))
		return
	}
	for i := range slips {
		out.Say = append(out.Say, l.sayCure(&slips[i]))
	}
	out.Rest = l.rest(done, total.Mul(l.p.Lead))
	out.Say = append(out.Say, l.carryOn(out.Rest))
	out.Say = append(out.Say, l.sayThin(slips, out.Rest, done)...)
	out.Say = append(out.Say, "A and B boards of this stack and this end fit each other only: mark them and keep them together; boards of other stacks do not fit them")
}

func (l lost) happened(out *Loss, of int) string {
	slip := out.Turns.Mul(l.p.Lead)
	far, word := "farther from", "many"
	if slip.Sign() < 0 {
		far, word = "nearer to", "few"
	}
	where := fmt.Sprintf("the move to slot %d was %s too %s", out.Slot, turnsOf(out.Turns.Abs()), word)
	switch out.Kind {
	case PassSlip:
		where = fmt.Sprintf("slot %d got %s of passes too %s", out.Slot, turnsOf(out.Turns.Abs()), word)
	case NotTold:
		where = fmt.Sprintf("somewhere after slot %d the wheel was turned %s too %s", out.Since, turnsOf(out.Turns.Abs()), word)
		if out.Since == 0 {
			where = fmt.Sprintf("somewhere the wheel was turned %s too %s", turnsOf(out.Turns.Abs()), word)
		}
	case MoveSlip:
		where += fmt.Sprintf(" (if slot %d measures %s; if it is off by as much, a pass was miscounted in it: give its width)", out.Slot, l.say(l.width(out.Slot)))
	}
	if of > 1 {
		return fmt.Sprintf("%s: by itself it puts everything since %s %s the marked edge", where, l.say(slip.Abs()), far)
	}
	return fmt.Sprintf("%s: everything since is %s %s the marked edge", where, l.say(slip.Abs()), far)
}

func (l lost) sayCure(out *Loss) string {
	if len(out.Extra) == 0 {
		return fmt.Sprintf("nothing clashes: a gap of %s is left beside slot %d; glue in a sliver of the same wood", l.say(out.Gap), out.Slot)
	}
	var stops []string
	for _, travel := range out.Extra {
		stops = append(stops, fmt.Sprintf("rule at %s (%s from home)", l.say(travel), turnsOf(travel.Div(l.p.Lead))))
	}
	return fmt.Sprintf("more passes at slot %d: with the sled drawn fully back and the stack clear of the blade, turn back past the first of these places, come forward to it and cut; then the others, then go forward to where the count stood: %s. That turns a clash of %s into one gap of %s",
		out.Slot, strings.Join(stops, ", "), l.say(out.Clash), l.say(out.Gap))
}

func (l lost) carryOn(rest *jigplan.Program) string {
	if rest == nil {
		return "no slot is left to cut: the stack is done"
	}
	return fmt.Sprintf("carry on with the new card: %d cuts, the next at %s from home, the last at %s", rest.TotalCuts, turnsOf(rest.Steps[0].TotalTurns), turnsOf(rest.ReturnTurns))
}

func (l lost) firstStep(slot int) jigplan.Step {
	for _, s := range l.p.Steps {
		if s.Slot == slot {
			return s
		}
	}
	return jigplan.Step{}
}

// passesFrom are stops that clear a stretch of wood, rising, no step wider
// than the program's own passes so that no fin stays.
func (l lost) passesFrom(travel, stretch measure.Ratio) []measure.Ratio {
	var out []measure.Ratio
	widest := l.widestStep()
	for at := measure.Whole(0); at.Cmp(stretch) < 0; at = at.Add(widest) {
		out = append(out, travel.Add(at))
	}
	return out
}

// lostPasses are the stops before a slot's end that were never reached.
func (l lost) lostPasses(end, short measure.Ratio) []measure.Ratio {
	var out []measure.Ratio
	widest := l.widestStep()
	for at := measure.Whole(0); at.Cmp(short) < 0; at = at.Add(widest) {
		out = append([]measure.Ratio{end.Sub(at)}, out...)
	}
	return out
}

// widestStep is the widest step between passes anywhere on the card, one stop
// where every slot is a single cut.
func (l lost) widestStep() measure.Ratio {
	widest := l.step
	for _, slot := range l.p.Slots {
		for _, turns := range slot.StepTurns {
			widest = greater(widest, turns.Mul(l.p.Lead))
		}
	}
	return widest
}

// rest is the card of the slots still to be cut, all shifted by the slip. A
// shift towards the marked edge may ask for passes the card left out at the
// far edge, or for one slot more.
func (l lost) rest(done int, slip measure.Ratio) *jigplan.Program {
	r := l.p
	r.ID, r.Mate = l.p.ID+" rest", ""
	r.Steps, r.Slots, r.Regular = nil, nil, false
	r.Heights = slices.Clone(l.p.Heights)
	var slots []slotCuts
	before := done // slots that keep their numbers
	if left := l.leftOut(done, slip); len(left) > 0 {
		before--
		slots = append(slots, slotCuts{starts: left, width: l.p.Slots[done-1].Width})
	}
	for n := done + 1; ; n++ {
		starts := l.slotStarts(n, slip)
		if len(starts) == 0 {
			break
		}
		slots = append(slots, slotCuts{starts: starts, width: l.p.Slots[min(n, len(l.p.Slots))-1].Width})
	}
	if len(slots) == 0 {
		return nil
	}
	home := l.p.Origin
	writeSteps(&r, slots)
	fromHome(&r, home)
	for i := range r.Slots {
		r.Slots[i].N += before
	}
	for i := range r.Steps {
		r.Steps[i].Slot += before
	}
	return &r
}

// leftOut is the passes of a slot already cut that the card left out, because
// they missed the stack, and that now reach it.
func (l lost) leftOut(slot int, slip measure.Ratio) []measure.Ratio {
	reached := l.p.Origin.Add(l.lastStep(slot).Travel).Add(slip)
	return slices.DeleteFunc(l.slotStarts(slot, slip), func(at measure.Ratio) bool { return at.Cmp(reached) <= 0 })
}

// slotStarts is where the kerfs of slot n now start, from the stop: a full
// slot's, as far as they reach the stack; none beyond it.
func (l lost) slotStarts(n int, slip measure.Ratio) []measure.Ratio {
	travels := l.fullSlot(n)
	far := l.farEdge()
	var out []measure.Ratio
	for i, t := range travels {
		at := l.p.Origin.Add(t).Add(slip)
		reached := i > 0 && l.p.Origin.Add(travels[i-1]).Add(slip).Add(l.p.Kerf.Ratio()).Cmp(far) >= 0
		if reached || i == 0 && at.Add(greater(l.p.Fit.Over(2), measure.Ratio{})).Cmp(far) >= 0 {
			break
		}
		out = append(out, at)
	}
	return out
}

// fullSlot is the travels of all cuts of slot n, whether or not the card left
// some out; for a regular program also of slots beyond its last.
func (l lost) fullSlot(n int) []measure.Ratio {
	last := len(l.p.Slots)
	if n < last || !l.p.Regular && n == last {
		var out []measure.Ratio
		for _, s := range l.p.Steps {
			if s.Slot == n {
				out = append(out, s.Travel)
			}
		}
		return out
	}
	if !l.p.Regular {
		return nil
	}
	at := l.firstStep(last).Travel.Add(l.p.Period.Times(int64(n - last)))
	if last == 1 { // its first passes may have been left out
		at = at.Add(l.lastStep(1).Travel).Sub(l.p.Slot.Sub(l.p.SecondPass)).Add(l.p.Kerf.Ratio())
	}
	out := []measure.Ratio{at}
	widest, end := l.widestStep(), at.Add(l.p.Slot.Sub(l.p.SecondPass)).Sub(l.p.Kerf.Ratio())
	for at.Cmp(end) < 0 {
		at = lesser(at.Add(widest), end)
		out = append(out, at)
	}
	return out
}

// farEdge is the farthest board edge of the stack, from the stop.
func (l lost) farEdge() measure.Ratio {
	var far measure.Ratio
	for _, h := range l.p.Heights {
		far = greater(far, h.Shim.Add(l.p.Spacer).Add(h.Height.Ratio()))
	}
	return far
}
