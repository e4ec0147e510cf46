package solve

import "slices"

// Term is one entry of a sparse row or column.
type Term struct {
	Index int
	Value float64
}

// Master is the restricted master problem of a column generation:
//
//	minimise c x   subject to   A x >= b,   0 <= x <= upper,
//
// with columns and rows added as they are found. It keeps its basis between
// solves, so that a few new columns, a cut or a changed right-hand side cost a
// few pivots. Floating point: nothing it returns is a proof, see DualBound.
//
// It is a revised simplex with an explicit inverse (G. B. Dantzig, Linear
// Programming and Extensions, 1963, chapters 9 and 18; the dual method after
// C. E. Lemke, Naval Research Logistics Quarterly 1, 1954, from memory).
type Master struct {
	cost  []float64 // of the columns
	upper []float64 // of the columns
	cols  [][]Term  // of the columns: Index is a row
	rhs   []float64

	basis    []variable  // the basic variable of each position
	inverse  [][]float64 // of the basis matrix: position x row
	value    []float64   // of the basic variables
	dual     []float64   // of the rows
	column   []state     // of the columns
	surplus  []state     // of the rows' surplus variables
	shift    []float64   // added to a column's cost while the dual method runs
	lift     []float64   // the same for surplus variables
	pivots   int         // since the last factorisation
	work     []float64   // entering column, basis x row scratch
	ratioRow []float64   // scratch of the dual method
}

// variable names a column by its index, the surplus of row r as ^r.
type variable int

// state is where a variable stands: its position in the basis, or at a bound.
type state int

const (
	atLower state = -1
	atUpper state = -2
)

// LPStatus is how a solve of the master ended.
type LPStatus int

// A solve ends optimal, without a feasible point, or stopped by its meter or by
// numbers it cannot handle.
const (
	LPOptimal LPStatus = iota
	LPInfeasible
	LPStopped
)

const (
	priceTol    = 1e-9  // a reduced cost this near zero is zero
	feasibleTol = 1e-9  // a basic value this far outside its bounds is inside
	pivotTol    = 1e-8  // no pivot on less
	refactorAt  = 500   // pivots between two factorisations
	NoBound     = 1e300 // an upper bound that never binds
)

// NewMaster returns the master with one row for each right-hand side, all of
// the form (row) >= rhs, and no columns.
func NewMaster(rhs []float64) *Master {
	n := len(rhs)
	m := &Master{
		rhs: slices.Clone(rhs), inverse: make([][]float64, n), basis: make([]variable, n), surplus: make([]state, n),
		dual: make([]float64, n), lift: make([]float64, n), value: make([]float64, n), work: make([]float64, n),
	}
	wide := n + 8 // room for rows added later
	all := make([]float64, n*wide)
	for r := range rhs {
		m.inverse[r] = all[r*wide : r*wide+n : (r+1)*wide]
		m.inverse[r][r] = -1
		m.surplus[r], m.basis[r] = state(r), ^variable(r)
	}
	return m
}

// Rows and Columns return the size of the master.
func (m *Master) Rows() int { return len(m.rhs) }

// Columns returns how many columns were added.
func (m *Master) Columns() int { return len(m.cols) }

// AddColumn adds a column (entries by row, each row at most once) and returns
// its index. It starts at zero, so the basis stays as it is.
func (m *Master) AddColumn(cost, upper float64, entries []Term) int {
	m.cost = append(m.cost, cost)
	m.upper = append(m.upper, upper)
	m.cols = append(m.cols, append([]Term(nil), entries...))
	m.column = append(m.column, atLower)
	m.shift = append(m.shift, 0)
	return len(m.cols) - 1
}

// AddRow adds the row (entries by column) >= rhs and returns its index. Its
// surplus enters the basis, which stays dual feasible if it was.
func (m *Master) AddRow(rhs float64, entries []Term) int {
	r := len(m.rhs)
	last := make([]float64, r+1)
	for _, e := range entries {
		m.cols[e.Index] = append(m.cols[e.Index], Term{r, e.Value})
		if p := m.column[e.Index]; p >= 0 {
			for k, v := range m.inverse[p] {
				last[k] += e.Value * v
			}
		}
	}
	last[r] = -1
	for p := range m.inverse {
		m.inverse[p] = append(m.inverse[p], 0)
	}
	m.inverse = append(m.inverse, last)
	m.rhs = append(m.rhs, rhs)
	m.dual = append(m.dual, 0)
	m.lift = append(m.lift, 0)
	m.value = append(m.value, 0)
	m.work = append(m.work, 0)
	m.surplus = append(m.surplus, state(r))
	m.basis = append(m.basis, ^variable(r))
	return r
}

// SetRHS changes a row's right-hand side.
func (m *Master) SetRHS(row int, rhs float64) { m.rhs[row] = rhs }

// SetUpper changes a column's upper bound.
func (m *Master) SetUpper(col int, upper float64) {
	m.upper[col] = upper
	if upper >= NoBound && m.column[col] == atUpper {
		m.column[col] = atLower
	}
}

// Primal returns the value of a column after a solve.
func (m *Master) Primal(col int) float64 {
	switch p := m.column[col]; p {
	case atLower:
		return 0
	case atUpper:
		return m.upper[col]
	default:
		return m.value[p]
	}
}

// Dual returns the dual value of a row after a solve, at least zero but for
// rounding.
func (m *Master) Dual(row int) float64 { return m.dual[row] }

// Basic reports whether a column is in the basis.
func (m *Master) Basic(col int) bool { return m.column[col] >= 0 }

// ReducedCost returns the reduced cost of a column after a solve.
func (m *Master) ReducedCost(col int) float64 {
	d := m.cost[col]
	for _, e := range m.cols[col] {
		d -= m.dual[e.Index] * e.Value
	}
	return d
}

// Objective returns the cost of the present point.
func (m *Master) Objective() float64 {
	z := 0.0
	for j, c := range m.cost {
		if m.column[j] != atLower {
			z += c * m.Primal(j)
		}
	}
	return z
}

// Solve brings the master to optimality from whatever basis it has: the dual
// method where the point is infeasible, on costs raised until it may start,
// then the primal method on the true costs.
func (m *Master) Solve(meter *Meter) LPStatus {
	if m.pivots > refactorAt*4/5 && !m.refactor(meter) {
		return LPStopped
	}
	for try := 0; ; try++ {
		m.computeValues()
		if !m.feasible() {
			m.raiseCosts()
			status := m.dualMethod(meter)
			m.restoreCosts()
			if status != LPOptimal {
				return status
			}
		}
		m.computeDuals()
		if status := m.primalMethod(meter); status != LPOptimal || m.accurate() || try == 2 {
			return status
		}
		if !m.refactor(meter) {
			return LPStopped
		}
	}
}

// feasible reports whether every basic value is within its bounds.
func (m *Master) feasible() bool {
	for p := range m.basis {
		if m.violation(p) != 0 {
			return false
		}
	}
	return true
}

// violation returns how far the variable at a position is below zero (negative)
// or above its upper bound (positive), 0 when inside.
func (m *Master) violation(p int) float64 {
	if v := m.value[p]; v < -feasibleTol {
		return v
	} else if u := m.upperOf(m.basis[p]); v > u+feasibleTol {
		return v - u
	}
	return 0
}

func (m *Master) upperOf(v variable) float64 {
	if v < 0 {
		return NoBound
	}
	return m.upper[v]
}

func (m *Master) costOf(v variable) float64 {
	if v < 0 {
		return m.lift[^v]
	}
	return m.cost[v] + m.shift[v]
}

func (m *Master) setState(v variable, s state) {
	if v < 0 {
		m.surplus[^v] = s
	} else {
		m.column[v] = s
	}
}

// reduced returns the reduced cost of a variable under the costs in force.
func (m *Master) reduced(v variable) float64 {
	if v < 0 {
		return m.lift[^v] + m.dual[^v]
	}
	return m.ReducedCost(int(v)) + m.shift[v]
}
