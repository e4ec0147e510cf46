package solve

import (
	"math"
	"slices"
)

// Greedy solutions: plate after plate, each the best filling of what is left
// under pseudo-values; between two runs the values of parts that ended on badly
// filled plates are raised (sequential value correction, after Mukhacheva,
// Belov and others, Pesquisa Operacional 20 (2000)).

const (
	greedyRounds = 8
	greedyUnits  = 1 << 20 // the worthiest part's value
	greedySizes  = 120
)

// startGreedy runs the first rounds, on a part of the budget.
func (s *stock2d) startGreedy() {
	s.worth = make([]float64, len(s.parts))
	for k := range s.parts {
		s.worth[k] = math.Pow(s.area(k), 1.02)
	}
	share := workLeft(s.m) / 8
	for first := true; first || s.rounds < greedyRounds && !s.m.Over() && s.m.Spent() < share; first = false {
		if s.greedyRound(); s.proven() {
			return
		}
	}
}

// greedyRound makes one solution and corrects the values, a little at random.
// Rounds look wider and wider.
func (s *stock2d) greedyRound() {
	cuts := s.greedy(s.need, s.worth, 1<<min(s.rounds, 7))
	s.accept(cuts)
	s.correct(s.worth, cuts)
	s.rounds++
	for k := range s.worth {
		u := float64(mix(uint64(s.rounds)<<32|uint64(k))>>11) / (1 << 53)
		s.worth[k] *= 0.95 + 0.1*u
	}
}

// greedy fills plates until want is covered or stock runs out.
func (s *stock2d) greedy(want []int, worth []float64, keep int) (cuts []cut2d) {
	left := slices.Clone(want)
	used := make([]int, len(s.kinds))
	for total(left) > 0 {
		c, ok := s.greedyPlate(left, used, worth, keep)
		if !ok {
			c, ok = s.rowsPlate(left, used)
		}
		if !ok {
			break
		}
		for k, n := range c.made {
			if n > 0 {
				c.times = min(c.times, left[k]/n)
			}
		}
		for k, n := range c.made {
			left[k] -= n * c.times
		}
		used[c.kind] += c.times
		cuts = append(cuts, c)
	}
	return cuts
}

// greedyPlate returns the filling of most worth per cost over the kinds left.
func (s *stock2d) greedyPlate(left, used []int, worth []float64, keep int) (best cut2d, ok bool) {
	h := fillSearch{
		want: left, worth: make([]int64, len(worth)), bonus: make([]int64, len(s.kinds)), beat: 0,
		work: workLeft(s.m) / 20, steps: min(40, 4*keep-4), keep: keep, most: 1, sizes: greedySizes,
	}
	most := slices.Max(worth)
	for k, w := range worth {
		h.worth[k] = int64(w/most*greedyUnits) + 1
	}
	for k, kind := range s.kinds {
		if used[k] >= kind.count {
			h.bonus[k] = noRoot
		}
	}
	rate := 0.0
	for _, g := range s.groups {
		c := s.searchFillings(g, h)
		for k, cut := range c.cuts {
			if r := float64(c.reach[k]) / float64(s.kinds[cut.kind].cost); r > rate {
				rate, best, ok = r, cut, true
				best.times = s.kinds[cut.kind].count - used[cut.kind]
			}
		}
	}
	return best, ok
}

// correct raises the worth of parts that lie on badly filled plates.
func (s *stock2d) correct(worth []float64, cuts []cut2d) {
	for _, c := range cuts {
		b := newPlainBoard(s.stock[c.kind].Plate, s.rules)
		whole := float64(b.length) * float64(b.width)
		used := 0.0
		for k, n := range c.made {
			used += float64(n) * s.area(k)
		}
		for k, n := range c.made {
			if n > 0 {
				share := float64(n*c.times) / float64(max(1, s.need[k]))
				target := math.Pow(s.area(k)*whole/used, 1.03)
				worth[k] = worth[k]*(1-share/2) + share/2*target
			}
		}
	}
}

// area is what a copy of part k takes, its kerf included.
func (s *stock2d) area(k int) float64 {
	return float64(s.parts[k].taken(s.rules))
}
