package cutting

import (
	"slices"

	"batchwright/nesting"
	"batchwright/orders/measure"
)

// guided is how one cut is held straight, and the end or edge it is set from.
type guided struct {
	guide nesting.Guide
	far   bool // set from the high side
}

// ripped reports whether solid wood of this length may be ripped at all.
func (w *saw) ripped(region rect) bool {
	return w.s.board.Sheet || region.length() >= w.p.set.ShortestRip
}

// guide chooses how a cut across an axis is made in a region; not ok: it cannot
// be made safely. A trim has its waste on the low side: it is set from the far
// side, so that the waste falls away from the fence.
func (w *saw) guide(a axis, region rect, at measure.Length, trim bool) (g guided, ok bool) {
	lo, hi := region.span(a)
	low, far := at-lo, hi-at-w.kerf(a)
	if far < 0 {
		far = -1
	}
	if !w.s.board.Sheet {
		return w.guideSolid(a, region, low, far, trim)
	}
	return w.guideSheet(a, region, low, far, trim), true
}

func (w *saw) guideSolid(a axis, region rect, low, far measure.Length, trim bool) (guided, bool) {
	if a == alongX {
		g := guided{nesting.ByStop, low < 0}
		if !within(region.width(), w.p.set.SledTakes) {
			g.guide = nesting.ByStraightedge
		}
		return g, true
	}
	along := region.length()
	if along < w.p.set.ShortestRip {
		return guided{}, false
	}
	lowOK, farOK := w.fence(along, low), w.fence(along, far)
	fromFar := low < 0 || !lowOK || trim && farOK && !w.tapers(region)
	if fromFar {
		return guided{nesting.ByFence, true}, farOK
	}
	return guided{nesting.ByFence, false}, true
}

// guideSheet: a sheet is cut on the sled or along the fence whichever way the
// cut runs, and with a straightedge where it is too large for both.
func (w *saw) guideSheet(a axis, region rect, low, far measure.Length, trim bool) guided {
	from, to := region.span(a.other())
	along := to - from
	lowOK, farOK := w.fence(along, low), w.fence(along, far)
	switch {
	case trim && low < far && farOK || low < 0 && farOK:
		return guided{nesting.ByFence, true}
	case lowOK:
		return guided{nesting.ByFence, false}
	case within(along, w.p.set.SledTakes):
		return guided{nesting.ByStop, low < 0}
	case farOK && trim:
		return guided{nesting.ByFence, true}
	}
	return guided{nesting.ByStraightedge, low < 0}
}

// fence reports whether work so long along the fence may be cut at a distance
// from it.
func (w *saw) fence(along, distance measure.Length) bool {
	set := w.p.set
	return distance >= 0 && along >= set.ShortestRip && within(distance, set.FenceReaches) &&
		(set.ShortestRip == 0 || distance <= along)
}

// within reports whether a length keeps to a limit, of which 0 is none.
func within(l, limit measure.Length) bool { return limit == 0 || l <= limit }

// tapers reports whether a region has the far edge of a board that is wider at
// the other end: that edge does not run along the marked one.
func (w *saw) tapers(region rect) bool {
	b := &w.s.board
	return b.WideEnd > b.Width && region.y1 == b.Width
}

// seconds is the time of one cut, without setting stop or fence.
func (w *saw) seconds(a axis, region rect, g guided) float64 {
	t := &w.p.set.Times
	from, to := region.span(a.other())
	s := t.CrosscutEach
	if a == alongY {
		s = t.RipEach + t.RipPerFoot*(to-from).Inches()/12
	}
	if g.guide == nesting.ByStraightedge {
		s += t.StraightedgeEach
	}
	return s
}

// chain builds the cuts across one region from the low side up.
type chain struct {
	w      *saw
	n      *node
	lo, hi measure.Length // of what is left
	kerf   measure.Length
	ok     bool
	seen   []measure.Length
}

func (w *saw) newChain(region rect, a axis, rough bool) *chain {
	c := &chain{w: w, n: &node{region: region, axis: a, rough: rough}, kerf: w.kerf(a), ok: true}
	c.lo, c.hi = region.span(a)
	return c
}

// trim takes off what lies below a kerf.
func (c *chain) trim(at measure.Length) {
	low := c.w.drop(c.n.region.with(c.n.axis, c.lo, at), c.n.rough)
	c.cut(at, low)
}

// release cuts a piece off; a nil one cannot be freed.
func (c *chain) release(at measure.Length, child *node) {
	c.ok = c.ok && child != nil
	c.cut(at, child)
}

func (c *chain) cut(at measure.Length, low *node) {
	left := c.n.region.with(c.n.axis, c.lo, c.hi)
	g, ok := c.w.guide(c.n.axis, left, at, step{at, low}.trims())
	c.ok = c.ok && ok
	c.n.steps = append(c.n.steps, step{at, low})
	work := int64(1000 * c.w.seconds(c.n.axis, left, g))
	c.n.loss += work
	c.n.work += work
	c.setting(at - c.lo)
	c.add(low)
	c.lo = at + c.kerf
}

// setting counts a third of the time of setting stop or fence for every
// distance in the chain: others are likely cut at it too.
func (c *chain) setting(distance measure.Length) {
	if slices.Contains(c.seen, distance) {
		return
	}
	c.seen = append(c.seen, distance)
	c.n.loss += int64(1000 * c.w.p.set.Times.SetSaw / 3)
}

func (c *chain) add(child *node) {
	if child != nil {
		c.n.loss += child.loss
		c.n.work += child.work
	}
}

// end says that what is left is the last piece.
func (c *chain) end(child *node) *node {
	if child == nil || !c.ok {
		return nil
	}
	if len(c.n.steps) == 0 {
		return child
	}
	c.n.rest = child
	c.add(child)
	return c.n
}

// close says that nothing is left but what falls off.
func (c *chain) close() *node {
	if !c.ok {
		return nil
	}
	if c.lo < c.hi {
		c.n.rest = c.w.drop(c.n.region.with(c.n.axis, c.lo, c.hi), c.n.rough)
		c.add(c.n.rest)
	}
	return c.n
}
