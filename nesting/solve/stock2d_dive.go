package solve

import (
	"math"
	"slices"
)

const (
	diveRounds = 12 // pricing rounds after each fixing
	nearWhole  = 1e-6
)

// dive fixes fillings of the master one after the other, new ones generated for
// what is left, until all is covered or the cost cannot beat the best.
func (s *stock2d) dive() {
	left, used := slices.Clone(s.need), make([]int, len(s.kinds))
	var fixed []cut2d
	cost := int64(0)
	for total(left) > 0 && !s.m.Over() {
		s.master.setNeed(s, left, used)
		rest, ok := s.generateFor(left, used)
		if !ok || cost+rest >= s.cost && s.missing == 0 {
			break
		}
		chosen := s.choose(left, used)
		if len(chosen) == 0 {
			break
		}
		for _, c := range chosen {
			fixed = append(fixed, c)
			cost += int64(c.times) * s.kinds[c.kind].cost
			used[c.kind] += c.times
			for k, n := range c.made {
				left[k] = max(0, left[k]-n*c.times)
			}
		}
	}
	s.accept(fixed)
	s.dives++
}

// generateFor generates columns for what is left and returns a bound on the
// cost of covering it, of the master's columns at least.
func (s *stock2d) generateFor(left, used []int) (rest int64, ok bool) {
	for range diveRounds {
		if s.master.lp.Solve(s.m) != LPOptimal {
			return 0, false
		}
		if !s.price(left, used, coarseSizes, false) {
			break
		}
	}
	if s.master.lp.Solve(s.m) != LPOptimal {
		return 0, false
	}
	return int64(math.Ceil(s.master.lp.Objective() - 1e-6)), true
}

// choose returns the fillings to fix next: all that the master uses whole, else
// the one it uses most.
func (s *stock2d) choose(left, used []int) (chosen []cut2d) {
	best, score := -1, 0.0
	for k, c := range s.master.columns {
		x := s.master.value(s, k)
		if x < nearWhole {
			continue
		}
		if n := int(x + nearWhole); n > 0 {
			c.times = n
			chosen = append(chosen, c)
			continue
		}
		if x += s.whim(k); x > score {
			best, score = k, x
		}
	}
	if len(chosen) == 0 && best >= 0 {
		chosen = append(chosen, s.master.columns[best])
	}
	return chosen
}

// whim sways the choice a little more in every dive after the first.
func (s *stock2d) whim(k int) float64 {
	u := float64(mix(uint64(s.dives)<<32|uint64(k))>>11) / (1 << 53)
	return u * min(0.6, 0.15*float64(s.dives))
}
