package solve

import "math"

// branch searches the node's plans exhaustively, depth first: it picks two types
// that share a pattern a fractional number of times and decides whether some bar
// holds both (tried first) or none does (D. M. Ryan, B. A. Foster, 1981, from
// memory, carried over to equal pieces: one copy of each is glued into a new
// type). It reports whether the search was exhaustive.
func (s *barSearch) branch(n *barNode, rel relaxation) bool {
	if rel.short || rel.bound >= s.bestCost {
		return true
	}
	if !rel.done || s.meter.Over() {
		return false
	}
	s.roundNode(n, rel)
	if rel.bound >= s.bestCost {
		return true
	}
	i, j, found := branchingPair(n, rel)
	if !found {
		return s.finishSingles(n, rel)
	}
	child, kind := n.together(i, j)
	cols := make([]barColumn, 0, len(rel.cols))
	for c, col := range rel.cols {
		if rel.x[c] > 0 || len(rel.cols) < 4*len(n.size) {
			cols = append(cols, col.glue(i, j, kind))
		}
	}
	if !s.branch(child, relax(child, cols, s.cuts, s.bestCost, s.meter)) {
		return false
	}
	if s.proven() {
		return true
	}
	child = n.separate(i, j)
	return s.branch(child, relax(child, rel.cols, s.cuts, s.bestCost, s.meter))
}

// roundNode fixes the whole part of the node's solution and completes it
// greedily; an integral solution completes itself.
func (s *barSearch) roundNode(n *barNode, rel relaxation) {
	left := n
	var fixed []usedColumn
	cost := int64(0)
	for i, x := range rel.x {
		if times := int64(math.Floor(x + 1e-6)); times > 0 {
			left = left.without(rel.cols[i], times)
			fixed = append(fixed, usedColumn{n.expand(rel.cols[i]), times})
			cost += times * n.bars[rel.cols[i].bar].Cost
		}
	}
	s.finish(left, fixed, cost, nil)
}

// branchingPair returns the two types whose shared use is the largest fraction
// below one, else any that share a pattern used a fractional number of times.
func branchingPair(n *barNode, rel relaxation) (i, j int32, found bool) {
	pairs, _ := pairUse(rel.cols, rel.x)
	best := -1.0
	for key, use := range pairs {
		whole := math.Round(use)
		if math.Abs(use-whole) < 1e-6 {
			continue
		}
		score := use - math.Floor(use)
		if score > best || score == best && (n.size[key[0]]+n.size[key[1]] > n.size[i]+n.size[j] || n.size[key[0]]+n.size[key[1]] == n.size[i]+n.size[j] && (key[0] < i || key[0] == i && key[1] < j)) {
			best, i, j, found = score, key[0], key[1], true
		}
	}
	if found {
		return i, j, true
	}
	for c, x := range rel.x {
		if math.Abs(x-math.Round(x)) < 1e-6 {
			continue
		}
		parts := rel.cols[c].parts
		if len(parts) > 1 {
			return parts[0].kind, parts[1].kind, true
		}
		if parts[0].count > 1 {
			return parts[0].kind, parts[0].kind, true
		}
	}
	return 0, 0, false
}

// finishSingles handles a node whose fractional patterns hold one piece each.
func (s *barSearch) finishSingles(n *barNode, rel relaxation) bool {
	return rel.bound >= s.bestCost
}
