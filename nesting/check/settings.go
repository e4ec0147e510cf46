package check

import (
	"cmp"
	"slices"

	"batchwright/nesting"
	"batchwright/orders/measure"
)

// kerfAt is where the low side of a cut's kerf falls when its setting is
// measured from its reference, on the wood as the cuts before have left it.
func (c *checker) kerfAt(b *nesting.CutBoard, l *lump, cut nesting.Cut) measure.Length {
	lo, hi, cutBefore := l.real.x0, l.real.x1, l.endCut
	marked, fresh, far := nesting.MarkedEnd, nesting.FreshEnd, nesting.FarEnd
	if cut.Kind == nesting.Rip {
		lo, hi, cutBefore = l.real.y0, l.real.y1, l.edgeCut
		marked, fresh, far = nesting.MarkedEdge, nesting.FreshEdge, nesting.FarEdge
	}
	if cut.Set < 0 || cut.Set%c.division() != 0 {
		c.fault(b.ID, "setting", "cut %d is set to %v mm, between two divisions of the rule", cut.N, cut.Set.Millimetres())
	}
	at := lo + cut.Set
	switch {
	case cut.Reference == far:
		at = hi - cut.Set - cut.Kerf
	case cut.Reference == marked && !cutBefore, cut.Reference == fresh && cutBefore:
	default:
		c.fault(b.ID, "setting", "cut %d (%s) is measured from the %q", cut.N, cut.Kind, cut.Reference)
	}
	if at >= hi || at+cut.Kerf < lo || at+cut.Kerf == lo && cut.Kerf > 0 {
		c.fault(b.ID, "setting", "cut %d, set to %v mm from the %s, misses the wood", cut.N, cut.Set.Millimetres(), cut.Reference)
	}
	return at
}

// division is the smallest one of the rule that settings are read on: 1/64 in
// or 1/2 mm.
func (c *checker) division() measure.Length {
	if c.set.Units.Metric() {
		return 500 * measure.Micrometre
	}
	return measure.Inch / 64
}

// safely: solid wood is ripped along the fence only, and nothing there is
// shorter than the shop allows or than its distance from the blade. No fence is
// set beyond its reach, and nothing wider than the sled takes is cut on it.
func (c *checker) safely(b *nesting.CutBoard, cut nesting.Cut) {
	along := cut.To - cut.From
	solid := !b.Stock.Sheet
	fault := func(format string, args ...any) {
		c.fault(b.ID, "safety", "cut %d: "+format, append([]any{cut.N}, args...)...)
	}
	switch cut.Guide {
	case nesting.ByFence:
		if solid && cut.Kind == nesting.Crosscut {
			fault("solid wood is crosscut along the fence")
		}
		if along < c.set.ShortestRip {
			fault("%v mm along the fence is too short", along.Millimetres())
		}
		if c.set.ShortestRip > 0 && cut.Set > along+c.division() {
			fault("%v mm along the fence is shorter than its distance from the blade", along.Millimetres())
		}
		if c.set.FenceReaches > 0 && cut.Set > c.set.FenceReaches+c.division() {
			fault("the fence does not reach %v mm", cut.Set.Millimetres())
		}
	case nesting.ByStop:
		if solid && cut.Kind == nesting.Rip {
			fault("solid wood is ripped against a stop")
		}
		if c.set.SledTakes > 0 && along > c.set.SledTakes {
			fault("the sled does not take %v mm", along.Millimetres())
		}
	case nesting.ByStraightedge:
		if solid && cut.Kind == nesting.Rip {
			fault("solid wood is ripped along a straightedge")
		}
		if c.set.SledTakes == 0 || along <= c.set.SledTakes {
			fault("a straightedge is used where the sled takes the work")
		}
	default:
		fault("it has no guide")
	}
}

// ripsFirst: of solid wood a run of one width is ripped before it is crosscut, so
// that what runs along the fence is as long as it can be (common practice): no
// crosscut parts neighbours that are then ripped at the same places. It may where
// they are planed on their own, and where the shop crosscuts first.
func (c *checker) ripsFirst(b *nesting.CutBoard, whole *lump, cut nesting.Cut) {
	if b.Stock.Sheet || cut.Kind == nesting.Rip || cut.Rough || c.set.CutFirst == "crosscut" {
		return
	}
	low, high := c.besideCut(b, whole, cut, true), c.besideCut(b, whole, cut, false)
	if slices.Equal(low, high) && slices.ContainsFunc(low, func(y measure.Length) bool { return whole.y0 < y && y < whole.y1 }) {
		c.fault(b.ID, "rip first", "cut %d parts two lengths that are ripped alike afterwards", cut.N)
	}
}

// besideCut is where the section of pieces next to a crosscut, on one side of
// it, begins and ends across the board.
func (c *checker) besideCut(b *nesting.CutBoard, whole *lump, cut nesting.Cut, low bool) (edges []measure.Length) {
	var list []box
	for _, i := range whole.pieces {
		p := b.Pieces[i]
		if r := boxAt(p.X, p.Y, p.Length, p.Width); (r.x0 < cut.At) == low {
			if low { // seen from the cut, so that the nearest comes first
				r.x0, r.x1 = -r.x1, -r.x0
			}
			list = append(list, r)
		}
	}
	slices.SortFunc(list, func(p, q box) int { return cmp.Compare(p.x0, q.x0) })
	for i, r := range list {
		if i > 0 && r.x0 >= list[0].x1+cut.Kerf {
			break
		}
		list[0].x1 = max(list[0].x1, r.x1)
		edges = append(edges, r.y0, r.y1)
	}
	slices.Sort(edges)
	return slices.Compact(edges)
}

// trims: a cut that leaves nothing on one side says how much it takes off, and
// no other does.
func (c *checker) trims(b *nesting.CutBoard, whole *lump, cut nesting.Cut, fell []*lump) {
	lowUsed, highUsed := false, false
	for _, l := range fell {
		used := len(l.pieces)+len(l.offcuts) > 0
		low := l.x1 <= cut.At
		if cut.Kind == nesting.Rip {
			low = l.y1 <= cut.At
		}
		lowUsed, highUsed = lowUsed || low && used, highUsed || !low && used
	}
	lo, hi := whole.real.x0, whole.real.x1
	if cut.Kind == nesting.Rip {
		lo, hi = whole.real.y0, whole.real.y1
	}
	at := lo + cut.Set
	if cut.Reference == nesting.FarEnd || cut.Reference == nesting.FarEdge {
		at = hi - cut.Set - cut.Kerf
	}
	want := measure.Length(0)
	switch {
	case !lowUsed:
		want = at + cut.Kerf - lo
	case !highUsed:
		want = hi - at
	}
	if cut.Takes != want {
		c.fault(b.ID, "setting", "cut %d takes off %v mm and says %v", cut.N, want.Millimetres(), cut.Takes.Millimetres())
	}
}

// asSet: a part cut by the settings, one after another, has its cut size to
// within one division of the rule.
func (c *checker) asSet(b *nesting.CutBoard, p nesting.Piece, l *lump) {
	long, wide := l.real.x1-l.real.x0, l.real.y1-l.real.y0
	if off := max(long-p.Length, p.Length-long, wide-p.Width, p.Width-wide); off > c.division() {
		c.fault(b.ID, "setting", "followed as set, part %q comes out %v x %v mm, not %v x %v", p.Part,
			long.Millimetres(), wide.Millimetres(), p.Length.Millimetres(), p.Width.Millimetres())
	}
}
