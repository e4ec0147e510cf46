package cutting

import (
	"slices"

	"batchwright/orders/measure"
)

// place is one unit of an item on a board: its low corner and which way it lies.
type place struct {
	item   int
	x, y   measure.Length
	turned bool
}

// fill is what is cut from one board.
type fill struct {
	places []place
	value  int64
}

// size is an item as it lies.
type size struct {
	item   int
	l, w   measure.Length
	turned bool
}

// filler fills one board from what is still wanted.
type filler struct {
	p     *problem
	s     *stock
	left  []int
	sizes []size // of every item that suits the board, long to short
}

func (p *problem) newFiller(s *stock, left []int) *filler {
	f := &filler{p: p, s: s, left: slices.Clone(left)}
	for i := range p.items {
		it := &p.items[i]
		if left[i] == 0 || !s.suits(it) {
			continue
		}
		f.sizes = append(f.sizes, size{i, it.l, it.w, false})
		if it.turn {
			f.sizes = append(f.sizes, size{i, it.w, it.l, true})
		}
	}
	slices.SortStableFunc(f.sizes, func(a, b size) int { return int(max(-1, min(1, b.l-a.l))) })
	return f
}

// fillBoard lays sections along the board, each of one finished thickness and
// parted from the next by a crosscut; whole is rip first: one section a board.
func (p *problem) fillBoard(s *stock, left []int, whole bool) fill {
	f := p.newFiller(s, left)
	var out fill
	for x := s.sound.x0; x < s.sound.x1; {
		sec, end := f.bestSection(x, whole)
		if len(sec.places) == 0 {
			next := f.pastDefect(x)
			if next == x {
				break
			}
			x = next
			continue
		}
		for _, pl := range sec.places {
			f.left[pl.item]--
		}
		out.places = append(out.places, sec.places...)
		out.value += sec.value
		if whole && !s.board.Sheet {
			break
		}
		x = end + p.set.CrosscutKerf
	}
	return out
}

// pastDefect is the first end of a defect beyond x, or x when there is none.
func (f *filler) pastDefect(x measure.Length) measure.Length {
	next := x
	for _, d := range f.s.defects {
		if d.x1 > x && (next == x || d.x1 < next) {
			next = d.x1
		}
	}
	return next
}

// bestSection tries every thickness, and every section length that an item
// suggests, and keeps the one that fills its wood best.
func (f *filler) bestSection(x measure.Length, whole bool) (best fill, end measure.Length) {
	var bestLength measure.Length
	for _, thick := range f.thicknesses() {
		for _, length := range f.sectionLengths(x, thick, whole) {
			got := f.section(thick, rect{x, f.s.sound.y0, x + length, f.s.sound.y1})
			used := f.reach(got, x)
			if used > length {
				continue
			}
			if denser(got.value, used+f.p.set.CrosscutKerf, best.value, bestLength) {
				best, end, bestLength = got, x+used, used+f.p.set.CrosscutKerf
			}
		}
	}
	return best, end
}

// denser compares value over length, exactly; an empty fill is never denser.
func denser(v1 int64, l1 measure.Length, v2 int64, l2 measure.Length) bool {
	if v1 <= 0 || v2 <= 0 {
		return v1 > 0
	}
	return product(v2, int64(l1)).less(product(v1, int64(l2)))
}

// reach is how long a section that holds these places must be: their extent,
// and never less than what may go through the planer.
func (f *filler) reach(got fill, x measure.Length) measure.Length {
	end := x
	for _, pl := range got.places {
		end = max(end, pl.x+f.lengthOf(pl))
	}
	return max(end-x, f.p.machine(f.s))
}

func (f *filler) lengthOf(pl place) measure.Length {
	l, _ := f.p.extent(pl)
	return l
}

// extent is a place's size along x and y.
func (p *problem) extent(pl place) (l, w measure.Length) {
	it := &p.items[pl.item]
	if pl.turned {
		return it.w, it.l
	}
	return it.l, it.w
}

func (f *filler) thicknesses() []measure.Length {
	var out []measure.Length
	for _, sz := range f.sizes {
		t := f.p.items[sz.item].thick
		if f.left[sz.item] > 0 && !slices.Contains(out, t) {
			out = append(out, t)
		}
	}
	slices.SortFunc(out, func(a, b measure.Length) int { return int(max(-1, min(1, b-a))) })
	return out
}

const manyLengths = 12 // section lengths tried at one place

// sectionLengths are the lengths worth trying from x on: what is left of the
// board, and with crosscuts first one or more lengths of an item.
func (f *filler) sectionLengths(x, thick measure.Length, whole bool) []measure.Length {
	rest := f.s.sound.x1 - x
	out := []measure.Length{rest}
	if whole {
		return out
	}
	kerf := f.p.set.CrosscutKerf
	for _, sz := range f.sizes {
		if f.left[sz.item] == 0 || f.p.items[sz.item].thick != thick {
			continue
		}
		n := max(1, ceilDiv(f.p.machine(f.s)+kerf, sz.l+kerf))
		length := max(n*(sz.l+kerf)-kerf, f.p.machine(f.s))
		if length < rest && !slices.Contains(out, length) {
			out = append(out, length)
		}
		if len(out) == manyLengths {
			break
		}
	}
	return out
}

func ceilDiv(a, b measure.Length) measure.Length { return (a + b - 1) / max(b, 1) }

// section stacks strips across the board until nothing more fits.
func (f *filler) section(thick measure.Length, r rect) fill {
	var out fill
	left := slices.Clone(f.left)
	for y := r.y0; y < r.y1; {
		strip, high := f.bestStrip(thick, rect{r.x0, y, r.x1, r.y1}, left)
		if len(strip.places) == 0 {
			next := f.aboveDefect(y)
			if next == y {
				break
			}
			y = next
			continue
		}
		for _, pl := range strip.places {
			left[pl.item]--
		}
		out.places = append(out.places, strip.places...)
		out.value += strip.value
		y += high + f.p.set.RipKerf
	}
	return out
}

func (f *filler) aboveDefect(y measure.Length) measure.Length {
	next := y
	for _, d := range f.s.defects {
		if d.y1 > y && (next == y || d.y1 < next) {
			next = d.y1
		}
	}
	return next
}

const manyHeights = 10 // strip heights tried at one place

// bestStrip tries the heights of the items still wanted at the low edge of r.
func (f *filler) bestStrip(thick measure.Length, r rect, left []int) (best fill, high measure.Length) {
	var tried []measure.Length
	for _, sz := range f.sizes {
		if left[sz.item] == 0 || f.p.items[sz.item].thick != thick || sz.w > r.width() || sz.l > r.length() ||
			slices.Contains(tried, sz.w) {
			continue
		}
		tried = append(tried, sz.w)
		got := f.strip(thick, rect{r.x0, r.y0, r.x1, r.y0 + sz.w}, left)
		if denser(got.value, sz.w+f.p.set.RipKerf, best.value, high+f.p.set.RipKerf) {
			best, high = got, sz.w
		}
		if len(tried) == manyHeights {
			break
		}
	}
	return best, high
}

// strip lays items end to end between the defects of one band, long before
// short.
func (f *filler) strip(thick measure.Length, r rect, left []int) fill {
	var out fill
	taken := map[int]int{}
	x := r.x0
	for _, gap := range f.clear(r) {
		x = max(x, gap.x0)
		for _, sz := range f.sizes {
			if f.p.items[sz.item].thick != thick || sz.w > r.width() || 2*sz.w <= r.width() {
				continue
			}
			for x+sz.l <= gap.x1 && taken[sz.item] < left[sz.item] {
				out.places = append(out.places, place{sz.item, x, r.y0, sz.turned})
				out.value += f.p.items[sz.item].value
				taken[sz.item]++
				x += sz.l + f.p.set.CrosscutKerf
			}
		}
	}
	return out
}

// clear cuts the defects out of a band: what is left of it along x.
func (f *filler) clear(band rect) []rect {
	out := []rect{band}
	for _, d := range f.s.defects {
		if !d.overlaps(band) {
			continue
		}
		var next []rect
		for _, g := range out {
			if !g.overlaps(d) {
				next = append(next, g)
				continue
			}
			if g.x0 < d.x0 {
				next = append(next, rect{g.x0, g.y0, d.x0, g.y1})
			}
			if d.x1 < g.x1 {
				next = append(next, rect{d.x1, g.y0, g.x1, g.y1})
			}
		}
		out = next
	}
	return out
}
