package solve

import "math"

// dive rounds the relaxation to a plan: it fixes the whole part of every
// pattern's use, or where there is none the pattern used most, solves the
// relaxation of what is left, and so on until that cannot beat the best plan
// (column generation at every step keeps the patterns fitting the rest; compare
// R. Sadykov, F. Vanderbeck, A. Pessoa, I. Tahiri, E. Uchoa, INFORMS Journal on
// Computing 31, 2019, from memory).
func (s *barSearch) dive(rel relaxation) {
	part := newPartPlan(s.root)
	for len(rel.x) > 0 && !s.meter.Over() {
		before := part
		most, at := 0.0, -1
		for i, x := range rel.x {
			if times := int64(math.Floor(x + wholeTol)); times > 0 {
				part = part.fix(rel.cols[i], times)
			}
			if x > most {
				most, at = x, i
			}
		}
		if part == before {
			if at < 0 {
				return
			}
			part = part.fix(rel.cols[at], 1)
		}
		s.complete(part, (*barNode).fillLongest)
		rel = s.relax(part.node, rel.start(), s.bestCost-part.cost)
		if s.proven() || part.cost+rel.bound >= s.bestCost {
			return
		}
	}
}
