package cutting

import (
	"cmp"
	"slices"

	"batchwright/orders/measure"
	"batchwright/orders/woods"
)

// menu is what may be cut next, of one finished thickness: the shapes on
// offer, the strip heights and slot lengths they suggest, and the best worth
// of every strip height at every length.
//
// A strip is a band ripped along the board. It is crosscut into slots, and a
// slot may be ripped again into a stack of shapes.
type menu struct {
	p       *problem
	thick   measure.Length
	pair    bool           // it is of pairs of leaves
	alone   bool           // of one run of several thicknesses: what lies beside it is cut at the same places
	rip     measure.Length // of solid wood, the shortest slot that may be ripped; 0: any may
	shapes  []size
	price   []int64 // of each shape
	heights []measure.Length
	lengths []measure.Length
	stacks  [][]stack // by height and slot length
	step    measure.Length
	worth   [][]int64 // by height and length in steps, kerf included
	chosen  [][]int16 // the slot laid last, -1 none
	spent   int64

	heightStep measure.Length // positions across a board worth trying
	copyList   []int16
	row        []int64
	bits       []uint64
}

// stack is the best filling of one slot: a shape, or a strip as long as the
// slot, and what lies above it.
type stack struct {
	worth int64
	shape int16 // -1: nothing, or a strip
	strip int16 // index of its height; -1: none
	above int16 // index of the height left above, -1 none
}

func (st stack) empty() bool { return st.shape < 0 && st.strip < 0 }

const (
	maxShapes  = 72
	maxHeights = 20
	maxSlots   = 32
	maxSteps   = 3200
)

// newMenu offers items of one thickness of which some are left, at most so
// many that the tables stay small: the large ones, and an even choice of the
// rest.
func (p *problem) newMenu(thick measure.Length, pair, alone bool, items []int, left []int, price []int64, longest, widest measure.Length) *menu {
	m := &menu{p: p, thick: thick, pair: pair, alone: alone}
	if len(items) > 0 && !woods.IsSheet(p.items[items[0]].wood) {
		m.rip = p.set.ShortestRip
	}
	for _, i := range items {
		it := &p.items[i]
		if left[i] == 0 || it.thick != thick || it.book && !pair || it.mixed != alone {
			continue
		}
		worth := price[i]
		if pair && !it.book {
			worth *= 2
		}
		m.offer(size{i, it.l, it.w, false}, worth, longest, widest)
		if it.turn {
			m.offer(size{i, it.w, it.l, true}, worth, longest, widest)
		}
	}
	m.thin()
	for _, sz := range m.shapes {
		m.heights = append(m.heights, sz.w)
		m.lengths = append(m.lengths, sz.l)
	}
	m.heights = spread(m.heights, maxHeights)
	m.lengths = spread(m.lengths, maxSlots)
	m.chooseStep(longest)
	m.addRuns(longest)
	m.layOut(longest)
	return m
}

// addRuns adds slots that hold several short shapes end to end and are just long
// enough to be ripped.
func (m *menu) addRuns(longest measure.Length) {
	kerf := m.p.set.CrosscutKerf
	for _, l := range slices.Clone(m.lengths) {
		if l >= m.rip || len(m.heights) < 2 {
			break
		}
		n := (m.rip + kerf + l + kerf - 1) / (l + kerf)
		for _, run := range []measure.Length{n*(l+kerf) - kerf, (n+1)*(l+kerf) - kerf} {
			if run <= longest {
				m.lengths = append(m.lengths, run)
			}
		}
	}
	slices.Sort(m.lengths)
	m.lengths = slices.Compact(m.lengths)
}

// ripped reports whether a slot so long may be ripped.
func (m *menu) ripped(l measure.Length) bool { return l >= m.rip }

// planedWith reports whether neighbouring sections are planed in one piece.
func (m *menu) planedWith(n *menu) bool { return m.thick == n.thick && !m.alone && !n.alone }

// serves reports whether it is what is cut from a stock.
func (m *menu) serves(s *stock) bool { return m.pair == s.pair && s.takes(m.thick) }

func (m *menu) offer(sz size, price int64, longest, widest measure.Length) {
	if sz.l <= longest && sz.w <= widest {
		m.shapes = append(m.shapes, sz)
		m.price = append(m.price, price)
	}
}

// thin keeps an even choice of the shapes when there are too many, the first
// (largest) always.
func (m *menu) thin() {
	n := len(m.shapes)
	if n <= maxShapes {
		return
	}
	third := maxShapes / 3
	keep := func(i int) int {
		if i < third {
			return i
		}
		return third + (i-third)*(n-third)/(maxShapes-third)
	}
	for i := range maxShapes {
		m.shapes[i], m.price[i] = m.shapes[keep(i)], m.price[keep(i)]
	}
	m.shapes, m.price = m.shapes[:maxShapes], m.price[:maxShapes]
}

// spread sorts distinct values and keeps at most n, the extremes always.
func spread(values []measure.Length, n int) []measure.Length {
	slices.Sort(values)
	values = slices.Compact(values)
	if len(values) <= n {
		return values
	}
	out := values[:0:0]
	for i := range n {
		out = append(out, values[i*(len(values)-1)/(n-1)])
	}
	return out
}

// chooseStep measures lengths in the largest unit that loses nothing, or one
// coarse enough to keep the tables small.
func (m *menu) chooseStep(longest measure.Length) {
	kerf := m.p.set.CrosscutKerf
	for _, l := range m.lengths {
		m.step = gcd(m.step, l+kerf)
	}
	m.step = max(m.step, (longest+kerf)/maxSteps+1)
	for _, h := range m.heights {
		m.heightStep = gcd(m.heightStep, h+m.p.set.RipKerf)
	}
	m.heightStep = max(m.heightStep, 1)
}

func gcd(a, b measure.Length) measure.Length {
	for b != 0 {
		a, b = b, a%b
	}
	return a
}

// steps is a length with its kerf in steps, rounded up.
func (m *menu) steps(l measure.Length) int {
	return int((l + m.p.set.CrosscutKerf + m.step - 1) / m.step)
}

// room is a clear length with one kerf in steps, rounded down.
func (m *menu) room(l measure.Length) int {
	return int((l + m.p.set.CrosscutKerf) / m.step)
}

// below is the largest height at most h, -1 when none is.
func (m *menu) below(h measure.Length) int {
	i, found := slices.BinarySearch(m.heights, h)
	if found {
		return i
	}
	return i - 1
}

// stackAt finds the best stacks of one height, when those of lower strips are
// known. What is narrower than the strip is ripped in its slot.
func (m *menu) stackAt(h int) []stack {
	row := make([]stack, len(m.lengths))
	for l := range row {
		row[l] = stack{shape: -1, strip: -1, above: -1}
	}
	high := m.heights[h]
	for s, sz := range m.shapes {
		if sz.w > high {
			continue
		}
		above := m.below(high - sz.w - m.p.set.RipKerf)
		first, _ := slices.BinarySearch(m.lengths, sz.l)
		for l := first; l < len(row) && m.lengths[l] < 2*sz.l; l++ {
			if sz.w == high || m.ripped(m.lengths[l]) {
				m.improve(row, l, stack{m.price[s], int16(s), -1, int16(above)})
			}
		}
	}
	if m.rip > 0 {
		m.stripsIn(row, h)
	}
	return row
}

// stripsIn tries lower strips in the slots that may be ripped.
func (m *menu) stripsIn(row []stack, h int) {
	for l, long := range m.lengths {
		if !m.ripped(long) {
			continue
		}
		for low := range h {
			worth := m.worth[low][min(m.room(long), len(m.worth[low])-1)]
			above := m.below(m.heights[h] - m.heights[low] - m.p.set.RipKerf)
			m.improve(row, l, stack{worth, -1, int16(low), int16(above)})
		}
	}
}

// improve keeps a stack if it is worth more with what lies above it.
func (m *menu) improve(row []stack, l int, st stack) {
	if st.above >= 0 && m.ripped(m.lengths[l]) && m.stacks[st.above][l].worth > 0 {
		st.worth += m.stacks[st.above][l].worth
	} else {
		st.above = -1
	}
	if st.worth > row[l].worth {
		row[l] = st
	}
}

// layOut finds the best stack of every slot and the best strip of every height
// and length, low heights first.
func (m *menu) layOut(longest measure.Length) {
	top := m.room(longest)
	m.stacks = make([][]stack, len(m.heights))
	m.worth = make([][]int64, len(m.heights))
	m.chosen = make([][]int16, len(m.heights))
	for h := range m.heights {
		m.stacks[h] = m.stackAt(h)
		m.worth[h], m.chosen[h] = m.strip(m.stacks[h], top)
	}
	m.spent += int64(len(m.heights) * len(m.lengths) * (len(m.shapes) + len(m.heights)))
}

// strip is the unbounded knapsack of slots in a strip, for every length.
func (m *menu) strip(row []stack, top int) (worth []int64, chosen []int16) {
	type slot struct {
		steps int
		worth int64
		index int16
	}
	var slots []slot
	for l, st := range row {
		if !st.empty() && (l == 0 || st.worth > row[l-1].worth) {
			slots = append(slots, slot{m.steps(m.lengths[l]), st.worth, int16(l)})
		}
	}
	slices.SortStableFunc(slots, func(a, b slot) int { return cmp.Compare(a.steps, b.steps) })
	worth, chosen = make([]int64, top+1), make([]int16, top+1)
	for x := range worth {
		best, at := int64(0), int16(-1)
		if x > 0 {
			best = worth[x-1]
		}
		for _, s := range slots {
			if s.steps > x {
				break
			}
			if w := worth[x-s.steps] + s.worth; w > best {
				best, at = w, s.index
			}
		}
		worth[x], chosen[x] = best, at
	}
	m.spent += int64((top + 1) * (len(slots) + 1))
	return worth, chosen
}
