package joint

import (
	"fmt"
	"slices"

	"batchwright/orders/measure"
)

func (w workshop) wrongFit(sh shape) string {
	fit := sh.clearance()
	switch {
	case fit.Cmp(w.fitMin) < 0:
		return fmt.Sprintf("fit %s is too tight by %s", w.say(fit), w.sayMiss(w.fitMin.Sub(fit)))
	case fit.Cmp(w.fitMax) > 0:
		return fmt.Sprintf("fit %s is too loose by %s", w.say(fit), w.sayMiss(fit.Sub(w.fitMax)))
	}
	return ""
}

// Reasons that the height of the boards cannot mend: a finger too narrow for
// the blade, a step too wide for it.
const (
	oneCut   = "even one cut"
	finsStay = "fins are left between passes"
)

// wrongForm is a slot that cannot be cleared, or a finger that cannot be had.
func (w workshop) wrongForm(sh shape, finger measure.Length, nearest bool) string {
	miss := sh.finger().Sub(finger.Ratio()).Abs()
	switch {
	case sh.fins():
		return fmt.Sprintf("the smallest step %s leaves less than %s of overlap under a kerf of %s: "+finsStay,
			w.say(sh.unit()), w.say(sh.overlap), w.say(sh.kerf))
	case nearest && miss.Cmp(sh.unit().Over(2)) > 0:
		return fmt.Sprintf(oneCut+" makes a finger of %s, more than half a step from %s", w.say(sh.finger()), w.say(finger.Ratio()))
	}
	return ""
}

func (w workshop) wrongHeight(sh shape) string {
	if least := slices.Min(w.q.Heights).Ratio(); least.Cmp(sh.period()) < 0 {
		return fmt.Sprintf("height %s is under two fingers: at least %s, or a finger of at most %s",
			w.say(least), w.say(sh.period()), w.say(least.Over(2)))
	}
	return ""
}

func (w workshop) wrongTravel(c Candidate) string {
	for _, p := range c.Programs() {
		if rod := w.q.Settings.RodTravel.Ratio(); p.Travel.Cmp(rod) > 0 {
			return fmt.Sprintf("the carriage must travel %s, and the rod allows %s: make the boards %s lower",
				w.say(p.Travel), w.say(rod), w.say(p.Travel.Sub(rod)))
		}
	}
	return ""
}

// why words a refusal: the two fits on either side where none is legal, else
// what is wrong with the best neighbour whose fit would do.
func (w workshop) why(low, high int64, finger measure.Length, near []Candidate) string {
	if low > high {
		tight, loose := w.fit(high+1), w.fit(high)
		return fmt.Sprintf("%s with a kerf of %s and %s has no fit from %s to %s: %s is too tight by %s, next is %s, too loose by %s",
			w.rodName, w.say(w.kerf), stopsOf(w.stops), w.say(w.fitMin), w.say(w.fitMax),
			w.say(tight), w.sayMiss(w.fitMin.Sub(tight)), w.say(loose), w.sayMiss(loose.Sub(w.fitMax)))
	}
	for _, c := range near {
		if fit := c.Program.Fit; fit.Cmp(w.fitMin) >= 0 && fit.Cmp(w.fitMax) <= 0 {
			return c.Why
		}
	}
	return fmt.Sprintf("no whole number of steps of %s makes a finger near %s", w.say(w.unit()), w.say(finger.Ratio()))
}
