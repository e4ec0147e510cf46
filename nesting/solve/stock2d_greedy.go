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
	greedyRounds   = 4
	greedyFillWork = 20_000_000 // of one plate
	greedyKeep     = 2          // fillings a size
)

// startGreedy runs the rounds and keeps the best solution.
func (s *stock2d) startGreedy() {
	worth := make([]float64, len(s.parts))
	for k, p := range s.parts {
		worth[k] = math.Pow(float64(p.Length+s.rules.KerfX)*float64(p.Width+s.rules.KerfY), 1.02)
	}
	for round := 0; round < greedyRounds && !s.proven() && !s.m.Over(); round++ {
		cuts := s.greedy(s.need, worth, round > 0)
		s.accept(cuts)
		s.correct(worth, cuts)
	}
}

// greedy fills plates until want is covered or stock runs out.
func (s *stock2d) greedy(want []int, worth []float64, again bool) (cuts []cut2d) {
	left := slices.Clone(want)
	used := make([]int, len(s.kinds))
	for total(left) > 0 {
		c, ok := s.greedyPlate(left, used, worth)
		if !ok || again && s.m.Over() {
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
func (s *stock2d) greedyPlate(left, used []int, worth []float64) (best cut2d, ok bool) {
	rate := 0.0
	for k, kind := range s.kinds {
		if used[k] >= kind.count {
			continue
		}
		c, value := s.fillGreedily(k, left, worth)
		if r := value / float64(kind.cost); r > rate {
			rate, best, ok = r, c, true
			best.times = kind.count - used[k]
		}
	}
	return best, ok
}

// fillGreedily fills one plate of a kind with what is left.
func (s *stock2d) fillGreedily(k int, left []int, worth []float64) (c cut2d, value float64) {
	b := s.board(k, left)
	most := 0.0
	for _, w := range worth {
		most = max(most, w)
	}
	for p := range b.value {
		b.value[p] = int64(worth[p]/most*(1<<20)) + 1
	}
	part := s.m.Part(greedyFillWork)
	f := newFiller(b, part)
	f.steps, f.keep = 10, greedyKeep
	f.run()
	s.m.Absorb(part)
	c = cut2d{kind: k, plan: f.plan, made: make([]int, len(s.parts))}
	f.plan.count(c.made)
	for p, n := range c.made {
		value += float64(n) * worth[p]
	}
	return c, value
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
	p := s.parts[k]
	return float64(p.Length+s.rules.KerfX) * float64(p.Width+s.rules.KerfY)
}
