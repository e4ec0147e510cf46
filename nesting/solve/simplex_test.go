package solve

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

// randomMaster draws a covering problem with a few rows of other shapes and a
// few bounded columns.
func randomMaster(t *rapid.T) *Master {
	rows := rapid.IntRange(1, 12).Draw(t, "rows")
	cols := rapid.IntRange(0, 25).Draw(t, "cols")
	rhs := make([]float64, rows)
	for r := range rhs {
		rhs[r] = float64(rapid.IntRange(-2, 20).Draw(t, "rhs"))
	}
	m := NewMaster(rhs)
	for r := range rows { // a costly column a row keeps it feasible
		m.AddColumn(1000, NoBound, []Term{{r, 1}})
	}
	addRandomColumns(t, m, cols)
	return m
}

func addRandomColumns(t *rapid.T, m *Master, cols int) {
	for range cols {
		var entries []Term
		for r := range m.Rows() {
			if v := rapid.IntRange(-1, 4).Draw(t, "entry"); v != 0 {
				entries = append(entries, Term{r, float64(v)})
			}
		}
		upper := NoBound
		if rapid.IntRange(0, 3).Draw(t, "bounded") == 0 {
			upper = float64(rapid.IntRange(0, 5).Draw(t, "upper"))
		}
		m.AddColumn(float64(rapid.IntRange(0, 30).Draw(t, "cost")), upper, entries)
	}
}

// checkOptimal holds the solved master to the conditions of linear programming
// duality (weak duality with equal objectives proves both sides optimal).
func checkOptimal(t *rapid.T, m *Master) {
	if status := m.Solve(NewMeter(Budget{}, 1e9)); status != LPOptimal {
		t.Fatalf("status %v", status)
	}
	activity := make([]float64, m.Rows())
	primal, dual := 0.0, 0.0
	for j := range m.Columns() {
		x := m.Primal(j)
		if x < -1e-7 || x > m.upper[j]+1e-7 {
			t.Fatalf("column %d = %g outside 0..%g", j, x, m.upper[j])
		}
		primal += m.cost[j] * x
		for _, e := range m.cols[j] {
			activity[e.Index] += e.Value * x
		}
		if d := m.ReducedCost(j); d < -1e-7 {
			if m.upper[j] >= NoBound {
				t.Fatalf("column %d has reduced cost %g", j, d)
			}
			dual += d * m.upper[j]
		}
	}
	for r, b := range m.rhs {
		if activity[r] < b-1e-6 {
			t.Fatalf("row %d: %g < %g", r, activity[r], b)
		}
		if m.Dual(r) < -1e-7 {
			t.Fatalf("row %d has dual %g", r, m.Dual(r))
		}
		dual += m.Dual(r) * b
	}
	if math.Abs(primal-dual) > 1e-5*(1+math.Abs(primal)) {
		t.Fatalf("primal %g, dual %g", primal, dual)
	}
}

// TestMasterDuality solves random masters, then changes them as a column
// generation does: columns, cuts, right-hand sides, bounds.
func TestMasterDuality(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		m := randomMaster(t)
		checkOptimal(t, m)
		for range rapid.IntRange(1, 4).Draw(t, "changes") {
			switch rapid.IntRange(0, 3).Draw(t, "change") {
			case 0:
				addRandomColumns(t, m, 3)
			case 1:
				var entries []Term
				for j := range m.Columns() {
					if v := rapid.IntRange(0, 2).Draw(t, "cut"); v > 0 {
						entries = append(entries, Term{j, float64(v)})
					}
				}
				m.AddColumn(1000, NoBound, nil)
				entries = append(entries, Term{m.Columns() - 1, 1})
				m.AddRow(float64(rapid.IntRange(0, 30).Draw(t, "cut rhs")), entries)
			case 2:
				r := rapid.IntRange(0, m.Rows()-1).Draw(t, "row")
				m.SetRHS(r, float64(rapid.IntRange(-2, 20).Draw(t, "new rhs")))
			case 3:
				j := rapid.IntRange(0, m.Columns()-1).Draw(t, "column")
				if m.cost[j] < 1000 {
					m.SetUpper(j, float64(rapid.IntRange(0, 5).Draw(t, "new upper")))
				}
			}
			checkOptimal(t, m)
		}
	})
}

// TestMasterInfeasible: a row that no column can cover.
func TestMasterInfeasible(t *testing.T) {
	m := NewMaster([]float64{1, 3})
	m.AddColumn(1, NoBound, []Term{{0, 1}})
	m.AddColumn(1, 2, []Term{{1, 1}})
	if got := m.Solve(NewMeter(Budget{}, 1e6)); got != LPInfeasible {
		t.Fatalf("status %v, want infeasible", got)
	}
}
