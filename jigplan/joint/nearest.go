package joint

import (
	"fmt"
	"slices"
	"strings"

	"batchwright/jigplan"
	"batchwright/orders/measure"
)

// CommonBlades are the kerfs of blades that are sold (full and thin kerf as
// read in a blade guide; the metric ones from memory).
var CommonBlades = []measure.Length{
	measure.Inch / 8, measure.Inch * 3 / 32, 2400 * measure.Micrometre, 2600 * measure.Micrometre,
	2800 * measure.Micrometre, 3 * measure.Millimetre, 3200 * measure.Micrometre,
}

// CommonStops are the index stops a wheel is marked or drilled for (common
// practice): whole parts of a turn that a protractor or a circle of holes gives.
var CommonStops = []int{1, 2, 3, 4, 5, 6, 8, 10, 12}

// remedy is another rod, blade or index with which a joint can be cut.
type remedy struct {
	rod    benchRod
	blade  benchBlade
	stops  int
	effort int // 1 for another index, 2 another blade, 4 another rod; added up
	best   Candidate
}

// refuse completes a refusal with the ways out.
func (w workshop) refuse(a *Answer) {
	a.Refused.Ways = w.waysOut(a.Finger, w.fallsShort(a))
	a.Refused.Nearest = textOf(a.Refused.Ways)
}

// textOf is all ways out in one line.
func textOf(ways []jigplan.Way) string {
	var all []string
	for _, way := range ways {
		text := way.Text
		if way.Setting != "" {
			text += fmt.Sprintf(" (set %s to %s)", way.Setting, way.Value)
		}
		all = append(all, text)
	}
	return strings.Join(all, "; or ")
}

// fallsShort is by how much the finger is missed with what is fitted, the fit
// being right: other tools that miss it by as much are no way out.
func (w workshop) fallsShort(a *Answer) measure.Ratio {
	short := maxFinger.Ratio()
	for _, c := range a.Near {
		if fit := c.Program.Fit; fit.Cmp(w.fitMin) >= 0 && fit.Cmp(w.fitMax) <= 0 && strings.HasPrefix(c.Why, oneCut) {
			short = lesser(short, c.FingerError.Abs())
		}
	}
	return short
}

// otherHeight is the height that would do where no tool and no usual finger
// does: what the carriage can pass, else boards that hold two fingers.
func (w workshop) otherHeight(finger measure.Length) string {
	low, high := slices.Min(w.q.Heights), slices.Max(w.q.Heights)
	if p, ok := w.tooHigh(finger, low); ok {
		return w.sayTravel(finger, p, high)
	}
	long := w // the tools that would do if the carriage went far enough
	long.q.Settings.RodTravel = 2 * maxHeight
	if r, ok := long.nearest(w.sold(), finger); ok {
		return w.sayTools(r) + ", with " + w.with(r).sayTravel(finger, r.best.Program, high)
	}
	for _, other := range nearestFirst(w.q.Settings.FingerChoices, finger) {
		if p, ok := w.tooHigh(other, low); ok {
			return "finger " + w.say(other.Ratio()) + ", with " + w.sayTravel(other, p, high)
		}
	}
	if p, ok := w.lowest(finger); ok {
		return fmt.Sprintf("boards of at least %s, with fingers of %s", w.say(p.Period), w.say(p.Finger))
	}
	return fmt.Sprintf("a finger of at most %s", w.say(low.Ratio().Over(2)))
}

// inFit are the neighbours of a finger that only the boards' height stands
// against.
func (w workshop) inFit(finger measure.Length) []jigplan.Program {
	var out []jigplan.Program
	for _, c := range w.solve(finger).Near {
		p := c.Program
		if p.Fit.Cmp(w.fitMin) >= 0 && p.Fit.Cmp(w.fitMax) <= 0 && !strings.Contains(c.Why, oneCut) && !strings.Contains(c.Why, finsStay) {
			out = append(out, p)
		}
	}
	return out
}

// tooHigh is a finger's program that only the rod's travel stands against.
func (w workshop) tooHigh(finger, low measure.Length) (jigplan.Program, bool) {
	for _, p := range w.inFit(finger) {
		if p.Period.Cmp(low.Ratio()) <= 0 {
			return p, true
		}
	}
	return jigplan.Program{}, false
}

// lowest is the program that asks for the lowest boards.
func (w workshop) lowest(finger measure.Length) (least jigplan.Program, found bool) {
	for _, wanted := range append([]measure.Length{finger}, nearestFirst(w.q.Settings.FingerChoices, finger)...) {
		for _, p := range w.inFit(wanted) {
			if !found || p.Period.Cmp(least.Period) < 0 {
				least, found = p, true
			}
		}
	}
	return least, found
}

// sayTravel is how high boards may be for the rod, and what rod these need.
func (w workshop) sayTravel(finger measure.Length, p jigplan.Program, high measure.Length) string {
	text := "a rod that lets the carriage travel " + w.say(p.Travel)
	if h, ok := w.tallest(finger, p.Period, high); ok {
		text = "boards of " + w.say(h.Ratio()) + ", or " + text
	}
	return text
}

// tallest is the greatest whole number of fingers, no higher than a height,
// that the rod's travel lets a board have.
func (w workshop) tallest(finger measure.Length, period measure.Ratio, height measure.Length) (measure.Length, bool) {
	for n := height.Ratio().Div(period).Times(2).Floor(); n >= 2; n-- {
		lower := w
		lower.q.Heights = []measure.Length{measure.Length(period.Over(2).Times(n).Floor())}
		if _, ok := lower.best(finger, maxFinger.Ratio()); ok {
			return lower.q.Heights[0], true
		}
	}
	return 0, false
}

// nearest tries every rod, blade and index of a bench: least effort first (an
// index before a blade, either or both before a rod), then by merit; the first
// of equals in the bench's own order.
func (w workshop) nearest(b bench, finger measure.Length) (best remedy, found bool) {
	return w.nearestOf(b, finger, 0, 1, 2, 3, 4, 5, 6, 7)
}

// nearestOf tries the given efforts, in this order, until one has a way out.
func (w workshop) nearestOf(b bench, finger measure.Length, efforts ...int) (best remedy, found bool) {
	for _, effort := range efforts {
		if found {
			break
		}
		for _, r := range w.changed(b, effort) {
			bound := measure.Whole(int64(maxFinger))
			if found {
				bound = best.best.FingerError.Abs()
			}
			c, ok := w.with(r).best(finger, bound)
			if ok && (!found || byMerit(c, best.best) < 0) {
				best, found = r, true
				best.best = c
			}
		}
	}
	return best, found
}

// changed lists what is so much effort away from what is fitted now.
func (w workshop) changed(b bench, effort int) []remedy {
	var out []remedy
	for i, rod := range b.rods {
		for j, blade := range b.blades {
			for k, stops := range b.stops {
				if 4*min(i, 1)+2*min(j, 1)+min(k, 1) == effort && w.overlap.Cmp(blade.kerf.Ratio()) < 0 {
					out = append(out, remedy{rod: rod, blade: blade, stops: stops, effort: effort})
				}
			}
		}
	}
	return out
}

// with is the workshop with other tools in it.
func (w workshop) with(r remedy) workshop {
	w.lead, w.kerf, w.stops, w.rodName = r.rod.Lead(), r.blade.kerf.Ratio(), int64(r.stops), r.rod.Name
	return w
}

// best is the legal candidate of highest merit whose finger misses by no more
// than the bound. Programs are built only for shapes that can still win.
func (w workshop) best(finger measure.Length, bound measure.Ratio) (Candidate, bool) {
	var best Candidate
	found := false
	low, high := w.fitRange()
	for m := low; m <= high; m++ {
		for i, sh := range w.shapes(m, finger) {
			miss := sh.finger().Sub(finger.Ratio()).Abs()
			if miss.Cmp(bound) > 0 || w.wrongForm(sh, finger, i == 0) != "" || w.wrongHeight(sh) != "" || w.tooFar(sh) {
				continue
			}
			c := w.candidate(sh, finger, i == 0)
			if c.Why == "" && (!found || byMerit(c, best) < 0) {
				best, found, bound = c, true, miss
			}
		}
	}
	return best, found
}

// tooFar reports a travel beyond the rod without building the program: the
// outer cuts lie no more than a period and a kerf inside the tallest board.
func (w workshop) tooFar(sh shape) bool {
	least := slices.Max(w.q.Heights).Ratio().Sub(sh.period()).Sub(sh.kerf)
	return least.Cmp(w.q.Settings.RodTravel.Ratio()) > 0
}

// otherFinger is the usual finger nearest the wanted one that a bench can cut.
func (w workshop) otherFinger(b bench, wanted measure.Length) (measure.Length, remedy, bool) {
	for _, finger := range nearestFirst(w.q.Settings.FingerChoices, wanted) {
		if r, ok := w.nearest(b, finger); ok {
			return finger, r, true
		}
	}
	return 0, remedy{}, false
}

func (w workshop) sayRemedy(r remedy) string {
	return fmt.Sprintf("%s: finger %s, fit %s, %d cuts", w.sayTools(r),
		w.say(r.best.Program.Finger), w.say(r.best.Program.Fit), r.best.Program.TotalCuts)
}

// sayOther words another finger, with other tools or with those that are
// fitted.
func (w workshop) sayOther(finger measure.Length, r remedy) string {
	if p := r.best.Program; r.effort == 0 && p.Finger.Cmp(finger.Ratio()) == 0 {
		return "a finger of " + w.say(p.Finger)
	}
	if r.effort == 0 {
		return fmt.Sprintf("finger %s: it comes out at %s", w.say(finger.Ratio()), w.say(r.best.Program.Finger))
	}
	return fmt.Sprintf("finger %s with %s", w.say(finger.Ratio()), w.sayRemedy(r))
}

// sayTools names what is changed and whose it is.
func (w workshop) sayTools(r remedy) string {
	var what []string
	if r.effort&4 != 0 {
		what = append(what, "rod "+r.rod.Name+w.whose(r.rod.owned))
	}
	if r.effort&2 != 0 {
		blade := "a blade"
		if r.blade.name != "" {
			blade = "blade " + r.blade.name
		}
		what = append(what, blade+" of kerf "+w.sayExact(r.blade.kerf)+w.whose(r.blade.owned))
	}
	if r.effort&1 != 0 {
		what = append(what, stopsOf(int64(r.stops)))
	}
	return strings.Join(what, " and ")
}

// whose says whether a tool lies in the shop, where that is known.
func (w workshop) whose(owned bool) string {
	switch {
	case !w.knowsShop():
		return ""
	case owned:
		return " (owned)"
	}
	return " (to be bought)"
}
