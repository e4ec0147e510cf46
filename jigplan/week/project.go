// Package week puts work on the clock: tasks under an order and limited
// resources, single machines with due dates, and the shop's week with people,
// clamps and waits. It leaves how long work takes to pace.
package week

import "slices"

// Project is tasks under an order and limited resources, on plain integers:
// a task takes Duration units of time and Demand[task][resource] of each
// resource all the while; Before holds pairs of which the first ends before
// the second starts.
type Project struct {
	Duration []int
	Demand   [][]int
	Capacity []int
	Before   [][2]int
}

// ProjectPlan is the earliest end found, and a bound that no plan is below.
type ProjectPlan struct {
	Start    []int
	Makespan int
	Bound    int // proven: equal to Makespan when no plan ends earlier
}

// Plan finds start times with the earliest end of all, or the earliest within
// the limits. It returns no start times when Before runs in a circle or a
// task asks for more than there is.
//
// A list of tasks is carried out task by task, each as early as the resources
// allow, then pushed to the right and to the left again, which never makes it
// longer (V. Valls, F. Ballestin, S. Quintanilla, EJOR 165, 2005). The list is
// changed a little and carried out again, many times.
func (p Project) Plan(limits Limits) ProjectPlan {
	n := newNetwork(p)
	if n == nil {
		return ProjectPlan{}
	}
	if n.n == 0 {
		return ProjectPlan{Start: []int{}}
	}
	clock := newClock(limits)
	m := &improver{n: n, clock: clock, rng: newRand(1), bound: n.bound()}
	best := m.run()
	return ProjectPlan{Start: best.start, Makespan: best.makespan, Bound: m.bound}
}

// network is a Project made ready: both directions of its order, a possible
// list, and the demands of up to four resources packed into one word.
type network struct {
	n       int
	time    []int
	next    [2][][]int32 // forward: the tasks after each; backward: before
	order   []int32      // one list that keeps the order
	packed  [][]uint64   // demand, four lanes a word
	full    []uint64     // capacity, with the guard bits set
	total   int          // of all durations
	head    []int        // a task starts no earlier
	tail    []int        // so much time follows its end
	later   [][]uint64   // the tasks after each, near or far, a bit each
	project Project
}

// Each resource has a lane of 16 bits whose top bit guards against borrowing.
const (
	guards   = 0x8000_8000_8000_8000
	laneFull = 1 << 15
)

// newNetwork is nil when the project cannot be carried out.
func newNetwork(p Project) *network {
	n := &network{n: len(p.Duration), time: p.Duration, project: p}
	words := (len(p.Capacity) + 3) / 4
	pack := func(amounts []int) []uint64 {
		out := make([]uint64, words)
		for r, a := range amounts {
			out[r/4] |= uint64(a) << (r % 4 * 16)
		}
		return out
	}
	if slices.ContainsFunc(p.Capacity, func(c int) bool { return c >= laneFull }) {
		return nil
	}
	n.full = pack(p.Capacity)
	for w := range n.full {
		n.full[w] |= guards
	}
	for i, demand := range p.Demand {
		for r, d := range demand {
			if d > p.Capacity[r] {
				return nil
			}
		}
		n.packed = append(n.packed, pack(demand))
		n.total += p.Duration[i]
	}
	n.next[0], n.next[1] = make([][]int32, n.n), make([][]int32, n.n)
	for _, pair := range p.Before {
		n.next[0][pair[0]] = append(n.next[0][pair[0]], int32(pair[1]))
		n.next[1][pair[1]] = append(n.next[1][pair[1]], int32(pair[0]))
	}
	if !n.sort() {
		return nil
	}
	n.head, n.tail = n.longest(1), n.longest(0)
	n.closeOrder()
	return n
}

// sort finds a list that keeps the order; false: there is none.
func (n *network) sort() bool {
	waits := make([]int, n.n)
	for i := range n.n {
		waits[i] = len(n.next[1][i])
		if waits[i] == 0 {
			n.order = append(n.order, int32(i))
		}
	}
	for k := 0; k < len(n.order); k++ {
		for _, j := range n.next[0][n.order[k]] {
			if waits[j]--; waits[j] == 0 {
				n.order = append(n.order, j)
			}
		}
	}
	return len(n.order) == n.n
}

// longest is, for each task, the longest chain after it (direction 0) or
// before it (direction 1).
func (n *network) longest(direction int) []int {
	chain := make([]int, n.n)
	for k := range n.order {
		i := n.order[k]
		if direction == 0 {
			i = n.order[n.n-1-k]
		}
		for _, j := range n.next[direction][i] {
			chain[i] = max(chain[i], chain[j]+n.time[j])
		}
	}
	return chain
}

// reach reports whether j comes after i.
func (n *network) reach(i, j int) bool { return n.later[i][j/64]>>(j%64)&1 != 0 }

// closeOrder notes every task that comes after each, near or far.
func (n *network) closeOrder() {
	n.later = make([][]uint64, n.n)
	for k := range n.order {
		i := n.order[n.n-1-k]
		n.later[i] = make([]uint64, (n.n+63)/64)
		for _, j := range n.next[0][i] {
			n.later[i][j/64] |= 1 << (j % 64)
			for w, bits := range n.later[j] {
				n.later[i][w] |= bits
			}
		}
	}
}
