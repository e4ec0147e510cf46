package joint

import (
	"slices"

	"batchwright/orders/measure"
)

// secondPass lists the programs of a fit that is too tight, m, cut twice: a
// shim at the stop widens every slot by its thickness and thins every pin by
// it, so the fit grows by twice the shim. Best first.
func (w workshop) secondPass(m int64, finger measure.Length) []Candidate {
	shim, ok := w.shimFor(w.fit(m))
	if !ok {
		return nil
	}
	w.widen = shim
	var out []Candidate
	for i, sh := range w.shapes(m, finger) {
		if c := w.candidate(sh, finger, i == 0); c.Why == "" {
			out = append(out, c)
		}
	}
	slices.SortStableFunc(out, byMerit)
	return out
}

// shimFor is the shim that brings a fit into the limits: in whole thousandths
// of an inch, or hundredths of a millimeter, where such a one does.
func (w workshop) shimFor(fit measure.Ratio) (measure.Ratio, bool) {
	want := goodFit(w.fitMin, w.fitMax).Sub(fit).Over(2)
	step := measure.Inch / 1000
	if w.q.Settings.Units.Metric() {
		step = measure.Millimetre / 100
	}
	shim := step.Ratio().Times(max(1, want.Div(step.Ratio()).Round()))
	widened := fit.Add(shim.Times(2))
	if widened.Cmp(w.fitMin) < 0 || widened.Cmp(w.fitMax) > 0 {
		shim = want
	}
	return shim, shim.Sign() > 0 && shim.Cmp(w.kerf.Sub(w.overlap)) <= 0
}

// goodFit is the fit to aim at: the middle of the good class, 0.0035 in, or
// the nearest fit within the limits (common practice).
func goodFit(low, high measure.Ratio) measure.Ratio {
	good := measure.Length(7 * measure.Inch / 2000).Ratio()
	return lesser(greater(good, low), high)
}
