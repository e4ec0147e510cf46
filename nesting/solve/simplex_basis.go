package solve

import "math"

// computeValues sets the basic variables from the right-hand side, what the
// columns at their upper bound take, and the inverse.
func (m *Master) computeValues() {
	need := append(m.ratioRow[:0], m.rhs...)
	m.ratioRow = need
	for j, s := range m.column {
		if s == atUpper {
			for _, e := range m.cols[j] {
				need[e.Index] -= e.Value * m.upper[j]
			}
		}
	}
	for p, row := range m.inverse {
		sum := 0.0
		for r, v := range row {
			sum += v * need[r]
		}
		m.value[p] = sum
	}
}

// computeDuals sets the duals from the costs in force and the inverse.
func (m *Master) computeDuals() {
	clear(m.dual)
	for p, v := range m.basis {
		c := m.costOf(v)
		if c == 0 {
			continue
		}
		for r, a := range m.inverse[p] {
			m.dual[r] += c * a
		}
	}
}

// enteringColumn sets m.work to the inverse times the variable's column.
func (m *Master) enteringColumn(v variable) {
	if v < 0 {
		for p, row := range m.inverse {
			m.work[p] = -row[^v]
		}
		return
	}
	entries := m.cols[v]
	for p, row := range m.inverse {
		sum := 0.0
		for _, e := range entries {
			sum += row[e.Index] * e.Value
		}
		m.work[p] = sum
	}
}

// pivot brings a variable into the basis at a position, m.work being its
// entering column, and leaves the one that was there at the given bound.
func (m *Master) pivot(p int, enter variable, leaveAt state) {
	m.setState(m.basis[p], leaveAt)
	m.basis[p] = enter
	m.setState(enter, state(p))
	eliminate(m.inverse, m.work, p)
	m.pivots++
}

// eliminate applies to the rows the elimination that turns column w into the
// unit vector of position p.
func eliminate(rows [][]float64, w []float64, p int) {
	pivotRow := rows[p]
	inv := 1 / w[p]
	nonzero := make([]int, 0, len(pivotRow))
	for r, v := range pivotRow {
		if v != 0 {
			pivotRow[r] = v * inv
			nonzero = append(nonzero, r)
		}
	}
	sparse := 3*len(nonzero) < len(pivotRow)
	for i, row := range rows {
		f := w[i]
		if i == p || f == 0 {
			continue
		}
		if sparse {
			for _, r := range nonzero {
				row[r] -= f * pivotRow[r]
			}
			continue
		}
		row = row[:len(pivotRow)]
		for r, v := range pivotRow {
			row[r] -= f * v
		}
	}
}

// refactor computes the inverse of the basis matrix afresh, column by column
// with the largest pivot, and reports whether the meter allowed it. A column
// that depends on the others is replaced by a surplus.
func (m *Master) refactor(meter *Meter) bool {
	return m.startFrom(append([]variable(nil), m.basis...), meter)
}

// StartFrom makes the given columns basic, as far as they are independent, and
// all others nonbasic at zero: a basis that was good for a similar master is a
// good start for this one. It reports whether the meter allowed it.
func (m *Master) StartFrom(cols []int, meter *Meter) bool {
	for j := range m.column {
		m.column[j] = atLower
	}
	vars := make([]variable, len(cols))
	for i, j := range cols {
		vars[i] = variable(j)
	}
	return m.startFrom(vars, meter)
}

func (m *Master) startFrom(old []variable, meter *Meter) bool {
	n := len(m.rhs)
	for p := range m.inverse {
		clear(m.inverse[p])
		m.inverse[p][p] = -1
		m.basis[p] = ^variable(p)
		m.surplus[p] = state(p)
	}
	held := make([]bool, n) // positions that have their final variable
	for _, v := range old {
		if v < 0 {
			held[^v] = true
		}
	}
	for _, v := range old {
		if v < 0 {
			continue
		}
		if !meter.Spend(int64(n) * int64(n) / 8) {
			// Leave a basis that is whole: the rest of the columns go to their bound.
			m.column[v] = atLower
			continue
		}
		m.enteringColumn(v)
		best, p := pivotTol, -1
		for i, w := range m.work {
			if !held[i] && math.Abs(w) > best {
				best, p = math.Abs(w), i
			}
		}
		if p < 0 {
			m.column[v] = atLower
			continue
		}
		held[p] = true
		m.pivot(p, v, atLower)
	}
	m.pivots = 0
	return !meter.Over()
}

// accurate reports whether the basic values still satisfy the rows they were
// computed from.
func (m *Master) accurate() bool {
	left := append([]float64(nil), m.rhs...)
	for j := range m.cols {
		if x := m.Primal(j); x != 0 {
			for _, e := range m.cols[j] {
				left[e.Index] -= e.Value * x
			}
		}
	}
	for r, s := range m.surplus {
		if s >= 0 {
			left[r] += m.value[s]
		}
		if math.Abs(left[r]) > 1e-6*(1+math.Abs(m.rhs[r])) {
			return false
		}
	}
	return true
}
