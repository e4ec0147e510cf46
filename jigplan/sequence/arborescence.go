package sequence

// arborescence finds cheapest arborescences: every node but the root is
// entered once and reached from the root (Y. J. Chu, T. H. Liu, Sci. Sinica
// 14, 1965; J. Edmonds, J. Res. NBS 71B, 1967). Each level takes the cheapest
// arc into every node; where those run in circles, each circle becomes one
// node of the next level. Its memory is kept between calls.
type arborescence struct {
	n      int
	levels []*level
}

// level is the graph after some contractions.
type level struct {
	m     int
	cost  []int // m x m
	from  []int // the arc of the original graph behind each entry
	to    []int
	into  []int // node -> where its cheapest arc comes from
	least []int // node -> the cost of that arc
	group []int // node -> its node in the next level
	state []int
	cycle []bool // node -> it lies on a circle
}

func newArborescence(n int) *arborescence { return &arborescence{n: n} }

func (a *arborescence) level(k, m int) *level {
	for len(a.levels) <= k {
		a.levels = append(a.levels, &level{})
	}
	l := a.levels[k]
	l.m = m
	if len(l.into) < m {
		l.cost, l.from, l.to = make([]int, m*m), make([]int, m*m), make([]int, m*m)
		l.into, l.least, l.group = make([]int, m), make([]int, m), make([]int, m)
		l.state, l.cycle = make([]int, m), make([]bool, m)
	}
	return l
}

// load sets the graph: the root first, then the other nodes.
func (a *arborescence) load(nodes []int, cost [][]int) {
	m := len(nodes)
	l := a.level(0, m)
	for u, i := range nodes {
		row, out := cost[i], l.cost[u*m:(u+1)*m]
		for v, j := range nodes {
			out[v] = row[j]
			l.from[u*m+v], l.to[u*m+v] = u, v
		}
		out[u] = forbidden
	}
}

// solve returns the cost of the cheapest arborescence of the loaded graph and
// how many levels that took. A cost of forbidden or more means there is none.
func (a *arborescence) solve() (cost, levels int) {
	for k := 0; ; k++ {
		l := a.levels[k]
		for v := 1; v < l.m; v++ {
			l.enter(v)
			cost += l.least[v]
		}
		if cost >= forbidden {
			return cost, k + 1
		}
		groups := l.circles()
		if groups == l.m {
			return cost, k + 1
		}
		l.contract(a.level(k+1, groups))
	}
}

// enter finds the cheapest arc into v.
func (l *level) enter(v int) {
	best := 0
	if v == 0 {
		return
	}
	for u := 1; u < l.m; u++ {
		if l.cost[u*l.m+v] < l.cost[best*l.m+v] {
			best = u
		}
	}
	l.into[v], l.least[v] = best, l.cost[best*l.m+v]
}

// circles numbers the nodes of the next level, circles as one, the root 0.
func (l *level) circles() (groups int) {
	for v := range l.m {
		l.state[v], l.cycle[v], l.group[v] = -1, false, -1
	}
	l.group[0], groups = 0, 1
	l.state[0] = 0
	for start := 1; start < l.m; start++ {
		v := start
		for l.state[v] < 0 {
			l.state[v] = start
			v = l.into[v]
		}
		if v == 0 || l.state[v] != start || l.cycle[v] {
			continue
		}
		for !l.cycle[v] {
			l.cycle[v] = true
			l.group[v] = groups
			v = l.into[v]
		}
		groups++
	}
	for v := 1; v < l.m; v++ {
		if l.group[v] < 0 {
			l.group[v] = groups
			groups++
		}
	}
	return groups
}

// contract makes the next level: what an arc costs there is how much dearer
// it is than the cheapest arc into the same node, which is paid already.
func (l *level) contract(next *level) {
	m := next.m
	for i := range m * m {
		next.cost[i] = forbidden
	}
	for u := range l.m {
		gu := l.group[u]
		for v := 1; v < l.m; v++ {
			gv, cost := l.group[v], l.cost[u*l.m+v]
			if gu == gv || cost >= forbidden/2 {
				continue
			}
			cost -= l.least[v]
			if at := gu*m + gv; cost < next.cost[at] {
				next.cost[at], next.from[at], next.to[at] = cost, l.from[u*l.m+v], l.to[u*l.m+v]
			}
		}
	}
}

// parents returns, for each node but the root, the node it is entered from in
// the arborescence that solve found.
func (a *arborescence) parents(levels int) []int {
	m := a.levels[0].m
	parent := make([]int, m)
	place := make([][]int, levels) // node of the graph -> node of the level
	place[0] = make([]int, m)
	for v := range m {
		place[0][v] = v
	}
	for k := 1; k < levels; k++ {
		place[k] = make([]int, m)
		for v := range m {
			place[k][v] = a.levels[k-1].group[place[k-1][v]]
		}
	}
	for v := range parent {
		parent[v] = -1
	}
	for k := levels - 1; k >= 0; k-- {
		l := a.levels[k]
		entered := make([]bool, l.m)
		for v := 1; v < m; v++ {
			if parent[v] >= 0 && place[k][parent[v]] != place[k][v] {
				entered[place[k][v]] = true
			}
		}
		for v := 1; v < l.m; v++ {
			if at := l.into[v]*l.m + v; !entered[v] {
				parent[l.to[at]] = l.from[at]
			}
		}
	}
	return parent
}

// reduce takes from each arc what the arborescence pays for entering the sets
// that the arc enters: what remains is how much dearer an arborescence with
// that arc is at least.
func (a *arborescence) reduce(levels int, reduced [][]int) {
	m := a.levels[0].m
	place := make([]int, m)
	for v := range m {
		place[v] = v
	}
	for k := range levels {
		l := a.levels[k]
		for u := range m {
			for v := range m {
				if pu, pv := place[u], place[v]; pu != pv && pv != 0 && reduced[u][v] < forbidden/2 {
					reduced[u][v] -= l.least[pv]
				}
			}
		}
		for v := range m {
			place[v] = l.group[place[v]]
		}
	}
}
