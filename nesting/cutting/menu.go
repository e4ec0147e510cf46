package cutting

import (
	"cmp"
	"slices"

	"batchwright/orders/measure"
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
	pair    bool // it is of pairs of leaves
	alone   bool // of one run of several thicknesses: what lies beside it is cut at the same places
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
	scratch    []int16
	copyList   []int16
	row        []int64
	bits       []uint64
}

// stack is the best filling of one slot: a shape, and what lies above it.
type stack struct {
	worth int64
	shape int16 // -1: nothing
	above int16 // index of the height left above, -1 none
}

const (
	mostShapes  = 72
	mostHeights = 20
	mostSlots   = 32
	mostSteps   = 3200
)

// newMenu offers items of one thickness of which some are left, at most so
// many that the tables stay small: the large ones, and an even choice of the
// rest.
func (p *problem) newMenu(thick measure.Length, pair, alone bool, items []int, left []int, price []int64, longest, widest measure.Length) *menu {
	m := &menu{p: p, thick: thick, pair: pair, alone: alone}
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
	m.heights = spread(m.heights, mostHeights)
	m.lengths = spread(m.lengths, mostSlots)
	m.chooseStep(longest)
	m.stackUp()
	m.layOut(longest)
	return m
}

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
	if n <= mostShapes {
		return
	}
	third := mostShapes / 3
	keep := func(i int) int {
		if i < third {
			return i
		}
		return third + (i-third)*(n-third)/(mostShapes-third)
	}
	for i := range mostShapes {
		m.shapes[i], m.price[i] = m.shapes[keep(i)], m.price[keep(i)]
	}
	m.shapes, m.price = m.shapes[:mostShapes], m.price[:mostShapes]
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
	m.step = max(m.step, (longest+kerf)/mostSteps+1)
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

// stackUp finds the best stack of every slot, low heights first.
func (m *menu) stackUp() {
	m.stacks = make([][]stack, len(m.heights))
	for h := range m.heights {
		m.stacks[h] = m.stackAt(h)
	}
	m.spent += int64(len(m.heights) * len(m.lengths) * len(m.shapes))
}

// stackAt finds the best stacks of one height.
func (m *menu) stackAt(h int) []stack {
	row := make([]stack, len(m.lengths))
	for l := range row {
		row[l] = stack{shape: -1, above: -1}
	}
	high := m.heights[h]
	for s, sz := range m.shapes {
		if sz.w > high {
			continue
		}
		above := m.below(high - sz.w - m.p.set.RipKerf)
		first, _ := slices.BinarySearch(m.lengths, sz.l)
		for l := first; l < len(row) && m.lengths[l] < 2*sz.l; l++ {
			worth, up := m.price[s], -1
			if above >= 0 && m.stacks[above][l].worth > 0 {
				worth, up = worth+m.stacks[above][l].worth, above
			}
			if worth > row[l].worth {
				row[l] = stack{worth, int16(s), int16(up)}
			}
		}
	}
	return row
}

// layOut finds the best strip of every height and length.
func (m *menu) layOut(longest measure.Length) {
	top := m.room(longest)
	m.worth = make([][]int64, len(m.heights))
	m.chosen = make([][]int16, len(m.heights))
	for h := range m.heights {
		m.worth[h], m.chosen[h] = m.strip(m.stacks[h], top)
	}
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
		if st.shape >= 0 && (l == 0 || st.worth > row[l-1].worth) {
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
