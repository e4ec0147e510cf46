package solve

// found is a filling of the whole plate read from lists.
type found struct {
	how   how
	value int64
	mark  uint64
}

// best returns up to most different fillings of the whole plate that are worth
// more than the floor, the worthiest first. The last size is not a list of its
// own: it is searched by value, not by rank.
func (l *lists) best(most int) []found {
	g := l.b.grid
	i, j := g.nx-1, g.ny-1
	top := finalists{most: most, least: l.floor / l.w.scale}
	for c := range g.nx * g.ny {
		for _, id := range l.list(c) {
			if l.value[id] > top.least {
				top.offer(found{l.how[id], l.value[id], l.mark[id]})
			}
		}
	}
	for _, p := range g.xs.pairs[i] {
		l.bestOf(&top, int(p.low)*g.ny+j, int(p.high)*g.ny+j, Across)
	}
	for _, p := range g.ys.pairs[j] {
		l.bestOf(&top, i*g.ny+int(p.low), i*g.ny+int(p.high), Along)
	}
	return top.found
}

// bestOf offers the fillings of the plate cut into sizes low and high.
func (l *lists) bestOf(top *finalists, low, high int, cut Direction) {
	for _, a := range l.list(low) {
		for _, b := range l.list(high) {
			if l.rank[a]+l.rank[b]+l.w.free <= l.floor {
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
	found []found
}

func (t *finalists) offer(f found) {
	at := len(t.found)
	for k, o := range t.found {
		if o.mark == f.mark {
			return
		}
		if o.value < f.value {
			at = min(at, k)
		}
	}
	if len(t.found) < t.most {
		t.found = append(t.found, found{})
	}
	copy(t.found[at+1:], t.found[at:])
	t.found[at] = f
	if len(t.found) == t.most {
		t.least = max(t.least, t.found[t.most-1].value)
	}
}
