package solve

// lists holds, for every size of the grid, the best few fillings that keep to
// the limits, ranked by their worth: value less the prices of scarce parts.
// Built from the smallest size up, each from pairs of smaller ones. A filling
// is left out when its worth and the most that can lie beside it do not reach
// the aim, or when its list is full; what the full lists left out bounds what
// was missed, so that nothing left out proves the best.
type lists struct {
	fillings
	g      *grid
	aim    aim
	keep   int
	levels []*level // of each stage, the last one cut first
	missed int64    // the most a left out filling could reach
	builder
}

// aim is what a search looks for: fillings of one of the roots whose worth, all
// prices and the root's bonus together are more than the floor.
type aim struct {
	w     worths
	floor int64
	bonus []int64 // of each root; noRoot for none wanted
}

// noRoot is the bonus of a root that is not searched.
const noRoot = -1 << 62

// level is the lists of one stage.
type level struct {
	t       *table
	outside []int64
	below   *level
	ids     []int32 // [cell*keep+rank]
	n       []uint16
}

// newLists prepares the lists of b without building them.
func newLists(b *board, pack *packing, t *table, a aim, keep int) *lists {
	l := &lists{g: b.grid, aim: a, keep: keep, missed: a.floor}
	l.fillings = fillings{b: b, pack: pack, w: a.w}
	var above []int64
	for ; t != nil; t = t.below {
		if above == nil {
			above = b.beside(a.bonus)
		}
		above = t.outside(above)
		l.levels = append(l.levels, &level{t: t, outside: above})
	}
	for k := range l.levels[1:] {
		l.levels[k].below = l.levels[k+1]
	}
	for k, n := 0, len(l.levels); k < n/2; k++ {
		l.levels[k], l.levels[n-1-k] = l.levels[n-1-k], l.levels[k]
	}
	return l
}

// beside starts the table of what lies beside a size: nothing but the bonus
// beside a whole plate.
func (b *board) beside(bonus []int64) []int64 {
	out := make([]int64, b.grid.nx*b.grid.ny)
	for k := range out {
		out[k] = noRoot
	}
	for r, c := range b.roots {
		at := c.i*b.grid.ny + c.j
		out[at] = max(out[at], bonus[r])
	}
	return out
}

// build fills all lists; false when the meter ended it.
func (l *lists) build(m *Meter) bool {
	g := l.g
	shapes := l.shapesAt()
	for _, v := range l.levels {
		v.ids, v.n = make([]int32, g.nx*g.ny*l.keep), make([]uint16, g.nx*g.ny)
		for i := 1; i < g.nx; i++ {
			work := int64(2 * g.ny)
			for j := 1; j < g.ny; j++ {
				c := i*g.ny + j
				if v.t.worth[c]+v.outside[c]+l.w.free > l.aim.floor {
					work += l.buildCell(v, i, j, shapes[c])
				}
			}
			if !m.Spend(work) {
				return false
			}
		}
	}
	return true
}

// shapesAt lists the shapes of each cell.
func (l *lists) shapesAt() [][]int32 {
	at := make([][]int32, l.g.nx*l.g.ny)
	for k, s := range l.b.shapes {
		if l.b.limit[s.part] > 0 && l.b.value[s.part] > 0 {
			c := l.b.at[k].i*l.g.ny + l.b.at[k].j
			at[c] = append(at[c], int32(k))
		}
	}
	return at
}

// buildCell fills the list of size i, j of a stage and returns the work it took.
func (l *lists) buildCell(v *level, i, j int, shapes []int32) int64 {
	ny := l.g.ny
	c := i*ny + j
	l.reset(l.aim.floor - v.outside[c] - l.w.free)
	if v.below != nil {
		l.inherit(l.list(v.below, c))
	} else {
		l.offerShapes(shapes)
	}
	l.inherit(l.list(v, c-ny))
	l.inherit(l.list(v, c-1))
	across, along := v.t.acrossPairs(i), v.t.alongPairs(j)
	work := int64(20 + len(across) + len(along))
	for _, p := range across {
		work += l.offerPairs(l.list(v, int(p.low)*ny+j), l.list(v, int(p.high)*ny+j), Across, 0)
	}
	for _, p := range along {
		work += l.offerPairs(l.list(v, i*ny+int(p.low)), l.list(v, i*ny+int(p.high)), Along, 0)
	}
	v.n[c] = uint16(l.settle(v.ids[c*l.keep:][:l.keep]))
	if l.over && !l.b.free {
		l.missed = max(l.missed, l.least(l.keep)+v.outside[c]+l.w.free)
	}
	return 20 * work
}

// list returns the fillings kept of size c, best first.
func (l *lists) list(v *level, c int) []int32 { return v.ids[c*l.keep:][:v.n[c]] }
