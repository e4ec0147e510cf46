package solve

import "slices"

const (
	repairWork  = 100_000_000 // of one sub-problem
	repairTries = 12          // sub-problems in a row
)

// repair takes a few plates of the best solution at a time and solves what lies
// on them anew, as a small problem of its own.
func (s *stock2d) repair() {
	for range repairTries {
		if s.m.Over() || s.proven() {
			return
		}
		s.repairs++
		s.repairOne(s.somePlates())
	}
}

// somePlates picks two to four plates of the best solution.
func (s *stock2d) somePlates() []int {
	var each []int // index of a cut, once a plate
	for k, c := range s.best {
		for range min(c.times, 4) {
			each = append(each, k)
		}
	}
	n := min(len(each), 2+s.repairs%3)
	for k := range n {
		r := k + int(mix(uint64(s.repairs)<<8|uint64(k))%uint64(len(each)-k))
		each[k], each[r] = each[r], each[k]
	}
	return each[:n]
}

// repairOne solves the plates at chosen anew and takes what is cheaper.
func (s *stock2d) repairOne(chosen []int) {
	rest := slices.Clone(s.best)
	parts, stock := slices.Clone(s.parts), slices.Clone(s.stock)
	for k := range parts {
		parts[k].Max = 0
	}
	cost := int64(0)
	for _, k := range chosen {
		rest[k].times--
		cost += s.kinds[rest[k].kind].cost
		for p, n := range rest[k].made {
			parts[p].Max += n
		}
	}
	for _, c := range rest {
		if k := c.kind; stock[k].Count < Unlimited {
			stock[k].Count -= c.times
		}
	}
	rest = slices.DeleteFunc(rest, func(c cut2d) bool { return c.times == 0 })
	part := s.m.Part(min(repairWork, workLeft(s.m)/20))
	sub := newStock2D(stock, parts, s.rules, part)
	if sub.small = true; sub.areaBound() < cost {
		sub.run()
	}
	s.m.Absorb(part)
	if sub.missing == 0 && len(sub.best) > 0 && sub.cost < cost {
		s.accept(append(rest, sub.best...))
	}
	for _, c := range sub.best {
		s.master.add(s, c)
	}
}
