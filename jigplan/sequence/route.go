package sequence

import "time"

// RouteProblem is a route problem on plain integers: visit every node once, node 0
// first, with the least sum of costs. Costs are zero or more.
type RouteProblem struct {
	Cost   [][]int  // Cost[i][j] is what going from i to j costs
	Before [][2]int // pairs of nodes: the first is visited before the second
	Closed bool     // the route returns to node 0; else it ends anywhere
}

// Limits bounds a search. The zero value means the default work alone: then
// the same problem always gives the same route.
type Limits struct {
	Deadline time.Time       // zero: none
	Stop     <-chan struct{} // closed when nobody waits for more
	Work     int             // rounds of search on 40 nodes, fewer on more; 0: DefaultWork
}

// DefaultWork proves what a batch usually needs, in less than a second.
const DefaultWork = 10_000

// Route is the best route found, and a bound that no route is below.
type Route struct {
	Nodes  []int // in the order visited, node 0 first; a return to it is not listed
	Length int
	Bound  int // proven: equal to Length when no route is shorter
}

// Proven reports whether no route is shorter.
func (r Route) Proven() bool { return r.Length == r.Bound }

// Length is the cost of visiting the nodes in the order given.
func (p RouteProblem) Length(nodes []int) int {
	sum := 0
	for i := 1; i < len(nodes); i++ {
		sum += p.Cost[nodes[i-1]][nodes[i]]
	}
	if p.Closed && len(nodes) > 1 {
		sum += p.Cost[nodes[len(nodes)-1]][nodes[0]]
	}
	return sum
}

// Shortest finds the shortest route, or the shortest within the limits. It
// returns no nodes when Before runs in a circle.
//
// A tour is improved by exchanging neighbouring runs of nodes, a Lagrangean
// bound over arborescences says how far it may be from the best, and what
// remains is searched exhaustively over sets of visited nodes, without the
// sets that the bound rules out.
func Shortest(p RouteProblem, limits Limits) Route {
	g, ok := newGraph(p)
	if !ok {
		return Route{}
	}
	clock := newClock(limits, g.n)
	nodes, low := g.shortest(clock)
	nodes = nodes[:len(p.Cost)]
	length := p.Length(nodes)
	return Route{Nodes: nodes, Length: length, Bound: min(low, length)}
}

// shortest is the best path of the graph and a proven bound on all paths.
func (g *graph) shortest(clock *clock) (nodes []int, low int) {
	if g.n-2 <= quickSubsets {
		if nodes = g.subsets(clock); nodes != nil {
			return nodes, g.length(nodes)
		}
	}
	search := newClimb(g, 1)
	search.run(clock, min(clock.work/10, 2000))
	b := newBound(g)
	b.raise(search.best.length, clock)
	low = max(b.length, g.leastEntries())
	for _, states := range [...]int{fewStates, manyStates} {
		if low >= search.best.length || g.n > smallGraph && (search.best.length-low)*wideGap > low {
			break
		}
		shorter, proven := b.sweep(search.best.length, min(states, clock.work), clock)
		if shorter != nil {
			search.adopt(shorter)
		}
		if proven {
			low = search.best.length
			break
		}
		if states == fewStates && g.n-2 <= maxSubsets && 1<<(g.n-2) <= 32*clock.work {
			if nodes = g.subsets(clock); nodes != nil {
				return nodes, g.length(nodes)
			}
		}
		search.run(clock, min(clock.work/2, 400*g.n))
	}
	if low < search.best.length {
		search.run(clock, clock.work)
	}
	return search.best.nodes, low
}

// Beyond a small graph a sweep is hopeless when the bound is more than one
// part in wideGap short of the path.
const (
	smallGraph = 32
	wideGap    = 33
)

// A first sweep takes a fraction of a second; the second, with a better path
// known, as much memory as a shop's computer has to spare.
const (
	fewStates  = 15_000
	manyStates = 250_000
)

// clock says when a search has had its time.
type clock struct {
	limits Limits
	work   int
	calls  int
	over   bool
}

func newClock(limits Limits, n int) *clock {
	work := limits.Work
	if work == 0 {
		work = DefaultWork
	}
	return &clock{limits: limits, work: work / max(1, n*n/1600)}
}

// spent reports whether time is up; it looks at the clock at every 16th call.
func (c *clock) spent() bool {
	c.calls++
	if c.over || c.calls%16 != 0 {
		return c.over
	}
	select {
	case <-c.limits.Stop:
		c.over = true
	default:
		c.over = !c.limits.Deadline.IsZero() && time.Now().After(c.limits.Deadline)
	}
	return c.over
}
