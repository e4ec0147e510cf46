package sequence

import "math"

// exactNodes is up to how many nodes, the first included, dynamic programming
// over sets of visited nodes is quick: 2^20 sets of 20 last nodes.
const exactNodes = 21

const unreached = math.MaxInt32

// exact solves p by dynamic programming over the set of nodes visited and the
// last of them (Held and Karp, J. SIAM 10, 1962), skipping the sets that hold
// a node without those that must come before it.
func exact(p Problem) Route {
	n := len(p.Cost) - 1 // nodes 1..n are bits 0..n-1
	if n == 0 {
		return Route{Nodes: []int{0}}
	}
	earlier := p.earlier()
	best := make([]int32, n<<n)
	for i := range best {
		best[i] = unreached
	}
	for j := range n {
		if earlier[j] == 0 {
			best[1<<j*n+j] = int32(p.Cost[0][j+1])
		}
	}
	for set := 1; set < 1<<n; set++ {
		for last := range n {
			soFar := best[set*n+last]
			if soFar == unreached {
				continue
			}
			row := p.Cost[last+1]
			for next := range n {
				if set>>next&1 != 0 || earlier[next]&^set != 0 {
					continue
				}
				at := (set|1<<next)*n + next
				best[at] = min(best[at], soFar+int32(row[next+1]))
			}
		}
	}
	return p.unwind(best, n)
}

// earlier is, for each node, the set of nodes that must come before it.
func (p Problem) earlier() []int {
	sets := make([]int, len(p.Cost)-1)
	for _, pair := range p.Before {
		if pair[0] > 0 && pair[1] > 0 {
			sets[pair[1]-1] |= 1 << (pair[0] - 1)
		}
	}
	return sets
}

func (p Problem) unwind(best []int32, n int) Route {
	home := func(j int) int32 {
		if p.Closed {
			return int32(p.Cost[j+1][0])
		}
		return 0
	}
	all := 1<<n - 1
	last := 0
	for j := range n {
		if best[all*n+last] == unreached || best[all*n+j] != unreached && best[all*n+j]+home(j) < best[all*n+last]+home(last) {
			last = j
		}
	}
	r := Route{Nodes: make([]int, n+1), Length: int(best[all*n+last] + home(last))}
	r.Bound = r.Length
	for set, at := all, n; at > 0; at-- {
		r.Nodes[at] = last + 1
		set &^= 1 << last
		for prev := range n {
			if set>>prev&1 != 0 && best[set*n+prev] != unreached && best[set*n+prev]+int32(p.Cost[prev+1][last+1]) == best[(set|1<<last)*n+last] {
				last = prev
				break
			}
		}
	}
	return r
}
