package cutting

import (
	"cmp"
	"slices"

	"batchwright/nesting"
	"batchwright/orders/measure"
)

// saw finds the cuts that free the places on one board: a tree in which every
// node is a piece of board and the cuts across it. It makes only trees that
// the guides of the shop's saw can follow.
type saw struct {
	p      *problem
	s      *stock
	pieces []cutPiece
	whole  float64 // area of the board
	memo   map[rect]*node
	root   *node

	stuck []cutPiece // the first pieces found that no safe cut frees
}

// cutPiece is a rectangle to be freed and the thickness it is planed to.
type cutPiece struct {
	rect
	thick measure.Length
}

// node is a piece of board. Its cuts run across one axis, from the low side up.
type node struct {
	region rect
	axis   axis
	rough  bool // its cuts come before planing
	steps  []step
	rest   *node // what is left above the last cut; nil: waste

	offcut *nesting.Offcut
	loss   int64 // of it and all below: milliseconds of work, less what its offcuts count for
	work   int64 // milliseconds of its cuts and all below, without setting stop and fence
}

// step is one cut and what falls below its kerf; nil: waste.
type step struct {
	at  measure.Length
	low *node
}

// axis is the direction along which pieces are told apart: a crosscut tells
// them apart along x, a rip along y.
type axis int

const (
	alongX axis = iota
	alongY
)

func (a axis) other() axis { return 1 - a }

func (a axis) kind() nesting.CutKind {
	if a == alongX {
		return nesting.Crosscut
	}
	return nesting.Rip
}

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
	slices.SortStableFunc(sorted, func(p, q cutPiece) int {
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

// free is the tree of the least loss that frees the pieces of a region after
// planing (or without, for a sheet); nil: no safe one does.
func (w *saw) free(region rect, pieces []cutPiece) *node {
	if len(pieces) == 1 && pieces[0].rect == region {
		return &node{region: region}
	}
	if n, known := w.memo[region]; known {
		return n
	}
	w.memo[region] = nil // a cut that leaves the region as it is frees nothing
	best := w.lower(nil, w.across(region, pieces, alongY))
	best = w.lower(best, w.across(region, pieces, alongX))
	best = w.lower(best, w.endFirst(region, pieces))
	if best == nil && w.stuck == nil {
		w.stuck = pieces
	}
	w.memo[region] = best
	return best
}

func (w *saw) lower(a, b *node) *node {
	if a == nil || b != nil && b.loss < a.loss {
		return b
	}
	return a
}

// endFirst trims the low end of all strips at once before they are ripped.
func (w *saw) endFirst(region rect, pieces []cutPiece) *node {
	low := pieces[0].x0
	for _, p := range pieces {
		low = min(low, p.x0)
	}
	if low == region.x0 || len(pieces) == 1 {
		return nil
	}
	c := w.newChain(region, alongX, false)
	c.trim(low - c.kerf)
	return c.end(w.across(region.with(alongX, low, region.x1), pieces, alongY))
}

// across frees the groups along an axis one after another.
func (w *saw) across(region rect, pieces []cutPiece, a axis) *node {
	gs := w.groups(pieces, a)
	if a == alongX {
		gs = w.runs(region, gs)
	}
	lo, hi := region.span(a)
	if len(gs) == 1 && gs[0].lo == lo && gs[0].hi == hi || a == alongY && !w.ripped(region) {
		return nil
	}
	return w.inTurn(region, a, gs)
}

// inTurn frees groups in their order; nil: not all can be.
func (w *saw) inTurn(region rect, a axis, gs []group) *node {
	_, hi := region.span(a)
	c := w.newChain(region, a, false)
	for i, g := range gs {
		if g.lo > c.lo {
			c.trim(g.lo - c.kerf)
		}
		child := w.free(region.with(a, g.lo, g.hi), g.pieces)
		if i+1 == len(gs) && child == nil && g.hi < hi {
			return c.end(w.free(region.with(a, g.lo, hi), g.pieces))
		}
		if g.hi == hi {
			return c.end(child)
		}
		c.release(g.hi, child)
	}
	return c.close()
}

// runs joins neighbours along the board that are ripped alike: a run of one
// width is ripped before it is crosscut.
func (w *saw) runs(region rect, gs []group) []group {
	out := gs[:0:0]
	for _, g := range gs {
		last := len(out) - 1
		if last >= 0 && w.rips(region, g) && sameRips(out[last], g) {
			out[last].hi = g.hi
			out[last].pieces = append(slices.Clip(out[last].pieces), g.pieces...)
			continue
		}
		out = append(out, g)
	}
	return out
}

// rips reports whether a group needs a rip across its region.
func (w *saw) rips(region rect, g group) bool {
	return len(g.pieces) > 1 || g.pieces[0].y0 != region.y0 || g.pieces[0].y1 != region.y1
}

// sameRips reports whether two groups are parted at the same places across the
// board.
func sameRips(a, b group) bool {
	return slices.Equal(edges(a.pieces), edges(b.pieces))
}

func edges(pieces []cutPiece) []measure.Length {
	out := make([]measure.Length, 0, 2*len(pieces))
	for _, p := range pieces {
		out = append(out, p.y0, p.y1)
	}
	slices.Sort(out)
	return slices.Compact(out)
}

// keeps reports whether a region left over goes back to the rack: at least the
// size the shop keeps, and clear wood of that size within it.
func (w *saw) keeps(region rect) bool {
	r := region.within(w.s.sound)
	l, b := w.p.set.KeepLength, w.p.set.KeepWidth
	return !r.empty() && r.length() >= l && r.width() >= b && w.s.clearIn(r, l, b)
}

// drop is what falls off: an offcut, or nil for waste. Only wood that was never
// planed is kept.
func (w *saw) drop(region rect, rough bool) *node {
	r := region.within(w.s.sound)
	if r.empty() {
		return nil
	}
	set := w.p.set
	if (rough || w.s.board.Sheet) && w.keeps(region) {
		if n := w.square(region, r, rough, alongX); n != nil {
			return n
		}
	}
	sizeable := r.length() >= set.KeepLength && r.width() >= set.KeepWidth
	if worthNaming := 2*r.length() >= set.KeepLength && 2*r.width() >= set.KeepWidth; worthNaming && !sizeable {
		return &node{region: region, offcut: offcutOf(r, false)}
	}
	return nil
}

func offcutOf(r rect, keep bool) *nesting.Offcut {
	return &nesting.Offcut{X: r.x0, Y: r.y0, Length: r.length(), Width: r.width(), Keep: keep}
}

// square cuts the raw ends and edges off an offcut, so that its size is what
// can be used of it and it is never trimmed again; nil: no safe cut does.
func (w *saw) square(region, want rect, rough bool, a axis) *node {
	lo, hi := want.span(a)
	in := region.with(a, lo, hi)
	var child *node
	if a == alongX {
		child = w.square(in, want, rough, alongY)
	} else {
		child = &node{region: want, offcut: offcutOf(want, true), loss: -w.worth(want)}
	}
	if in == region {
		return child
	}
	c := w.newChain(region, a, rough)
	if lo > c.lo {
		c.trim(lo - c.kerf)
	}
	if hi == c.hi {
		return c.end(child)
	}
	c.release(hi, child)
	return c.close()
}

// worth is what an offcut kept counts for in milliseconds of work: its share of
// the board, and more in one piece than in many.
func (w *saw) worth(r rect) int64 {
	const hour = 3_600_000
	f := float64(area(r.length(), r.width())) / w.whole
	return int64(1.5 * hour * (f + f*f))
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
