package joint

import (
	"fmt"
	"slices"
	"strings"

	"batchwright/jigplan"
	"batchwright/orders/measure"
)

// maxCuts is the longest count card that is believed; beyond it the blade is
// far too thin for the finger.
const maxCuts = 4000

// solve lists the programs for one wanted finger, legal and near. With no
// legal one Refused carries the reason, not yet the way out.
func (w workshop) solve(finger measure.Length) Answer {
	a := Answer{Finger: finger, Warnings: w.warnings}
	low, high := w.fitRange()
	for m := low - 1; m <= high+1; m++ {
		for i, sh := range w.shapes(m, finger) {
			c := w.candidate(sh, finger, i == 0)
			if c.Why != "" {
				a.Near = append(a.Near, c)
				continue
			}
			a.Candidates = append(a.Candidates, c)
			if pair, ok := w.dial(sh, c); ok {
				a.Dialled = append(a.Dialled, pair)
			}
		}
	}
	slices.SortStableFunc(a.Candidates, byMerit)
	slices.SortStableFunc(a.Near, byMerit)
	slices.SortStableFunc(a.Dialled, func(x, y Pair) int { return x.FingerError.Abs().Cmp(y.FingerError.Abs()) })
	if len(a.Candidates) == 0 && w.q.Settings.SecondPass == "yes" {
		a.Candidates = w.secondPass(high+1, finger)
	}
	if len(a.Candidates) == 0 {
		a.Refused = &jigplan.Refusal{Why: w.why(low, high, finger, a.Near)}
	}
	return a
}

// fitRange is the m whose fit is legal, loosest to tightest; low is high + 1
// when there is none.
func (w workshop) fitRange() (low, high int64) {
	high = w.mFor(w.fitMin)
	low = w.kerf.Times(2).Sub(w.fitMax).Div(w.unit()).Ceil()
	return min(low, high+1), high
}

// shapes are the two fingers of fit m nearest the wanted one, the best first,
// and after them the nearest that are cut in whole turns alone.
func (w workshop) shapes(m int64, finger measure.Length) []shape {
	found := nearestShapes(w.screw, m, finger.Ratio())
	if w.stops == 1 || m%w.stops != 0 {
		return found
	}
	whole := w.screw
	whole.stops = 1
	for _, sh := range nearestShapes(whole, m/w.stops, finger.Ratio()) {
		sh = sh.onStops(w.stops)
		if sh.finger().Sub(finger.Ratio()).Abs().Cmp(w.lead.Over(2)) > 0 {
			continue
		}
		if !slices.ContainsFunc(found, sh.same) {
			found = append(found, sh)
		}
	}
	return found
}

// onStops counts a whole-turn shape in the units of a wheel with more stops.
func (sh shape) onStops(stops int64) shape {
	out := shape{screw: sh.screw, a: sh.a * stops, u: sh.u * stops}
	out.stops = stops
	for _, step := range sh.steps {
		out.steps = append(out.steps, step*stops)
	}
	return out
}

func (sh shape) same(other shape) bool {
	return sh.a == other.a && sh.u == other.u && slices.Equal(sh.steps, other.steps)
}

// candidate builds a shape's program and says what is wrong with it, if
// anything. nearest marks the best shape of its fit: a miss of more than half
// a step there means that the finger cannot be had.
func (w workshop) candidate(sh shape, finger measure.Length, nearest bool) Candidate {
	c := Candidate{FingerError: sh.finger().Sub(finger.Ratio())}
	if w.passes(sh) > maxCuts {
		c.Why = fmt.Sprintf("takes more than %d cuts", maxCuts)
		c.Program = jigplan.Program{Finger: sh.finger(), Fit: sh.clearance(), CutsPerSlot: sh.cuts()}
		return c
	}
	c.Program, c.Mate = w.programs(sh, finger)
	var wrong []string
	for _, why := range []string{w.wrongFit(sh), w.wrongForm(sh, finger, nearest), w.wrongHeight(sh), w.wrongTravel(c)} {
		if why != "" {
			wrong = append(wrong, why)
		}
	}
	c.Why = strings.Join(wrong, "; ")
	return c
}

func (w workshop) passes(sh shape) int64 {
	periods := slices.Max(w.q.Heights).Ratio().Div(sh.period()).Ceil() + 2
	return periods * int64(sh.cuts())
}

// programs is the one program of a shape, or one for each row where their
// mates differ in thickness and so the blade height does.
func (w workshop) programs(sh shape, finger measure.Length) (jigplan.Program, *jigplan.Program) {
	heights := slices.Compact(slices.Sorted(slices.Values(w.q.Heights)))
	lays := make([]placement, len(heights))
	for i, h := range heights {
		lays[i] = sh.lay(w.q.Settings.Layout, w.edgeOrigin(finger), h)
	}
	if w.q.RowA == w.q.RowB {
		return w.card(stand(sh, jigplan.BothRows, heights, lays), w.q.RowB), nil
	}
	r := stand(sh, jigplan.OnlyA, heights, lays)
	a := w.card(r, w.q.RowB)
	r.rows = jigplan.OnlyB
	b := w.card(r, w.q.RowA)
	return a, &b
}

// card is a run's program with what the workshop knows of it.
func (w workshop) card(r run, mate measure.Length) jigplan.Program {
	p := r.program()
	p.Rod, p.KerfMeasured, p.MateThickness = w.rodName, w.q.Settings.KerfMeasured, mate
	if w.q.Finger > 0 {
		p.Asked = []measure.Length{w.q.Finger}
	}
	p.Warnings = append(slices.Clone(w.warnings), w.cardWarnings(p)...)
	return p
}

func (w workshop) cardWarnings(p jigplan.Program) []string {
	var out []string
	if !p.KerfMeasured {
		out = append(out, fmt.Sprintf("the kerf of %s is not measured: cut a test corner first; 0.001 in of kerf is 0.002 in of fit", w.say(p.Kerf.Ratio())))
	}
	if p.SecondPass.Sign() > 0 {
		out = append(out, fmt.Sprintf("cut the whole card twice: when it is done, stop the saw, wind back to zero, put a shim of %s between the stop and the boards, clamp again and cut every step once more; slots widen by the shim, pins thin by it", w.say(p.SecondPass)))
	}
	if p.Fit.Sign() < 0 {
		out = append(out, fmt.Sprintf("press fit, pins %s wider than their slots: softwood takes about %s; try a test corner first", w.say(p.Fit.Abs()), w.say((25*measure.Micrometre).Ratio())))
	}
	for _, h := range p.Heights {
		if h.SmallestAtAll.Cmp(thinnest.Ratio()) < 0 {
			out = append(out, fmt.Sprintf("height %s leaves %s at an edge, thinner than %s: it may break off", w.say(h.Height.Ratio()), w.say(h.SmallestAtAll), w.say(thinnest.Ratio())))
		}
	}
	return out
}

// byMerit ranks by finger error, then the trade's choice in a tie (a single
// cut, else the wider finger), then passes, then stops off the home mark.
func byMerit(x, y Candidate) int {
	p, q := x.Program, y.Program
	if by := x.FingerError.Abs().Cmp(y.FingerError.Abs()); by != 0 {
		return by
	}
	if (p.CutsPerSlot == 1) != (q.CutsPerSlot == 1) {
		return p.CutsPerSlot - q.CutsPerSlot
	}
	if by := q.Finger.Cmp(p.Finger); by != 0 {
		return by
	}
	if by := p.TotalCuts - q.TotalCuts; by != 0 {
		return by
	}
	return fractionalStops(p) - fractionalStops(q)
}

// fractionalStops counts the stops of a program where the handle is not home.
func fractionalStops(p jigplan.Program) int {
	n := 0
	for _, s := range p.Steps {
		if !s.TotalTurns.IsWhole() {
			n++
		}
	}
	return n
}
