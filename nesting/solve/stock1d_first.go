package solve

import "slices"

// firstPlan plans bar after bar, each filled longest piece first, in time nearly
// linear in the pieces, so that there is a plan whatever the budget. With one
// kind of bar it is first-fit decreasing. Types of the root come longest first
// and keep nothing apart.
func (s *barSearch) firstPlan() *partPlan {
	f := &firstFit{size: s.root.size, demand: slices.Clone(s.root.demand), next: make([]int32, len(s.root.size)+1)}
	for i := range f.next {
		f.next[i] = int32(i)
	}
	node := *s.root
	node.bars = slices.Clone(s.root.bars)
	node.demand = f.demand
	plan := &partPlan{node: &node}
	for first := f.live(0); int(first) < len(f.size); first = f.live(0) {
		col := f.cheapest(node.bars, first)
		if len(col.parts) == 0 {
			break
		}
		times := node.times(col)
		for _, p := range col.parts {
			f.demand[p.kind] -= times * int64(p.count)
		}
		if node.bars[col.bar].Count < Unlimited {
			node.bars[col.bar].Count -= times
		}
		plan.fixed = append(plan.fixed, usedColumn{col, times})
		plan.cost += times * node.bars[col.bar].Cost
	}
	if !node.wants() {
		s.offer(plan)
	}
	return plan
}

// firstFit is what is left to plan; next skips types that have run out.
type firstFit struct {
	size, demand []int64
	next         []int32
}

// live returns the first type from i on that is still wanted, len(size) for
// none, halving the way there for the next who asks.
func (f *firstFit) live(i int32) int32 {
	for int(i) < len(f.size) && (f.next[i] != i || f.demand[i] == 0) {
		if f.next[i] == i {
			f.next[i] = i + 1
		}
		f.next[i] = f.next[f.next[i]]
		i = f.next[i]
	}
	return i
}

// cheapest fills the kind of bar that comes cheapest by the length it takes.
func (f *firstFit) cheapest(bars []Bar, first int32) barColumn {
	var best barColumn
	bestLength := int64(0)
	for b, bar := range bars {
		if bar.Count <= 0 || bar.Length < f.size[first] {
			continue
		}
		col, length := f.fill(b, bar.Length, first)
		if bestLength == 0 || lessProduct(bar.Cost, bestLength, bars[best.bar].Cost, length) {
			best, bestLength = col, length
		}
	}
	return best
}

// fill takes, from a type on, the longest that still fits, again and again.
func (f *firstFit) fill(bar int, length int64, kind int32) (barColumn, int64) {
	col := barColumn{bar: bar}
	room := length
	for int(kind) < len(f.size) {
		count := min(f.demand[kind], room/f.size[kind], 1<<30)
		if count > 0 {
			col.parts = append(col.parts, barPart{kind, int32(count)})
			room -= count * f.size[kind]
		}
		fits, _ := slices.BinarySearchFunc(f.size[kind+1:], room, func(size, room int64) int {
			if size > room {
				return -1
			}
			return 1
		})
		kind = f.live(kind + 1 + int32(fits))
	}
	return col, length - room
}
