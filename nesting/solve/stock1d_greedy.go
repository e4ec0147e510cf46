package solve

// fillLongest returns the pattern that takes, longest type first, all that
// still fits: what first-fit decreasing puts in its next bin. order lists the
// types, longest first.
func fillLongest(n *barNode, demand []int64, order []int32, bar int) barColumn {
	col := barColumn{bar: bar}
	room := n.bars[bar].Length
	for _, k := range order {
		count := min(demand[k], room/n.size[k])
		if count <= 0 || !compatible(n, col, k) {
			continue
		}
		if n.apart[k].has(k) {
			count = 1
		}
		col.parts = append(col.parts, barPart{k, int32(count)})
		room -= count * n.size[k]
	}
	sortParts(col.parts)
	return col
}

// compatible reports whether nothing in the pattern is kept apart from type k.
func compatible(n *barNode, col barColumn, k int32) bool {
	if n.apart[k].empty() {
		return true
	}
	for _, p := range col.parts {
		if n.apart[k].has(p.kind) {
			return false
		}
	}
	return true
}

// timesIn returns how often a pattern can be cut before it makes more of some
// type than is wanted, or its bar runs out.
func timesIn(n *barNode, col barColumn, demand []int64, used []int64) int64 {
	times := n.bars[col.bar].Count - used[col.bar]
	if n.bars[col.bar].Count >= Unlimited {
		times = Unlimited
	}
	for _, p := range col.parts {
		times = min(times, demand[p.kind]/int64(p.count))
	}
	return times
}
