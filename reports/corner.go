package reports

import (
	"fmt"

	"batchwright/jigplan"
	"batchwright/orders"
	"batchwright/orders/measure"
)

// trialSlots is how many slots a test corner needs (common practice).
const trialSlots = 3

// trial is a test corner: so many slots on two pieces of scrap, and the slot
// that tells the kerf.
type trial struct {
	slots int            // of the card; all of them on boards that hold no more
	width measure.Length // scrap is no wider across the fingers, or what is not cut keeps the corner open; 0: as wide as the boards
	slot  *jigplan.Slot  // one that stands whole on a piece; nil: none does
	row   orders.Row     // whose piece that is
}

// TestCorner is the first step where a test corner is due; empty where none is.
func (c Card) TestCorner() []string {
	if c.WhyCorner() == "" {
		return nil
	}
	t := c.trial()
	wide := "as wide as the boards"
	if t.width > 0 {
		wide = fmt.Sprintf("no wider than %s across the fingers (uncut wood would keep the corner open)", c.w.Len(t.width))
	}
	run, measured, kerf := c.trialWords(t)
	then := ". Write it as Blade kerf on the Shop sheet and plan again."
	if p := c.Program; p.KerfMeasured {
		then = fmt.Sprintf(": it was %s when this was planned. Another kerf: write it as Blade kerf on the Shop sheet and plan again.", c.w.Caliper(p.Kerf.Ratio()))
	}
	return []string{
		fmt.Sprintf("Cut two pieces of scrap from the same milling as the batch, at least %s long so that they clamp safely, %s: %s.", c.w.Len(c.shop.ShortestClamp), wide, c.pieces()),
		run + measured,
		"Try the corner dry. Hand pressure should close it; too tight or too loose: do not start the batch.",
		kerf + then,
	}
}

// trialWords is what to run, what to measure, and how the kerf follows.
func (c Card) trialWords(t trial) (run, measured, kerf string) {
	p, w := c.Program, c.w
	run = "Run this card"
	if t.slots < len(p.Slots) {
		run = "Run the first three slots of this card"
	}
	if t.slot == nil {
		return run, fmt.Sprintf(", then make one single cut in another piece and measure it: it should be %s.", w.Caliper(p.Kerf.Ratio())), "Kerf = what the single cut measures"
	}
	of := ""
	if p.Rows == jigplan.BothRows {
		of = " of " + string(t.row)
	}
	measured = fmt.Sprintf(", then measure slot %d%s: it should be %s.", t.slot.N, of, w.Caliper(t.slot.Width))
	kerf = fmt.Sprintf("Kerf = what slot %d measures", t.slot.N)
	if rest := t.slot.Width.Sub(p.Kerf.Ratio()); rest.Sign() > 0 {
		kerf += " less " + w.Caliper(rest)
	}
	return run, measured, kerf
}

func (c Card) pieces() string {
	switch p := c.Program; {
	case c.Turned():
		return "one with its marked edge at the stop as A, one with its other edge as B"
	case p.Rows != jigplan.BothRows:
		return "this card cuts one, card " + p.Mate + " the other"
	}
	return "one as A, one as B behind the spacer"
}

// trial picks slots and scrap. Boards that are turned mate only when all of
// them is cut.
func (c Card) trial() trial {
	p := c.Program
	t := trial{slots: len(p.Slots)}
	piece := measure.Length(0)
	for _, h := range p.Heights {
		if h.Shim.Sign() == 0 {
			piece = max(piece, h.Height)
		}
	}
	if t.slots > trialSlots && !c.Turned() {
		t.slots = trialSlots
		t.width = roomOfTrial(p)
		if c.mate != nil && len(c.mate.Slots) > trialSlots {
			t.width = min(t.width, roomOfTrial(c.mate))
		}
		step := measure.Inch / 16
		if c.w.Unit.Metric() {
			step = measure.Millimetre
		}
		t.width -= t.width % step
		piece = t.width
	}
	for i := range p.Slots[:t.slots] {
		for _, row := range c.wholeOn(&p.Slots[i], piece) {
			if t.slot == nil || t.slot.N < 2 && p.Slots[i].N == 2 && row == orders.RowA {
				t.slot, t.row = &p.Slots[i], row
			}
		}
	}
	return t
}

// roomOfTrial is how far from a piece's edge the slots of a trial clear it,
// also of row B's piece behind the spacer.
func roomOfTrial(p *jigplan.Program) measure.Length {
	next := p.Origin
	for _, s := range p.Steps {
		if s.Slot == p.Slots[trialSlots].N {
			next = next.Add(s.Travel)
			break
		}
	}
	if p.Rows == jigplan.BothRows {
		next = next.Sub(p.Spacer)
	}
	return measure.Length(next.Floor())
}

// wholeOn is the rows whose piece shows a slot whole, wood on both sides.
func (c Card) wholeOn(slot *jigplan.Slot, piece measure.Length) []orders.Row {
	p := c.Program
	var low, high measure.Ratio
	first := true
	for _, s := range p.Steps {
		if s.Slot == slot.N {
			if first {
				low, first = p.Origin.Add(s.Travel), false
			}
			high = p.Origin.Add(s.Travel).Add(p.Kerf.Ratio())
		}
	}
	if high.Sub(low).Cmp(slot.Width) != 0 {
		return nil // passes were left out
	}
	var rows []orders.Row
	inside := func(setback measure.Ratio) bool {
		return low.Cmp(setback) > 0 && high.Sub(setback).Cmp(piece.Ratio()) < 0
	}
	if p.Rows != jigplan.OnlyB && inside(measure.Ratio{}) {
		rows = append(rows, orders.RowA)
	}
	if p.Rows == jigplan.BothRows && inside(p.Spacer) || p.Rows == jigplan.OnlyB && inside(measure.Ratio{}) {
		rows = append(rows, orders.RowB)
	}
	return rows
}
