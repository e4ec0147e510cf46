package solve

// regionLists adds to lists what keeps to the limits and can be cut from
// rectangles with defects in them.
type regionLists struct {
	l    *lists
	m    *Meter
	memo map[region][]int32
}

// region is a rectangle of a table, for the cuts of a stage.
type region struct {
	level int
	x, y  int // spans
}

// list returns the fillings of span x by span y of table r, best first; ok is
// false when the meter ended it.
func (q *regionLists) list(r *regionTable, g region) (ids []int32, ok bool) {
	l, v := q.l, q.l.levels[g.level]
	sx, sy := r.p.alongX[g.x], r.p.alongY[g.y]
	c := sx.size*l.g.ny + sy.size
	w := r.worth[g.x*len(r.p.alongY)+g.y]
	if sx.size == 0 || sy.size == 0 || w+v.outside[c]+l.w.free <= l.aim.floor {
		return nil, true
	}
	if sx.meets&sy.meets == 0 {
		return l.list(v, c), true
	}
	if ids, seen := q.memo[g]; seen {
		return ids, true
	}
	sides, ok := q.sides(r, g, sx, sy)
	if !ok {
		return nil, false
	}
	l.reset(l.aim.floor - v.outside[c] - l.w.free)
	work := int64(100)
	for _, s := range sides {
		work += 8 * l.offerSides(s)
	}
	ids = make([]int32, len(l.builder.ids))
	l.settle(ids)
	if l.over {
		l.missed = max(l.missed, min(w, l.least(l.keep))+v.outside[c]+l.w.free)
	}
	q.memo[g] = ids
	return ids, q.m.Spend(work)
}

// sides is a region cut in two; Either: left to the next stage.
type sides struct {
	low, high []int32
	cut       Direction
	at        int64
}

// sides lists the ways to cut region g.
func (q *regionLists) sides(r *regionTable, g region, sx, sy span) (out []sides, ok bool) {
	if r.below != nil {
		next := g
		next.level--
		ids, ok := q.list(r.below, next)
		if !ok {
			return nil, false
		}
		out = append(out, sides{low: ids})
	}
	for _, t := range r.trims(g.x, g.y, sx, sy) {
		if !r.t.cuts.trim {
			break
		}
		ids, ok := q.list(r, region{g.level, t.x, t.y})
		if !ok {
			return nil, false
		}
		s := sides{cut: t.cut, at: t.at, low: ids}
		if !t.low {
			s.low, s.high = nil, ids
		}
		out = append(out, s)
	}
	for at := sx.from + 1; r.t.cuts.across && at < sx.to; at++ {
		low, high := g, g
		low.x, high.x = spanAt(r.nx, int(sx.from), int(at)), spanAt(r.nx, int(at), int(sx.to))
		if out, ok = q.cut(r, out, low, high, sides{cut: Across, at: r.p.xs[at] - r.p.xs[sx.from]}); !ok {
			return nil, false
		}
	}
	for at := sy.from + 1; r.t.cuts.along && at < sy.to; at++ {
		low, high := g, g
		low.y, high.y = spanAt(r.ny, int(sy.from), int(at)), spanAt(r.ny, int(at), int(sy.to))
		if out, ok = q.cut(r, out, low, high, sides{cut: Along, at: r.p.ys[at] - r.p.ys[sy.from]}); !ok {
			return nil, false
		}
	}
	return out, true
}

// cut adds the cut into low and high to out unless both are empty.
func (q *regionLists) cut(r *regionTable, out []sides, low, high region, s sides) (_ []sides, ok bool) {
	if s.low, ok = q.list(r, low); !ok {
		return nil, false
	}
	if s.high, ok = q.list(r, high); !ok {
		return nil, false
	}
	if len(s.low)+len(s.high) > 0 {
		out = append(out, s)
	}
	return out, true
}

// offerSides offers what a region cut like s can hold.
func (l *lists) offerSides(s sides) int64 {
	if s.cut == Either {
		l.inherit(s.low)
		return int64(len(s.low))
	}
	for _, id := range s.low {
		l.offer(l.rank[id], l.mark[id], -1, how{low: id, high: -1, shape: -1, cut: s.cut, at: s.at})
	}
	for _, id := range s.high {
		l.offer(l.rank[id], l.mark[id], -1, how{low: -1, high: id, shape: -1, cut: s.cut, at: s.at})
	}
	return 1 + l.offerPairs(s.low, s.high, s.cut, s.at)
}
