package solve

import (
	"fmt"
	"slices"
)

// A lot fills several equal plates through a master problem: copies left out
// cost their value, plates nothing, and no more plates are cut than there are.
// Its duals say what a copy is worth to the other plates, so that none takes
// what another would make more of; they also bound the value of all plates.

const (
	lotRounds = 20 // pricings after a plate is fixed
	lotMost   = 4  // fillings from one pricing
	lotKeep   = 64
	lotSteps  = 12
)

// lot is such a search.
type lot struct {
	*several
	m     *Meter
	lp    *Master
	plans []*plan // of the LP's columns from len(parts) on
	mades [][]int
	seen  map[string]bool
	unit  int64 // of priced value in one of value
	dives int
	best  []*plan
}

// lot betters best, as long as the meter allows, and brings the bound down.
func (s *several) lot(best []*plan, m *Meter) []*plan {
	l := &lot{several: s, m: m, seen: make(map[string]bool), best: best, unit: 1}
	whole := allCopies(s.parts)
	for whole < 1<<58/l.unit && l.unit < 1<<30 {
		l.unit *= 2
	}
	rhs := make([]float64, len(s.parts))
	for k, p := range s.parts {
		rhs[k] = float64(p.Max)
	}
	l.lp = NewMaster(rhs)
	l.lp.AddRow(-float64(s.times), nil)
	for k, p := range s.parts {
		l.lp.AddColumn(float64(p.Value), NoBound, []Term{{k, 1}})
	}
	for _, p := range best {
		l.add(p)
	}
	l.generate(coarseSizes, workLeft(m)/3)
	l.generate(mostSizes, workLeft(m)/3)
	for !l.done() {
		l.dive()
		l.dives++
	}
	return l.best
}

// generate adds fillings for all plates, found on so many sizes an axis, until
// the master gains by none or the work is spent.
func (l *lot) generate(sizes int, work int64) {
	end := l.m.Spent() + work
	for !l.done() && l.m.Spent() < end && l.lp.Solve(l.m) == LPOptimal && l.price(l.limits(), sizes, true) {
	}
}

func (l *lot) done() bool { return l.m.Over() || l.value(l.best) >= l.bound }

// limits lists how many copies of each part may be made.
func (s *several) limits() []int {
	n := make([]int, len(s.parts))
	for k, p := range s.parts {
		n[k] = p.Max
	}
	return n
}

// add adds a filling as a column and reports whether it is new.
func (l *lot) add(p *plan) bool {
	made := make([]int, len(l.parts))
	p.count(made)
	key := fmt.Sprint(made)
	if p == nil || l.seen[key] {
		return false
	}
	l.seen[key] = true
	row := len(l.parts)
	var terms []Term
	for k, n := range made {
		if n > 0 {
			terms = append(terms, Term{k, float64(n)})
		}
	}
	l.lp.AddColumn(0, NoBound, append(terms, Term{row, -1}))
	l.plans, l.mades = append(l.plans, p), append(l.mades, made)
	return true
}

// price adds fillings the master gains by, found on so many sizes an axis, and
// reports whether there are some.
// For all plates and copies, the duals give a bound.
func (l *lot) price(left []int, sizes int, whole bool) (added bool) {
	parts := l.priced(left)
	plate := l.lp.Dual(len(l.parts))
	most, exact := int64(0), true
	for _, first := range l.rules.firsts() {
		rules := l.rules
		rules.First = first
		part := l.m.Part(workLeft(l.m) / 8)
		f := newFiller(newBoard(l.plate, parts, rules, sizes), make([]int64, 1), part)
		f.value = int64(plate*float64(l.unit)) + l.unit/1024
		f.bound = max(f.bound, f.value)
		f.steps, f.keep, f.most, f.until = lotSteps, lotKeep, lotMost, true
		f.run()
		l.m.Absorb(part)
		for _, r := range f.found {
			added = l.add(r.plan) || added
		}
		most, exact = max(most, f.bound), exact && f.b.exact()
	}
	if whole && exact {
		l.lower(parts, most)
	}
	return added
}

// priced lists the parts with their duals as values.
func (l *lot) priced(left []int) []Part {
	parts := slices.Clone(l.parts)
	for k := range parts {
		parts[k].Max = left[k]
		parts[k].Value = min(int64(max(0, l.lp.Dual(k))*float64(l.unit)), parts[k].Value*l.unit)
	}
	return parts
}

// lower brings the bound down to what all copies are worth less what their
// prices say, plus the most a plate can hold at these prices. Exact for any
// prices from nothing to the parts' values.
func (l *lot) lower(priced []Part, most int64) {
	sum := int64(l.times) * most
	for k, p := range priced {
		sum += int64(p.Max) * (l.parts[k].Value*l.unit - p.Value)
	}
	l.bound = min(l.bound, floorDiv(sum, l.unit))
}

// dive fixes plates one by one, those the master uses most, prices what is left
// anew after each, and betters the plates by a trade.
func (l *lot) dive() {
	left, fixed := l.limits(), []*plan(nil)
	for plates := l.times; plates > 0 && !l.m.Over(); plates-- {
		for k, n := range left {
			l.lp.SetRHS(k, float64(n))
		}
		l.lp.SetRHS(len(left), -float64(plates))
		for range lotRounds {
			if l.lp.Solve(l.m) != LPOptimal || !l.price(left, coarseSizes, false) {
				break
			}
		}
		p := l.choose(left)
		if p == nil {
			break
		}
		fixed = append(fixed, p)
		count(p, left, -1)
	}
	for len(fixed) < l.times {
		fixed = append(fixed, nil)
	}
	m := l.m.Part(workLeft(l.m) / 10)
	fixed = l.trade(fixed, m, uint64(l.dives)<<20)
	l.m.Absorb(m)
	if l.value(fixed) > l.value(l.best) {
		l.best = fixed
	}
	for _, p := range fixed {
		l.add(p)
	}
}

// choose returns the filling the master uses most, less copies that are not
// left; a little at random after the first dive.
func (l *lot) choose(left []int) *plan {
	best, score := -1, 0.0
	for k := range l.plans {
		x := l.lp.Primal(len(l.parts) + k)
		if x < nearWhole {
			continue
		}
		u := float64(mix(uint64(l.dives)<<32|uint64(k))>>11) / (1 << 53)
		if x = min(x, 1) + u*min(0.6, 0.15*float64(l.dives)); x > score {
			best, score = k, x
		}
	}
	if best < 0 {
		return nil
	}
	excess := make([]int, len(left))
	for k, n := range l.mades[best] {
		excess[k] = max(0, n-left[k])
	}
	return l.plans[best].without(excess)
}
