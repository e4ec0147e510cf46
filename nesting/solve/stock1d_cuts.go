package solve

import (
	"cmp"
	"slices"
)

// subsetRow is a cut over three root types, each pattern counting half the
// pieces of theirs that it holds, rounded down:
//
//	sum over patterns of floor(held/2) x  <=  floor(demand/2)
//
// It is the Chvatal-Gomory cut of multipliers one half on equal demands, which
// any plan that makes no more than the demand satisfies (M. Jepsen, B. Petersen,
// S. Spoorendonk, D. Pisinger, Operations Research 56, 2008, from memory).
type subsetRow struct {
	kinds [3]int32
	limit int64
}

// weight returns how many pieces of the cut's types one copy of a type holds.
func (s *subsetRow) weight(n *barNode, kind int32) int32 {
	w := int32(0)
	for _, root := range n.glued[kind] {
		if root == s.kinds[0] || root == s.kinds[1] || root == s.kinds[2] {
			w++
		}
	}
	return w
}

// coefficient returns what one use of a pattern counts in the cut.
func (s *subsetRow) coefficient(n *barNode, col barColumn) int64 {
	held := int64(0)
	for _, p := range col.parts {
		held += int64(s.weight(n, p.kind)) * int64(p.count)
	}
	return held / 2
}

// The cutting planes of the root.
const (
	maxCutRounds = 20
	cutsPerRound = 30
)

// addCuts tightens the root's relaxation by cutting planes as long as some are
// violated.
func (s *barSearch) addCuts(rel relaxation) relaxation {
	rel = s.relaxFully(s.root, rel.start(), s.bestCost)
	for round := 0; round < maxCutRounds && rel.done; round++ {
		s.raise(roundUp(rel.bound, s.unit))
		rows := violatedSubsetRows(s.root, rel.cols, rel.x, cutsPerRound)
		if s.proven() || len(rows) == 0 {
			break
		}
		s.cuts = append(s.cuts, rows...)
		rel = s.relaxFully(s.root, rel.start(), s.bestCost)
	}
	return rel
}

// violatedSubsetRows returns the most violated cuts of the root node's
// fractional solution, at most the number asked for, no type in more than a few.
func violatedSubsetRows(n *barNode, cols []barColumn, x []float64, most int) []*subsetRow {
	pairs, neighbours := pairUse(cols, x)
	type scored struct {
		row  *subsetRow
		over float64
	}
	var found []scored
	for i := range neighbours {
		for _, j := range neighbours[i] {
			for _, k := range neighbours[j] {
				if j <= i || k <= j {
					continue
				}
				if pairs[pairKey(i, j)]+pairs[pairKey(j, k)]+pairs[pairKey(i, k)] < 1+minViolation {
					continue
				}
				row := &subsetRow{kinds: [3]int32{i, j, k}}
				row.limit = (n.demand[i] + n.demand[j] + n.demand[k]) / 2
				use := 0.0
				for c, col := range cols {
					if x[c] > 0 {
						use += x[c] * float64(row.coefficient(n, col))
					}
				}
				if over := use - float64(row.limit); over > minViolation {
					found = append(found, scored{row, over})
				}
			}
		}
	}
	slices.SortFunc(found, func(a, b scored) int {
		return cmp.Or(cmp.Compare(b.over, a.over), slices.Compare(a.row.kinds[:], b.row.kinds[:]))
	})
	var rows []*subsetRow
	uses := map[int32]int{}
	for _, f := range found {
		k := f.row.kinds
		if uses[k[0]] >= 5 || uses[k[1]] >= 5 || uses[k[2]] >= 5 {
			continue
		}
		uses[k[0]]++
		uses[k[1]]++
		uses[k[2]]++
		if rows = append(rows, f.row); len(rows) == most {
			break
		}
	}
	return rows
}

// minViolation is the least violation worth a cut.
const minViolation = 0.02

func pairKey(i, j int32) [2]int32 { return [2]int32{min(i, j), max(i, j)} }

// pairUse returns, for every two types that share a pattern in use, how often
// they do, and for every type the types it shares one with, ascending.
func pairUse(cols []barColumn, x []float64) (map[[2]int32]float64, map[int32][]int32) {
	pairs := map[[2]int32]float64{}
	for c, col := range cols {
		if x[c] <= 1e-9 {
			continue
		}
		for a, p := range col.parts {
			if p.count > 1 {
				pairs[pairKey(p.kind, p.kind)] += x[c]
			}
			for _, q := range col.parts[a+1:] {
				pairs[pairKey(p.kind, q.kind)] += x[c]
			}
		}
	}
	neighbours := map[int32][]int32{}
	for key := range pairs {
		if key[0] != key[1] {
			neighbours[key[0]] = append(neighbours[key[0]], key[1])
			neighbours[key[1]] = append(neighbours[key[1]], key[0])
		}
	}
	for k := range neighbours {
		slices.Sort(neighbours[k])
	}
	return pairs, neighbours
}
