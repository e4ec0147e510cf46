package schedule

import (
	"math/rand/v2"
	"slices"
)

// breeder breeds lists of tasks.
type breeder struct {
	n     *network
	clock *clock
	rng   *rand.Rand
	bound int
	d     *decoder
	herd  []plan
	best  plan
}

// plan is a list of tasks and what it comes to.
type plan struct {
	list     []int32
	start    []int
	makespan int
}

// A herd of so many lists is bred until it has brought nothing better for so
// long; then another starts, half of it from the best.
const (
	herdSize = 40
	patience = 1500
)

func (b *breeder) run() plan {
	b.d = newDecoder(b.n)
	b.best.makespan = b.n.total + 1
	for first := true; !b.done(); first = false {
		b.found(first)
		for idle := 0; idle < patience && !b.done(); idle++ {
			if b.breed() {
				idle = 0
			}
		}
	}
	return b.best
}

// done also counts one piece of work.
func (b *breeder) done() bool {
	return b.best.start != nil && (b.best.makespan <= b.bound || b.clock.spent())
}

// found starts a herd.
func (b *breeder) found(first bool) {
	b.herd = b.herd[:0]
	for k := range herdSize {
		list := b.sample()
		if !first && k < herdSize/2 {
			list = slices.Clone(b.best.list)
			for range 1 + b.rng.IntN(b.n.n) {
				b.swapSome(list, 0.1)
			}
		}
		b.herd = append(b.herd, b.carryOut(list))
		if b.done() {
			return
		}
	}
}

// carryOut makes a plan of a list and keeps the best.
func (b *breeder) carryOut(list []int32) plan {
	makespan := b.d.justify(list)
	p := plan{list: list, start: slices.Clone(b.d.start[0]), makespan: makespan}
	if makespan < b.best.makespan {
		b.best = plan{slices.Clone(p.list), slices.Clone(p.start), makespan}
	}
	return p
}

// sample draws a list: of three tasks that may be next, the one with the
// longest chain after it.
func (b *breeder) sample() []int32 {
	waits := make([]int, b.n.n)
	var ready, list []int32
	for i := range b.n.n {
		if waits[i] = len(b.n.next[1][i]); waits[i] == 0 {
			ready = append(ready, int32(i))
		}
	}
	for len(ready) > 0 {
		at := b.rng.IntN(len(ready))
		for range 2 {
			other := b.rng.IntN(len(ready))
			if b.urgency(ready[other]) > b.urgency(ready[at]) {
				at = other
			}
		}
		i := ready[at]
		ready = slices.Delete(ready, at, at+1)
		list = append(list, i)
		for _, j := range b.n.next[0][i] {
			if waits[j]--; waits[j] == 0 {
				ready = append(ready, j)
			}
		}
	}
	return list
}

func (b *breeder) urgency(i int32) int { return b.n.tail[i] + b.n.time[i] }

// breed crosses two lists of the herd; the child takes the place of the worst
// when it is no worse. It reports a new best.
func (b *breeder) breed() bool {
	mother, father := b.pick(), b.pick()
	list := b.cross(mother.list, father.list)
	b.swapSome(list, 0.05)
	before := b.best.makespan
	child := b.carryOut(list)
	worst := 0
	for k, p := range b.herd {
		if p.makespan > b.herd[worst].makespan {
			worst = k
		}
		if p.makespan == child.makespan && slices.Equal(p.start, child.start) {
			return false
		}
	}
	if child.makespan <= b.herd[worst].makespan {
		b.herd[worst] = child
	}
	return b.best.makespan < before
}

// pick is the better of two.
func (b *breeder) pick() plan {
	p, q := b.herd[b.rng.IntN(len(b.herd))], b.herd[b.rng.IntN(len(b.herd))]
	if q.makespan < p.makespan {
		return q
	}
	return p
}

// cross keeps a stretch of the mother's list in its place and fills up around
// it in the father's order.
func (b *breeder) cross(mother, father []int32) []int32 {
	n := b.n.n
	from := b.rng.IntN(n)
	to := from + b.rng.IntN(n-from) + 1
	taken := make([]bool, n)
	child := make([]int32, 0, n)
	fill := func(most int) {
		for _, i := range father {
			if len(child) == most {
				return
			}
			if !taken[i] {
				taken[i] = true
				child = append(child, i)
			}
		}
	}
	fill(from)
	for _, i := range mother {
		if len(child) == to {
			break
		}
		if !taken[i] {
			taken[i] = true
			child = append(child, i)
		}
	}
	fill(n)
	return child
}

// swapSome lets neighbours in the list change places with a chance, where the
// order allows it.
func (b *breeder) swapSome(list []int32, chance float64) {
	for k := 1; k < len(list); k++ {
		if b.rng.Float64() < chance && !slices.Contains(b.n.next[0][list[k-1]], list[k]) {
			list[k-1], list[k] = list[k], list[k-1]
		}
	}
}
