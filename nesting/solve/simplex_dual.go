package solve

import "math"

// raiseCosts makes the basis dual feasible: a variable whose reduced cost has
// the wrong sign goes to its other bound where it has one, else its cost is
// raised until the reduced cost is zero.
func (m *Master) raiseCosts() {
	m.computeDuals()
	moved := false
	for j, s := range m.column {
		if s >= 0 {
			continue
		}
		d := m.ReducedCost(j)
		switch {
		case s == atUpper && d > priceTol:
			m.column[j] = atLower
			moved = true
		case s == atLower && d < -priceTol && m.upper[j] < NoBound:
			m.column[j] = atUpper
			moved = true
		case s == atLower && d < 0:
			m.shift[j] = -d
		}
	}
	for r, s := range m.surplus {
		if s == atLower && m.dual[r] < 0 {
			m.lift[r] = -m.dual[r]
		}
	}
	if moved {
		m.computeValues()
	}
}

// restoreCosts puts the true costs back in force.
func (m *Master) restoreCosts() {
	clear(m.shift)
	clear(m.lift)
}

// dualMethod brings a dual feasible basis to primal feasibility.
func (m *Master) dualMethod(meter *Meter) LPStatus {
	fresh := m.pivots == 0
	for {
		if !meter.Spend(m.pivotWork()) {
			return LPStopped
		}
		p := m.leavingPosition()
		if p < 0 {
			return LPOptimal
		}
		enter, found := m.dualRatioTest(p)
		if !found {
			if fresh {
				return LPInfeasible
			}
			if !m.refactor(meter) { // be sure that it is no rounding error
				return LPStopped
			}
			fresh = true
			m.computeValues()
			m.restoreCosts()
			m.raiseCosts()
			continue
		}
		fresh = false
		m.enteringColumn(enter)
		target, leaveAt := 0.0, atLower
		if m.value[p] > 0 {
			target, leaveAt = m.upperOf(m.basis[p]), atUpper
		}
		m.move(enter, p, (m.value[p]-target)/m.work[p], leaveAt)
		if m.pivots >= refactorAt {
			if !m.refactor(meter) {
				return LPStopped
			}
			m.computeValues()
			m.restoreCosts()
			m.raiseCosts()
		}
	}
}

// leavingPosition returns the position that is furthest outside its bounds, -1
// when none is.
func (m *Master) leavingPosition() int {
	worst, at := 0.0, -1
	for p := range m.basis {
		if v := math.Abs(m.violation(p)); v > worst {
			worst, at = v, p
		}
	}
	return at
}

// dualRatioTest picks the variable to enter for the one that leaves at p: the
// one whose reduced cost is first to reach zero, the largest pivot among ties.
func (m *Master) dualRatioTest(p int) (enter variable, found bool) {
	row := m.inverse[p]
	sign := 1.0 // the leaving variable has to rise
	if m.value[p] > 0 {
		sign = -1
	}
	bestRatio, bestPivot := math.Inf(1), 0.0
	consider := func(v variable, s state, alpha, d float64) {
		if s == atUpper {
			alpha, d = -alpha, -d
		}
		alpha *= -sign
		if alpha <= pivotTol {
			return
		}
		ratio := math.Max(d, 0) / alpha
		if ratio < bestRatio-1e-11 || ratio < bestRatio+1e-11 && alpha > bestPivot {
			bestRatio, bestPivot, enter, found = math.Min(ratio, bestRatio), alpha, v, true
		}
	}
	for r, s := range m.surplus {
		if s < 0 && row[r] != 0 {
			consider(^variable(r), s, -row[r], m.lift[r]+m.dual[r])
		}
	}
	for j, s := range m.column {
		if s >= 0 || m.upper[j] == 0 {
			continue
		}
		alpha, d := 0.0, m.cost[j]+m.shift[j]
		for _, e := range m.cols[j] {
			alpha += row[e.Index] * e.Value
			d -= m.dual[e.Index] * e.Value
		}
		consider(variable(j), s, alpha, d)
	}
	return enter, found
}
