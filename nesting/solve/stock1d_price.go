package solve

import (
	"cmp"
	"slices"
)

// barPricer finds patterns of high profit in a node. The profit of a pattern is
// the sum over its pieces, less the penalties of the cuts it touches. Profits
// are integers, so its answers are exact.
type barPricer struct {
	node    *barNode
	cuts    []*subsetRow
	meter   *Meter
	kinds   []int32 // live types with a profit, longest first
	size    []int64 // of the live types
	profit  []int64
	most    []int64 // copies in one pattern
	longest int64

	// table[i][c>>grain] is the most profit of live types i.. within c, lengths
	// rounded down to grains, penalties and apart ignored: never too small.
	table [][]int64
	grain uint

	plain   bool // no penalties, nothing kept apart: the table is exact
	touch   [][]barTouch
	penalty []int64 // of each cut
	weight  []int32 // of each cut, in the pattern under construction
	chosen  []int32 // copies of each live type, in the pattern under construction
	best    []int32
	bestVal int64
	steps   int64
}

// barTouch is how much one copy of a type counts in a cut.
type barTouch struct {
	cut    int32
	weight int32
}

// pricedColumn is a pattern found, with its profit.
type pricedColumn struct {
	barColumn
	profit int64
}

// newBarPricer prepares pricing with the profit of each type and the penalty of
// each cut.
func newBarPricer(n *barNode, profit []int64, cuts []*subsetRow, penalty []int64, scratch *[]int64, meter *Meter) *barPricer {
	p := &barPricer{node: n, cuts: cuts, penalty: penalty, meter: meter, plain: true}
	for _, b := range n.bars {
		if b.Count > 0 {
			p.longest = max(p.longest, b.Length)
		}
	}
	for k := range n.size {
		if n.demand[k] > 0 && profit[k] > 0 && n.size[k] <= p.longest {
			p.kinds = append(p.kinds, int32(k))
		}
	}
	slices.SortFunc(p.kinds, func(a, b int32) int {
		return cmp.Or(cmp.Compare(n.size[b], n.size[a]), cmp.Compare(a, b))
	})
	for _, k := range p.kinds {
		most := min(n.demand[k], p.longest/n.size[k])
		if n.apart[k].has(k) {
			most = 1
		}
		p.size = append(p.size, n.size[k])
		p.profit = append(p.profit, profit[k])
		p.most = append(p.most, most)
		if !n.apart[k].empty() {
			p.plain = false
		}
	}
	p.addCuts()
	p.fill(scratch)
	return p
}

// addCuts notes which live types touch which penalised cuts.
func (p *barPricer) addCuts() {
	p.touch = make([][]barTouch, len(p.kinds))
	for c, cut := range p.cuts {
		if p.penalty[c] == 0 {
			continue
		}
		p.plain = false
		for i, k := range p.kinds {
			if w := cut.weight(p.node, k); w > 0 {
				p.touch[i] = append(p.touch[i], barTouch{int32(c), w})
			}
		}
	}
	p.weight = make([]int32, len(p.cuts))
	p.chosen = make([]int32, len(p.kinds))
}

// fill computes the table from the shortest type up: row i takes up to most[i]
// copies of type i beside the best of row i+1, in lots of 1, 2, 4 ... copies.
func (p *barPricer) fill(scratch *[]int64) {
	n := len(p.kinds)
	for (int64(n)*(p.longest>>p.grain) > maxTable) && p.longest>>p.grain > minGrains {
		p.grain++
		p.plain = false
	}
	width := int(p.longest>>p.grain) + 1
	if len(*scratch) < (n+1)*width {
		*scratch = make([]int64, (n+1)*width)
	}
	flat := (*scratch)[:(n+1)*width]
	clear(flat[n*width:])
	p.table = make([][]int64, n+1)
	p.table[n] = flat[n*width:]
	for i := n - 1; i >= 0; i-- {
		row := flat[i*width : (i+1)*width]
		p.table[i] = row
		copy(row, p.table[i+1])
		left := p.most[i]
		for lot := int64(1); left > 0; lot *= 2 {
			lot = min(lot, left)
			left -= lot
			takeLot(row, int(lot*(p.size[i]>>p.grain)), lot*p.profit[i])
			p.meter.Spend(int64(width))
		}
	}
}

// A table larger than mostTable entries is coarsened, but to no fewer than
// minGrains a bar.
const (
	maxTable  = 2_000_000
	minGrains = 4096
)

// takeLot lets every capacity also take the lot once.
func takeLot(row []int64, size int, profit int64) {
	for c := len(row) - 1; c >= size; c-- {
		row[c] = max(row[c], row[c-size]+profit)
	}
}

// within bounds the profit of live types i.. in a length.
func (p *barPricer) within(i int, length int64) int64 { return p.table[i][length>>p.grain] }

// ledBy returns, for every live type, the best pattern whose longest piece is
// of that type, when its profit exceeds floor; and a proven upper bound on the
// profit of any pattern at all within the length.
func (p *barPricer) ledBy(bar int, length, floor int64) (found []pricedColumn, upper int64) {
	for i := range p.kinds {
		if p.within(i, length) <= floor || p.meter.Over() {
			return found, max(upper, p.within(i, length)) // no later type has more
		}
		col, bound := p.led(i, length, floor)
		upper = max(upper, bound)
		if col.profit > floor {
			col.bar = bar
			found = append(found, col)
		}
	}
	return found, upper
}

// led returns the best pattern led by live type i, and a bound on all of them.
func (p *barPricer) led(i int, length, floor int64) (col pricedColumn, upper int64) {
	if p.plain {
		col = p.traceLed(i, length)
		return col, col.profit
	}
	return p.searchLed(i, length, floor)
}

// traceLed reads from the table the best pattern led by live type i.
func (p *barPricer) traceLed(i int, length int64) pricedColumn {
	if p.size[i] > length {
		return pricedColumn{}
	}
	best, copies := int64(-1), int64(0)
	for k := int64(1); k <= p.most[i] && k*p.size[i] <= length; k++ {
		if v := k*p.profit[i] + p.table[i+1][length-k*p.size[i]]; v > best {
			best, copies = v, k
		}
	}
	col := pricedColumn{profit: best}
	col.parts = append(col.parts, barPart{p.kinds[i], int32(copies)})
	c := length - copies*p.size[i]
	for j := i + 1; j < len(p.kinds) && p.table[j][c] > 0; j++ {
		k := int64(0)
		for p.table[j][c] != k*p.profit[j]+p.table[j+1][c-k*p.size[j]] {
			k++
		}
		if k > 0 {
			col.parts = append(col.parts, barPart{p.kinds[j], int32(k)})
			c -= k * p.size[j]
		}
	}
	sortParts(col.parts)
	return col
}

func sortParts(parts []barPart) {
	slices.SortFunc(parts, func(a, b barPart) int { return cmp.Compare(a.kind, b.kind) })
}

// searchLimit bounds the steps of one search for a pattern; what is then left
// unsearched is covered by the table's bound.
const searchLimit = 200_000

// searchLed finds the best pattern led by live type i by depth-first search,
// pruned by the table, and returns an upper bound on all such patterns.
func (p *barPricer) searchLed(i int, length, floor int64) (col pricedColumn, upper int64) {
	p.bestVal, p.best, p.steps = floor, nil, 0
	unsearched := int64(0)
	if p.size[i] <= length {
		unsearched = p.take(i, length, 0)
	}
	p.meter.Spend(2 * p.steps)
	if p.best != nil {
		col.profit = p.bestVal
		for j, k := range p.best {
			if k > 0 {
				col.parts = append(col.parts, barPart{p.kinds[j], k})
			}
		}
		sortParts(col.parts)
	}
	return col, max(p.bestVal, unsearched)
}

// take adds a copy of live type i and searches on; it returns a bound on what
// it left unsearched, 0 for nothing.
func (p *barPricer) take(i int, room, value int64) (unsearched int64) {
	p.chosen[i]++
	value += p.profit[i]
	for _, t := range p.touch[i] {
		before := p.weight[t.cut] / 2
		p.weight[t.cut] += t.weight
		value -= p.penalty[t.cut] * int64(p.weight[t.cut]/2-before)
	}
	unsearched = p.search(i, room-p.size[i], value)
	for _, t := range p.touch[i] {
		p.weight[t.cut] -= t.weight
	}
	p.chosen[i]--
	return unsearched
}

// search extends the pattern under construction by live types i and later.
func (p *barPricer) search(i int, room, value int64) (unsearched int64) {
	if value > p.bestVal {
		p.bestVal = value
		p.best = slices.Clone(p.chosen)
	}
	for j := i; j < len(p.kinds); j++ {
		if value+p.within(j, room) <= p.bestVal {
			return unsearched
		}
		if p.steps++; p.steps > searchLimit {
			return max(unsearched, value+p.within(j, room))
		}
		if p.size[j] > room || int64(p.chosen[j]) >= p.most[j] || !p.allowed(j) {
			continue
		}
		if j < len(p.kinds)-1 && value+p.profit[j]+p.rest(j, room-p.size[j]) <= p.bestVal {
			continue
		}
		unsearched = max(unsearched, p.take(j, room, value))
	}
	return unsearched
}

// rest bounds what may follow a copy of live type j.
func (p *barPricer) rest(j int, room int64) int64 {
	if p.most[j] > 1 {
		return p.within(j, room)
	}
	return p.within(j+1, room)
}

// allowed reports whether nothing chosen is kept apart from live type j.
func (p *barPricer) allowed(j int) bool {
	apart := p.node.apart[p.kinds[j]]
	if apart.empty() {
		return true
	}
	for i, k := range p.chosen[:j] {
		if k > 0 && apart.has(p.kinds[i]) {
			return false
		}
	}
	return true
}
