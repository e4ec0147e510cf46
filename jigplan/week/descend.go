package week

import "slices"

// longestRun is the most jobs that move together.
const longestRun = 5

// descend improves the order until no run can be moved and no two jobs can
// change places to good effect. Place after place it makes the best change
// that begins there.
func (s *lineSearch) descend() {
	for idle, at := 0, s.rng.IntN(s.n); idle < s.n && s.cost > s.bound; at = (at + 1) % s.n {
		idle++
		if s.improve(at) {
			idle = 0
		}
	}
}

// change is one way to alter the order: a run moved, or, with no length, two
// jobs exchanged.
type change struct{ cost, length, to int }

// improve makes the best change of the run or the job at a place.
func (s *lineSearch) improve(at int) bool {
	best := change{cost: s.cost}
	for length := 1; length <= min(longestRun, s.n-at); length++ {
		for to := 0; to+length <= s.n; to++ {
			if to == at {
				continue
			}
			if cost := s.costOfMove(at, length, to, best.cost); cost < best.cost {
				best = change{cost, length, to}
			}
		}
	}
	for b := at + 2; b < s.n; b++ {
		if cost := s.costOfSwap(at, b, best.cost); cost < best.cost {
			best = change{cost, 0, b}
		}
	}
	if best.cost == s.cost {
		return false
	}
	order := slices.Clone(s.order)
	if best.length > 0 {
		moveRun(order, at, best.length, best.to)
	} else {
		order[at], order[best.to] = order[best.to], order[at]
	}
	s.take(order)
	return true
}

// stretch is jobs that have run in a row: the time, what they cost, the last.
type stretch struct {
	now, cost, last int
}

// follow runs the jobs of places from..to-1 next. Jobs that all shift alike are
// looked up; the cost stops short once it is most or more.
func (s *lineSearch) follow(w stretch, from, to, most int) stretch {
	if to-from > 3 {
		j := s.order[from]
		shift := w.now + s.setup[w.last][j] + s.l.Time[j] - s.end[from+1]
		if shift >= -window && shift <= window {
			w.cost += s.tail(from, shift) - s.tail(to, shift)
			return stretch{s.end[to] + shift, w.cost, s.order[to-1]}
		}
	}
	for _, j := range s.order[from:to] {
		w.now += s.setup[w.last][j] + s.l.Time[j]
		if late := w.now - s.l.Due[j]; late > 0 {
			if w.cost += s.l.Weight[j] * late; w.cost >= most {
				return w
			}
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
func (s *lineSearch) ends(w stretch, k, most int) int {
	if k == s.n || w.cost >= most {
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
	w = s.follow(w, middle, end, most)
	if w.cost >= most {
		return w.cost
	}
	return s.ends(s.follow(w, first, middle, most), end, most)
}

func (s *lineSearch) costOfSwap(a, b, most int) int {
	w := s.follow(s.before(a), b, b+1, most)
	if w.cost >= most {
		return w.cost
	}
	w = s.follow(w, a+1, b, most)
	if w.cost >= most {
		return w.cost
	}
	return s.ends(s.follow(w, a, a+1, most), b+1, most)
}
