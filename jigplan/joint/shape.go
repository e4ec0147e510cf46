// Package joint works out finger joints cut on a screw-driven carriage: from
// rod, blade and finger to programs of whole cuts and turns, or the reason
// there is none and what would work. It leaves stacking, running order and
// printing to others, and every program it makes is proved by package check.
//
// Everything is exact: positions are ratios of ticks, counted from the marked
// edge of a row A board that stands at the stop. One index unit q is the lead
// divided by the stops per turn. A slot spans a units from its first kerf to
// its last, and u units lead from there to the next slot's first kerf; so
// slot = kerf + a q, pin = u q - kerf, and fit = slot - pin = 2 kerf - m q
// with m = u - a: the fit depends on kerf, index and m alone.
package joint

import (
	"slices"

	"batchwright/orders/measure"
)

// screw is what moves and what cuts: a carriage's index unit and a blade.
type screw struct {
	lead    measure.Ratio // of one turn
	stops   int64         // index stops a turn
	kerf    measure.Ratio
	overlap measure.Ratio // least overlap of neighbouring passes
	widen   measure.Ratio // shim of a second run of the whole card: every slot is so much wider
}

func (s screw) unit() measure.Ratio { return s.lead.Over(s.stops) }

// fit is slot minus pin for m index units more past the pin than inside a slot.
func (s screw) fit(m int64) measure.Ratio {
	return s.kerf.Add(s.widen).Times(2).Sub(s.unit().Times(m))
}

// greatestStep is how many units may lie between neighbouring passes without
// leaving a fin: the overlap must remain. 0: not even one.
func (s screw) greatestStep() int64 {
	return max(0, s.kerf.Sub(s.overlap).Div(s.unit()).Floor())
}

// mFor is the m with the tightest fit that is at least the given one.
func (s screw) mFor(fitAtLeast measure.Ratio) int64 {
	return s.kerf.Times(2).Sub(fitAtLeast).Div(s.unit()).Floor()
}

// shape is one regular finger form: a units within a slot, u past the pin.
type shape struct {
	screw
	a, u  int64
	steps []int64 // units between a slot's cuts; they add up to a
}

// shapeOf splits a slot into passes, each as wide a step as the overlap lets.
// With no step possible it keeps one-unit steps, which leave fins: see fins.
func shapeOf(s screw, a, m int64) shape {
	sh := shape{screw: s, a: a, u: a + m}
	for left, g := a, max(1, s.greatestStep()); left > 0; left -= g {
		sh.steps = append(sh.steps, min(g, left))
	}
	return sh
}

func (sh shape) m() int64                 { return sh.u - sh.a }
func (sh shape) slot() measure.Ratio      { return sh.kerf.Add(sh.widen).Add(sh.unit().Times(sh.a)) }
func (sh shape) pin() measure.Ratio       { return sh.unit().Times(sh.u).Sub(sh.kerf).Sub(sh.widen) }
func (sh shape) period() measure.Ratio    { return sh.unit().Times(sh.a + sh.u) }
func (sh shape) finger() measure.Ratio    { return sh.period().Over(2) }
func (sh shape) clearance() measure.Ratio { return sh.slot().Sub(sh.pin()) }
func (sh shape) cuts() int                { return len(sh.steps) + 1 }

// fins reports whether neighbouring passes would leave slivers between them.
func (sh shape) fins() bool {
	return len(sh.steps) > 0 && slices.Max(sh.steps) > sh.greatestStep()
}

// graze is how much a slot may take off a board's outer edge and still be no
// notch: half the fit, by which mating slots are wider than half the period.
func (sh shape) graze() measure.Ratio {
	half := sh.clearance().Over(2)
	if half.Sign() < 0 {
		return measure.Ratio{}
	}
	return half
}

// nearestShapes are the shapes of fit m whose finger lies nearest the wanted
// one from below and from above (one of them when the nearest is a single
// cut that is already too wide). The best comes first.
func nearestShapes(s screw, m int64, finger measure.Ratio) []shape {
	want := finger.Div(s.unit()).Sub(measure.Frac(m, 2))
	low := want.Floor()
	var found []shape
	for _, a := range []int64{low, low + 1} {
		if a < 0 || a > low && want.IsWhole() {
			continue
		}
		if sh := shapeOf(s, a, m); sh.pin().Sign() > 0 && sh.u > 0 {
			found = append(found, sh)
		}
	}
	if len(found) == 0 && low < 0 {
		if sh := shapeOf(s, 0, m); sh.pin().Sign() > 0 && sh.u > 0 {
			found = append(found, sh)
		}
	}
	if len(found) == 2 && closer(found[1], found[0], finger) {
		found[0], found[1] = found[1], found[0]
	}
	return found
}

// closer reports whether x serves the wanted finger better than y: the nearer;
// in a tie the one cut with a single pass, else the wider (this is the trade's
// own choice in the nominal 1/8 and 1/4 programs).
func closer(x, y shape, finger measure.Ratio) bool {
	ex, ey := x.finger().Sub(finger).Abs(), y.finger().Sub(finger).Abs()
	if by := ex.Cmp(ey); by != 0 {
		return by < 0
	}
	if (x.a == 0) != (y.a == 0) {
		return x.a == 0
	}
	return x.finger().Cmp(y.finger()) > 0
}
