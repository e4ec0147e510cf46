package check

import (
	"slices"

	"batchwright/nesting"
	"batchwright/orders/measure"
)

// lump is a piece of board that lies on the bench at some moment.
type lump struct {
	box           // as planned
	real    box   // as the settings make it
	endCut  bool  // its low end was cut
	edgeCut bool  // its low edge was cut
	pieces  []int // indexes into the board's pieces
	offcuts []int
}

// bench is what lies there now, found by the span a cut would have to cross.
type bench struct {
	byX, byY map[span][]*lump
}

type span struct{ lo, hi measure.Length }

func (t *bench) put(l *lump) {
	x, y := span{l.x0, l.x1}, span{l.y0, l.y1}
	t.byX[x] = append(t.byX[x], l)
	t.byY[y] = append(t.byY[y], l)
}

// take removes the lump a cut runs through; nil when none lies there.
func (t *bench) take(cut nesting.Cut) *lump {
	candidates := t.byY[span{cut.From, cut.To}]
	if cut.Kind == nesting.Rip {
		candidates = t.byX[span{cut.From, cut.To}]
	}
	i := slices.IndexFunc(candidates, func(l *lump) bool { return crosses(l.box, cut) })
	if i < 0 {
		return nil
	}
	l := candidates[i]
	drop := func(m map[span][]*lump, at span) {
		i := slices.Index(m[at], l)
		m[at] = slices.Delete(m[at], i, i+1)
	}
	drop(t.byX, span{l.x0, l.x1})
	drop(t.byY, span{l.y0, l.y1})
	return l
}

func (t *bench) all() []*lump {
	var out []*lump
	for _, list := range t.byX {
		out = append(out, list...)
	}
	return out
}

// sawing replays every cut in order: each must run through exactly
// one lump, miss every piece and offcut, and at the end each piece must be a
// lump of its own size.
func (c *checker) sawing(b *nesting.CutBoard) {
	whole := box{0, 0, b.Length, b.Width}
	start := &lump{box: whole, real: whole}
	for i := range b.Pieces {
		start.pieces = append(start.pieces, i)
	}
	for i := range b.Offcuts {
		start.offcuts = append(start.offcuts, i)
	}
	t := &bench{map[span][]*lump{}, map[span][]*lump{}}
	t.put(start)
	planed := b.Stock.Sheet
	for i, cut := range b.Cuts {
		if cut.N != i+1 {
			c.fault(b.ID, "cut", "cut %d is numbered %d", i+1, cut.N)
		}
		if !cut.Rough && !planed {
			c.planing(b, t.all())
			planed = true
		} else if cut.Rough && planed {
			c.fault(b.ID, "cut", "cut %d comes before planing and stands after a cut that does not", cut.N)
		}
		if cut.Kerf != c.kerfOf(cut) {
			c.fault(b.ID, "cut", "cut %d has a kerf of %v mm", cut.N, cut.Kerf.Millimetres())
		}
		c.make(b, t, cut)
	}
	if !planed {
		c.planing(b, t.all())
	}
	c.freed(b, t.all())
}

func (c *checker) kerfOf(cut nesting.Cut) measure.Length {
	if cut.Kind == nesting.Rip {
		return c.set.RipKerf
	}
	return c.set.CrosscutKerf
}

// make replaces the lump a cut runs through by what falls on either side, and
// reports what the blade ran into.
func (c *checker) make(b *nesting.CutBoard, t *bench, cut nesting.Cut) {
	whole := t.take(cut)
	if whole == nil {
		c.fault(b.ID, "cut", "cut %d (%s at %v mm) runs through no piece of board that lies there", cut.N, cut.Kind, cut.At.Millimetres())
		return
	}
	fell := sides(whole, cut, c.kerfAt(b, whole, cut))
	for _, side := range fell {
		t.put(side)
	}
	for _, i := range whole.pieces {
		p := b.Pieces[i]
		side := holding(fell, boxAt(p.X, p.Y, p.Length, p.Width))
		if side == nil {
			c.fault(b.ID, "cut", "cut %d runs into part %q", cut.N, p.Part)
			continue
		}
		side.pieces = append(side.pieces, i)
	}
	for _, i := range whole.offcuts {
		o := b.Offcuts[i]
		side := holding(fell, boxAt(o.X, o.Y, o.Length, o.Width))
		if side == nil {
			c.fault(b.ID, "cut", "cut %d runs into offcut %d", cut.N, i+1)
			continue
		}
		side.offcuts = append(side.offcuts, i)
	}
	c.safely(b, cut)
	c.ripsFirst(b, whole, cut)
	c.trims(b, whole, cut, fell)
}

func holding(lumps []*lump, r box) *lump {
	for _, l := range lumps {
		if r.inside(l.box) {
			return l
		}
	}
	return nil
}

// crosses: the cut spans the lump exactly and its kerf takes wood from it.
func crosses(l box, cut nesting.Cut) bool {
	if cut.Kind == nesting.Crosscut {
		return cut.From == l.y0 && cut.To == l.y1 && bites(l.x0, l.x1, cut)
	}
	return cut.From == l.x0 && cut.To == l.x1 && bites(l.y0, l.y1, cut)
}

func bites(lo, hi measure.Length, cut nesting.Cut) bool {
	if cut.Kerf == 0 {
		return cut.At > lo && cut.At < hi
	}
	return cut.At+cut.Kerf > lo && cut.At < hi
}

// sides are the wood left on either side of a kerf, if any; at is where the
// setting puts the kerf's low side.
func sides(l *lump, cut nesting.Cut, at measure.Length) []*lump {
	low, high := *l, *l
	low.pieces, low.offcuts, high.pieces, high.offcuts = nil, nil, nil, nil
	if cut.Kind == nesting.Crosscut {
		low.x1, high.x0, high.endCut = cut.At, cut.At+cut.Kerf, true
		low.real.x1, high.real.x0 = at, at+cut.Kerf
	} else {
		low.y1, high.y0, high.edgeCut = cut.At, cut.At+cut.Kerf, true
		low.real.y1, high.real.y0 = at, at+cut.Kerf
	}
	var out []*lump
	for _, s := range []*lump{&low, &high} {
		if s.x0 < s.x1 && s.y0 < s.y1 {
			out = append(out, s)
		}
	}
	return out
}

// planing: what goes through the planer carries parts of one finished
// thickness, is long enough for it, and holds no offcut that is kept.
func (c *checker) planing(b *nesting.CutBoard, lumps []*lump) {
	for _, l := range lumps {
		if len(l.pieces) == 0 {
			continue
		}
		first := c.parts[b.Pieces[l.pieces[0]].Part]
		for _, i := range l.pieces {
			if p := c.parts[b.Pieces[i].Part]; first != nil && p != nil && p.Thickness != first.Thickness {
				c.fault(b.ID, "planing", "parts %q and %q of different thickness are planed in one piece", first.ID, p.ID)
			}
		}
		if l.x1-l.x0 < c.set.ShortestMachine {
			c.fault(b.ID, "machine", "the piece with part %q is %v mm long: too short for the planer",
				b.Pieces[l.pieces[0]].Part, (l.x1 - l.x0).Millimetres())
		}
		for _, i := range l.offcuts {
			if b.Offcuts[i].Keep {
				c.fault(b.ID, "offcut", "offcut %d is kept and is planed with part %q", i+1, b.Pieces[l.pieces[0]].Part)
			}
		}
	}
}

// freed: every piece ends as a lump of its own size, every kept offcut too.
func (c *checker) freed(b *nesting.CutBoard, lumps []*lump) {
	alone := map[box]*lump{}
	for _, l := range lumps {
		alone[l.box] = l
	}
	for _, p := range b.Pieces {
		l := alone[boxAt(p.X, p.Y, p.Length, p.Width)]
		if l == nil {
			c.fault(b.ID, "cut", "the cuts do not free part %q", p.Part)
			continue
		}
		c.asSet(b, p, l)
	}
	for i, o := range b.Offcuts {
		if o.Keep && alone[boxAt(o.X, o.Y, o.Length, o.Width)] == nil {
			c.fault(b.ID, "cut", "the cuts do not free offcut %d", i+1)
		}
	}
}
