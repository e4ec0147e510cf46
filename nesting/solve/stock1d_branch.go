package solve

import (
	"cmp"
	"math"
)

// branch searches the node's plans exhaustively, depth first: it picks two types
// that share patterns a fractional number of times and decides whether some bar
// holds both (tried first) or none does (D. M. Ryan, B. A. Foster, 1981, from
// memory; carried over to equal pieces by gluing one copy of each into a new
// type). It reports whether it proved that no plan beats the best one.
func (s *barSearch) branch(n *barNode, rel relaxation) bool {
	if rel.bound >= s.bestCost {
		return true
	}
	if !rel.done || s.meter.Over() {
		return false
	}
	s.roundDown(n, rel)
	if rel.bound >= s.bestCost {
		return true
	}
	i, j, found := branchingPair(n, rel)
	if !found {
		return false
	}
	child, kind := n.together(i, j)
	start := rel.start()
	for c, col := range start.cols {
		start.cols[c] = col.glue(i, j, kind)
	}
	exhausted := s.branch(child, s.relax(child, start, s.bestCost))
	if s.proven() || s.meter.Over() {
		return exhausted
	}
	child = n.separate(i, j)
	return s.branch(child, s.relax(child, rel.start(), s.bestCost)) && exhausted
}

// roundDown keeps the whole part of a fractional solution and completes it
// greedily; a whole solution is complete.
func (s *barSearch) roundDown(n *barNode, rel relaxation) {
	part := newPartPlan(n)
	for i, x := range rel.x {
		if times := int64(math.Floor(x + wholeTol)); times > 0 {
			part = part.fix(rel.cols[i], times)
		}
	}
	s.complete(part, (*barNode).fillLongest)
}

// wholeTol is how near to a whole number a value of the relaxation counts as it.
// No proof rests on it: plans are counted in integers.
const wholeTol = 1e-6

// branchingPair returns the two types whose shared use has its fraction nearest
// one half, the longer ones among ties; else two pieces of a pattern used a
// fractional number of times.
func branchingPair(n *barNode, rel relaxation) (i, j int32, found bool) {
	pairs, _ := pairUse(rel.cols, rel.x)
	best := math.Inf(1)
	for key, use := range pairs {
		if math.Abs(use-math.Round(use)) < wholeTol {
			continue
		}
		far := math.Abs(use - math.Floor(use) - 0.5)
		if far < best || far == best && longerPair(n, key, [2]int32{i, j}) {
			best, i, j, found = far, key[0], key[1], true
		}
	}
	for c := 0; c < len(rel.x) && !found; c++ {
		if math.Abs(rel.x[c]-math.Round(rel.x[c])) >= wholeTol {
			i, j, found = twoPieces(rel.cols[c])
		}
	}
	return i, j, found
}

func longerPair(n *barNode, a, b [2]int32) bool {
	return cmp.Or(
		cmp.Compare(n.size[b[0]]+n.size[b[1]], n.size[a[0]]+n.size[a[1]]),
		cmp.Compare(a[0], b[0]), cmp.Compare(a[1], b[1])) < 0
}

// twoPieces returns two pieces of a pattern, if it has as many.
func twoPieces(col barColumn) (i, j int32, found bool) {
	first := col.parts[0]
	if first.count > 1 {
		return first.kind, first.kind, true
	}
	if len(col.parts) > 1 {
		return first.kind, col.parts[1].kind, true
	}
	return 0, 0, false
}
