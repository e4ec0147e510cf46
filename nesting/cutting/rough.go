package cutting

import "batchwright/orders/measure"

// before makes the cuts that come before planing: what parts two finished
// thicknesses, and what saves an offcut from the planer. Every part of the
// board that is planed stays at least the shortest machine length long. Then
// the rest is freed.
func (w *saw) before(region rect, pieces []cutPiece, prefer axis) {
	if w.s.board.Sheet {
		w.afterwards(region, pieces)
		return
	}
	for _, a := range []axis{prefer, prefer.other()} {
		parts := w.partings(region, pieces, a, false)
		if parts != nil && a != prefer && w.asked() {
			if first := w.partings(region, pieces, prefer, true); first != nil {
				a, parts = prefer, first
			}
		}
		if parts != nil {
			for _, part := range parts {
				w.apart(part, a)
			}
			return
		}
	}
	w.afterwards(region, pieces)
}

// asked reports whether the next cut is the board's first and the shop says
// which way it goes.
func (w *saw) asked() bool { return len(w.rough) == 0 && w.p.set.CutFirst != "best" }

// afterwards frees what was planed in one piece. Long strips are ripped before
// they are crosscut, so that nothing short is ripped; a shop that crosscuts
// first has its boards cut into sections before that.
func (w *saw) afterwards(region rect, pieces []cutPiece) {
	if w.p.set.CutFirst != "crosscut" || len(w.rough) > 0 {
		w.free(region, pieces, alongY)
		return
	}
	w.freeAll(region, alongX, w.sections(w.groups(pieces, alongX)))
}

// sections joins neighbours along the board until each is long enough to be
// ripped.
func (w *saw) sections(gs []group) []group {
	out := gs[:0:0]
	for _, g := range gs {
		last := len(out) - 1
		if last >= 0 && out[last].hi-out[last].lo < w.p.set.ShortestMachine {
			out[last].hi = g.hi
			out[last].pieces = append(out[last].pieces, g.pieces...)
			continue
		}
		out = append(out, g)
	}
	return out
}

// parting is a region that a rough cut sets apart: with pieces it is planed,
// without it is left over.
type parting struct {
	before rect // what is cut to set it apart
	at     measure.Length
	last   bool // nothing is left after it: no cut
	region rect
	pieces []cutPiece
}

func (w *saw) apart(part parting, a axis) {
	if !part.last {
		w.cut(a, part.at, part.before, true)
	}
	if len(part.pieces) == 0 {
		w.drop(part.region, true)
		return
	}
	w.before(part.region, part.pieces, a.other())
}

// partings decides the rough cuts across one axis; nil when there are none. They
// are those that are worth it, or every one that can be.
func (w *saw) partings(region rect, pieces []cutPiece, a axis, every bool) []parting {
	lo, hi := region.span(a)
	kerf := w.kerf(a)
	gs := w.groups(pieces, a)
	var out []parting
	add := func(at measure.Length, pcs []cutPiece) {
		out = append(out, parting{region.with(a, lo, hi), at, false, region.with(a, lo, at), pcs})
		lo = at + kerf
	}
	if at := gs[0].lo - kerf; w.keeps(region.with(a, lo, at)) && w.planable(region.with(a, at+kerf, hi), pieces) {
		add(at, nil)
	}
	var held []cutPiece
	for i, g := range gs {
		held = append(held, g.pieces...)
		at := w.stretch(region, a, lo, g.hi)
		limit := hi
		if i+1 < len(gs) {
			limit = gs[i+1].lo - kerf
		}
		if at > limit || !w.planable(region.with(a, lo, at), held) {
			continue
		}
		rest := restOf(gs[i+1:])
		switch {
		case at < hi && w.keeps(region.with(a, at+kerf, limit)) && w.restPlanable(region, a, limit+kerf, hi, rest):
			add(at, held)
			held = nil
			if i+1 < len(gs) {
				add(limit, nil)
			} else {
				out = append(out, parting{region: region.with(a, lo, hi), last: true})
				return out
			}
		case every && i+1 == len(gs) && at < hi:
			add(at, held)
			return append(out, parting{region: region.with(a, lo, hi), last: true})
		case i+1 < len(gs) && (every || w.differ(region, a, held, gs[i+1])) && w.restPlanable(region, a, at+kerf, hi, rest):
			add(at, held)
			held = nil
		}
	}
	if len(out) == 0 {
		return nil
	}
	if len(held) > 0 {
		out = append(out, parting{region: region.with(a, lo, hi), pieces: held, last: true})
	}
	return out
}

func restOf(gs []group) []cutPiece {
	var out []cutPiece
	for _, g := range gs {
		out = append(out, g.pieces...)
	}
	return out
}

// differ reports whether two neighbours must or should be parted before
// planing: another thickness, or across the board another length of tail that
// is worth keeping.
func (w *saw) differ(region rect, a axis, held []cutPiece, next group) bool {
	if a == alongX {
		return held[0].thick != next.pieces[0].thick
	}
	return w.tail(region, held) || w.tail(region, next.pieces)
}

// tail reports whether a strip of pieces leaves an end worth keeping.
func (w *saw) tail(region rect, strip []cutPiece) bool {
	r := strip[0].rect
	for _, p := range strip {
		r = rect{min(r.x0, p.x0), min(r.y0, p.y0), max(r.x1, p.x1), max(r.y1, p.y1)}
	}
	end := rect{max(r.x1, r.x0+w.p.machine(w.s)) + w.kerf(alongX), r.y0, region.x1, r.y1}
	return w.keeps(end)
}

// stretch is the end of a piece of board that begins at lo and holds pieces up
// to hi, lengthened to what the planer takes.
func (w *saw) stretch(region rect, a axis, lo, hi measure.Length) measure.Length {
	if a == alongY {
		return hi
	}
	return max(hi, max(lo, w.s.sound.x0)+w.p.machine(w.s))
}

// planable reports whether a region with pieces is long enough to be planed.
func (w *saw) planable(region rect, pieces []cutPiece) bool {
	return len(pieces) == 0 || region.within(w.s.sound).length() >= w.p.machine(w.s)
}

func (w *saw) restPlanable(region rect, a axis, lo, hi measure.Length, pieces []cutPiece) bool {
	return w.planable(region.with(a, lo, hi), pieces)
}
