package sequence

import "slices"

// circular reports whether no order satisfies Before.
func (p Problem) circular() bool { return len(p.nearestOf()) < len(p.Cost) }

// nearest always goes on to the cheapest node that may come next.
func nearest(p Problem) []int { return p.nearestOf() }

func (p Problem) nearestOf() []int {
	waits := make([]int, len(p.Cost))
	for _, pair := range p.Before {
		waits[pair[1]]++
	}
	done := make([]bool, len(p.Cost))
	done[0] = true
	nodes := []int{0}
	for next := 0; next >= 0; {
		for _, pair := range p.Before {
			if pair[0] == next {
				waits[pair[1]]--
			}
		}
		last := next
		next = -1
		for j := range p.Cost {
			if !done[j] && waits[j] == 0 && (next < 0 || p.Cost[last][j] < p.Cost[last][next]) {
				next = j
			}
		}
		if next >= 0 {
			done[next] = true
			nodes = append(nodes, next)
		}
	}
	return nodes
}

// asWritten is the length of the route in node order, or, where Before
// forbids that, in the order that keeps closest to it.
func (p Problem) asWritten() int {
	waits := make([]int, len(p.Cost))
	for _, pair := range p.Before {
		waits[pair[1]]++
	}
	var nodes []int
	left := make([]int, len(p.Cost))
	for i := range left {
		left[i] = i
	}
	for len(left) > 0 {
		at := slices.IndexFunc(left, func(j int) bool { return waits[j] == 0 })
		for _, pair := range p.Before {
			if pair[0] == left[at] {
				waits[pair[1]]--
			}
		}
		nodes = append(nodes, left[at])
		left = slices.Delete(left, at, at+1)
	}
	return p.Length(nodes)
}

// improve moves runs of nodes elsewhere while that shortens the route.
func improve(p Problem, nodes []int) Route {
	for better := true; better; {
		better = false
		for from := 1; from < len(nodes); from++ {
			for to := from + 1; to <= len(nodes) && !better; to++ {
				for at := to + 1; at <= len(nodes) && !better; at++ {
					moved := slices.Concat(nodes[:from], nodes[to:at], nodes[from:to], nodes[at:])
					if p.Length(moved) < p.Length(nodes) && p.allowed(moved) {
						nodes, better = moved, true
					}
				}
			}
		}
	}
	return Route{Nodes: nodes, Length: p.Length(nodes), Bound: p.leastEntries()}
}

// allowed reports whether nodes are in an order that Before permits.
func (p Problem) allowed(nodes []int) bool {
	at := make([]int, len(nodes))
	for i, n := range nodes {
		at[n] = i
	}
	for _, pair := range p.Before {
		if at[pair[0]] > at[pair[1]] {
			return false
		}
	}
	return true
}

// leastEntries bounds every route: each node is entered once.
func (p Problem) leastEntries() int {
	sum := 0
	for j := 1; j < len(p.Cost); j++ {
		least := -1
		for i := range p.Cost {
			if i != j && (least < 0 || p.Cost[i][j] < least) {
				least = p.Cost[i][j]
			}
		}
		sum += least
	}
	return sum
}
