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
	Features  []measure.Ratio // nominal width of each as it comes out: slot less, pin plus half the fit
	PinFirst  bool
	Mating    []Mating         // every way that works, the handiest first
	Candidate Candidate        // by spacer, else by two programs
	Turned    *jigplan.Program // the one program of boards that are all alike; nil: not possible
	Refused   *jigplan.Refusal // then the rest is empty
}

// SolvePattern fits a pattern to the index: every feature becomes a whole
// number of units, and row B's slots are as much wider than row A's pins as
// everywhere else, so the fit is one for all. A feature needs room for one
// cut in the row that shows it as a slot.
func SolvePattern(q Request, p Pattern) (PatternAnswer, error) {
	w, err := q.workshop()
	if err != nil {
		return PatternAnswer{}, err
	}
	if len(q.Heights) != 1 {
		return PatternAnswer{}, fmt.Errorf("a pattern is laid out for one height, not for %d", len(q.Heights))
	}
	var best *comb
	low, high := w.fitRange()
	why := w.why(low, high, q.Finger, nil)
	for m := low; m <= high; m++ {
		c, wrong := w.comb(p, m)
		if wrong != "" {
			why = wrong
			continue
		}
		if best == nil || c.miss.Cmp(best.miss) < 0 {
			best = c
		}
	}
	if best == nil {
		return PatternAnswer{Refused: &jigplan.Refusal{Why: why, Nearest: w.nearPattern(p)}}, nil
	}
	return w.answer(best), nil
}

// comb is a pattern in index units, laid on a board.
type comb struct {
	screw
	m        int64
	units    []int64 // of each feature, first cut to last of the slot that shows it
	pinFirst bool
	start    measure.Ratio // nominal start of the first feature, from the marked edge
	height   measure.Length
	miss     measure.Ratio // the worst feature's error
	shift    int           // features after which the pattern is its own opposite; 0: never
}

func (c *comb) fitOf() measure.Ratio { return c.fit(c.m) }

// nominal is a feature's width between the middles of its gaps.
func (c *comb) nominal(units int64) measure.Ratio {
	return c.unit().Times(2*units + c.m).Over(2)
}

// at is the unit count of feature i, also before and beyond the list.
func (c *comb) at(i int) int64 {
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

// comb fits the features to the index; wrong says why it cannot be.
func (w workshop) comb(p Pattern, m int64) (c *comb, wrong string) {
	c = &comb{screw: w.screw, m: m, pinFirst: p.PinFirst, height: w.q.Heights[0]}
	widths := p.Widths
	for _, width := range widths {
		units := max(0, width.Ratio().Div(c.unit()).Sub(measure.Frac(m-1, 2)).Floor()) // in a tie the wider
		miss := c.nominal(units).Sub(width.Ratio()).Abs()
		if miss.Cmp(c.unit().Over(2)) > 0 || units+m < 1 {
			return nil, fmt.Sprintf("a finger of %s: even one cut makes it %s", w.say(width.Ratio()), w.say(c.nominal(0)))
		}
		if units > 0 && c.greatestStep() < 1 {
			return nil, fmt.Sprintf("the smallest step %s leaves fins under a kerf of %s", w.say(c.unit()), w.say(c.kerf))
		}
		c.units = append(c.units, units)
		c.miss = greater(c.miss, miss)
	}
	c.findShift(p.Repeats)
	if p.Repeats {
		c.repeat()
	}
	return c, w.layComb(c, p)
}

// findShift looks for an odd number of features after which slot and pin have
// changed places: then one stack with a spacer cuts both rows. A list that does
// not repeat must show it twice; otherwise any list would do, behind a spacer
// as high as the board.
func (c *comb) findShift(repeats bool) {
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
func (c *comb) repeat() {
	list := slices.Clone(c.units)
	for c.length().Cmp(c.height.Ratio()) < 0 && len(c.units) < 4*maxFeatures {
		c.units = append(c.units, list...)
	}
}

func (c *comb) length() measure.Ratio {
	sum := measure.Ratio{}
	for _, units := range c.units {
		sum = sum.Add(c.nominal(units))
	}
	return sum
}

// layComb puts the pattern on the board and looks at the edges.
func (w workshop) layComb(c *comb, p Pattern) (wrong string) {
	length, height := c.length(), c.height.Ratio()
	if p.Centred {
		c.start = height.Sub(length).Over(2)
	}
	if end := c.start.Add(length); end.Cmp(height.Sub(greater(c.fitOf(), measure.Ratio{}))) < 0 {
		return fmt.Sprintf("the pattern is %s long, the board %s high: add features of %s in all, or make the board %s",
			w.say(length), w.say(height), w.say(height.Sub(end)), w.say(length))
	}
	whole := []board{{measure.Ratio{}, height}}
	for _, row := range []jigplan.Rows{jigplan.OnlyA, jigplan.OnlyB} {
		if !slices.ContainsFunc(c.teeth(row, 0, len(c.units)), func(t tooth) bool { return len(c.bitten(t, whole, c.grazeOf())) > 0 }) {
			return fmt.Sprintf("row %s would have no slot on a board of %s: name at least two features that reach it", row, w.say(height))
		}
		low, high := edgesOf(c.kerfWidths(row), c.height, c.grazeOf())
		for _, e := range []jigplan.Edge{low, high} {
			if e.Width.Cmp(lesser(c.narrowest().Over(2), thinnest.Ratio())) < 0 {
				return fmt.Sprintf("height %s leaves a sliver of %s at an edge of row %s: heights that come out even are %s",
					w.say(height), w.say(e.Width), row, w.evenList(c))
			}
		}
	}
	return ""
}

func (c *comb) grazeOf() measure.Ratio { return greater(c.fitOf().Over(2), measure.Ratio{}) }

func (c *comb) narrowest() measure.Ratio { return c.nominal(slices.Min(c.units)) }

// evenList is the board heights at which the pattern ends with a whole
// feature, nearest the board.
func (w workshop) evenList(c *comb) string {
	var below, above measure.Ratio
	at := c.start
	for _, units := range c.units {
		at = at.Add(c.nominal(units))
		if at.Cmp(c.height.Ratio()) <= 0 {
			below = at
		} else if above.Sign() == 0 {
			above = at
		}
	}
	if above.Sign() == 0 {
		return w.say(below)
	}
	return w.say(below) + " and " + w.say(above)
}

// teeth are the slots of a row, from the marked edge of its board (row B's
// from its own). In row A's place a slot starts at its feature's nominal
// start; its mate's slot starts there too, for the other features.
func (c *comb) teeth(row jigplan.Rows, from, to int) []tooth {
	var out []tooth
	at := c.start
	for i := -1; i >= from; i-- {
		at = at.Sub(c.nominal(c.at(i)))
	}
	for i := from; i < to; i++ {
		slot := (i%2 == 0) != c.pinFirst
		if slot == (row == jigplan.OnlyA) {
			out = append(out, tooth{at, shapeOf(c.screw, c.at(i), c.m).steps})
		}
		at = at.Add(c.nominal(c.at(i)))
	}
	return out
}

// kerfWidths are a row's whole slots as stretches of its board.
func (c *comb) kerfWidths(row jigplan.Rows) []board {
	var out []board
	for _, t := range c.teeth(row, 0, len(c.units)) {
		out = append(out, board{t.start, t.start.Add(c.width(t))})
	}
	return out
}

// edgesOf is what slots leave at a board's two edges, grazes left out.
func edgesOf(slots []board, height measure.Length, graze measure.Ratio) (low, high jigplan.Edge) {
	h := height.Ratio()
	low, high = jigplan.Edge{Width: h}, jigplan.Edge{Width: h}
	for _, s := range slots {
		switch {
		case s.high.Cmp(graze) <= 0 || h.Sub(s.low).Cmp(graze) <= 0:
			continue
		case s.low.Sign() <= 0:
			low = jigplan.Edge{Notch: true, Width: s.high}
		case !low.Notch:
			low.Width = lesser(low.Width, s.low)
		}
		if s.high.Cmp(h) >= 0 {
			high = jigplan.Edge{Notch: true, Width: h.Sub(s.low)}
		} else {
			high = jigplan.Edge{Width: h.Sub(s.high)}
		}
	}
	return low, high
}
