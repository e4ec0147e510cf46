package cutting

import (
	"cmp"

	"batchwright/nesting"
	"batchwright/orders/measure"
)

// hand is a piece of board at the saw: what is planned of it, what it measures
// when every setting so far was followed, and its next cut.
type hand struct {
	n       *node
	k       int // steps made
	plan    rect
	real    rect
	endCut  bool // its low end was cut
	edgeCut bool // its low edge was cut
}

func (h *hand) fresh(a axis) bool {
	if a == alongX {
		return h.endCut
	}
	return h.edgeCut
}

// emitter writes a tree's cuts in the order they are made: rough ones first, and
// of those that can be made next the ones at the setting that is on the saw.
type emitter struct {
	w        *saw
	step     measure.Length // of the rule
	absolute bool           // settings follow the planned places, not the sizes
	nudges   []nudge        // settings that are not the nearest division
	hands    []hand
	out      []nesting.Cut
	off      measure.Length // the most that a part differs from its planned size
}

// nudge moves the setting of one cut by a division of the rule.
type nudge struct {
	cut int
	by  measure.Length
}

// cuts are numbered in the order they are made. Each is set to the size that it
// gives, on the division of the rule nearest to it; where small differences
// would add up to more than a division, to the place that is planned. Where two
// trims thinner than a division meet on one strip, one other setting is moved by
// a division.
func (w *saw) cuts() []nesting.Cut {
	if w.root == nil {
		return nil
	}
	best := w.emitted(false)
	if best.fits() {
		return best.out
	}
	better := func(e *emitter) {
		if e.off < best.off {
			best = e
		}
	}
	better(w.emitted(true))
	for cut := 0; cut < len(best.out) && !best.fits(); cut++ {
		for _, by := range []measure.Length{best.step, -best.step} {
			better(w.emitted(false, nudge{cut, by}))
			better(w.emitted(true, nudge{cut, by}))
		}
	}
	return best.out
}

func (w *saw) emitted(absolute bool, nudges ...nudge) *emitter {
	e := &emitter{w: w, step: nesting.RuleStep(w.p.set.Units), absolute: absolute, nudges: nudges}
	e.run()
	return e
}

// fits reports whether every part has its size to within a division.
func (e *emitter) fits() bool { return e.off <= e.step }

func (e *emitter) run() {
	b := e.w.s.board
	whole := rect{0, 0, b.Length, b.Width}
	e.take(e.w.root, hand{plan: whole, real: whole})
	for _, rough := range []bool{true, false} {
		for {
			next := e.next(rough)
			if next < 0 {
				break
			}
			e.make(next)
		}
	}
}

// take puts a piece that was set free at the saw, or measures it if it is done.
func (e *emitter) take(n *node, h hand) {
	if n == nil {
		return
	}
	if len(n.steps) > 0 {
		h.n, h.k = n, 0
		e.hands = append(e.hands, h)
		return
	}
	if n.offcut == nil {
		e.off = max(e.off, apart(h.real.length(), n.region.length()), apart(h.real.width(), n.region.width()))
	}
}

func apart(a, b measure.Length) measure.Length { return max(a-b, b-a) }

// setting is one cut as it is set.
type setting struct {
	kind  nesting.CutKind
	guide nesting.Guide
	ref   nesting.Reference
	set   measure.Length
}

// next is the piece that is cut next, of those whose cuts come before planing or
// after it; -1: there is none.
func (e *emitter) next(rough bool) int {
	best := -1
	var bestSet setting
	for i := range e.hands {
		h := &e.hands[i]
		if h.k == len(h.n.steps) || h.n.rough != rough {
			continue
		}
		s, _ := e.setting(h)
		if best < 0 || e.sooner(s, bestSet) {
			best, bestSet = i, s
		}
	}
	return best
}

// sooner: at the setting that is on the saw, then with the guide that is on it,
// then rips before crosscuts, then the larger setting.
func (e *emitter) sooner(a, b setting) bool {
	rank := func(s setting) int {
		if len(e.out) > 0 {
			last := &e.out[len(e.out)-1]
			switch {
			case last.Guide == s.guide && last.Set == s.set && last.Kind == s.kind && last.Reference == s.ref:
				return 0
			case last.Guide == s.guide && last.Set == s.set:
				return 1
			case last.Guide == s.guide && last.Kind == s.kind:
				return 2
			}
		}
		switch s.guide {
		case nesting.ByStraightedge:
			return 3
		case nesting.ByFence:
			return 4
		}
		return 5
	}
	if c := cmp.Compare(rank(a), rank(b)); c != 0 {
		return c < 0
	}
	return a.set > b.set
}

// setting is the next cut of a piece, and the low side of its real kerf.
func (e *emitter) setting(h *hand) (s setting, at measure.Length) {
	n, st := h.n, h.n.steps[h.k]
	lo, hi := h.plan.span(n.axis)
	realLo, realHi := h.real.span(n.axis)
	kerf := e.w.kerf(n.axis)
	g, _ := e.w.guide(n.axis, h.plan, st.at, st.trims())
	s = setting{kind: n.axis.kind(), guide: g.guide, ref: e.reference(h, g)}
	if g.far {
		want := hi - st.at - kerf
		if e.absolute {
			want = realHi - st.at - kerf
		}
		s.set = e.bites(e.onStep(want), realHi-realLo)
		return s, realHi - s.set - kerf
	}
	want := st.at - lo
	if e.absolute {
		want = st.at - realLo
	}
	s.set = e.bites(e.onStep(want), realHi-realLo)
	return s, realLo + s.set
}

// bites is a setting, or the largest at which the blade still finds wood.
func (e *emitter) bites(set, wood measure.Length) measure.Length {
	if set >= wood && set > 0 {
		return max(0, (wood-1)/e.step*e.step)
	}
	return set
}

// trims reports whether what falls below the kerf is waste or an offcut.
func (st step) trims() bool { return st.low == nil || st.low.leftover() }

// leftover reports whether no part lies on it.
func (n *node) leftover() bool {
	if n.offcut != nil {
		return true
	}
	for _, st := range n.steps {
		if st.low != nil && !st.low.leftover() {
			return false
		}
	}
	return len(n.steps) > 0 && (n.rest == nil || n.rest.leftover())
}

func (e *emitter) reference(h *hand, g guided) nesting.Reference {
	end := h.n.axis == alongX
	switch {
	case g.far && end:
		return nesting.FarEnd
	case g.far:
		return nesting.FarEdge
	case h.fresh(h.n.axis) && end:
		return nesting.FreshEnd
	case h.fresh(h.n.axis):
		return nesting.FreshEdge
	case end:
		return nesting.MarkedEnd
	}
	return nesting.MarkedEdge
}

// onStep is the division of the rule nearest to a length, or the one that the
// next cut is nudged to.
func (e *emitter) onStep(l measure.Length) measure.Length {
	set := (l + e.step/2) / e.step * e.step
	for _, n := range e.nudges {
		if n.cut == len(e.out) {
			set += n.by
		}
	}
	return max(0, set)
}

// make cuts a piece.
func (e *emitter) make(i int) {
	h := e.hands[i]
	n, st := h.n, h.n.steps[h.k]
	s, at := e.setting(&h)
	kerf := e.w.kerf(n.axis)
	from, to := h.plan.span(n.axis.other())
	c := nesting.Cut{N: len(e.out) + 1, Kind: s.kind, At: st.at, From: from, To: to, Kerf: kerf, Rough: n.rough,
		Guide: s.guide, Reference: s.ref, Set: s.set}
	lo, hi := h.plan.span(n.axis)
	realLo, realHi := h.real.span(n.axis)
	last := h.k+1 == len(n.steps)
	switch {
	case st.low == nil:
		c.Takes = at + kerf - realLo
	case last && n.rest == nil:
		c.Takes = realHi - at
	}
	e.out = append(e.out, c)
	low := h
	low.plan, low.real = h.plan.with(n.axis, lo, st.at), h.real.with(n.axis, realLo, at)
	e.take(st.low, low)
	h.plan, h.real = h.plan.with(n.axis, st.at+kerf, hi), h.real.with(n.axis, at+kerf, realHi)
	if n.axis == alongX {
		h.endCut = true
	} else {
		h.edgeCut = true
	}
	h.k++
	e.hands[i] = h
	if last {
		e.take(n.rest, h)
	}
}
