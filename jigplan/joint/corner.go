package joint

import (
	"fmt"
	"math"

	"batchwright/jigplan"
	"batchwright/orders/measure"
	"batchwright/orders/settings"
)

// Corner is what was measured on a test corner cut with a program.
type Corner struct {
	Slot    measure.Length // width of a full slot
	Over    measure.Length // from a slot's edge to the same edge of another slot; 0: not measured
	Periods int            // slots from the one to the other
}

// Calibration is what a test corner tells of blade and rod, and the one thing
// to do about it.
type Calibration struct {
	Kerf measure.Ratio // true kerf
	Lead measure.Ratio // true lead of one turn; the program's own when not measured
	Fit  measure.Ratio // what the program really gives
	Shim measure.Ratio // put at the stop to repeat one cut of every slot; 0: none
	Do   string        // the instruction
	Note string        // what the figures mean beyond this joint
}

// Measured reads a test corner: slot = kerf + a q gives the kerf, the period
// the lead. A slot in fit needs nothing; a tight one is cured by a shim of half
// the missing fit; a loose one only by another program or blade.
func Measured(p jigplan.Program, c Corner, s settings.Shop) (Calibration, error) {
	if err := c.believable(p, s); err != nil {
		return Calibration{}, err
	}
	stops := int64(p.StopsPerTurn)
	unit := p.Lead.Over(stops)
	a := p.Slot.Sub(p.SecondPass).Sub(p.Kerf.Ratio()).Div(unit)
	span := p.Period.Div(unit) // units from slot to slot
	cal := Calibration{Lead: p.Lead}
	if c.Over > 0 {
		cal.Lead = c.Over.Ratio().Over(int64(c.Periods)).Div(span).Times(stops)
	}
	unit = cal.Lead.Over(stops)
	cal.Kerf = c.Slot.Ratio().Sub(p.SecondPass).Sub(unit.Mul(a))
	cal.Fit = c.Slot.Ratio().Times(2).Sub(unit.Mul(span))
	cal.advise(p, s)
	return cal, nil
}

func (c Corner) believable(p jigplan.Program, s settings.Shop) error {
	off := func(measured, planned measure.Ratio, percent int64) bool {
		return measured.Sub(planned).Abs().Cmp(planned.Times(percent).Over(100)) > 0
	}
	switch {
	case !p.Regular:
		return fmt.Errorf("a pattern's slots differ: measure a test corner of a regular program")
	case c.Slot == 0:
		return fmt.Errorf("no slot was measured: give the width of one full slot; the program cuts %s", say(p.Slot, s.Units))
	case off(c.Slot.Ratio(), p.Slot, 25):
		return fmt.Errorf("slot %s: the program cuts %s; measure one full slot, not an edge", say(c.Slot.Ratio(), s.Units), say(p.Slot, s.Units))
	case c.Over > 0 && (c.Periods < 1 || c.Periods > 1000):
		return fmt.Errorf("%d slots from edge to edge: between 1 and 1000", c.Periods)
	case c.Over > 0 && off(c.Over.Ratio().Over(int64(c.Periods)), p.Period, 3): // a rod is never so wrong: the slots were miscounted
		return fmt.Errorf("%s over %d slots: the program makes it %s; measure from a slot's edge to the same edge of a later slot", say(c.Over.Ratio(), s.Units), c.Periods, say(p.Period.Times(int64(c.Periods)), s.Units))
	}
	return nil
}

func (cal *Calibration) advise(p jigplan.Program, s settings.Shop) {
	low, high := s.FitAtLeast.Ratio(), s.FitAtMost.Ratio()
	measured := func(r measure.Ratio) string { return say(r, s.Units) }
	cal.Note = cal.note(p, s)
	switch {
	case p.CutsPerSlot > 1 && cal.overlap(p).Cmp(s.LeastOverlap.Ratio()) < 0:
		cal.Do = fmt.Sprintf("stop: with this kerf neighboring passes overlap by %s, the minimum is %s: fins are left. Plan again with this kerf, or use another blade",
			measured(cal.overlap(p)), measured(s.LeastOverlap.Ratio()))
	case cal.Fit.Cmp(low) >= 0 && cal.Fit.Cmp(high) <= 0:
		cal.Do = fmt.Sprintf("go ahead: the fit is %s (%s)", measured(cal.Fit), FitClass(cal.Fit))
	case cal.Fit.Cmp(low) < 0:
		cal.Shim = cal.target(low, high).Sub(cal.Fit).Over(2)
		cal.Do = fmt.Sprintf("too tight, fit %s: wind back to zero, put a shim of %s at the stop and repeat the first cut of every slot: slots widen by it, pins thin by it, the fit becomes %s",
			measured(cal.Fit), measured(cal.Shim), measured(cal.Fit.Add(cal.Shim.Times(2))))
	default:
		cal.Do = fmt.Sprintf("too loose, fit %s, and one index step more past the pin makes it %s: use another blade (joint map shows which)",
			measured(cal.Fit), measured(cal.Fit.Sub(cal.Lead.Over(int64(p.StopsPerTurn)))))
		if m, ok := cal.tighter(p, low, high); ok {
			cal.Do = fmt.Sprintf("too loose, fit %s: scrap the corner and cut with %s turns past the pin instead of %s; the fit becomes %s",
				measured(cal.Fit), p.PastPin.Add(measure.Frac(m, int64(p.StopsPerTurn))), p.PastPin, measured(cal.Fit.Sub(cal.Lead.Over(int64(p.StopsPerTurn)).Times(m))))
		}
	}
}

// note is what the figures mean for the shop's settings.
func (cal *Calibration) note(p jigplan.Program, s settings.Shop) string {
	off := cal.Kerf.Sub(p.Kerf.Ratio())
	text := "the kerf is as planned"
	if off.Sign() != 0 {
		text = fmt.Sprintf("write Blade kerf %s on the Shop sheet; the planned kerf was %s: %s of kerf is twice as much of fit", say(cal.Kerf, s.Units), say(p.Kerf.Ratio(), s.Units), say(off.Abs(), s.Units))
	}
	if cal.dead(p, s) {
		text += fmt.Sprintf(". With it %s and %s have no usable fit: use another blade (joint map shows which), or cut every stack of the batch with that shim and its extra pass", p.Rod, stopsOf(int64(p.StopsPerTurn)))
	}
	if share := cal.Lead.Sub(p.Lead).Div(p.Lead).Float() * 100; math.Abs(share) >= 0.05 {
		text += fmt.Sprintf(". The lead is %+.1f%% off: measure it over at least 4 in (100 mm) before writing Lead %s", share, say(cal.Lead, s.Units))
	}
	return text
}

// dead reports whether no turns past the pin bring the true kerf into fit.
func (cal *Calibration) dead(p jigplan.Program, s settings.Shop) bool {
	low, unit := s.FitAtLeast.Ratio(), cal.Lead.Over(int64(p.StopsPerTurn))
	least := low.Add(cal.Kerf.Times(2).Sub(low).Mod(unit))
	return least.Cmp(s.FitAtMost.Ratio()) > 0
}

// overlap is what the widest step leaves between neighbouring passes.
func (cal *Calibration) overlap(p jigplan.Program) measure.Ratio {
	widest := lost{p: p}.widestStep().Div(p.Lead).Mul(cal.Lead)
	return cal.Kerf.Sub(widest)
}

// target is the fit a shim aims at: the middle of the good class, within what
// the shop accepts.
func (cal *Calibration) target(low, high measure.Ratio) measure.Ratio {
	return goodFit(low, high)
}

// tighter is how many units more past the pin bring a loose fit into range.
func (cal *Calibration) tighter(p jigplan.Program, low, high measure.Ratio) (int64, bool) {
	unit := cal.Lead.Over(int64(p.StopsPerTurn))
	m := cal.Fit.Sub(low).Div(unit).Floor()
	return m, m > 0 && cal.Fit.Sub(unit.Times(m)).Cmp(high) <= 0
}
