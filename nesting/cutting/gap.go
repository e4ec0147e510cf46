package cutting

import "batchwright/orders/measure"

// few is how many copies are laid by an exact choice; of more, the tables of
// the menu are followed.
const few = 40

// fillGap fills one clear gap of a strip of height h: by the tables while there
// is plenty, then by an exact choice among the copies that are left.
func (m *menu) fillGap(h int, gap rect, left []int, out *fill) {
	x := gap.x0
	for {
		room := min(m.room(gap.x1-x), len(m.worth[h])-1)
		if room <= 0 {
			return
		}
		copies := m.copies(h, room, left)
		if len(copies) == 0 {
			return
		}
		if len(copies) <= few {
			m.layBest(copies, room, h, x, gap.y0, left, out)
			return
		}
		if laid := m.follow(h, room, &x, gap, left, out); !laid {
			m.layBest(copies[:few], room, h, x, gap.y0, left, out)
			return
		}
	}
}

// copies lists the shapes that may lie in a strip, each as often as it is left
// and fits, up to one more than few.
func (m *menu) copies(h, room int, left []int) []int16 {
	out := m.copyList[:0]
	for s, sz := range m.shapes {
		if sz.w > m.heights[h] || sz.w < m.heights[h] && !m.ripped(sz.l) {
			continue
		}
		n := min(left[sz.item], room/max(1, m.steps(sz.l)))
		for ; n > 0 && len(out) <= few; n-- {
			out = append(out, int16(s))
		}
	}
	m.copyList = out
	return out
}

// follow lays slots as the tables choose until something wanted has run out;
// false when nothing was laid.
func (m *menu) follow(h, room int, x *measure.Length, gap rect, left []int, out *fill) bool {
	laid := false
	for c := room; c > 0; {
		l := m.chosen[h][c]
		if l < 0 {
			c--
			continue
		}
		if !m.has(m.stacks[h], int(l), left) {
			break
		}
		*x = m.layStack(m.stacks[h], int(l), *x, gap.y0, left, out) + m.p.set.CrosscutKerf
		c -= m.steps(m.lengths[l])
		laid = true
	}
	return laid
}

// layBest chooses among copies the set worth most (a 0/1 knapsack by length)
// and lays it, each with whatever fits above it.
func (m *menu) layBest(copies []int16, room, h int, x, y measure.Length, left []int, out *fill) {
	best := m.bestRow(room + 1)
	words := room/64 + 1
	taken := m.takenBits(len(copies) * words)
	for k, s := range copies {
		steps, worth := m.steps(m.shapes[s].l), m.price[s]+m.aboveWorth(s, h)
		row := taken[k*words : (k+1)*words]
		for c := room; c >= steps; c-- {
			if w := best[c-steps] + worth; w > best[c] {
				best[c] = w
				row[c/64] |= 1 << (c % 64)
			}
		}
	}
	m.spent += int64(len(copies) * (room + 8))
	c := room
	var chosen []int16 // what is laid above one of them uses the same tables
	for k := len(copies) - 1; k >= 0; k-- {
		if taken[k*words+c/64]>>(c%64)&1 == 1 {
			chosen = append(chosen, copies[k])
			c -= m.steps(m.shapes[copies[k]].l)
		}
	}
	for _, s := range chosen {
		if left[m.shapes[s].item] > 0 {
			x = m.layOne(s, h, x, y, left, out) + m.p.set.CrosscutKerf
		}
	}
}

// above is the height of the tallest strip that fits over a shape in a strip
// of height h, -1 when none does.
func (m *menu) above(s int16, h int) int {
	if !m.ripped(m.shapes[s].l) {
		return -1
	}
	return m.below(m.heights[h] - m.shapes[s].w - m.p.set.RipKerf)
}

func (m *menu) aboveWorth(s int16, h int) int64 {
	up := m.above(s, h)
	if up < 0 {
		return 0
	}
	return m.stacks[up][m.slotUnder(m.shapes[s].l)].worth
}

// slotUnder is the longest slot no longer than l.
func (m *menu) slotUnder(l measure.Length) int {
	low := 0
	for low+1 < len(m.lengths) && m.lengths[low+1] <= l {
		low++
	}
	return low
}

// layOne lays a shape and over it the best stack that is left.
func (m *menu) layOne(s int16, h int, x, y measure.Length, left []int, out *fill) measure.Length {
	sz := m.shapes[s]
	left[sz.item]--
	out.places = append(out.places, place{sz.item, x, y, sz.turned})
	out.value += m.price[s]
	up := m.above(s, h)
	if up < 0 {
		return x + sz.l
	}
	slot := m.slotUnder(sz.l)
	if m.lengths[slot] <= sz.l && !m.stacks[up][slot].empty() && m.has(m.stacks[up], slot, left) {
		m.layStack(m.stacks[up], slot, x, y+sz.w+m.p.set.RipKerf, left, out)
	}
	return x + sz.l
}

// members lists the stack of a slot, lowest first.
func (m *menu) members(row []stack, l int) func(func(stack) bool) {
	return func(yield func(stack) bool) {
		for st := row[l]; yield(st) && st.above >= 0; {
			st = m.stacks[st.above][l]
		}
	}
}

// has reports whether every shape of a stack is left, and of its strips some.
func (m *menu) has(row []stack, l int, left []int) bool {
	ok := true
	for st := range m.members(row, l) {
		if st.shape >= 0 {
			left[m.shapes[st.shape].item]--
			ok = ok && left[m.shapes[st.shape].item] >= 0
		}
	}
	for st := range m.members(row, l) {
		if st.shape >= 0 {
			left[m.shapes[st.shape].item]++
		} else {
			ok = ok && len(m.copies(int(st.strip), m.room(m.lengths[l]), left)) > 0
		}
	}
	return ok
}

// layStack lays one slot's stack at x, y and returns where it ends along x.
func (m *menu) layStack(row []stack, l int, x, y measure.Length, left []int, out *fill) measure.Length {
	end := x
	for st := range m.members(row, l) {
		if st.shape < 0 {
			high := m.heights[st.strip]
			m.fillGap(int(st.strip), rect{x, y, x + m.lengths[l], y + high}, left, out)
			end = max(end, x+m.lengths[l])
			y += high + m.p.set.RipKerf
			continue
		}
		sz := m.shapes[st.shape]
		left[sz.item]--
		out.places = append(out.places, place{sz.item, x, y, sz.turned})
		out.value += m.price[st.shape]
		end = max(end, x+sz.l)
		y += sz.w + m.p.set.RipKerf
	}
	return end
}

func (m *menu) bestRow(n int) []int64 {
	if cap(m.row) < n {
		m.row = make([]int64, n)
	}
	m.row = m.row[:n]
	clear(m.row)
	return m.row
}

func (m *menu) takenBits(n int) []uint64 {
	if cap(m.bits) < n {
		m.bits = make([]uint64, n)
	}
	m.bits = m.bits[:n]
	clear(m.bits)
	return m.bits
}
