package solve

import "fmt"

// master2d is the master problem over known fillings: every part's copies
// covered, no more plates than in stock, at least cost. A column of its own for
// each part, dearer than any plate, stands for copies left out.
type master2d struct {
	lp       *Master
	columns  []cut2d // of the LP's columns from len(parts) on
	stockRow []int   // of each kind, -1 when unlimited
	seen     map[string]bool
	dearest  int64
}

func newMaster2D(s *stock2d) *master2d {
	rhs := make([]float64, len(s.need))
	for k, n := range s.need {
		rhs[k] = float64(n)
	}
	m := &master2d{lp: NewMaster(rhs), seen: make(map[string]bool), stockRow: make([]int, len(s.kinds)), dearest: 1}
	for k, kind := range s.kinds {
		m.dearest = max(m.dearest, kind.cost)
		m.stockRow[k] = -1
		if kind.count < total(s.need) {
			m.stockRow[k] = m.lp.AddRow(-float64(kind.count), nil)
		}
	}
	for k := range s.need {
		m.lp.AddColumn(4*float64(m.dearest), NoBound, []Term{{k, 1}})
	}
	return m
}

// add adds a filling as a column and reports whether it is new.
func (m *master2d) add(s *stock2d, c cut2d) bool {
	key := fmt.Sprint(c.kind, c.made)
	if m.seen[key] {
		return false
	}
	m.seen[key] = true
	var entries []Term
	for k, n := range c.made {
		if n > 0 {
			entries = append(entries, Term{k, float64(n)})
		}
	}
	if r := m.stockRow[c.kind]; r >= 0 {
		entries = append(entries, Term{r, -1})
	}
	m.lp.AddColumn(float64(s.kinds[c.kind].cost), NoBound, entries)
	c.times = 1
	m.columns = append(m.columns, c)
	return true
}

// value returns how often column k is used in the LP's solution.
func (m *master2d) value(s *stock2d, k int) float64 { return m.lp.Primal(len(s.parts) + k) }

// setNeed changes what is to be covered and how many plates there are.
func (m *master2d) setNeed(s *stock2d, left, used []int) {
	for k, n := range left {
		m.lp.SetRHS(k, float64(n))
	}
	for k, r := range m.stockRow {
		if r >= 0 {
			m.lp.SetRHS(r, float64(used[k]-s.kinds[k].count))
		}
	}
}
