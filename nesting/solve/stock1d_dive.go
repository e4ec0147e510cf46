package solve

import "math"

// dive rounds the relaxation to a plan: it fixes the whole part of every
// pattern's use, else once the pattern nearest its next whole number, solves the
// relaxation of what is left, and so on until nothing is.
func (s *barSearch) dive(n *barNode, rel relaxation) {
	var fixed []usedColumn
	cost := int64(0)
	for {
		any := false
		next := n
		for i, x := range rel.x {
			if times := int64(math.Floor(x + 1e-6)); times > 0 {
				any = true
				next = next.without(rel.cols[i], times)
				fixed = append(fixed, usedColumn{n.expand(rel.cols[i]), times})
				cost += times * n.bars[rel.cols[i].bar].Cost
			}
		}
		if !any {
			best, at := 0.0, -1
			for i, x := range rel.x {
				if x > best {
					best, at = x, i
				}
			}
			if at < 0 {
				break
			}
			next = next.without(rel.cols[at], 1)
			fixed = append(fixed, usedColumn{n.expand(rel.cols[at]), 1})
			cost += n.bars[rel.cols[at].bar].Cost
		}
		n = next
		if s.finish(n, fixed, cost, nil); s.proven() {
			return
		}
		rel = relax(n, rel.cols, nil, s.bestCost-cost, s.meter)
		if s.meter.Over() || cost+rel.bound >= s.bestCost {
			return
		}
	}
}
