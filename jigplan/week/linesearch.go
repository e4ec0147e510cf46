package week

import (
	"math"
	"math/rand/v2"
	"slices"
)

// lineSearch is iterated local search over orders of a Line.
type lineSearch struct {
	l        Line
	n        int
	clock    *clock
	rng      *rand.Rand
	setup    [][]int // row n: before a first job
	order    []int
	cost     int
	end      []int // when the job in each place is done
	spent    []int // cost of all before each place
	shifted  []int // cost from each place on, for each shift of -window..window
	trial    []int
	best     []int
	bestCost int
	bound    int
}

// window is how far a change is looked up instead of followed to the end.
const window = 500

func newLineSearch(l Line, clock *clock) *lineSearch {
	n := len(l.Time)
	s := &lineSearch{l: l, n: n, clock: clock, rng: newRand(1), end: make([]int, n+1), spent: make([]int, n+1),
		shifted: make([]int, (n+1)*(2*window+1)), trial: make([]int, n)}
	for i := range n + 1 {
		s.setup = append(s.setup, make([]int, n))
		for j := range n {
			s.setup[i][j] = l.setup(map[bool]int{true: -1, false: i}[i == n], j)
		}
	}
	return s
}

func (s *lineSearch) run(bound int) {
	s.bound = bound
	s.take(s.urgent())
	s.best, s.bestCost = slices.Clone(s.order), s.cost
	s.descend()
	s.keep()
	idle := 0
	last, lastCost := slices.Clone(s.order), s.cost
	for s.bestCost > bound && !s.clock.spent() {
		s.disturb(2 + s.rng.IntN(3))
		s.descend()
		if idle++; s.keep() {
			idle = 0
		}
		heat := 0.003*float64(lastCost) + 0.3
		switch worse := float64(s.cost - lastCost); {
		case idle > 15*s.n:
			idle = 0
			s.take(slices.Clone(s.best))
			s.disturb(s.n / 4)
			s.descend()
			s.keep()
			last, lastCost = append(last[:0], s.order...), s.cost
		case worse <= 0 || s.rng.Float64() < math.Exp(-worse/heat):
			last, lastCost = append(last[:0], s.order...), s.cost
		default:
			s.take(append(s.order[:0], last...))
		}
	}
}

func (s *lineSearch) keep() bool {
	if s.cost >= s.bestCost {
		return false
	}
	s.best, s.bestCost = append(s.best[:0], s.order...), s.cost
	return true
}

// urgent builds an order by the apparent cost of being late: weight over
// time, discounted by slack and by setup (Y. H. Lee, K. Bhaskaran, M. Pinedo,
// IIE Trans. 29, 1997).
func (s *lineSearch) urgent() []int {
	mean, setups := 0.0, 0.0
	for j := range s.n {
		mean += float64(s.l.Time[j]) / float64(s.n)
		for i := range s.n {
			setups += float64(s.setup[i][j]) / float64(s.n*s.n)
		}
	}
	done := make([]bool, s.n)
	var order []int
	now, last := 0, s.n
	for len(order) < s.n {
		pick, most := -1, -1.0
		for j := range s.n {
			if done[j] {
				continue
			}
			slack := float64(max(0, s.l.Due[j]-s.l.Time[j]-now))
			urgency := float64(s.l.Weight[j]) / math.Max(1, float64(s.l.Time[j])) * math.Exp(-slack/(2*mean+1)-float64(s.setup[last][j])/(0.5*setups+1))
			if urgency > most {
				pick, most = j, urgency
			}
		}
		done[pick] = true
		order = append(order, pick)
		now += s.setup[last][pick] + s.l.Time[pick]
		last = pick
	}
	return order
}

// take makes an order the present one and prepares looking up what follows.
func (s *lineSearch) take(order []int) {
	s.order = order
	now, cost, last := 0, 0, s.n
	for k, j := range order {
		now += s.setup[last][j] + s.l.Time[j]
		cost += s.l.Weight[j] * max(0, now-s.l.Due[j])
		s.end[k+1], s.spent[k+1] = now, cost
		last = j
	}
	s.cost = cost
	const width = 2*window + 1
	clear(s.shifted[s.n*width : (s.n+1)*width])
	for k := s.n - 1; k >= 0; k-- {
		j := order[k]
		weight, late := s.l.Weight[j], s.end[k+1]-s.l.Due[j]-window
		here, after := s.shifted[k*width:(k+1)*width], s.shifted[(k+1)*width:]
		for d := range here {
			here[d] = after[d]
			if late+d > 0 {
				here[d] += weight * (late + d)
			}
		}
	}
}

// tail is the cost from place k on when everything there shifts.
func (s *lineSearch) tail(k, shift int) int {
	if shift >= -window && shift <= window {
		return s.shifted[k*(2*window+1)+shift+window]
	}
	cost := 0
	for ; k < s.n; k++ {
		j := s.order[k]
		cost += s.l.Weight[j] * max(0, s.end[k+1]+shift-s.l.Due[j])
	}
	return cost
}

// farthest is how many places a disturbance moves a run.
const farthest = 20

// disturb moves some runs elsewhere at random, not far.
func (s *lineSearch) disturb(times int) {
	order := slices.Clone(s.order)
	if s.n < 3 {
		return
	}
	for range times {
		length := 1 + s.rng.IntN(min(4, s.n-1))
		from := s.rng.IntN(s.n - length + 1)
		to := from + s.rng.IntN(2*farthest+1) - farthest
		moveRun(order, from, length, min(max(to, 0), s.n-length))
	}
	s.take(order)
}

// moveRun takes length elements at from out and puts them in at to.
func moveRun(order []int, from, length, to int) {
	run := slices.Clone(order[from : from+length])
	if to > from {
		copy(order[from:], order[from+length:to+length])
	} else {
		copy(order[to+length:], order[to:from])
	}
	copy(order[to:], run)
}
