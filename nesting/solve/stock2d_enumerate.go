package solve

const (
	enumerateKeep = 512   // fillings a size
	enumerateMost = 3_000 // columns of a kind
)

// enumerate adds every filling that a cheaper cover than the best can use: by
// the master's duals those that cost less above their worth than the gap to
// the best. With all of them known, branching among the columns is exact
// (Baldacci, Christofides and Mingozzi, Mathematical Programming 115 (2008),
// from memory). It reports whether none is missing.
func (s *stock2d) enumerate(work int64) (all bool) {
	s.master.setNeed(s, s.need, make([]int, len(s.kinds)))
	if s.master.lp.Solve(s.m) != LPOptimal {
		return false
	}
	gap := float64(s.cost-s.costStep()) - s.master.lp.Objective()
	worth := s.fullValues()
	targets, beat := s.targets()
	slack := int64(gap/float64(s.master.dearest)*priceUnits) + 8*priceSlack
	if gap < 0 || s.missing > 0 {
		return false
	}
	all = true
	for _, g := range s.groups {
		h := fillSearch{
			want: s.need, worth: worth, bonus: make([]int64, len(s.kinds)), beat: beat - slack,
			work: work, steps: 30, keep: enumerateKeep, most: enumerateMost, sizes: maxSizes, wide: true,
		}
		for k := range s.kinds {
			h.bonus[k] = beat - targets[k]
		}
		c := s.searchFillings(g, h)
		all = all && c.whole && c.exact
		for _, cut := range c.cuts {
			s.master.add(s, cut)
		}
	}
	return all
}
