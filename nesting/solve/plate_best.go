package solve

import (
	"cmp"
	"slices"
)

// found is a filling of a whole plate read from lists.
type found struct {
	how   how
	value int64
	mark  uint64
}

// best returns up to most different fillings of a root that reach the aim, the
// worthiest first. A root's own list is not enough: here fillings count by
// value, not by rank.
func (l *lists) best(root, most int) []found {
	bonus := l.aim.bonus[root]
	if bonus == noRoot {
		return nil
	}
	c := l.b.roots[root]
	top := finalists{most: most, least: max(0, floorDiv(l.aim.floor-bonus, l.w.scale)), rank: l.aim.floor - bonus - l.w.free}
	ny := l.g.ny
	v := l.levels[len(l.levels)-1]
	for _, id := range l.list(v, c.i*ny+c.j) {
		top.offer(found{l.how[id], l.value[id], l.mark[id]})
	}
	for _, p := range v.t.acrossPairs(c.i) {
		l.bestOf(&top, l.list(v, int(p.low)*ny+c.j), l.list(v, int(p.high)*ny+c.j), Across)
	}
	for _, p := range v.t.alongPairs(c.j) {
		l.bestOf(&top, l.list(v, c.i*ny+int(p.low)), l.list(v, c.i*ny+int(p.high)), Along)
	}
	top.cut()
	return top.found
}

// floorDiv rounds a/b down; b > 0.
func floorDiv(a, b int64) int64 {
	q := a / b
	if a%b < 0 {
		q--
	}
	return q
}

// bestOf offers the fillings of the plate cut into two sizes.
func (l *lists) bestOf(top *finalists, low, high []int32, cut Direction) {
	for _, a := range low {
		for _, b := range high {
			if l.rank[a]+l.rank[b] <= top.rank {
				break
			}
			if v := l.value[a] + l.value[b]; v > top.least && l.fits(a, b) {
				top.offer(found{how{low: a, high: b, shape: -1, cut: cut}, v, l.mark[a] + l.mark[b]})
			}
		}
	}
}

// finalists keeps the most worthiest fillings.
type finalists struct {
	most  int
	least int64 // a filling must be worth more
	rank  int64 // and rank above
	found []found
	seen  map[uint64]bool
}

// offer takes a filling; twice as many as wanted are kept before the list is
// cut to length.
func (t *finalists) offer(f found) {
	if f.value <= t.least || t.seen[f.mark] {
		return
	}
	if t.seen == nil {
		t.seen = make(map[uint64]bool)
	}
	t.seen[f.mark] = true
	t.found = append(t.found, f)
	if len(t.found) >= 2*t.most {
		t.cut()
	}
}

// cut sorts the fillings, worthiest first, and drops those beyond the most.
func (t *finalists) cut() {
	slices.SortStableFunc(t.found, func(a, b found) int { return cmp.Compare(b.value, a.value) })
	if len(t.found) >= t.most {
		t.found = t.found[:t.most]
		t.least = max(t.least, t.found[t.most-1].value)
	}
}
