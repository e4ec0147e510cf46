// Package check proves finished plans of the jig: it replays a program
// kerf by kerf, and recomputes a schedule, from the printed numbers
// alone. It shares no code with what made them and repairs nothing.
package check

import (
	"fmt"

	"batchwright/jigplan"
	"batchwright/orders/measure"
)

// Fault is one thing that a plan says and that is not so.
type Fault struct {
	Where string // "program J1, cut 4"
	What  string
}

func (f Fault) Error() string { return f.Where + ": " + f.What }

// faults gathers findings about one program.
type faults struct {
	where string
	found []error
}

func (f *faults) add(format string, args ...any) {
	f.found = append(f.found, Fault{f.where, fmt.Sprintf(format, args...)})
}

// equal notes a figure that does not follow from the others.
func (f *faults) equal(name string, printed, follows measure.Ratio) {
	if printed.Cmp(follows) != 0 {
		f.add("%s says %s, the cuts make it %s", name, printed, follows)
	}
}

// Programs proves every program of a plan, and mates against each other.
func Programs(programs []jigplan.Program) []error {
	byID := map[string]jigplan.Program{}
	for _, p := range programs {
		byID[p.ID] = p
	}
	var all []error
	for _, p := range programs {
		all = append(all, Program(p)...)
		if p.Rows == jigplan.BothRows {
			continue
		}
		mate, ok := byID[p.Mate]
		switch {
		case !ok || mate.Mate != p.ID || mate.Rows == p.Rows || mate.Rows == jigplan.BothRows:
			all = append(all, Fault{"program " + p.ID, fmt.Sprintf("its mate %q does not cut the other row and name it back", p.Mate)})
		case p.Rows == jigplan.OnlyA:
			all = append(all, Pair(p, mate)...)
		}
	}
	return all
}

// Program proves one count card: its arithmetic, the boards it leaves, and for
// a card of both rows that they go together.
func Program(p jigplan.Program) []error {
	f := &faults{where: "program " + p.ID}
	if len(p.Steps) == 0 || len(p.Heights) == 0 {
		f.add("it has %d cuts and %d heights", len(p.Steps), len(p.Heights))
		return f.found
	}
	if p.Kerf <= 0 || p.Lead.Sign() <= 0 || p.StopsPerTurn < 1 {
		f.add("kerf, lead and stops per turn must be more than zero")
		return f.found
	}
	if p.SecondPass.Sign() < 0 {
		f.add("the second pass has a shim of %s", mm(p.SecondPass))
	}
	f.count(p)
	f.slots(p)
	f.sizes(p)
	f.passes(p)
	f.idleCuts(p)
	for _, h := range p.Heights {
		f.height(p, h)
	}
	return f.found
}

// Turned proves that boards cut with one program are their own mates when row
// B stands with its other edge at the stop.
func Turned(p jigplan.Program) []error {
	f := &faults{where: "program " + p.ID + ", row B turned"}
	for _, h := range p.Heights {
		a := cutBoard(p, h, p.Rows)
		b := a.mirrored()
		b.pins = standing(b.slots, b.height)
		f.mate(h.Height, p.Fit, a, b)
	}
	return f.found
}

// Pair proves that the boards of two programs, one a row, go together.
func Pair(a, b jigplan.Program) []error {
	f := &faults{where: "programs " + a.ID + " and " + b.ID}
	if len(a.Heights) != len(b.Heights) {
		f.add("%d heights against %d", len(a.Heights), len(b.Heights))
		return f.found
	}
	for _, figure := range []struct {
		name string
		a, b measure.Ratio
	}{{"fit", a.Fit, b.Fit}, {"period", a.Period, b.Period}, {"spacer", a.Spacer, b.Spacer}} {
		if figure.a.Cmp(figure.b) != 0 {
			f.add("the %s differs: %s and %s", figure.name, figure.a, figure.b)
		}
	}
	for i, h := range a.Heights {
		if h.Height != b.Heights[i].Height {
			f.add("height %d differs", i+1)
			continue
		}
		f.mate(h.Height, a.Fit, cutBoard(a, h, jigplan.OnlyA), cutBoard(b, b.Heights[i], jigplan.OnlyB))
	}
	return f.found
}

// count follows the wheel from cut to cut.
func (f *faults) count(p jigplan.Program) {
	total := measure.Whole(0)
	for i, s := range p.Steps {
		if (i == 0) != (s.Turns.Sign() == 0) || s.Turns.Sign() < 0 {
			f.add("cut %d is reached by %s turns", i+1, s.Turns)
		}
		total = total.Add(s.Turns)
		f.equal(fmt.Sprintf("total turns at cut %d", i+1), s.TotalTurns, total)
		f.equal(fmt.Sprintf("travel at cut %d", i+1), s.Travel, total.Mul(p.Lead))
		if !total.Times(int64(p.StopsPerTurn)).IsWhole() {
			f.add("cut %d stands between two stops of the wheel, at %s turns", i+1, total)
		}
		if want := handle(total); s.Clock != want {
			f.add("the handle at cut %d says %q, it stands at %q", i+1, s.Clock, want)
		}
	}
	last := p.Steps[len(p.Steps)-1]
	f.equal("return turns", p.ReturnTurns, total)
	f.equal("travel", p.Travel, last.Travel)
	if p.TotalCuts != len(p.Steps) {
		f.add("total cuts says %d, %d are listed", p.TotalCuts, len(p.Steps))
	}
}

// handle is where the handle stands after so many turns, to the minute.
func handle(turns measure.Ratio) string {
	part := turns.Num() % turns.Den() // of a turn, in 1/Den
	minutes := (part*720*2 + turns.Den()) / (2 * turns.Den()) % 720
	if part*720*2%(2*turns.Den()) == turns.Den() && minutes%2 == 1 { // halves to even
		minutes--
	}
	hour := minutes / 60
	if hour == 0 {
		hour = 12
	}
	if minutes%60 == 0 {
		return fmt.Sprint(hour)
	}
	return fmt.Sprintf("%d:%02d", hour, minutes%60)
}

// slots compares the list of slots with the cuts.
func (f *faults) slots(p jigplan.Program) {
	next := 0
	for i, s := range p.Slots {
		if s.N != i+1 || s.Cuts < 1 || len(s.StepTurns) != s.Cuts-1 || next+s.Cuts > len(p.Steps) {
			f.add("slot %d is listed as number %d with %d cuts and %d steps", i+1, s.N, s.Cuts, len(s.StepTurns))
			return
		}
		for j := range s.Cuts {
			step := p.Steps[next]
			if step.Slot != s.N || step.Cut != p.Steps[next-j].Cut+j || step.Cut < 1 {
				f.add("cut %d is named slot %d cut %d", next+1, step.Slot, step.Cut)
			}
			if j > 0 {
				f.equal(fmt.Sprintf("step %d of slot %d", j, s.N), s.StepTurns[j-1], step.Turns)
			}
			next++
		}
		past := measure.Whole(0)
		if next < len(p.Steps) {
			past = p.Steps[next].Turns
		}
		f.equal(fmt.Sprintf("turns past slot %d", s.N), s.PastTurns, past)
	}
	if next != len(p.Steps) {
		f.add("the slots hold %d cuts, %d are listed", next, len(p.Steps))
	}
}

// sizes compares slot, pin, fit and period with each other and with the cuts
// of a full slot.
func (f *faults) sizes(p jigplan.Program) {
	if !p.Regular {
		return
	}
	f.equal("slot plus pin", p.Slot.Add(p.Pin), p.Period)
	f.equal("fit", p.Fit, p.Slot.Sub(p.Pin))
	f.equal("twice the finger", p.Finger.Times(2), p.Period)
	f.equal("twice the spacer", p.Spacer.Times(2), p.Period)
	for i, s := range p.Slots {
		f.equal(fmt.Sprintf("width of slot %d", s.N), s.Width, p.Slot)
		outer := i == 0 || i == len(p.Slots)-1
		if s.Cuts != p.CutsPerSlot && (!outer || s.Cuts > p.CutsPerSlot) {
			f.add("slot %d has %d cuts, a full one has %d", s.N, s.Cuts, p.CutsPerSlot)
		}
		if i+1 < len(p.Slots) {
			f.equal(fmt.Sprintf("turns past slot %d", s.N), s.PastTurns, p.PastPin)
		}
	}
}

// passes looks for fins inside slots and for slots of another width than said.
func (f *faults) passes(p jigplan.Program) {
	for i, slot := range p.Slots {
		var first, last measure.Ratio
		for j, s := range stepsOf(p, slot.N) {
			if j == 0 {
				first = s.Travel
			} else if s.Travel.Sub(last).Cmp(p.Kerf.Ratio()) > 0 {
				f.add("slot %d: a fin of %s stays before cut %d", slot.N, mm(s.Travel.Sub(last).Sub(p.Kerf.Ratio())), s.Cut)
			}
			last = s.Travel
		}
		width := last.Sub(first).Add(p.Kerf.Ratio()).Add(p.SecondPass)
		outer := i == 0 || i == len(p.Slots)-1
		if by := width.Cmp(slot.Width); by > 0 || by < 0 && !outer {
			f.add("slot %d: its cuts make it %s wide, not %s", slot.N, mm(width), mm(slot.Width))
		}
	}
}

func stepsOf(p jigplan.Program, slot int) []jigplan.Step {
	var out []jigplan.Step
	for _, s := range p.Steps {
		if s.Slot == slot {
			out = append(out, s)
		}
	}
	return out
}
