package joint

import (
	"fmt"

	"batchwright/jigplan"
	"batchwright/orders/measure"
	"batchwright/orders/settings"
)

// Request is a joint to be cut.
type Request struct {
	Finger     measure.Length   // wanted; 0: the shop's sizes nearest half the side's thickness
	Heights    []measure.Length // across the fingers; all share one program
	RowA, RowB measure.Length   // thickness of each row's boards; unequal: one program a row
	Lead       measure.Ratio    // exact travel of one turn; 0: as the settings say
	Settings   settings.Shop
}

// Answer is every way to cut a joint. Candidates is empty exactly when
// Refused is not nil.
type Answer struct {
	Finger     measure.Length // the finger that was aimed at
	Candidates []Candidate    // legal, best first
	Near       []Candidate    // neighbours that are not: each says why
	Dialled    []Pair         // pairs that do without a spacer block
	Refused    *jigplan.Refusal
	Warnings   []string // of the request itself: an untabled rod
}

// Candidate is one program for both rows, or one for each.
type Candidate struct {
	Program     jigplan.Program
	Mate        *jigplan.Program // row B's own program; nil: Program cuts both rows
	FingerError measure.Ratio    // finger less the one wanted, in ticks
	Why         string           // what is wrong with it; empty: legal
}

// Best is the program to take: the first candidate's; the zero Program when
// there is none.
func (a Answer) Best() jigplan.Program {
	if len(a.Candidates) == 0 {
		return jigplan.Program{}
	}
	return a.Candidates[0].Program
}

// Programs is the candidate's one or two programs.
func (c Candidate) Programs() []jigplan.Program {
	if c.Mate == nil {
		return []jigplan.Program{c.Program}
	}
	return []jigplan.Program{c.Program, *c.Mate}
}

// Pair is a joint cut as two stacks, row B's started by turning the wheel
// instead of putting in a spacer.
type Pair struct {
	A, B        jigplan.Program
	Turns       measure.Ratio // wheel turns from A's home to B's first cut
	FingerError measure.Ratio
	Price       string // what doing without a block costs
}

// Bounds of a request. Within them exact arithmetic cannot leave 64 bits.
const (
	maxHeight  = 100 * measure.Inch
	maxKerf    = 2 * measure.Inch
	maxFinger  = 12 * measure.Inch
	maxStops   = 100
	maxOrigin  = 1000 // turns
	maxHeights = 1000
	maxRatio   = 1_000                   // denominators of a measured lead or an edge origin
	minScrew   = measure.Millimetre / 10 // the finest lead and the thinnest blade
)

// Solve lists every way to cut a joint. An error means that the request
// itself is wrong; a joint that cannot be cut is an Answer with Refused set.
func Solve(q Request) (Answer, error) {
	w, err := q.workshop()
	if err != nil {
		return Answer{}, err
	}
	var first *Answer
	for _, finger := range q.fingers() {
		a := w.solve(finger)
		if a.Refused == nil {
			return a, nil
		}
		if first == nil {
			first = &a
		}
	}
	w.refuse(first)
	return *first, nil
}

// fingers are the sizes to try, best first.
func (q Request) fingers() []measure.Length {
	if q.Finger != 0 {
		return []measure.Length{q.Finger}
	}
	side := q.RowA
	if q.Settings.SideStarts == "pin" {
		side = q.RowB
	}
	return nearestFirst(q.Settings.FingerChoices, side/2)
}

// nearestFirst orders sizes by their distance from want, the wider first in a
// tie.
func nearestFirst(sizes []measure.Length, want measure.Length) []measure.Length {
	out := append([]measure.Length(nil), sizes...)
	for i := 1; i < len(out); i++ {
		for j := i; j > 0 && distance(out[j], want) <= distance(out[j-1], want); j-- {
			out[j], out[j-1] = out[j-1], out[j]
		}
	}
	return out
}

func distance(a, b measure.Length) measure.Length { return max(a-b, b-a) }

// workshop is a request made ready: its screw, and the rules that apply.
type workshop struct {
	screw
	rodName        string
	q              Request
	fitMin, fitMax measure.Ratio
	warnings       []string
}

func (q Request) workshop() (workshop, error) {
	s := q.Settings
	w := workshop{q: q, fitMin: s.FitAtLeast.Ratio(), fitMax: s.FitAtMost.Ratio()}
	lead, err := w.readRod()
	if err != nil {
		return w, err
	}
	if err := q.check(); err != nil {
		return w, err
	}
	w.screw = screw{lead: lead, stops: int64(s.StopsPerTurn), kerf: s.BladeKerf.Ratio(), overlap: s.LeastOverlap.Ratio()}
	return w, nil
}

// readRod settles the lead: as measured, else from the designation.
func (w *workshop) readRod() (measure.Ratio, error) {
	measured := w.q.Lead
	if measured.Sign() == 0 {
		measured = w.q.Settings.Lead.Ratio()
	}
	rod, err := ParseRod(w.q.Settings.Rod)
	switch {
	case measured.Sign() == 0 && err != nil:
		return measured, err
	case measured.Sign() == 0:
		measured = rod.Lead()
	case measured.Cmp(minScrew.Ratio()) < 0 || measured.Cmp(maxLead) > 0 || measured.Den() > maxRatio:
		return measured, fmt.Errorf("a lead of %s is not possible: give the travel of one turn, such as 1/16", w.say(measured))
	}
	if err != nil || w.q.Lead.Sign() != 0 && rod.Lead().Cmp(measured) != 0 {
		w.rodName = "lead " + w.say(measured)
		return measured, nil
	}
	w.rodName = rod.Name
	if rod.Source == "" && rod.Lead().Cmp(measured) == 0 {
		w.warnings = append(w.warnings, fmt.Sprintf("rod %q is not in the thread tables: measure its lead over at least 100 mm before you use it", rod.Name))
	}
	return measured, nil
}

var maxLead = maxPitch.Ratio().Times(maxStarts)

// check finds what no joint can be made of, each with what would be right.
func (q Request) check() error {
	s := q.Settings
	switch {
	case s.StopsPerTurn < 1 || s.StopsPerTurn > maxStops:
		return fmt.Errorf("%d stops per turn: between 1 and %d", s.StopsPerTurn, maxStops)
	case s.BladeKerf < minScrew || s.BladeKerf > maxKerf:
		return fmt.Errorf("blade kerf %s: at least 0.1 mm and at most 2 in", q.say(s.BladeKerf.Ratio()))
	case s.LeastOverlap < 0 || s.LeastOverlap >= s.BladeKerf:
		return fmt.Errorf("least overlap of passes %s: at least 0 and less than the kerf %s", q.say(s.LeastOverlap.Ratio()), q.say(s.BladeKerf.Ratio()))
	case s.FitAtLeast > s.FitAtMost:
		return fmt.Errorf("fit at least %s is more than fit at most %s", q.say(s.FitAtLeast.Ratio()), q.say(s.FitAtMost.Ratio()))
	case max(s.FitAtLeast, -s.FitAtLeast, s.FitAtMost) > maxKerf:
		return fmt.Errorf("fit of %s to %s is not usual: a few thousandths of an inch are", q.say(s.FitAtLeast.Ratio()), q.say(s.FitAtMost.Ratio()))
	case q.Finger < 0 || q.Finger > maxFinger:
		return fmt.Errorf("finger %s: more than 0 and at most 12 in", q.say(q.Finger.Ratio()))
	case len(q.Heights) == 0 || len(q.Heights) > maxHeights:
		return fmt.Errorf("%d heights: between 1 and %d", len(q.Heights), maxHeights)
	}
	for _, h := range q.Heights {
		if h <= 0 || h > maxHeight {
			return fmt.Errorf("height %s: more than 0 and at most 100 in", q.say(h.Ratio()))
		}
	}
	for _, turns := range append(originsOf(s), s.EdgeOrigin) {
		if turns.Abs().Cmp(measure.Whole(maxOrigin)) > 0 || turns.Den() > maxRatio {
			return fmt.Errorf("edge origin %s turns: within %d turns either way, such as 0 or -1", turns, maxOrigin)
		}
	}
	return nil
}

func originsOf(s settings.Shop) []measure.Ratio {
	var all []measure.Ratio
	for _, turns := range s.EdgeOrigins {
		all = append(all, turns)
	}
	return all
}

// edgeOrigin is where the first full slot starts with an edge layout, in ticks.
// A second pass reaches beyond that by its shim, so that the first one starts
// where it always does.
func (w workshop) edgeOrigin(finger measure.Length) measure.Ratio {
	turns := w.q.Settings.EdgeOrigin
	if own, ok := w.q.Settings.EdgeOrigins[finger]; ok {
		turns = own
	}
	return turns.Mul(w.lead).Sub(w.widen)
}
