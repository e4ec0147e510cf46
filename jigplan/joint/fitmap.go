package joint

import (
	"batchwright/orders/measure"
)

// fitClasses are the trade's words for slot minus pin (common practice, in
// total, not a side).
var fitClasses = []struct {
	upTo measure.Length
	name string
}{
	{2 * measure.Inch / 1000, "tight"},
	{5 * measure.Inch / 1000, "good"},
	{10 * measure.Inch / 1000, "easy"},
}

// FitClass names a fit: "interference", "tight", "good", "easy" or "gappy".
func FitClass(fit measure.Ratio) string {
	if fit.Sign() < 0 {
		return "interference"
	}
	for _, class := range fitClasses {
		if fit.Cmp(class.upTo.Ratio()) <= 0 {
			return class.name
		}
	}
	return "gappy"
}

// Reach is what one rod, blade and index can do at any finger size: the fit
// depends on nothing else.
type Reach struct {
	Rod   Rod
	Blade measure.Length
	Stops int
	Fits  []ReachedFit // legal ones, tightest first; empty: a dead pair
	// Tight and Loose are the neighbours on either side of the legal range.
	Tight, Loose measure.Ratio
	Fins         bool // even one index step leaves fins: only single-cut slots
	// Step is the least change of finger width, Ease how far the kerf may be
	// off before the best fit is no longer legal (Thinner, Thicker).
	Step             measure.Ratio
	Thinner, Thicker measure.Ratio
}

// ReachedFit is one legal fit and the units past the pin beyond a slot's own.
type ReachedFit struct {
	Fit measure.Ratio
	M   int64
}

// Dead reports whether the pair has no usable fit at any finger size.
func (r Reach) Dead() bool { return len(r.Fits) == 0 }

// Map lists what every rod, blade and index reaches within the fits asked for.
// A kerf that changes by d changes every fit by twice d: Thinner and Thicker
// say how much of that the best fit can bear.
func Map(rods []Rod, blades []measure.Length, stops []int, fitMin, fitMax, overlap measure.Length) []Reach {
	out := make([]Reach, 0, len(rods)*len(blades)*len(stops))
	for _, rod := range rods {
		for _, blade := range blades {
			for _, n := range stops {
				s := screw{lead: rod.Lead(), stops: int64(n), kerf: blade.Ratio(), overlap: overlap.Ratio()}
				out = append(out, s.reach(rod, blade, fitMin.Ratio(), fitMax.Ratio()))
			}
		}
	}
	return out
}

func (s screw) reach(rod Rod, blade measure.Length, fitMin, fitMax measure.Ratio) Reach {
	r := Reach{Rod: rod, Blade: blade, Stops: int(s.stops), Step: s.unit(), Fins: s.greatestStep() < 1}
	high := s.mFor(fitMin)
	r.Tight = s.fit(high + 1)
	m := high
	for ; s.fit(m).Cmp(fitMax) <= 0; m-- {
		r.Fits = append(r.Fits, ReachedFit{s.fit(m), m})
	}
	r.Loose = s.fit(m)
	if !r.Dead() {
		best := r.Fits[0].Fit
		r.Thinner = best.Sub(fitMin).Over(2)
		r.Thicker = fitMax.Sub(best).Over(2)
	}
	return r
}
