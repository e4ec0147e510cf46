package solve

import (
	"cmp"
	"slices"
)

// partPlan is a plan under construction: the patterns fixed so far, and the
// node of what is still wanted.
type partPlan struct {
	node  *barNode
	fixed []usedColumn // of root types
	cost  int64
}

func newPartPlan(n *barNode) *partPlan { return &partPlan{node: n} }

// fix returns the plan in which a pattern of its node is also cut the given
// number of times, or as often as its bar allows.
func (p *partPlan) fix(col barColumn, times int64) *partPlan {
	bar := p.node.bars[col.bar]
	times = min(times, bar.Count)
	if times <= 0 {
		return p
	}
	return &partPlan{
		node:  p.node.without(col, times),
		fixed: append(slices.Clip(p.fixed), usedColumn{p.node.expand(col), times}),
		cost:  p.cost + times*bar.Cost,
	}
}

// barFiller picks the next pattern for a node, one without parts when no bar is
// left that takes anything.
type barFiller func(*barNode) barColumn

// complete covers what a part plan still wants, bar by bar, and offers the
// result when all of it is covered.
func (s *barSearch) complete(p *partPlan, fill barFiller) {
	for p.cost < s.bestCost && p.node.wants() && !s.meter.Over() {
		col := fill(p.node)
		if len(col.parts) == 0 {
			return
		}
		p = p.fix(col, p.node.times(col))
	}
	if !p.node.wants() {
		s.offer(p)
	}
}

// wants reports whether some demand is left.
func (n *barNode) wants() bool {
	for _, d := range n.demand {
		if d > 0 {
			return true
		}
	}
	return false
}

// times returns how often a pattern can be cut before it makes more of some
// type than is wanted, or its bar runs out.
func (n *barNode) times(col barColumn) int64 {
	times := n.bars[col.bar].Count
	for _, p := range col.parts {
		times = min(times, n.demand[p.kind]/int64(p.count))
	}
	return times
}

// fillLongest fills the bar that comes cheapest by the length it takes, longest
// pieces first: with one kind of bar it plans as first-fit decreasing does.
func (n *barNode) fillLongest() barColumn {
	order := n.longestFirst()
	var best barColumn
	if len(order) == 0 {
		return best
	}
	bestLength := int64(0)
	for b, bar := range n.bars {
		if bar.Count <= 0 || bar.Length < n.size[order[0]] {
			continue
		}
		col, length := n.fillInOrder(order, b)
		if bestLength == 0 || lessProduct(bar.Cost, bestLength, n.bars[best.bar].Cost, length) {
			best, bestLength = col, length
		}
	}
	return best
}

// longestFirst returns the types still wanted, longest first.
func (n *barNode) longestFirst() []int32 {
	var order []int32
	for k, d := range n.demand {
		if d > 0 {
			order = append(order, int32(k))
		}
	}
	slices.SortStableFunc(order, func(a, b int32) int { return cmp.Compare(n.size[b], n.size[a]) })
	return order
}

// fillInOrder takes of each type in turn all that still fits, and returns the
// pattern and the length it takes.
func (n *barNode) fillInOrder(order []int32, bar int) (barColumn, int64) {
	col := barColumn{bar: bar}
	room := n.bars[bar].Length
	for _, k := range order {
		count := min(n.demand[k], room/n.size[k], 1<<30)
		if count <= 0 || !n.compatible(col, k) {
			continue
		}
		if n.apart[k].has(k) {
			count = 1
		}
		col.parts = append(col.parts, barPart{k, int32(count)})
		room -= count * n.size[k]
	}
	sortParts(col.parts)
	return col, n.bars[bar].Length - room
}

// compatible reports whether nothing in the pattern is kept apart from a type.
func (n *barNode) compatible(col barColumn, kind int32) bool {
	apart := n.apart[kind]
	return apart.empty() || !slices.ContainsFunc(col.parts, func(p barPart) bool { return apart.has(p.kind) })
}

// fillFullest fills a bar with the longest piece and of the others what leaves
// least, on the bar that comes cheapest by the length it takes.
func (s *barSearch) fillFullest(n *barNode) barColumn {
	p := newBarPricer(n, n.size, nil, nil, &s.scratch, s.meter)
	var best barColumn
	bestLength := int64(0)
	for b, bar := range n.bars {
		if bar.Count <= 0 || len(p.kinds) == 0 {
			continue
		}
		col, _ := p.led(0, bar.Length, 0)
		if col.profit > 0 && (bestLength == 0 || lessProduct(bar.Cost, bestLength, n.bars[best.bar].Cost, col.profit)) {
			best, bestLength = barColumn{b, col.parts}, col.profit
		}
	}
	return best
}
