package solve

// defect is where no part may lie. A part that reaches from x to x+length, its
// kerf included, meets it along x when x < toX and x+length > fromX; likewise
// along y. With the kerf folded in, a defect narrower than the kerf has
// fromX > toX and still stops what spans it.
type defect struct{ fromX, toX, fromY, toY int64 }

func (b *board) addDefect(r Rect) {
	b.defects = append(b.defects, defect{
		r.X + b.rules.KerfX, r.X + r.Length,
		r.Y + b.rules.KerfY, r.Y + r.Width,
	})
}

// Passes over a plate with defects: places to cut along each axis, and fillings
// kept a region.
var defectPasses = []struct{ places, keep int }{
	{12, 2}, {24, 2}, {1 << 14, 2}, {1 << 14, 8}, {1 << 14, 32}, {1 << 14, 128},
}

// runDefects searches a plate with defects: rectangles that meet one are cut at
// ever more places, those that meet none are the sizes of the grid.
func (s *single) runDefects() {
	b := newBoard(s.plate, s.parts, s.rules, maxSizes)
	for most := coarseSizes; b.tableWork() > workLeft(s.m)/100 && most > 20; most /= 2 {
		b = newBoard(s.plate, s.parts, s.rules, most)
	}
	f := newFiller(b, make([]int64, 1), s.m.Part(workLeft(s.m)/5))
	p := newPricing(f)
	f.settlePrices(p) // the bound without the defects
	s.m.Absorb(f.m)
	if b.exact() {
		s.bound = min(s.bound, f.bound)
	}
	for _, pass := range defectPasses {
		if s.value >= s.bound || !s.passDefects(b, f, p, pass.places, pass.keep) {
			return
		}
	}
}

// passDefects makes one pass; it returns false when the meter ended it.
func (s *single) passDefects(b *board, f *filler, p *pricing, most, keep int) bool {
	w := p.worths(p.best)
	t := fillTable(b, w.rank, s.m)
	if t == nil {
		return false
	}
	at := newPlaces(b, most)
	r := newRegionTable(at, t, s.m)
	if r == nil {
		return false
	}
	exact := b.exact() && at.all
	if exact {
		s.bound = min(s.bound, floorDiv(r.top()+w.free, f.scale))
	}
	s.offer(b, r.find(newFinder(b, w.rank)))
	if s.value >= s.bound || floorDiv(r.top()+w.free, f.scale) <= s.value {
		return true
	}
	a := aim{w: w, floor: s.value*f.scale + f.scale - 1, bonus: make([]int64, 1)}
	l := newLists(b, f.pack, t, a, keep)
	if !l.build(s.m) {
		return false
	}
	q := regionLists{l: l, m: s.m, memo: make(map[region][]int32)}
	top, ok := q.list(r, region{len(l.levels) - 1, len(at.alongX) - 1, len(at.alongY) - 1})
	if !ok {
		return false
	}
	for _, id := range top {
		if l.value[id] > s.value {
			s.value, s.plan = l.value[id], l.plan(l.how[id])
		}
	}
	if exact {
		s.bound = max(s.value, min(s.bound, floorDiv(l.missed, f.scale)))
	}
	return true
}

// offer takes a plan that keeps the limits and is worth more.
func (s *single) offer(b *board, p *plan) {
	made, value := make([]int, len(s.parts)), int64(0)
	p.count(made)
	for k, n := range made {
		if n > b.limit[k] {
			return
		}
		value += int64(n) * b.value[k]
	}
	if value > s.value {
		s.value, s.plan = value, p
	}
}
