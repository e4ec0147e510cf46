package sequence

import "time"

// Problem is a route problem on plain integers: visit every node once, node 0
// first, with the least sum of costs. Costs are zero or more.
type Problem struct {
	Cost   [][]int  // Cost[i][j] is what going from i to j costs
	Before [][2]int // pairs of nodes: the first is visited before the second
	Closed bool     // the route returns to node 0; else it ends anywhere
}

// Limits bounds a search. The zero value means the fixed work budget alone.
type Limits struct {
	Deadline time.Time // zero: none
}

// Route is the best route found, and a bound that no route is below.
type Route struct {
	Nodes  []int // in the order visited, node 0 first; a return to it is not listed
	Length int
	Bound  int // proven: equal to Length when no route is shorter
}

// Length is the cost of visiting the nodes in the order given.
func (p Problem) Length(nodes []int) int {
	sum := 0
	for i := 1; i < len(nodes); i++ {
		sum += p.Cost[nodes[i-1]][nodes[i]]
	}
	if p.Closed && len(nodes) > 1 {
		sum += p.Cost[nodes[len(nodes)-1]][nodes[0]]
	}
	return sum
}

// Shortest finds the shortest route.
func Shortest(p Problem, limits Limits) Route {
	if len(p.Cost) <= exactNodes {
		return exact(p)
	}
	return improve(p, nearest(p))
}
