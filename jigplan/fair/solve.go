package fair

import (
	"batchwright/nesting/solve"
)

// MixProblem is to take one choice of every item so that no capacity is exceeded
// and the values add up to most.
type MixProblem struct {
	Capacity []float64
	Items    []Item
}

// Item is something of which one choice is taken. The first is to leave it: it
// uses nothing that is not there anyway. Later ones are more and more of it.
type Item struct{ Choices []Choice }

// Choice is so much of an item: what it brings, and what it uses of each
// capacity.
type Choice struct {
	Value float64
	Uses  []float64
}

// Answer is the choices taken, one an item, and how good they are.
type Answer struct {
	Pick   []int
	Value  float64
	Bound  float64 // no choices are worth more
	Proven bool    // Value is as good as Bound, to half a hundredth
	Stop   solve.Stop
	Nodes  int
}

const (
	tolerance = 1e-7 // of a capacity
	worthless = 0.005
)

// defaultWork is enough for some hundred items.
const defaultWork = 400_000_000

// Solve finds the best choices by branch and bound. Every node's bound is the
// linear relaxation, in which an item may be a blend of choices; a blended item
// is split into less and more of it.
func Solve(p MixProblem, b solve.Budget) Answer {
	s := &search{MixProblem: p, meter: solve.NewMeter(b, defaultWork)}
	s.best = Answer{Pick: make([]int, len(p.Items)), Bound: inf}
	s.best.Value = s.value(s.best.Pick)
	s.try(s.fill(make([]int, len(p.Items)), nil))
	s.build()
	s.run()
	if s.best.Bound-s.best.Value < worthless {
		s.best.Proven, s.best.Stop = true, solve.StopProven
	}
	return s.best
}

const inf = 1e300

type search struct {
	MixProblem
	meter *solve.Meter
	best  Answer
	lp    *solve.Master
	first []int // column of each item's first choice but the leaving one
}

// node is a part of all answers: from which to which choice each item may go.
type node struct {
	low, high []int
	bound     float64
}

func (s *search) value(pick []int) float64 {
	sum := 0.0
	for i, k := range pick {
		sum += s.Items[i].Choices[k].Value
	}
	return sum
}

// left is what of each capacity the picks leave; ok when none is exceeded.
func (s *search) left(pick []int) (left []float64, ok bool) {
	left = append([]float64(nil), s.Capacity...)
	for i, k := range pick {
		for r, u := range s.Items[i].Choices[k].Uses {
			left[r] -= u
		}
	}
	for r := range left {
		if left[r] < -tolerance*(1+s.Capacity[r]) {
			return left, false
		}
	}
	return left, true
}

func (s *search) try(pick []int) {
	if _, ok := s.left(pick); ok && s.value(pick) > s.best.Value {
		s.best.Pick, s.best.Value = append([]int(nil), pick...), s.value(pick)
	}
}

// build makes the relaxation: two rows an item (at most one choice, and at
// least one where leaving is ruled out), one row a capacity; a column a choice,
// counted from the leaving one.
func (s *search) build() {
	n := len(s.Items)
	rhs := make([]float64, 2*n+len(s.Capacity))
	for i := range s.Items {
		rhs[i] = -1
	}
	for r, c := range s.Capacity {
		rhs[2*n+r] = -c
		for i := range s.Items {
			rhs[2*n+r] += s.Items[i].Choices[0].Uses[r]
		}
	}
	s.lp = solve.NewMaster(rhs)
	for i := range s.Items {
		s.first = append(s.first, s.lp.Columns())
		leave := s.Items[i].Choices[0]
		for _, c := range s.Items[i].Choices[1:] {
			entries := []solve.Term{{Index: i, Value: -1}, {Index: n + i, Value: 1}}
			for r := range c.Uses {
				if u := c.Uses[r] - leave.Uses[r]; u != 0 {
					entries = append(entries, solve.Term{Index: 2*n + r, Value: -u})
				}
			}
			s.lp.AddColumn(leave.Value-c.Value, 1, entries)
		}
	}
}

// relax solves a node's relaxation and gives its bound and its blend.
func (s *search) relax(x *node) (bound float64, blend [][]float64, ok bool) {
	for i := range s.Items {
		for k := 1; k < len(s.Items[i].Choices); k++ {
			upper := 0.0
			if k >= x.low[i] && k <= x.high[i] {
				upper = 1
			}
			s.lp.SetUpper(s.first[i]+k-1, upper)
		}
		need := 0.0
		if x.low[i] > 0 {
			need = 1
		}
		s.lp.SetRHS(len(s.Items)+i, need)
	}
	if s.lp.Solve(s.meter) != solve.LPOptimal {
		return 0, nil, false
	}
	bound = s.value(make([]int, len(s.Items))) - s.lp.Objective()
	for i := range s.Items {
		shares := make([]float64, len(s.Items[i].Choices))
		shares[0] = 1
		for k := 1; k < len(shares); k++ {
			shares[k] = s.lp.Primal(s.first[i] + k - 1)
			shares[0] -= shares[k]
		}
		blend = append(blend, shares)
	}
	return bound, blend, true
}

// run searches the best node first, so that the bound falls as it goes.
func (s *search) run() {
	root := &node{low: make([]int, len(s.Items)), high: make([]int, len(s.Items)), bound: inf}
	for i := range s.Items {
		root.high[i] = len(s.Items[i].Choices) - 1
	}
	open := []*node{root}
	closed := s.best.Value // the best bound among nodes that are done with
	for len(open) > 0 {
		at := 0
		for k := range open {
			if open[k].bound > open[at].bound {
				at = k
			}
		}
		x := open[at]
		if x.bound <= s.best.Value+worthless/2 {
			break
		}
		open[at] = open[len(open)-1]
		open = open[:len(open)-1]
		s.best.Nodes++
		children, ok := s.branch(x)
		if !ok && s.meter.Over() {
			open = append(open, x)
			s.best.Stop = s.meter.Why()
			break
		}
		open = append(open, children...)
	}
	s.best.Bound = max(closed, s.best.Value)
	for _, x := range open {
		if x.bound > s.best.Value+worthless/2 {
			s.best.Bound = max(s.best.Bound, x.bound)
		}
	}
}

// branch bounds a node and splits it where its blend is no pick; not ok when
// it is empty or the search has to end.
func (s *search) branch(x *node) ([]*node, bool) {
	bound, blend, ok := s.relax(x)
	if !ok {
		return nil, false
	}
	s.round(blend)
	if bound <= s.best.Value+worthless/2 {
		return nil, true
	}
	item, at := mostBlended(blend)
	if item < 0 {
		return nil, true
	}
	less, more := x.copy(bound), x.copy(bound)
	less.high[item], more.low[item] = at, at+1
	return []*node{less, more}, true
}

func (x *node) copy(bound float64) *node {
	return &node{append([]int(nil), x.low...), append([]int(nil), x.high...), min(bound, x.bound)}
}

// mostBlended is the item whose shares are farthest from one choice, and the
// choice at or below its middle; -1: every item is one choice.
func mostBlended(blend [][]float64) (item, at int) {
	item, worst := -1, 1-1e-6
	for i, shares := range blend {
		largest := 0.0
		for _, share := range shares {
			largest = max(largest, share)
		}
		if largest < worst {
			item, worst = i, largest
		}
	}
	if item < 0 {
		return -1, 0
	}
	middle, low, high := 0.0, -1, 0
	for k, share := range blend[item] {
		middle += float64(k) * share
		if share > 1e-9 {
			if low < 0 {
				low = k
			}
			high = k
		}
	}
	return item, min(max(int(middle), low), high-1)
}

// round makes a pick of a blend: each item's largest choice at or below its
// middle that fits, then filled up.
func (s *search) round(blend [][]float64) {
	pick := make([]int, len(blend))
	exact := make([]int, len(blend))
	for i, shares := range blend {
		middle, largest := 0.0, 0
		for k, share := range shares {
			middle += float64(k) * share
			if share > shares[largest] {
				largest = k
			}
		}
		pick[i], exact[i] = int(middle+1e-9), largest
	}
	s.try(exact)
	for i := range pick {
		for pick[i] > 0 {
			if _, ok := s.left(pick); ok {
				break
			}
			pick[i]--
		}
	}
	s.try(s.fill(pick, s.prices()))
}

// prices are what a unit of each capacity is worth in the relaxation.
func (s *search) prices() []float64 {
	out := make([]float64, len(s.Capacity))
	for r := range out {
		out[r] = max(0, s.lp.Dual(2*len(s.Items)+r))
	}
	return out
}

// fill goes on to other choices while one fits and brings more, the one first
// that brings most for what it uses at the prices given.
func (s *search) fill(pick []int, prices []float64) []int {
	pick = append([]int(nil), pick...)
	for s.meter.Spend(int64(100 * len(s.Items))) {
		left, ok := s.left(pick)
		if !ok {
			return pick
		}
		item, to, best := -1, 0, 0.0
		for i := range s.Items {
			now := s.Items[i].Choices[pick[i]]
			for k, c := range s.Items[i].Choices {
				gain := c.Value - now.Value
				if gain <= 1e-9 || !fits(c, now, left, s.Capacity) {
					continue
				}
				if score := gain / weight(c, now, left, prices); score > best {
					item, to, best = i, k, score
				}
			}
		}
		if item < 0 {
			return pick
		}
		pick[item] = to
	}
	return pick
}

func fits(c, now Choice, left, capacity []float64) bool {
	for r, u := range c.Uses {
		if u-now.Uses[r] > left[r]+tolerance*(1+capacity[r]) {
			return false
		}
	}
	return true
}

// weight is what a change uses: at prices, or as shares of what is left.
func weight(c, now Choice, left, prices []float64) float64 {
	sum := 1e-6
	for r, u := range c.Uses {
		if more := u - now.Uses[r]; more > 0 {
			if prices != nil {
				sum += prices[r] * more
			} else {
				sum += more / (left[r] + 1e-9)
			}
		}
	}
	return sum
}
