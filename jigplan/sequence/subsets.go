package sequence

import "math"

// quickSubsets and mostSubsets are up to how many nodes between first and
// last dynamic programming over all sets takes milliseconds, and as long as
// the default work.
const (
	quickSubsets = 12
	maxSubsets   = 18
)

const unreached = math.MaxInt64 / 2

// subsets solves g by dynamic programming over the set of nodes visited and
// the last of them (M. Held, R. M. Karp, J. SIAM 10, 1962), skipping the sets
// that hold a node without those that must come before it. It returns the
// path; nil when the clock ran out.
func (g *graph) subsets(clock *clock) []int {
	n := g.n - 2 // nodes 1..n are bits 0..n-1
	if n <= 0 {
		return []int{0, g.n - 1}[:g.n]
	}
	earlier := make([]int, n)
	for j := range n {
		for i := range n {
			if g.before[j+1].has(i + 1) {
				earlier[j] |= 1 << i
			}
		}
	}
	best := make([]int, n<<n)
	for i := range best {
		best[i] = unreached
	}
	for j := range n {
		if earlier[j] == 0 {
			best[1<<j*n+j] = g.cost[0][j+1]
		}
	}
	for set := 1; set < 1<<n; set++ {
		if set&1023 == 0 && clock.spent() {
			return nil
		}
		for last := range n {
			if best[set*n+last] < unreached {
				g.extend(best, earlier, n, set, last)
			}
		}
	}
	return g.unwind(best, n)
}

// extend goes on from a set and its last node to every node that may be next.
func (g *graph) extend(best, earlier []int, n, set, last int) {
	soFar, row := best[set*n+last], g.cost[last+1]
	for next := range n {
		if set>>next&1 != 0 || earlier[next]&^set != 0 {
			continue
		}
		at := (set|1<<next)*n + next
		best[at] = min(best[at], soFar+row[next+1])
	}
}

func (g *graph) unwind(best []int, n int) []int {
	all := 1<<n - 1
	last := 0
	total := func(j int) int { return best[all*n+j] + g.cost[j+1][g.n-1] }
	for j := range n {
		if total(j) < total(last) {
			last = j
		}
	}
	nodes := make([]int, g.n)
	nodes[g.n-1] = g.n - 1
	for set, at := all, n; at > 0; at-- {
		nodes[at] = last + 1
		rest := set &^ (1 << last)
		for prev := range n {
			if rest>>prev&1 != 0 && best[rest*n+prev]+g.cost[prev+1][last+1] == best[set*n+last] {
				set, last = rest, prev
				break
			}
		}
	}
	return nodes
}
