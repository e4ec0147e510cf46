package cutting

import (
	"slices"

	"batchwright/orders/measure"
)

// before is the tree of the least loss for a region that is still rough: cuts
// that part two finished thicknesses or save an offcut from the planer, every
// piece that is planed at least the shortest machine length long, and then the
// cuts that free the rest. first: the next cut is the board's first.
func (w *saw) before(region rect, pieces []cutPiece, first bool) *node {
	if w.s.board.Sheet {
		return w.afterwards(region, pieces, first)
	}
	asked := first && w.p.set.CutFirst != "best"
	var best *node
	for _, a := range []axis{alongX, alongY} {
		if asked && a != w.preferred() {
			continue
		}
		best = w.lower(best, w.parted(region, a, w.partings(region, pieces, a, false)))
	}
	if asked && best == nil {
		best = w.askedFirst(region, pieces)
	}
	if asked && best != nil {
		return best
	}
	if oneThickness(pieces) {
		best = w.lower(best, w.afterwards(region, pieces, first))
	}
	return best
}

// askedFirst cuts the way the shop starts where only the other way is worth it.
func (w *saw) askedFirst(region rect, pieces []cutPiece) *node {
	if w.partings(region, pieces, w.preferred().other(), false) == nil {
		return nil
	}
	if n := w.parted(region, w.preferred(), w.partings(region, pieces, w.preferred(), true)); n != nil {
		return n
	}
	other := w.preferred().other()
	return w.parted(region, other, w.partings(region, pieces, other, false))
}

// preferred is the axis of the first cut that the shop asks for.
func (w *saw) preferred() axis {
	if w.p.set.CutFirst == "crosscut" {
		return alongX
	}
	return alongY
}

func oneThickness(pieces []cutPiece) bool {
	for _, p := range pieces {
		if p.thick != pieces[0].thick {
			return false
		}
	}
	return true
}

// afterwards frees what was planed in one piece, the first cut as the shop
// asks; crosscut first, the board is cut into sections long enough to be ripped.
func (w *saw) afterwards(region rect, pieces []cutPiece, first bool) *node {
	var asked *node
	switch {
	case !first || w.p.set.CutFirst == "best":
	case w.p.set.CutFirst == "crosscut":
		asked = w.inTurn(region, alongX, w.sections(w.groups(pieces, alongX)))
	default:
		asked = w.across(region, pieces, alongY)
	}
	if asked != nil {
		return asked
	}
	return w.free(region, pieces)
}

// sections joins neighbours along the board until each is long enough to be
// planed and ripped.
func (w *saw) sections(gs []group) []group {
	out := gs[:0:0]
	least := max(w.p.set.ShortestMachine, w.p.set.ShortestRip)
	for _, g := range gs {
		last := len(out) - 1
		if last >= 0 && out[last].hi-out[last].lo < least {
			out[last].hi = g.hi
			out[last].pieces = append(slices.Clip(out[last].pieces), g.pieces...)
			continue
		}
		out = append(out, g)
	}
	return out
}

// parting is a region that a rough cut sets apart: with pieces it is planed,
// without it is left over.
type parting struct {
	at     measure.Length
	last   bool // nothing is left after it: no cut
	region rect
	pieces []cutPiece
}

// parted is the tree of rough cuts; nil where there are none, or not all of
// what they part can be cut safely.
func (w *saw) parted(region rect, a axis, parts []parting) *node {
	if parts == nil {
		return nil
	}
	c := w.newChain(region, a, true)
	for _, part := range parts {
		var child *node
		if len(part.pieces) > 0 {
			if child = w.before(part.region, part.pieces, false); child == nil {
				return nil
			}
		} else {
			child = w.drop(part.region, true)
		}
		if part.last {
			c.n.rest = child
			c.add(child)
			break
		}
		c.cut(part.at, child)
	}
	if !c.ok {
		return nil
	}
	return c.n
}

// partings decides the rough cuts across one axis; nil when there are none. They
// are those that are worth it, or every one that can be.
func (w *saw) partings(region rect, pieces []cutPiece, a axis, every bool) []parting {
	lo, hi := region.span(a)
	kerf := w.kerf(a)
	gs := w.groups(pieces, a)
	var out []parting
	add := func(at measure.Length, pcs []cutPiece) {
		out = append(out, parting{at, false, region.with(a, lo, at), pcs})
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
