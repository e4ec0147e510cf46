package solve

import "math"

// blandAfter is the number of pivots without progress after which the first
// eligible variable is taken instead of the steepest, which cannot cycle
// (R. G. Bland, Mathematics of Operations Research 2, 1977, from memory).
const blandAfter = 400

// primalMethod improves a feasible point until no reduced cost allows more.
func (m *Master) primalMethod(meter *Meter) LPStatus {
	stalled := 0
	for {
		if !meter.Spend(m.pivotWork()) {
			return LPStopped
		}
		enter, direction := m.enteringVariable(stalled > blandAfter)
		if direction == 0 {
			return LPOptimal
		}
		m.enteringColumn(enter)
		p, step, leaveAt := m.ratioTest(enter, direction, stalled > blandAfter)
		if step >= NoBound {
			return LPStopped // unbounded: no covering problem is
		}
		if step > 1e-12 {
			stalled = 0
		} else {
			stalled++
		}
		m.move(enter, p, direction*step, leaveAt)
		if m.pivots >= refactorAt {
			if !m.refactor(meter) {
				return LPStopped
			}
			m.computeValues()
			m.computeDuals()
		}
	}
}

// pivotWork estimates the steps of one pivot.
func (m *Master) pivotWork() int64 {
	n := int64(len(m.rhs))
	return n*n + 8*int64(len(m.cols)) + 64
}

// enteringVariable picks the variable with the most promising reduced cost and
// the direction it moves in; direction 0 means there is none.
func (m *Master) enteringVariable(first bool) (enter variable, direction float64) {
	best := priceTol
	for r, s := range m.surplus {
		if s == atLower && -m.dual[r] > best {
			best, enter, direction = -m.dual[r], ^variable(r), 1
			if first {
				return enter, direction
			}
		}
	}
	for j, s := range m.column {
		if s >= 0 || m.upper[j] == 0 {
			continue
		}
		d := m.ReducedCost(j)
		if s == atLower && -d > best {
			best, enter, direction = -d, variable(j), 1
		} else if s == atUpper && d > best {
			best, enter, direction = d, variable(j), -1
		}
		if first && direction != 0 {
			return enter, direction
		}
	}
	return enter, direction
}

// ratioTest returns the position that leaves when the entering variable moves,
// how far it can move, and at which bound the leaving variable ends. Position
// -1 means that the entering variable reaches its own other bound first. Among
// ties it takes the largest pivot, or the lowest variable when asked for the
// first.
func (m *Master) ratioTest(enter variable, direction float64, first bool) (p int, step float64, leaveAt state) {
	p, step = -1, m.upperOf(enter)
	for i, w := range m.work {
		w *= direction
		var limit float64
		bound := atLower
		switch {
		case w > pivotTol:
			limit = math.Max(m.value[i], 0) / w
		case w < -pivotTol && m.upperOf(m.basis[i]) < NoBound:
			limit = math.Max(m.upperOf(m.basis[i])-m.value[i], 0) / -w
			bound = atUpper
		default:
			continue
		}
		if limit > step+1e-12 {
			continue
		}
		better := limit < step-1e-12 || p < 0
		if !better && first {
			better = m.basis[i] < m.basis[p]
		} else if !better {
			better = math.Abs(w) > math.Abs(m.work[p])
		}
		if better {
			p, step, leaveAt = i, limit, bound
		}
	}
	return p, step, leaveAt
}

// move changes the entering variable by delta, and the basis at p unless p is
// -1, in which case the variable goes to its other bound.
func (m *Master) move(enter variable, p int, delta float64, leaveAt state) {
	for i, w := range m.work {
		m.value[i] -= delta * w
	}
	start := 0.0
	if enter >= 0 && m.column[enter] == atUpper {
		start = m.upper[enter]
	}
	if p < 0 {
		if start > 0 {
			m.setState(enter, atLower)
		} else {
			m.setState(enter, atUpper)
		}
		return
	}
	step := m.reduced(enter) / m.work[p]
	for r, v := range m.inverse[p] {
		m.dual[r] += step * v
	}
	m.pivot(p, enter, leaveAt)
	m.value[p] = start + delta
}
