package sequence

// settle exchanges neighbouring runs of nodes while that shortens the path.
// An exchange takes out the arcs after places h, i and j; one of the three,
// taken first, must be replaced by a cheaper one, so only a node's nearest
// successors are tried. Keeping the order that is asked for costs little,
// because a growing run only ever collects nodes that must come later (after
// L. M. Gambardella, M. Dorigo, INFORMS J. Comput. 12, 2000).
func (c *climb) settle(p *path) {
	x := exchanger{g: c.g, p: p, grown: c.scratch}
	for {
		v, ok := c.queue.pop()
		if !ok {
			return
		}
		if v == c.g.n-1 {
			continue
		}
		for x.improve(v) {
			nodes := p.nodes
			for _, at := range [...]int{x.h, x.h + 1, x.i, x.i + 1, x.j, x.j + 1} {
				c.queue.push(nodes[at])
			}
			p.exchange(x.h, x.i, x.j)
		}
	}
}

// exchanger finds the best exchange that starts with one node's way on.
type exchanger struct {
	g       *graph
	p       *path
	grown   set // nodes that must come later (or earlier) than the growing run
	best    int
	h, i, j int
}

func (x *exchanger) note(gain, h, i, j int) {
	if gain > x.best {
		x.best, x.h, x.i, x.j = gain, h, i, j
	}
}

// improve finds the best exchange that replaces the arc out of v by a cheaper
// one.
func (x *exchanger) improve(v int) bool {
	x.best = 0
	at := x.p.at[v]
	now := x.g.cost[v][x.p.nodes[at+1]]
	for _, next := range x.g.near[v] {
		spare := now - x.g.cost[v][next]
		if spare <= 0 {
			break
		}
		q := x.p.at[next]
		if q > at+1 {
			x.later(at, q-1, spare)
			x.earlier(at, q-1, spare)
		} else if q < at {
			x.between(q-1, at, spare)
		}
	}
	return x.best > 0
}

// later keeps h and i, and tries every j.
func (x *exchanger) later(h, i, spare int) {
	c, v := x.g.cost, x.p.nodes
	x.collect(h+1, i, x.g.after)
	spare += c[v[i]][v[i+1]]
	for j := i + 1; j < x.g.n-1; j++ {
		if !x.g.free && x.grown.has(v[j]) {
			return
		}
		x.note(spare+c[v[j]][v[j+1]]-c[v[j]][v[h+1]]-c[v[i]][v[j+1]], h, i, j)
	}
}

// earlier keeps i and j, and tries every h.
func (x *exchanger) earlier(i, j, spare int) {
	c, v := x.g.cost, x.p.nodes
	x.collect(i+1, j, x.g.before)
	spare += c[v[j]][v[j+1]]
	for h := i - 1; h >= 0; h-- {
		if !x.g.free && x.grown.has(v[h+1]) {
			return
		}
		x.note(spare+c[v[h]][v[h+1]]-c[v[h]][v[i+1]]-c[v[j]][v[h+1]], h, i, j)
	}
}

// between keeps h and j, and tries every i.
func (x *exchanger) between(h, j, spare int) {
	c, v := x.g.cost, x.p.nodes
	spare += c[v[h]][v[h+1]]
	for i := h + 1; i < j; i++ {
		gain := spare + c[v[i]][v[i+1]] - c[v[h]][v[i+1]] - c[v[i]][v[j+1]]
		if gain > x.best && x.mayPart(h, i, j) {
			x.note(gain, h, i, j)
		}
	}
}

// mayPart reports whether no node of h+1..i must come before one of i+1..j.
func (x *exchanger) mayPart(h, i, j int) bool {
	if x.g.free {
		return true
	}
	x.collect(h+1, i, x.g.after)
	for p := i + 1; p <= j; p++ {
		if x.grown.has(x.p.nodes[p]) {
			return false
		}
	}
	return true
}

// collect unites the sets of the nodes at places from..to.
func (x *exchanger) collect(from, to int, of []set) {
	if x.g.free {
		return
	}
	x.grown.clear()
	for p := from; p <= to; p++ {
		x.grown.unite(of[x.p.nodes[p]])
	}
}
