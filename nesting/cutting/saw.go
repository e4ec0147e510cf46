package cutting

import (
	"cmp"
	"slices"

	"batchwright/nesting"
	"batchwright/orders/measure"
)

// saw turns the places on one board into the cuts that free them, in the order
// they are made, and the offcuts that fall. Cuts made before planing come
// first: they part finished thicknesses, and offcuts that go back unplaned.
type saw struct {
	p       *problem
	s       *stock
	pieces  []cutPiece
	rough   []nesting.Cut
	final   []nesting.Cut
	offcuts []nesting.Offcut
}

// cutPiece is a rectangle to be freed and the thickness it is planed to.
type cutPiece struct {
	rect
	thick measure.Length
}

// axis is the direction along which pieces are told apart: a crosscut tells
// them apart along x, a rip along y.
type axis int

const (
	alongX axis = iota
	alongY
)

func (a axis) other() axis { return 1 - a }

func (r rect) span(a axis) (lo, hi measure.Length) {
	if a == alongX {
		return r.x0, r.x1
	}
	return r.y0, r.y1
}

// with is r with its span along a replaced.
func (r rect) with(a axis, lo, hi measure.Length) rect {
	if a == alongX {
		return rect{lo, r.y0, hi, r.y1}
	}
	return rect{r.x0, lo, r.x1, hi}
}

func (w *saw) kerf(a axis) measure.Length {
	if a == alongX {
		return w.p.set.CrosscutKerf
	}
	return w.p.set.RipKerf
}

// group is pieces that no cut across the axis can part.
type group struct {
	lo, hi measure.Length
	pieces []cutPiece
}

// groups sweeps the pieces along the axis and parts them wherever a kerf fits.
func (w *saw) groups(pieces []cutPiece, a axis) []group {
	sorted := slices.Clone(pieces)
	slices.SortFunc(sorted, func(p, q cutPiece) int {
		plo, _ := p.span(a)
		qlo, _ := q.span(a)
		return cmp.Compare(plo, qlo)
	})
	var out []group
	for _, p := range sorted {
		lo, hi := p.span(a)
		if last := len(out) - 1; last >= 0 && lo < out[last].hi+w.kerf(a) {
			out[last].hi = max(out[last].hi, hi)
			out[last].pieces = append(out[last].pieces, p)
			continue
		}
		out = append(out, group{lo, hi, []cutPiece{p}})
	}
	return out
}

// cut makes one cut through a region.
func (w *saw) cut(a axis, at measure.Length, region rect, rough bool) {
	kind := nesting.Crosscut
	if a == alongY {
		kind = nesting.Rip
	}
	from, to := region.span(a.other())
	c := nesting.Cut{Kind: kind, At: at, From: from, To: to, Kerf: w.kerf(a), Rough: rough}
	if rough {
		w.rough = append(w.rough, c)
	} else {
		w.final = append(w.final, c)
	}
}

// free makes every cut that frees the pieces of a region, after planing (or
// without, for a sheet). prefer is the way to look first.
func (w *saw) free(region rect, pieces []cutPiece, prefer axis) {
	for _, a := range []axis{prefer, prefer.other()} {
		gs := w.groups(pieces, a)
		lo, hi := region.span(a)
		if len(gs) == 1 && gs[0].lo == lo && gs[0].hi == hi {
			continue
		}
		w.freeAll(region, a, gs)
		return
	}
}

// freeAll frees one group after another along the axis.
func (w *saw) freeAll(region rect, a axis, gs []group) {
	lo, hi := region.span(a)
	for i, g := range gs {
		next := hi
		if i+1 < len(gs) {
			next = gs[i+1].lo - w.kerf(a)
		}
		lo = w.release(region, a, lo, next, g)
	}
}

// release frees one group from what is left of a region from lo on, and
// returns where the rest begins. next is where the following group's own low
// cut would begin.
func (w *saw) release(region rect, a axis, lo, next measure.Length, g group) measure.Length {
	_, end := region.span(a)
	kerf := w.kerf(a)
	if g.lo > lo {
		w.cut(a, g.lo-kerf, region.with(a, lo, end), false)
		w.drop(region.with(a, lo, g.lo-kerf), false)
	}
	rest := end
	if g.hi < end {
		w.cut(a, g.hi, region.with(a, g.lo, end), false)
		rest = g.hi + kerf
		if next == end {
			w.drop(region.with(a, rest, end), false)
		}
	}
	w.free(region.with(a, g.lo, g.hi), g.pieces, a.other())
	return rest
}

// keeps reports whether a region left over goes back to the rack: at least the
// size the shop keeps, and clear wood of that size within it.
func (w *saw) keeps(region rect) bool {
	r := region.within(w.s.sound)
	l, b := w.p.set.KeepLength, w.p.set.KeepWidth
	return !r.empty() && r.length() >= l && r.width() >= b && w.s.clearIn(r, l, b)
}

// drop records what falls off. Only wood that was never planed is kept.
func (w *saw) drop(region rect, rough bool) {
	r := region.within(w.s.sound)
	if r.empty() {
		return
	}
	set := w.p.set
	sizeable := r.length() >= set.KeepLength && r.width() >= set.KeepWidth
	keep := (rough || w.s.board.Sheet) && w.keeps(region)
	if keep {
		w.square(region, r, rough)
	}
	worthNaming := 2*r.length() >= set.KeepLength && 2*r.width() >= set.KeepWidth
	if keep || worthNaming && !sizeable {
		w.offcuts = append(w.offcuts, nesting.Offcut{X: r.x0, Y: r.y0, Length: r.length(), Width: r.width(), Keep: keep})
	}
}

// square cuts the raw ends and edges off an offcut, so that its size is what
// can be used of it and it is never trimmed again.
func (w *saw) square(region, want rect, rough bool) {
	for _, a := range []axis{alongX, alongY} {
		lo, hi := region.span(a)
		wantLo, wantHi := want.span(a)
		if lo < wantLo {
			w.cut(a, wantLo-w.kerf(a), region, rough)
			lo = wantLo
			region = region.with(a, lo, hi)
		}
		if hi > wantHi {
			w.cut(a, wantHi, region, rough)
			region = region.with(a, lo, wantHi)
		}
	}
}

// clearIn reports whether a rectangle l x w without defects lies in r.
func (s *stock) clearIn(r rect, l, w measure.Length) bool {
	xs, ys := []measure.Length{r.x0}, []measure.Length{r.y0}
	for _, d := range s.defects {
		xs, ys = append(xs, d.x1), append(ys, d.y1)
	}
	for _, x := range xs {
		for _, y := range ys {
			c := rect{x, y, x + l, y + w}
			if c.within(r) == c && !s.blocked(c) {
				return true
			}
		}
	}
	return false
}
