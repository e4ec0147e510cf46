package schedule

import "slices"

// longestRun is the most jobs that move together.
const longestRun = 8

// descend improves the order until no run can be moved and no two jobs can
// change places to good effect.
func (s *lineSearch) descend() {
	for s.cost > s.bound && s.step() {
	}
}

// step makes the best of one kind of change, the first kind that improves.
func (s *lineSearch) step() bool {
	return s.bestMove(1) || s.bestSwap() || s.runs()
}

func (s *lineSearch) runs() bool {
	for length := 2; length <= min(longestRun, s.n-1); length++ {
		if s.bestMove(length) {
			return true
		}
	}
	return false
}

// bestMove moves a run of that length where it saves most.
func (s *lineSearch) bestMove(length int) bool {
	best, bestFrom, bestTo := s.cost, -1, 0
	for from := 0; from+length <= s.n; from++ {
		for to := 0; to+length <= s.n; to++ {
			if to == from || length == 1 && to == from-1 {
				continue
			}
			if cost := s.costOfMove(from, length, to, best); cost < best {
				best, bestFrom, bestTo = cost, from, to
			}
		}
	}
	if bestFrom < 0 {
		return false
	}
	order := slices.Clone(s.order)
	moveRun(order, bestFrom, length, bestTo)
	s.take(order)
	return true
}

// stretch follows jobs in a row and adds up what they cost.
type stretch struct {
	now, cost, last int
}

func (s *lineSearch) follow(w stretch, from, to int) stretch {
	for _, j := range s.order[from:to] {
		w.now += s.setup[w.last][j] + s.l.Time[j]
		if late := w.now - s.l.Due[j]; late > 0 {
			w.cost += s.l.Weight[j] * late
		}
		w.last = j
	}
	return w
}

// before is where things stand just before place k.
func (s *lineSearch) before(k int) stretch {
	last := s.n
	if k > 0 {
		last = s.order[k-1]
	}
	return stretch{s.end[k], s.spent[k], last}
}

// ends is the cost of all when place k on follows what has run so far.
func (s *lineSearch) ends(w stretch, k int) int {
	if k == s.n {
		return w.cost
	}
	j := s.order[k]
	start := w.now + s.setup[w.last][j]
	return w.cost + s.tail(k, start+s.l.Time[j]-s.end[k+1])
}

// costOfMove is what a move comes to; when it is clear that this is no less
// than most, it is any number that is no less.
func (s *lineSearch) costOfMove(from, length, to, most int) int {
	first, middle, end := from, from+length, to+length // forward: the run goes behind middle..end
	if to < from {
		first, middle, end = to, from, from+length
	}
	w := s.before(first)
	if w.cost >= most {
		return w.cost
	}
	w = s.follow(w, middle, end)
	if w.cost >= most {
		return w.cost
	}
	return s.ends(s.follow(w, first, middle), end)
}

// bestSwap lets the two jobs change places that save most.
func (s *lineSearch) bestSwap() bool {
	best, bestA, bestB := s.cost, -1, 0
	for a := range s.n {
		for b := a + 2; b < s.n; b++ {
			if cost := s.costOfSwap(a, b, best); cost < best {
				best, bestA, bestB = cost, a, b
			}
		}
	}
	if bestA < 0 {
		return false
	}
	order := slices.Clone(s.order)
	order[bestA], order[bestB] = order[bestB], order[bestA]
	s.take(order)
	return true
}

func (s *lineSearch) costOfSwap(a, b, most int) int {
	w := s.follow(s.before(a), b, b+1)
	if w.cost >= most {
		return w.cost
	}
	w = s.follow(w, a+1, b)
	if w.cost >= most {
		return w.cost
	}
	return s.ends(s.follow(w, a, a+1), b+1)
}
