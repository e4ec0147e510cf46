package joint

import (
	"fmt"
	"slices"
	"strings"

	"batchwright/orders/measure"
)

// CommonBlades are the kerfs of blades that are sold (full and thin kerf as
// read in a blade guide; the metric ones from memory).
var CommonBlades = []measure.Length{
	measure.Inch / 8, measure.Inch * 3 / 32, 2400 * measure.Micrometre, 2600 * measure.Micrometre,
	2800 * measure.Micrometre, 3 * measure.Millimetre, 3200 * measure.Micrometre,
}

var commonStops = []int{1, 2, 4}

// Remedy is another rod, blade or index with which a joint can be cut.
type Remedy struct {
	Rod    string
	Lead   measure.Ratio
	Blade  measure.Length
	Stops  int
	Effort int // 1 for another index, 2 another blade, 4 another rod; added up
	Best   Candidate
}

// refuse completes a refusal with the way out.
func (w workshop) refuse(a *Answer) {
	if r, ok := w.nearest(a.Finger); ok {
		a.Refused.Nearest = w.sayRemedy(r)
		return
	}
	a.Refused.Nearest = w.otherNumber(a)
}

// nearest tries every rod, blade and index of the shop: least effort first (an
// index before a blade, either or both before a rod), then by merit; the first
// of equals in the shop's own order.
func (w workshop) nearest(finger measure.Length) (Remedy, bool) {
	var best Remedy
	found := false
	for effort := 0; effort <= 7 && !found; effort++ {
		for _, other := range w.changed(effort) {
			bound := measure.Whole(int64(maxFinger))
			if found {
				bound = best.Best.FingerError.Abs()
			}
			c, ok := other.best(finger, bound)
			if ok && (!found || byMerit(c, best.Best) < 0) {
				best = Remedy{other.rodName, other.lead, other.kerf.Length(), int(other.stops), effort, c}
				found = true
			}
		}
	}
	return best, found
}

// changed lists the workshops that are so much effort away from this one.
func (w workshop) changed(effort int) []workshop {
	var out []workshop
	for i, rod := range w.rods() {
		for j, blade := range w.blades() {
			for k, stops := range w.indexes() {
				if 4*min(i, 1)+2*min(j, 1)+min(k, 1) != effort || w.overlap.Cmp(blade.Ratio()) >= 0 {
					continue
				}
				other := w
				other.lead, other.kerf, other.stops, other.rodName = rod.Lead(), blade.Ratio(), int64(stops), rod.Name
				out = append(out, other)
			}
		}
	}
	return out
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

// rods are the shop's, its fitted one first, each lead once.
func (w workshop) rods() []Rod {
	shop := w.q.Shop.Rods
	if len(shop) == 0 {
		shop = Rods()
	}
	out := []Rod{{Name: w.rodName, Pitch: w.lead, Starts: 1}}
	for _, r := range shop {
		if !slices.ContainsFunc(out, func(o Rod) bool { return o.Lead().Cmp(r.Lead()) == 0 }) {
			out = append(out, r)
		}
	}
	return out
}

func (w workshop) blades() []measure.Length {
	shop := w.q.Shop.Blades
	if len(shop) == 0 {
		shop = CommonBlades
	}
	return union(w.q.Settings.BladeKerf, shop)
}

func (w workshop) indexes() []int {
	shop := w.q.Shop.Stops
	if len(shop) == 0 {
		shop = commonStops
	}
	return union(w.q.Settings.StopsPerTurn, shop)
}

func union[T comparable](own T, more []T) []T {
	out := []T{own}
	for _, v := range more {
		if !slices.Contains(out, v) {
			out = append(out, v)
		}
	}
	return out
}

func (w workshop) sayRemedy(r Remedy) string {
	var what []string
	if r.Lead.Cmp(w.lead) != 0 {
		what = append(what, "rod "+r.Rod)
	}
	if r.Blade.Ratio() != w.kerf {
		what = append(what, "a blade of kerf "+w.say(r.Blade.Ratio()))
	}
	if int64(r.Stops) != w.stops {
		what = append(what, stopsOf(int64(r.Stops)))
	}
	return fmt.Sprintf("%s: finger %s, fit %s, %d cuts", strings.Join(what, " and "),
		w.say(r.Best.Program.Finger), w.say(r.Best.Program.Fit), r.Best.Program.TotalCuts)
}

// otherNumber is the way out when no rod, blade or index helps: another
// finger, or what the best neighbour itself says.
func (w workshop) otherNumber(a *Answer) string {
	for _, finger := range nearestFirst(autoFingers, a.Finger) {
		if r, ok := w.nearest(finger); ok {
			if r.Effort == 0 {
				return fmt.Sprintf("finger %s: it comes out at %s", w.say(finger.Ratio()), w.say(r.Best.Program.Finger))
			}
			return fmt.Sprintf("finger %s with %s", w.say(finger.Ratio()), w.sayRemedy(r))
		}
	}
	least := slices.Min(w.q.Heights).Ratio()
	return fmt.Sprintf("a finger of at most %s and boards no higher than the rod's travel %s", w.say(least.Over(2)), w.say(w.q.Settings.RodTravel.Ratio()))
}
