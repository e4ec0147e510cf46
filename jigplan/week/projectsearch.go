package week

import (
	"math"
	"math/rand/v2"
	"slices"
)

// plan is a list of tasks and what it comes to.
type plan struct {
	list     []int32
	start    []int
	makespan int
}

// improver changes a list of tasks here and there, carries it out, and goes
// on from what comes out when it is no longer, or not much longer.
type improver struct {
	n     *network
	clock *clock
	rng   *rand.Rand
	bound int
	d     *decoder
	best  plan
}

// A walk of so many steps starts from the best of so many drawn lists, or
// from the best plan so far. Lengths chosen by trial on open instances.
const (
	walk  = 6000
	draws = 20
	heat  = 0.3 // of one unit of time: how much longer is accepted one time in three
)

func (m *improver) run() plan {
	m.d = newDecoder(m.n)
	m.best = m.carryOut(slices.Clone(m.n.order))
	for first := true; !m.done(); first = false {
		from := m.carryOut(m.sample())
		for range draws {
			if p := m.carryOut(m.sample()); p.makespan < from.makespan {
				from = p
			}
		}
		if !first && m.rng.IntN(2) == 0 {
			from = m.best
		}
		m.walk(from)
	}
	return m.best
}

func (m *improver) done() bool { return m.best.makespan <= m.bound || m.clock.spent() }

func (m *improver) walk(now plan) {
	for range walk {
		if m.done() {
			return
		}
		list := slices.Clone(now.list)
		if m.rng.IntN(3) == 0 {
			m.redraw(list)
		} else {
			for range 1 + m.rng.IntN(3) {
				m.move(list)
			}
		}
		p := m.carryOut(list)
		if d := p.makespan - now.makespan; d <= 0 || m.rng.Float64() < math.Exp(-float64(d)/heat) {
			now = p
		}
	}
}

// carryOut makes a plan of a list, which it sorts by start, and keeps the
// best.
func (m *improver) carryOut(list []int32) plan {
	makespan := m.d.justify(list)
	p := plan{list: list, start: slices.Clone(m.d.start[0]), makespan: makespan}
	if m.best.start == nil || makespan < m.best.makespan {
		m.best = p
	}
	return p
}

// sample draws a list: of three tasks that may be next, the one with the
// longest chain after it.
func (m *improver) sample() []int32 {
	waits := make([]int, m.n.n)
	var ready, list []int32
	for i := range m.n.n {
		if waits[i] = len(m.n.next[1][i]); waits[i] == 0 {
			ready = append(ready, int32(i))
		}
	}
	for len(ready) > 0 {
		at := m.rng.IntN(len(ready))
		for range 2 {
			other := m.rng.IntN(len(ready))
			if m.urgency(ready[other]) > m.urgency(ready[at]) {
				at = other
			}
		}
		i := ready[at]
		ready = slices.Delete(ready, at, at+1)
		list = append(list, i)
		for _, j := range m.n.next[0][i] {
			if waits[j]--; waits[j] == 0 {
				ready = append(ready, j)
			}
		}
	}
	return list
}

func (m *improver) urgency(i int32) int { return m.n.tail[i] + m.n.time[i] }

// reachOfMoves is how far in a list a change reaches.
func (m *improver) reachOfMoves() int { return 12 + m.n.n/5 }

// redraw draws a stretch of the list anew, in any order that is allowed.
func (m *improver) redraw(list []int32) {
	n := len(list)
	length := min(4+m.rng.IntN(m.reachOfMoves()), n)
	from := m.rng.IntN(n - length + 1)
	left := slices.Clone(list[from : from+length])
	for at := from; len(left) > 0; at++ {
		k := m.rng.IntN(len(left))
		for e := m.earlier(left, k); e >= 0; e = m.earlier(left, k) {
			k = e
		}
		list[at] = left[k]
		left = slices.Delete(left, k, k+1)
	}
}

// earlier is a place in left whose task must come before that at k; -1: none.
func (m *improver) earlier(left []int32, k int) int {
	return slices.IndexFunc(left, func(i int32) bool { return m.n.reach(int(i), int(left[k])) })
}

// move takes one task some way to the front or to the back, as far as the
// order allows.
func (m *improver) move(list []int32) {
	at := m.rng.IntN(len(list))
	task, steps := list[at], m.rng.IntN(m.reachOfMoves())
	forward := m.rng.IntN(2) == 0
	for ; steps > 0; steps-- {
		if forward && (at == 0 || m.n.reach(int(list[at-1]), int(task))) {
			return
		}
		if !forward && (at == len(list)-1 || m.n.reach(int(task), int(list[at+1]))) {
			return
		}
		to := at + 1
		if forward {
			to = at - 1
		}
		list[at], list[to] = list[to], task
		at = to
	}
}
