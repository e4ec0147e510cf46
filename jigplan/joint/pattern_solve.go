package joint

import (
	"fmt"
	"slices"

	"batchwright/jigplan"
	"batchwright/orders/measure"
)

// Mating is how a pattern's row B is made.
type Mating string

// The ways to make row B, from the handiest to the one that always works.
const (
	BySpacer      Mating = "by spacer"       // A and B in one stack: shifted, the pattern is its own opposite
	ByTurning     Mating = "by turning"      // all boards alike, B with its other edge at the stop
	ByTwoPrograms Mating = "by two programs" // at one height of the blade, no spacer
)

// PatternAnswer is a pattern on this rod and blade.
type PatternAnswer struct {
	Features  []measure.Ratio  // of the tallest board, nominal width of each: slot less, pin plus half the fit
	PinFirst  bool             // row A shows a pin at its marked edge
	Mating    []Mating         // every way that works, the handiest first
	Candidate Candidate        // by spacer, else by two programs
	Turned    *jigplan.Program // the one program of boards that are all alike; nil: not possible
	Refused   *jigplan.Refusal // then the rest is empty
}

// SolvePattern fits a pattern to the index: every feature becomes a whole
// number of units, and row B's slots are as much wider than row A's pins as
// everywhere else, so the fit is one for all. A feature needs room for one
// cut in the row that shows it as a slot. Lower boards show what their height
// holds of the tallest one's pattern: from the marked edge, or of a centred
// one its middle.
func SolvePattern(q Request, p Pattern) (PatternAnswer, error) {
	w, err := q.workshop()
	if err != nil {
		return PatternAnswer{}, err
	}
	var best *patternRun
	low, high := w.fitRange()
	no := refusal{why: w.why(low, high, q.Finger, nil)}
	for m := low; m <= high; m++ {
		c, wrong := w.pattern(p, m)
		if wrong.why != "" {
			no = wrong
			continue
		}
		if best == nil || c.miss.Cmp(best.miss) < 0 {
			best = c
		}
	}
	if shim, ok := w.shimFor(w.fit(high + 1)); ok && low > high && w.q.Settings.SecondPass == "yes" {
		w.widen = shim
		if best, no = w.pattern(p, high+1); no.why != "" {
			best = nil
		}
	}
	if best == nil {
		if no.nearest == "" {
			no.nearest, no.ways = w.nearPattern(p)
		}
		return PatternAnswer{Refused: &jigplan.Refusal{Why: no.why, Nearest: no.nearest, Ways: no.ways}}, nil
	}
	return w.answer(best), nil
}

// SolveNamed fits a pattern given in words. Where it leaves fingers unnamed
// and none is asked for, they are the usual one nearest half the side's
// thickness that fits.
func SolveNamed(q Request, text string, how measure.Reading) (PatternAnswer, error) {
	var first *PatternAnswer
	for _, finger := range q.fingers() {
		p, err := ParsePattern(text, finger, slices.Max(q.Heights), how)
		if err != nil {
			return PatternAnswer{}, err
		}
		q.Finger = finger
		a, err := SolvePattern(q, p)
		if err != nil || a.Refused == nil {
			return a, err
		}
		if first == nil {
			first = &a
		}
	}
	return *first, nil
}

// refusal is why a pattern cannot be, and where it is known what would do.
type refusal struct {
	why, nearest string
	ways         []jigplan.Way
}

// patternRun is a pattern in index units, laid on the boards.
type patternRun struct {
	screw
	m        int64
	units    []int64 // of each feature, first cut to last of the slot that shows it
	pinFirst bool
	centred  bool
	start    measure.Ratio  // nominal start of the first feature, from the tallest board's marked edge
	boards   []patternBoard // rising; the last stands at the stop
	miss     measure.Ratio  // the worst feature's error
	features []measure.Ratio
	shift    int // features after which the pattern is its own opposite; 0: never
}

// patternBoard is one board height on the run.
type patternBoard struct {
	height measure.Length
	shim   measure.Ratio
}

func (c *patternRun) tallest() measure.Ratio { return c.boards[len(c.boards)-1].height.Ratio() }

func (c *patternRun) fitOf() measure.Ratio { return c.fit(c.m) }

// nominal is a feature's width between the middles of its gaps.
func (c *patternRun) nominal(units int64) measure.Ratio {
	return c.unit().Times(2*units + c.m).Over(2)
}

// at is the unit count of feature i, also before and beyond the list.
func (c *patternRun) at(i int) int64 {
	if c.shift > 0 {
		for i < 0 {
			i += c.shift
		}
		for i >= len(c.units) {
			i -= c.shift
		}
	}
	return c.units[i]
}

// pattern fits the features to the index, or says why that cannot be.
func (w workshop) pattern(p Pattern, m int64) (*patternRun, refusal) {
	c := &patternRun{screw: w.screw, m: m, pinFirst: p.PinFirst, centred: p.Centred, boards: w.patternBoards(p.Centred)}
	c.units = c.nearestUnits(p.Widths)
	if p.Fills {
		c.units = c.filling(p)
	}
	for i, width := range p.Widths {
		units := c.units[i]
		miss := c.nominal(units).Sub(width.Ratio()).Abs()
		if !p.Fills && miss.Cmp(c.unit().Over(2)) > 0 || units+m < 1 {
			return nil, refusal{why: fmt.Sprintf("a finger of %s: even one cut makes it %s", w.say(width.Ratio()), w.say(c.nominal(0)))}
		}
		if units > 0 && c.greatestStep() < 1 {
			return nil, refusal{why: fmt.Sprintf("the smallest step %s leaves fins under a kerf of %s", w.say(c.unit()), w.say(c.kerf))}
		}
		c.miss = greater(c.miss, miss)
	}
	c.findShift(p.Repeats)
	if p.Repeats {
		c.repeat()
	}
	return c, w.layPattern(c)
}

// patternBoards stands the heights so that one run serves them all.
func (w workshop) patternBoards(centred bool) []patternBoard {
	heights := slices.Compact(slices.Sorted(slices.Values(w.q.Heights)))
	tallest := heights[len(heights)-1]
	var out []patternBoard
	for _, h := range heights {
		b := patternBoard{height: h}
		if centred {
			b.shim = (tallest - h).Ratio().Over(2)
		}
		out = append(out, b)
	}
	return out
}

// nearestUnits rounds every width for itself, in a tie to the wider.
func (c *patternRun) nearestUnits(widths []measure.Length) []int64 {
	var out []int64
	for _, width := range widths {
		out = append(out, max(0, width.Ratio().Div(c.unit()).Sub(measure.Frac(c.m-1, 2)).Floor()))
	}
	return out
}

// filling makes the widths a little wider or narrower, all alike, so that the
// list fills the tallest board: every boundary goes to the nearest step.
func (c *patternRun) filling(p Pattern) []int64 {
	sum := measure.Length(0)
	for _, width := range p.Widths {
		sum += width
	}
	widths, room := p.Widths, c.tallest()
	if p.Mirrored {
		widths, room = widths[:len(widths)/2], room.Over(2)
	}
	var out []int64
	var want, at measure.Ratio
	for _, width := range widths {
		want = want.Add(width.Ratio().Mul(c.tallest()).Over(int64(sum)))
		units := max(0, want.Sub(at).Div(c.unit()).Sub(measure.Frac(c.m-1, 2)).Floor())
		at = at.Add(c.nominal(units))
		out = append(out, units)
	}
	for ; at.Cmp(room) < 0; at = at.Add(c.unit()) {
		out[len(out)-1]++
	}
	if p.Mirrored {
		back := slices.Clone(out)
		slices.Reverse(back)
		out = append(out, back...)
	}
	return out
}

// findShift looks for an odd number of features after which slot and pin have
// changed places: then one stack with a spacer cuts both rows. A list that does
// not repeat must show it twice; otherwise any list would do, behind a spacer
// as high as the board.
func (c *patternRun) findShift(repeats bool) {
	n := len(c.units)
	for shift := 1; shift <= n; shift += 2 {
		if 2*shift > n && !repeats {
			break
		}
		same := true
		for i := range n {
			j := i + shift
			if repeats {
				j %= n
			} else if j >= n {
				break
			}
			same = same && c.units[i] == c.units[j]
		}
		if same {
			c.shift = shift
			return
		}
	}
}

// repeat writes the list again and again until it is longer than the board.
func (c *patternRun) repeat() {
	list := slices.Clone(c.units)
	for c.length().Cmp(c.tallest()) < 0 && len(c.units) < 4*maxFeatures {
		c.units = append(c.units, list...)
	}
}

func (c *patternRun) length() measure.Ratio {
	sum := measure.Ratio{}
	for _, units := range c.units {
		sum = sum.Add(c.nominal(units))
	}
	return sum
}

// slots are the slots of a row, from the marked edge of its board (row B's
// from its own). In row A's place a slot starts at its feature's nominal
// start; its mate's slot starts there too, for the other features.
func (c *patternRun) slots(row jigplan.Rows, from, to int) []slotRun {
	var out []slotRun
	at := c.start
	for i := -1; i >= from; i-- {
		at = at.Sub(c.nominal(c.at(i)))
	}
	for i := from; i < to; i++ {
		slot := (i%2 == 0) != c.pinFirst
		if slot == (row == jigplan.OnlyA) {
			out = append(out, slotRun{at, shapeOf(c.screw, c.at(i), c.m).steps})
		}
		at = at.Add(c.nominal(c.at(i)))
	}
	return out
}

// kerfWidths are a row's whole slots as stretches of its board.
func (c *patternRun) kerfWidths(row jigplan.Rows) []board {
	var out []board
	for _, t := range c.slots(row, 0, len(c.units)) {
		out = append(out, board{t.start, t.start.Add(c.width(t))})
	}
	return out
}
