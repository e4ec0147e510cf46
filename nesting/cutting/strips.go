package cutting

import "batchwright/orders/measure"

// bands plans the strips across one stretch of board: how high each is, from
// the low edge up, and what the tables promise for it.
type bands struct {
	m    *menu
	s    *stock
	r    rect
	step measure.Length
	best []int64 // worth of the wood from each position up
	cap  []int64 // by height: all that is left to fill such a strip with
}

// maxBands bounds the positions tried across a board.
const maxBands = 600

// newBands prepares the positions; one more than the last fits a kerf beyond.
func (m *menu) newBands(s *stock, r rect, left []int) *bands {
	kerf := m.p.set.RipKerf
	b := &bands{m: m, s: s, r: r, step: max(m.heightStep, (r.width()+kerf)/maxBands+1)}
	if m.heightStep >= b.step {
		b.step = m.heightStep
	}
	n := int((r.width() + kerf) / b.step)
	b.best = make([]int64, n+1)
	b.cap = m.caps(left)
	for at := n - 1; at >= 0; at-- {
		b.best[at] = b.best[at+1]
		for h := range m.heights {
			if worth, next := b.strip(at, h); worth > 0 {
				b.best[at] = max(b.best[at], worth+b.best[next])
			}
		}
	}
	m.spent += int64(n * len(m.heights) * (3 + 6*len(s.defects)))
	return b
}

// caps is, by height, the worth of everything left that may lie in a strip.
func (m *menu) caps(left []int) []int64 {
	out := make([]int64, len(m.heights))
	for s, sz := range m.shapes {
		for h, high := range m.heights {
			if sz.w <= high {
				out[h] += int64(left[sz.item]) * m.price[s]
			}
		}
	}
	return out
}

// strip is what a strip of height h laid at a position promises, and the first
// position above it; nothing when it does not fit.
func (b *bands) strip(at, h int) (worth int64, next int) {
	high := b.m.heights[h]
	next = at + int((high+b.m.p.set.RipKerf+b.step-1)/b.step)
	if next >= len(b.best) || b.cap[h] == 0 {
		return 0, at
	}
	table := b.m.worth[h]
	if len(b.s.defects) == 0 {
		return min(b.cap[h], table[min(b.m.room(b.r.length()), len(table)-1)]), next
	}
	for gap := range b.s.clear(b.bandAt(at, high), b.m.p.set.CrosscutKerf) {
		worth += table[min(b.m.room(gap.length()), len(table)-1)]
	}
	return min(b.cap[h], worth), next
}

func (b *bands) bandAt(at int, high measure.Length) rect {
	y := b.r.y0 + measure.Length(at)*b.step
	return rect{b.r.x0, y, b.r.x1, y + high}
}

// clear yields what the defects leave of a band along x, each gap at least a
// kerf from the one before.
func (s *stock) clear(band rect, kerf measure.Length) func(func(rect) bool) {
	return func(yield func(rect) bool) {
		x := band.x0
		for _, d := range s.defects { // by x0
			if !d.overlaps(band) {
				continue
			}
			if d.x0 > x {
				if !yield(rect{x, band.y0, d.x0, band.y1}) {
					return
				}
				x = d.x0 + kerf
			}
			x = max(x, d.x1)
		}
		if x < band.x1 {
			yield(rect{x, band.y0, band.x1, band.y1})
		}
	}
}

// lay fills a stretch of board with strips, within what is left. It takes what
// it lays off left.
func (m *menu) lay(s *stock, r rect, left []int) fill {
	var out fill
	b := m.newBands(s, r, left)
	for at := 0; at < len(b.best)-1; {
		h, next := b.choose(at, left)
		if h < 0 {
			break
		}
		if h < len(m.heights) {
			b.into(at, h, left, &out)
			b.cap = m.caps(left)
		}
		at = next
	}
	return out
}

// tries is how many heights are filled in earnest before one is chosen.
const tries = 3

// choose picks the height of the next strip: of the few that promise most, the
// one that holds most in earnest. A height of len(heights) means that wood is
// skipped up to next; -1, that nothing more fits.
func (b *bands) choose(at int, left []int) (height, next int) {
	var picks [tries]int
	var promise [tries]int64
	n := 0
	for h := range b.m.heights {
		worth, up := b.strip(at, h)
		if worth == 0 {
			continue
		}
		total := worth + b.best[up]
		k := min(n, tries-1)
		if n == tries && total <= promise[k] {
			continue
		}
		for ; k > 0 && total > promise[k-1]; k-- {
			picks[k], promise[k] = picks[k-1], promise[k-1]
		}
		picks[k], promise[k] = h, total
		n = min(n+1, tries)
	}
	if n == 0 || b.best[at+1] > promise[0] {
		return b.skip(at)
	}
	height, best := -1, int64(0)
	for _, h := range picks[:n] {
		var trial fill
		b.into(at, h, left, &trial)
		for _, pl := range trial.places {
			left[pl.item]++
		}
		_, up := b.strip(at, h)
		if total := trial.value + b.best[up]; trial.value > 0 && total > best {
			height, next, best = h, up, total
		}
	}
	if height < 0 {
		return b.skip(at)
	}
	return height, next
}

// skip passes over wood up to the next position from which anything is
// promised.
func (b *bands) skip(at int) (height, next int) {
	for up := at + 1; up < len(b.best)-1; up++ {
		for h := range b.m.heights {
			if worth, _ := b.strip(up, h); worth > 0 && len(b.s.defects) > 0 {
				return len(b.m.heights), up
			}
		}
	}
	return -1, at
}

// into fills the strip of height h at a position.
func (b *bands) into(at, h int, left []int, out *fill) {
	for gap := range b.s.clear(b.bandAt(at, b.m.heights[h]), b.m.p.set.CrosscutKerf) {
		b.m.fillGap(h, gap, left, out)
	}
}
