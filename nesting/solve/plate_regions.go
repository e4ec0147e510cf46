package solve

// regionTable holds the most worth of every rectangle between places when
// copies are free: what a table is to sizes.
type regionTable struct {
	p     *places
	t     *table
	below *regionTable
	worth []int64 // [x*len(alongY)+y], both spans
	nx    int     // places along x
	ny    int
}

// newRegionTable computes the table for t's stage and all below it. It returns
// nil when the meter ends it.
func newRegionTable(p *places, t *table, m *Meter) *regionTable {
	r := &regionTable{p: p, t: t, nx: len(p.xs), ny: len(p.ys)}
	if t.below != nil {
		if r.below = newRegionTable(p, t.below, m); r.below == nil {
			return nil
		}
	}
	r.worth = make([]int64, len(p.alongX)*len(p.alongY))
	for x, sx := range p.alongX {
		for y, sy := range p.alongY {
			r.worth[x*len(p.alongY)+y] = r.settle(x, y, sx, sy)
		}
		if !m.Spend(int64(len(p.alongY)) * int64(r.nx+r.ny) / 2) {
			return nil
		}
	}
	return r
}

// settle returns the worth of one rectangle from those of smaller ones.
func (r *regionTable) settle(x, y int, sx, sy span) int64 {
	if sx.meets&sy.meets == 0 {
		return r.t.worth[sx.size*r.t.g.ny+sy.size]
	}
	n := len(r.p.alongY)
	best := int64(0)
	if r.below != nil {
		best = r.below.worth[x*n+y]
	}
	if r.t.cuts.trim {
		return r.trimmed(x, y, sx, sy)
	}
	if r.t.cuts.across {
		for at := sx.from + 1; at < sx.to; at++ {
			low, high := spanAt(r.nx, int(sx.from), int(at)), spanAt(r.nx, int(at), int(sx.to))
			best = max(best, r.worth[low*n+y]+r.worth[high*n+y])
		}
	}
	if r.t.cuts.along {
		row := r.worth[x*n : (x+1)*n]
		for at := sy.from + 1; at < sy.to; at++ {
			best = max(best, row[spanAt(r.ny, int(sy.from), int(at))]+row[spanAt(r.ny, int(at), int(sy.to))])
		}
	}
	return best
}

// trimmed returns the worth of the best part that can be trimmed out.
func (r *regionTable) trimmed(x, y int, sx, sy span) (best int64) {
	for _, t := range r.trims(x, y, sx, sy) {
		best = max(best, r.worth[t.x*len(r.p.alongY)+t.y])
	}
	return best
}

// trim is a rectangle with one side cut off.
type trim struct {
	x, y int // spans of what is left
	cut  Direction
	at   int64
	low  bool // the low side is left
}

// trims lists the rectangles left when one side is trimmed off by one place.
func (r *regionTable) trims(x, y int, sx, sy span) (out []trim) {
	if from, to := int(sx.from), int(sx.to); to-from > 1 {
		out = append(out,
			trim{spanAt(r.nx, from, to-1), y, Across, r.p.xs[to-1] - r.p.xs[from], true},
			trim{spanAt(r.nx, from+1, to), y, Across, r.p.xs[from+1] - r.p.xs[from], false})
	}
	if from, to := int(sy.from), int(sy.to); to-from > 1 {
		out = append(out,
			trim{x, spanAt(r.ny, from, to-1), Along, r.p.ys[to-1] - r.p.ys[from], true},
			trim{x, spanAt(r.ny, from+1, to), Along, r.p.ys[from+1] - r.p.ys[from], false})
	}
	return out
}

// top is the worth of the whole plate.
func (r *regionTable) top() int64 { return r.worth[len(r.worth)-1] }

// find returns a filling of the whole plate of the table's worth.
func (r *regionTable) find(f *finder) *plan {
	return r.findAt(f, len(r.p.alongX)-1, len(r.p.alongY)-1)
}

func (r *regionTable) findAt(f *finder, x, y int) *plan {
	n := len(r.p.alongY)
	sx, sy := r.p.alongX[x], r.p.alongY[y]
	w := r.worth[x*n+y]
	switch {
	case w == 0:
		return nil
	case sx.meets&sy.meets == 0:
		return f.find(r.t, sx.size, sy.size)
	case r.below != nil && r.below.worth[x*n+y] == w:
		return r.below.findAt(f, x, y)
	}
	for _, t := range r.trims(x, y, sx, sy) {
		if !r.t.cuts.trim || r.worth[t.x*n+t.y] != w {
			continue
		}
		if t.low {
			return &plan{cut: t.cut, at: t.at, low: r.findAt(f, t.x, t.y)}
		}
		return &plan{cut: t.cut, at: t.at, high: r.findAt(f, t.x, t.y)}
	}
	for at := sx.from + 1; r.t.cuts.across && at < sx.to; at++ {
		low, high := spanAt(r.nx, int(sx.from), int(at)), spanAt(r.nx, int(at), int(sx.to))
		if r.worth[low*n+y]+r.worth[high*n+y] == w {
			return &plan{cut: Across, at: r.p.xs[at] - r.p.xs[sx.from], low: r.findAt(f, low, y), high: r.findAt(f, high, y)}
		}
	}
	for at := sy.from + 1; r.t.cuts.along && at < sy.to; at++ {
		low, high := spanAt(r.ny, int(sy.from), int(at)), spanAt(r.ny, int(at), int(sy.to))
		if r.worth[x*n+low]+r.worth[x*n+high] == w {
			return &plan{cut: Along, at: r.p.ys[at] - r.p.ys[sy.from], low: r.findAt(f, x, low), high: r.findAt(f, x, high)}
		}
	}
	return nil // not reached: every worth came about somehow
}
