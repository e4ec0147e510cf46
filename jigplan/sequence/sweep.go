package sequence

import "slices"

// state is a set of visited nodes, the last of them, and the shortest way
// there.
type state struct {
	visited  set
	last     int
	length   int
	previous int // index of the state before
}

// sweep visits sets of nodes layer by layer, one more node in each, and drops
// what cannot become shorter than known. Unless that is proven, it gives up
// after so many states or when time is up. It returns the shortest path below
// known; nil when there is none.
func (b *bound) sweep(known, most int, clock *clock) (nodes []int, proven bool) {
	b.fix(known)
	s := &sweeper{b: b, g: b.g, known: known, clock: clock, left: most}
	return s.run()
}

type sweeper struct {
	b      *bound
	g      *graph
	known  int
	clock  *clock
	left   int // states that may still be bounded
	states []state
	index  map[string]int
	key    []byte
	rest   []int
}

func (s *sweeper) run() (nodes []int, proven bool) {
	start := state{visited: newSet(s.g.n), previous: -1}
	start.visited.add(0)
	s.states = []state{start}
	from, to := 0, 1
	for range s.g.n - 1 {
		s.index = map[string]int{}
		for at := from; at < to; at++ {
			if s.left <= 0 || s.clock.spent() {
				return nil, false
			}
			s.extend(at)
		}
		from, to = to, len(s.states)
	}
	if from == to {
		return nil, true
	}
	return s.unwind(from), true
}

// extend goes on from one state to every node that may be next.
func (s *sweeper) extend(at int) {
	if s.bound(s.states[at]) > (s.known-1)*scale {
		return
	}
	st := s.states[at]
	for next := range s.g.n {
		if st.visited.has(next) || s.b.cost[st.last][next] >= forbidden || !contains(st.visited, s.g.before[next]) {
			continue
		}
		length := st.length + s.g.cost[st.last][next]
		s.key = keyOf(s.key[:0], st.visited, next)
		if have, ok := s.index[string(s.key)]; ok {
			if length < s.states[have].length {
				s.states[have].length, s.states[have].previous = length, at
			}
			continue
		}
		to := state{visited: slices.Clone(st.visited), last: next, length: length, previous: at}
		to.visited.add(next)
		s.index[string(s.key)] = len(s.states)
		s.states = append(s.states, to)
	}
}

func keyOf(key []byte, visited set, last int) []byte {
	for _, w := range visited {
		for shift := 0; shift < 64; shift += 8 {
			key = append(key, byte(w>>shift))
		}
	}
	return append(key, byte(last), byte(last>>8))
}

// bound is how long, scaled, a path through this state is at least: the way
// there and the cheapest arborescence from its last node over the rest.
func (s *sweeper) bound(st state) int {
	s.left--
	s.rest = append(s.rest[:0], st.last)
	value := st.length * scale
	if st.last != s.g.n-1 {
		value -= s.b.charge[st.last]
	}
	for j := range s.g.n {
		if !st.visited.has(j) {
			s.rest = append(s.rest, j)
			if j != s.g.n-1 {
				value -= s.b.charge[j]
			}
		}
	}
	s.b.tree.load(s.rest, s.b.cost)
	cost, _ := s.b.tree.solve()
	return value + cost
}

func (s *sweeper) unwind(at int) []int {
	nodes := make([]int, s.g.n)
	for k := s.g.n - 1; k >= 0; k-- {
		nodes[k] = s.states[at].last
		at = s.states[at].previous
	}
	return nodes
}
