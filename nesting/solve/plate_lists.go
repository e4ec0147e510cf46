package solve

// lists holds, for every size of the grid, the best few fillings that keep to
// the limits, ranked by their worth: value less the prices of scarce parts.
// Built from the smallest size up, each from pairs of smaller ones. A filling
// is left out when its worth and the most that can lie beside it do not beat
// the best value known, or when its list is full; what the full lists left out
// bounds what was missed, so that nothing left out proves the best.
type lists struct {
	b    *board
	pack *packing
	w    worths
	keep int

	table   []int64 // best worth of a size when copies are free
	outside []int64 // best worth beside a size
	floor   int64   // only fillings of the plate worth more are wanted

	ids []int32 // [cell*keep+rank]
	n   []uint16
	fillings
	scratch listBuilder
	missed  int64 // the most a left out filling could be worth, in all
}

// worths is how fillings are ranked: by scale*value less prices.
type worths struct {
	scale int64
	price []int64 // of one copy, in scaled units, from 0 to its scaled value
	rank  []int64 // of one copy: scale*value - price
	free  int64   // the prices of all copies allowed
}

// fillings is an arena of what was kept.
type fillings struct {
	rank, value []int64
	mark        []uint64
	made        []uint64 // pack.words each
	how         []how
}

// how says how a filling is made: a cut into two others, or one shape.
type how struct {
	low, high int32
	shape     int32 // -1: cut
	cut       Direction
}

// listBuilder collects the fillings of one size, best first.
type listBuilder struct {
	floor int64 // ranks must be above
	over  bool  // something was left out because the list was full
	rank  []int64
	mark  []uint64
	id    []int32 // in the arena, -1: new
	how   []how
}

// buildLists builds the lists of b, keep fillings a size. It returns nil when
// the meter ends it.
func buildLists(b *board, pack *packing, w worths, t *table, outside []int64, floor int64, keep int, m *Meter) *lists {
	g := b.grid
	l := &lists{
		b: b, pack: pack, w: w, keep: keep, table: t.worth, outside: outside, floor: floor,
		ids: make([]int32, g.nx*g.ny*keep), n: make([]uint16, g.nx*g.ny), missed: floor,
	}
	shapesAt := make([][]int32, g.nx*g.ny)
	for k, s := range b.shapes {
		if b.limit[s.part] > 0 && b.value[s.part] > 0 {
			c := b.at[k].i*g.ny + b.at[k].j
			shapesAt[c] = append(shapesAt[c], int32(k))
		}
	}
	for i := 1; i < g.nx; i++ {
		work := int64(g.ny)
		for j := 1; j < g.ny; j++ {
			c := i*g.ny + j
			if i == g.nx-1 && j == g.ny-1 {
				break
			}
			if outside[c] >= 0 && t.worth[c]+outside[c]+w.free > floor {
				work += l.buildCell(i, j, shapesAt[c])
			}
		}
		if !m.Spend(work) {
			return nil
		}
	}
	return l
}

// buildCell fills the list of size i, j and returns the work it took.
func (l *lists) buildCell(i, j int, shapes []int32) int64 {
	g := l.b.grid
	c := i*g.ny + j
	s := &l.scratch
	s.reset(l.floor - l.outside[c] - l.w.free)
	l.inherit(c - g.ny)
	l.inherit(c - 1)
	for _, k := range shapes {
		l.offerShape(k)
	}
	work := int64(len(g.xs.pairs[i]) + len(g.ys.pairs[j]))
	for _, p := range g.xs.pairs[i] {
		work += l.offerPairs(int(p.low)*g.ny+j, int(p.high)*g.ny+j, Across)
	}
	for _, p := range g.ys.pairs[j] {
		work += l.offerPairs(i*g.ny+int(p.low), i*g.ny+int(p.high), Along)
	}
	l.settle(c)
	return 4 * work
}

func (s *listBuilder) reset(floor int64) {
	s.floor, s.over = floor, false
	s.rank, s.mark, s.id, s.how = s.rank[:0], s.mark[:0], s.id[:0], s.how[:0]
}

// inherit offers the fillings of a smaller size.
func (l *lists) inherit(c int) {
	for _, id := range l.list(c) {
		l.offer(l.rank[id], l.mark[id], id, l.how[id])
	}
}

// list returns the fillings kept of size c, best first.
func (l *lists) list(c int) []int32 { return l.ids[c*l.keep:][:l.n[c]] }

func (l *lists) offerShape(k int32) {
	part := l.b.shapes[k].part
	l.offer(l.w.rank[part], l.pack.mark[part], -1, how{shape: k})
}

// offerPairs offers the fillings got by putting one of low beside one of high.
func (l *lists) offerPairs(low, high int, cut Direction) int64 {
	as, bs := l.list(low), l.list(high)
	if len(as) == 0 || len(bs) == 0 {
		return 0
	}
	s := &l.scratch
	work := int64(0)
	bestB := l.rank[bs[0]]
	for _, a := range as {
		ra := l.rank[a]
		if ra+bestB <= s.least(l.keep) {
			s.over = s.over || ra+bestB > s.floor
			break
		}
		for _, b := range bs {
			work++
			r := ra + l.rank[b]
			if r <= s.least(l.keep) {
				s.over = s.over || r > s.floor
				break
			}
			if l.fits(a, b) {
				l.offer(r, l.mark[a]+l.mark[b], -1, how{low: a, high: b, shape: -1, cut: cut})
			}
		}
	}
	return work
}

func (l *lists) fits(a, b int32) bool {
	w := l.pack.words
	return l.pack.fits(l.made[int(a)*w:][:w], l.made[int(b)*w:][:w])
}

// least returns the rank a new filling must be above to get in.
func (s *listBuilder) least(keep int) int64 {
	if n := len(s.rank); n == keep {
		return max(s.floor, s.rank[n-1])
	}
	return s.floor
}

// offer puts a filling in its place unless it is there already.
func (l *lists) offer(rank int64, mark uint64, id int32, h how) {
	s := &l.scratch
	if rank <= s.least(l.keep) {
		s.over = s.over || rank > s.floor
		return
	}
	at := len(s.rank)
	for k, r := range s.rank {
		if r == rank && s.mark[k] == mark {
			return
		}
		if r < rank {
			at = k
			break
		}
	}
	if len(s.rank) < l.keep {
		s.rank, s.mark = append(s.rank, 0), append(s.mark, 0)
		s.id, s.how = append(s.id, 0), append(s.how, how{})
	} else {
		s.over = true
	}
	copy(s.rank[at+1:], s.rank[at:])
	copy(s.mark[at+1:], s.mark[at:])
	copy(s.id[at+1:], s.id[at:])
	copy(s.how[at+1:], s.how[at:])
	s.rank[at], s.mark[at], s.id[at], s.how[at] = rank, mark, id, h
}

// settle writes the collected list to size c.
func (l *lists) settle(c int) {
	s := &l.scratch
	for k, id := range s.id {
		if id < 0 {
			id = l.add(s.how[k])
		}
		l.ids[c*l.keep+k] = id
	}
	l.n[c] = uint16(len(s.id))
	if s.over {
		l.missed = max(l.missed, s.rank[len(s.rank)-1]+l.outside[c]+l.w.free)
	}
}

// add puts a filling into the arena.
func (l *lists) add(h how) int32 {
	id := int32(len(l.fillings.rank))
	f := &l.fillings
	f.how = append(f.how, h)
	if h.shape >= 0 {
		part := l.b.shapes[h.shape].part
		f.rank = append(f.rank, l.w.rank[part])
		f.value = append(f.value, l.b.value[part])
		f.mark = append(f.mark, l.pack.mark[part])
		for w := range l.pack.words {
			one := uint64(0)
			if w == l.pack.word[part] {
				one = l.pack.one[part]
			}
			f.made = append(f.made, one)
		}
		return id
	}
	a, b := h.low, h.high
	f.rank = append(f.rank, f.rank[a]+f.rank[b])
	f.value = append(f.value, f.value[a]+f.value[b])
	f.mark = append(f.mark, f.mark[a]+f.mark[b])
	words := l.pack.words
	for w := range words {
		f.made = append(f.made, f.made[int(a)*words+w]+f.made[int(b)*words+w])
	}
	return id
}
