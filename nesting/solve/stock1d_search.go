package solve

import (
	"cmp"
	"math"
	"slices"
)

// barSearch holds the best plan and the proven bound while a problem is solved.
type barSearch struct {
	root  *barNode
	meter *Meter
	unit  int64

	best     []usedColumn // of root types
	bestCost int64
	bound    int64
	cuts     []*subsetRow
}

func newBarSearch(root *barNode, meter *Meter) *barSearch {
	return &barSearch{root: root, meter: meter, unit: costUnit(root.bars), bestCost: math.MaxInt64}
}

// run improves plan and bound until they meet or the budget ends.
func (s *barSearch) run() {
	s.finish(s.root, nil, 0, nil)
	if len(s.root.size) == 0 {
		return
	}
	rel := relax(s.root, nil, nil, s.bestCost, s.meter)
	s.raise(rel.bound)
	if s.proven() || s.meter.Over() {
		return
	}
	s.dive(s.root, rel)
	if s.proven() {
		return
	}
	s.branch(s.root, rel)
}

// stop says why the search ended.
func (s *barSearch) stop() Stop {
	if s.proven() {
		return StopProven
	}
	if why := s.meter.Why(); why != "" {
		return why
	}
	return StopBudget
}

func (s *barSearch) proven() bool { return s.bound >= s.bestCost }

func (s *barSearch) raise(bound int64) {
	s.bound = max(s.bound, min(bound, s.bestCost))
}

// offer keeps a plan of root types when it is the best so far.
func (s *barSearch) offer(plan []usedColumn) bool {
	cost := int64(0)
	for _, u := range plan {
		cost += u.times * s.root.bars[u.bar].Cost
	}
	if cost >= s.bestCost {
		return false
	}
	s.bestCost, s.best = cost, plan
	return true
}

// expand rewrites a pattern of a node into root types.
func (n *barNode) expand(col barColumn) barColumn {
	counts := map[int32]int32{}
	for _, p := range col.parts {
		for _, root := range n.glued[p.kind] {
			counts[root] += p.count
		}
	}
	out := barColumn{bar: col.bar}
	for k, c := range counts {
		out.parts = append(out.parts, barPart{k, c})
	}
	sortParts(out.parts)
	return out
}

// finish completes a plan greedily: fixed patterns (of root types) and, for
// what the node still wants, first-fit decreasing.
func (s *barSearch) finish(n *barNode, fixed []usedColumn, cost int64, _ []float64) bool {
	demand := slices.Clone(n.demand)
	var order []int32
	for k := range n.size {
		if demand[k] > 0 {
			order = append(order, int32(k))
		}
	}
	slices.SortStableFunc(order, func(a, b int32) int { return cmp.Compare(n.size[b], n.size[a]) })
	used := make([]int64, len(n.bars))
	plan := slices.Clone(fixed)
	for {
		for len(order) > 0 && demand[order[0]] == 0 {
			order = order[1:]
		}
		if len(order) == 0 {
			break
		}
		var col barColumn
		bestCost := math.Inf(1)
		for b, bar := range n.bars {
			if bar.Count-used[b] <= 0 || bar.Length < n.size[order[0]] {
				continue
			}
			c := fillLongest(n, demand, order, b)
			length := int64(0)
			for _, p := range c.parts {
				length += int64(p.count) * n.size[p.kind]
			}
			if rate := float64(bar.Cost) / float64(length); rate < bestCost {
				col, bestCost = c, rate
			}
		}
		if len(col.parts) == 0 {
			return false
		}
		times := timesIn(n, col, demand, used)
		for _, p := range col.parts {
			demand[p.kind] -= times * int64(p.count)
		}
		used[col.bar] += times
		cost += times * n.bars[col.bar].Cost
		if cost >= s.bestCost {
			return false
		}
		plan = append(plan, usedColumn{n.expand(col), times})
	}
	return s.offer(plan)
}
