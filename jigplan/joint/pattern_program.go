package joint

import (
	"fmt"
	"slices"

	"batchwright/jigplan"
	"batchwright/orders/measure"
)

// answer writes a fitted pattern as programs, the handiest way of making row B
// first.
func (w workshop) answer(c *patternRun) PatternAnswer {
	var out PatternAnswer
	out.Features, out.PinFirst = c.seen()
	c.features = out.Features
	a, b := w.patternCard(c, jigplan.OnlyA), w.patternCard(c, jigplan.OnlyB)
	out.Candidate = Candidate{Program: a, Mate: &b, FingerError: c.miss}
	out.Mating = []Mating{ByTwoPrograms}
	if turned, ok := c.turned(); ok {
		p := w.patternCard(turned, jigplan.OnlyA)
		p.Warnings = append(p.Warnings, "all boards are cut alike: row B stands with its other edge at the stop")
		out.Turned = &p
		out.Mating = slices.Insert(out.Mating, 0, ByTurning)
	}
	if c.shift > 0 && w.q.RowA == w.q.RowB && c.spacer().Cmp(c.tallest()) <= 0 {
		out.Candidate = Candidate{Program: w.patternCard(c, jigplan.BothRows), FingerError: c.miss}
		out.Mating = slices.Insert(out.Mating, 0, BySpacer)
	}
	if far := w.wrongTravel(out.Candidate); far != "" {
		return PatternAnswer{Refused: &jigplan.Refusal{Why: far, Nearest: fmt.Sprintf("boards no higher than about the rod's travel of %s", w.say(w.q.Settings.RodTravel.Ratio()))}}
	}
	return out
}

// seen is what of the list stands on the tallest board, and whether that
// begins with a pin: the outer features of a centred list reach past the edges.
func (c *patternRun) seen() (features []measure.Ratio, pinFirst bool) {
	at := c.start
	for i, units := range c.units {
		next := at.Add(c.nominal(units))
		width := lesser(next, c.tallest()).Sub(greater(at, measure.Ratio{}))
		at = next
		if width.Cmp(c.grazeOf()) <= 0 {
			continue
		}
		if len(features) == 0 {
			pinFirst = (i%2 == 1) != c.pinFirst
		}
		features = append(features, width)
	}
	return features, pinFirst
}

// spacer is the set-back of row B that turns slots into pins.
func (c *patternRun) spacer() measure.Ratio {
	sum := measure.Ratio{}
	for i := range c.shift {
		sum = sum.Add(c.nominal(c.at(i)))
	}
	return sum
}

// patternCard is the program of one row, or of both behind the spacer.
func (w workshop) patternCard(c *patternRun, rows jigplan.Rows) jigplan.Program {
	var boards []board
	for _, b := range c.boards {
		boards = append(boards, board{b.shim, b.shim.Add(b.height.Ratio())})
	}
	slots := c.slots(rows, 0, len(c.units))
	p := jigplan.Program{
		Rows: rows, Lead: c.lead, StopsPerTurn: int(c.stops), Kerf: c.kerf.Length(), Fit: c.fitOf(),
		Finger: c.narrowest(), Slot: c.narrowest().Add(c.fitOf().Over(2)), Pin: c.narrowest().Sub(c.fitOf().Over(2)),
		Features: c.features,
		Rod:      w.rodName, KerfMeasured: w.q.Settings.KerfMeasured, MateThickness: w.q.RowB,
	}
	switch rows {
	case jigplan.OnlyB:
		p.MateThickness = w.q.RowA
	case jigplan.BothRows:
		p.Spacer = c.spacer()
		p.Period = p.Spacer.Times(2)
		for _, b := range slices.Clone(boards) {
			boards = append(boards, board{b.low.Add(p.Spacer), b.high.Add(p.Spacer)})
		}
		slots = c.slots(jigplan.OnlyA, -c.shift, len(c.units)+2*c.shift)
	}
	writeSteps(&p, c.trim(slots, boards, c.grazeOf()))
	c.firstPass(&p)
	for _, b := range c.boards {
		p.Heights = append(p.Heights, c.heightOf(b))
	}
	p.Warnings = append(slices.Clone(w.warnings), w.cardWarnings(p)...)
	return p
}

func (c *patternRun) heightOf(b patternBoard) jigplan.Height {
	out := jigplan.Height{Height: b.height, Shim: b.shim, Layout: EdgeLayout}
	if c.start.Sign() != 0 {
		out.Layout = "centred"
	}
	out.ALow, out.AHigh = c.edgesOf(jigplan.OnlyA, b)
	out.BLow, out.BHigh = c.edgesOf(jigplan.OnlyB, b)
	out.SmallestAtAll = lesser(lesser(out.ALow.Width, out.AHigh.Width), lesser(out.BLow.Width, out.BHigh.Width))
	return out
}

// turned is the pattern laid so that a board turned edge for edge is its own
// mate: read from the other edge, slots and pins have changed places. It is
// centred, and a quarter of the fit lower, which shares the fit out evenly.
// Several heights share it only when each is centred.
func (c *patternRun) turned() (*patternRun, bool) {
	n := len(c.units)
	for i := range n {
		if c.units[i] != c.units[n-1-i] {
			return nil, false
		}
	}
	middle := c.tallest().Sub(c.length()).Over(2)
	if n%2 != 0 || !c.centred && len(c.boards) > 1 || c.start.Sub(middle).Abs().Cmp(c.grazeOf()) > 0 {
		return nil, false
	}
	t := *c
	t.start = middle.Sub(c.fitOf().Over(4))
	return &t, true
}

// nearPattern is what would work when no fit makes the pattern: the narrowest
// finger this screw can show, else another rod, blade or index.
func (w workshop) nearPattern(p Pattern) (string, []jigplan.Way) {
	if low, high := w.fitRange(); low <= high {
		narrow := measure.Frac(high, 2).Mul(w.unit())
		return fmt.Sprintf("features from %s on in steps of %s, adding up to the board's height", w.say(narrow), w.say(w.unit())), nil
	}
	ways := w.waysOut(slices.Min(p.Widths), maxFinger.Ratio())
	return textOf(ways), ways
}
