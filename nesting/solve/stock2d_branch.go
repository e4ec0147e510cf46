package solve

import "math"

// Branch and bound over the columns of the master: depth first, the fraction
// nearest a half first used one more time, then never again.

const maxDepth = 400

// brancher is one such search.
type brancher struct {
	s      *stock2d
	m      *Meter
	left   []int // copies still to cover
	used   []int // plates taken of each kind
	fixed  []cut2d
	cost   int64
	closed bool // every branch was followed or bounded
}

// branch searches the master's columns for a cheaper cover; it reports whether
// the search went through, so that none is left among these columns.
func (s *stock2d) branch(work int64) bool {
	b := &brancher{
		s: s, m: s.m.Part(work), closed: true,
		left: append([]int(nil), s.need...), used: make([]int, len(s.kinds)),
	}
	b.visit(0)
	s.m.Absorb(b.m)
	s.master.setNeed(s, s.need, make([]int, len(s.kinds)))
	return b.closed
}

// visit searches below the present node.
func (b *brancher) visit(depth int) {
	s := b.s
	if total(b.left) == 0 {
		s.accept(b.fixed)
		return
	}
	s.master.setNeed(s, b.left, b.used)
	status := s.master.lp.Solve(b.m)
	if status == LPInfeasible {
		return
	}
	if status != LPOptimal || b.m.Over() || depth > maxDepth {
		b.closed = false
		return
	}
	if !s.improves(b.cost, s.master.lp.Objective()) {
		return
	}
	k, x := b.pick()
	if k < 0 {
		b.closed = false // parts left out: no cover among the columns
		return
	}
	times := max(1, int(x+nearWhole))
	b.fix(k, times, func() { b.visit(depth + 1) })
	if x > float64(times)-nearWhole && x < float64(times)+nearWhole && times > 1 {
		times = 1
		b.fix(k, times, func() { b.visit(depth + 1) })
	}
	b.ban(k, depth)
}

// ban searches below the node with column k never used again.
func (b *brancher) ban(k, depth int) {
	if b.m.Over() {
		b.closed = false
		return
	}
	lp, col := b.s.master.lp, len(b.s.parts)+k
	lp.SetUpper(col, 0)
	b.visit(depth + 1)
	lp.SetUpper(col, NoBound)
}

// fix runs f with column k used times more.
func (b *brancher) fix(k, times int, f func()) {
	c := b.s.master.columns[k]
	c.times = times
	before := append([]int(nil), b.left...)
	for p, n := range c.made {
		b.left[p] = max(0, b.left[p]-n*times)
	}
	b.used[c.kind] += times
	b.fixed = append(b.fixed, c)
	b.cost += int64(times) * b.s.kinds[c.kind].cost
	f()
	b.cost -= int64(times) * b.s.kinds[c.kind].cost
	b.fixed = b.fixed[:len(b.fixed)-1]
	b.used[c.kind] -= times
	b.left = before
}

// pick returns the column to branch on and its value: the largest fraction, or
// any that is used when all are whole; -1 when none is.
func (b *brancher) pick() (k int, x float64) {
	k = -1
	score := 0.0
	for c := range b.s.master.columns {
		v := b.s.master.value(b.s, c)
		if v < nearWhole {
			continue
		}
		f := v - math.Floor(v+nearWhole)
		if f < nearWhole {
			f = 0
		}
		if sc := 1e-3 + f; sc > score {
			k, x, score = c, v, sc
		}
	}
	return k, x
}

// improves reports whether cost and a remaining cost of at least rest can still
// beat the best: costs are multiples of a step.
func (s *stock2d) improves(cost int64, rest float64) bool {
	step := s.costStep()
	need := cost + int64(math.Ceil((rest-1e-6)/float64(step)))*step
	return s.missing > 0 || need < s.cost
}

// costStep is the greatest common divisor of the kinds' costs.
func (s *stock2d) costStep() int64 {
	step := int64(0)
	for _, k := range s.kinds {
		a, b := step, k.cost
		for b > 0 {
			a, b = b, a%b
		}
		step = a
	}
	return step
}
