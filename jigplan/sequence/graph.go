package sequence

import "slices"

// graph is a Problem in the form the search works on: a path from node 0 to
// the last node, which is added and costs nothing to reach or, on a closed
// route, costs the way home. Arcs that no route can use are forbidden.
type graph struct {
	n      int
	cost   [][]int // forbidden where no route can go
	after  []set   // nodes that come later than i, transitively
	before []set   // nodes that come earlier than i, transitively
	free   bool    // no order is given but first and last
	near   [][]int // the nodes reachable from i, nearest first, at most nearest of them
}

// forbidden is far above any sum of costs, and ten thousand of it still fit.
const forbidden = 1 << 45

// newGraph is false when the order that p asks for runs in a circle.
func newGraph(p RouteProblem) (*graph, bool) {
	n := len(p.Cost) + 1
	g := &graph{n: n, free: true}
	for i := range n {
		g.cost = append(g.cost, make([]int, n))
		g.after = append(g.after, newSet(n))
		g.before = append(g.before, newSet(n))
		for j := range n {
			g.cost[i][j] = p.arc(i, j)
		}
		if i > 0 {
			g.after[0].add(i)
		}
		if i < n-1 {
			g.after[i].add(n - 1)
		}
	}
	for _, pair := range p.Before {
		g.after[pair[0]].add(pair[1])
		g.free = g.free && pair[0] == 0
	}
	if !g.close() {
		return nil, false
	}
	g.forbid()
	g.sortNear()
	return g, true
}

func (p RouteProblem) arc(i, j int) int {
	last := len(p.Cost)
	switch {
	case i == j || i == last || j == 0:
		return forbidden
	case last == 1:
		return 0
	case j == last && p.Closed:
		return min(p.Cost[i][0], forbidden)
	case j == last:
		return 0
	}
	return min(p.Cost[i][j], forbidden)
}

// close completes the order transitively (Warshall); false: it is circular.
func (g *graph) close() bool {
	for k := range g.n {
		for i := range g.n {
			if g.after[i].has(k) {
				g.after[i].unite(g.after[k])
			}
		}
	}
	for i := range g.n {
		if g.after[i].has(i) {
			return false
		}
		for j := range g.n {
			if g.after[i].has(j) {
				g.before[j].add(i)
			}
		}
	}
	return true
}

// forbid rules out arcs against the order, and arcs past a node that must lie
// between.
func (g *graph) forbid() {
	for i := range g.n {
		for j := range g.n {
			if g.after[j].has(i) || g.after[i].has(j) && g.after[i].meets(g.before[j]) {
				g.cost[i][j] = forbidden
			}
		}
	}
	if g.n > 2 {
		g.cost[0][g.n-1] = forbidden
	}
}

// nearest is how many ways on from a node the search tries: an improving
// exchange nearly always starts with one of them.
const nearest = 12

func (g *graph) sortNear() {
	g.near = make([][]int, g.n)
	for i := range g.n {
		for j := range g.n {
			if g.cost[i][j] < forbidden {
				g.near[i] = append(g.near[i], j)
			}
		}
		slices.SortStableFunc(g.near[i], func(a, b int) int { return g.cost[i][a] - g.cost[i][b] })
		g.near[i] = g.near[i][:min(len(g.near[i]), nearest)]
	}
}

// leastEntries bounds every route: each node but the first is entered once.
func (g *graph) leastEntries() int {
	sum := 0
	for j := 1; j < g.n; j++ {
		least := forbidden
		for i := range g.n {
			least = min(least, g.cost[i][j])
		}
		sum += least
	}
	return sum
}

// length is the cost of a path through all nodes.
func (g *graph) length(nodes []int) int {
	sum := 0
	for i := 1; i < len(nodes); i++ {
		sum += g.cost[nodes[i-1]][nodes[i]]
	}
	return sum
}

// set is a set of nodes, a bit each.
type set []uint64

func newSet(n int) set { return make(set, (n+63)/64) }

func (s set) add(i int)      { s[i>>6] |= 1 << (i & 63) }
func (s set) has(i int) bool { return s[i>>6]>>(i&63)&1 != 0 }

func (s set) unite(t set) {
	for k := range s {
		s[k] |= t[k]
	}
}

func (s set) meets(t set) bool {
	for k := range s {
		if s[k]&t[k] != 0 {
			return true
		}
	}
	return false
}

func (s set) clear() { clear(s) }
