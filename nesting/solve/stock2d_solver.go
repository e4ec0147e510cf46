package solve

import "slices"

// stock2d is the state of one search.
type stock2d struct {
	stock []Stock
	parts []PlatePart
	rules Rules
	m     *Meter

	need   []int  // copies of each part that fits some plate
	short  []int  // copies of parts that fit none
	kinds  []kind // of each stock
	groups []*group

	best    []cut2d // the best solution known
	missing int     // copies it leaves out
	cost    int64
	bound   int64
	master  *master2d
	dives   int
	worth   []float64 // the parts\' values in greedy solutions
	rounds  int       // greedy solutions made
	repairs int       // small problems solved
	small   bool      // this is one
	partner *partner  // the search beside this one, nil for none
	heard   []cut2d   // fillings from it that the master does not know
}

// kind is one kind of plate.
type kind struct {
	cost  int64
	count int
}

// cut2d is a filling of one plate of a kind, times over.
type cut2d struct {
	kind  int
	times int
	plan  *plan
	made  []int
}

func newStock2D(stock []Stock, parts []PlatePart, rules Rules, m *Meter) *stock2d {
	s := &stock2d{stock: stock, parts: slices.Clone(parts), rules: rules, m: m}
	s.need, s.short = make([]int, len(parts)), make([]int, len(parts))
	for _, st := range stock {
		s.kinds = append(s.kinds, kind{cost: max(1, st.Cost), count: st.Count})
	}
	s.group()
	for k, p := range parts {
		if s.fits(p) {
			s.need[k] = max(0, p.Max)
		} else {
			s.short[k] = max(0, p.Max)
		}
	}
	s.missing = total(s.need)
	return s
}

// fits reports whether some plate can hold p, which has to have a size.
func (s *stock2d) fits(p PlatePart) bool {
	if p.Length <= 0 || p.Width <= 0 {
		return false
	}
	for _, st := range s.stock {
		if st.Count > 0 && (p.Length <= st.Length && p.Width <= st.Width ||
			p.Turn && p.Width <= st.Length && p.Length <= st.Width) {
			return true
		}
	}
	return false
}

// run searches until the cost meets the bound or the meter ends it.
func (s *stock2d) run() {
	s.bound = s.areaBound()
	if !s.small {
		s.bound = max(s.bound, s.scaleBound())
	}
	s.startGreedy()
	if s.proven() || s.m.Over() {
		return
	}
	if s.small {
		s.prove()
		return
	}
	s.runTandem(s.prove)
}

// prove raises the bound with the master's columns and dives for whole plates.
func (s *stock2d) prove() {
	s.generate()
	for round := 0; !s.proven() && !s.m.Over(); round++ {
		s.learn()
		if !s.small {
			s.repair()
		}
		if round%3 == 0 && !s.proven() {
			s.close()
		}
		if s.proven() {
			return
		}
		s.dive()
		for range 2 {
			if !s.proven() && !s.m.Over() {
				s.greedyRound()
			}
		}
	}
}

// learn adds the fillings heard of to the master.
func (s *stock2d) learn() {
	for _, c := range s.heard {
		s.master.add(s, c)
	}
	s.heard = nil
}

// close tries to settle the question among all columns that matter.
func (s *stock2d) close() {
	all := s.enumerate(workLeft(s.m) / 8)
	if s.branch(workLeft(s.m)/4) && all {
		s.bound = s.cost
	}
}

func (s *stock2d) proven() bool { return s.missing == 0 && s.cost <= s.bound }

// accept takes a solution that leaves out fewer copies or costs less.
func (s *stock2d) accept(cuts []cut2d) bool {
	cost, missing := int64(0), total(s.need)
	left := slices.Clone(s.need)
	for _, c := range cuts {
		cost += int64(c.times) * s.kinds[c.kind].cost
		for p, n := range c.made {
			got := min(left[p], n*c.times)
			left[p] -= got
			missing -= got
		}
	}
	if missing > s.missing || missing == s.missing && cost >= s.cost {
		return false
	}
	s.best, s.cost, s.missing = slices.Clone(cuts), cost, missing
	return true
}

func total(ns []int) (sum int) {
	for _, n := range ns {
		sum += n
	}
	return sum
}

// cover writes the best solution out, copies beyond the need taken off again.
func (s *stock2d) cover() Cover {
	c := Cover{Missing: slices.Clone(s.short), Bound: min(s.bound, s.cost), Stop: s.m.Why(), Work: s.m.Spent()}
	left := slices.Clone(s.need)
	for _, cut := range s.best {
		for n := cut.times; n > 0; {
			n -= c.add(s, cut, n, left)
		}
	}
	for k, n := range left {
		c.Missing[k] += n
	}
	if s.proven() {
		c.Stop = StopProven
	}
	return c
}

// add appends as many equal plates of cut as it can, at most most, and returns
// how many; a plate that adds nothing is counted and left out.
func (c *Cover) add(s *stock2d, cut cut2d, most int, left []int) int {
	made := make([]int, len(left))
	for k, n := range cut.made {
		made[k] = min(n, left[k])
		if made[k] > 0 {
			most = min(most, max(1, left[k]/made[k]))
		}
		if made[k] < n && left[k] > 0 {
			most = 1
		}
	}
	if total(made) == 0 {
		return most
	}
	excess := make([]int, len(left))
	for k, n := range made {
		excess[k] = cut.made[k] - n
		left[k] -= n * most
	}
	b := newPlainBoard(s.stock[cut.kind].Plate, s.rules)
	c.Plates = append(c.Plates, CutPlate{Stock: cut.kind, Times: most, Tree: cut.plan.without(excess).layout(b), Made: made})
	c.Cost += int64(most) * s.kinds[cut.kind].cost
	return most
}
