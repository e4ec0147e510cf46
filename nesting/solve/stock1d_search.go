package solve

import (
	"math"
	"math/big"
)

// barSearch holds the best plan and the proven bound while a problem is solved.
type barSearch struct {
	root  *barNode
	meter *Meter
	unit  int64 // every cost is a multiple of it

	best     []usedColumn // of root types
	bestCost int64        // math.MaxInt64 while there is no plan
	bound    int64
	cuts     []*subsetRow
	scratch  []int64 // the pricing table, used again and again
}

func newBarSearch(root *barNode, meter *Meter) *barSearch {
	return &barSearch{root: root, meter: meter, unit: costUnit(root.bars), bestCost: math.MaxInt64}
}

// run improves plan and bound, by ever stronger means, until they meet or the
// budget ends.
func (s *barSearch) run() {
	first := s.firstPlan()
	s.raise(s.quickBound())
	if s.proven() {
		return
	}
	if s.fullestWork() < maxFullestWork {
		s.complete(newPartPlan(s.root), s.fillFullest)
	}
	if !s.proven() && len(s.root.size) <= maxRelaxedTypes {
		s.runRelaxed()
	}
	if s.bestCost == math.MaxInt64 {
		s.best = first.fixed // as much of the demand as the bars took
	}
}

// maxRelaxedTypes is the number of types up to which the relaxation is tried:
// the master's inverse grows with its square.
const maxRelaxedTypes = 1500

// maxFullestWork bounds the work of filling bar after bar to the full.
const maxFullestWork = 300_000_000

// fullestWork estimates the work of planning with fillFullest.
func (s *barSearch) fullestWork() int64 {
	bars := int64(len(s.best))
	if s.bestCost == math.MaxInt64 {
		bars = int64(len(s.root.size))
	}
	longest := int64(0)
	for _, b := range s.root.bars {
		longest = max(longest, b.Length)
	}
	return bars * min(int64(len(s.root.size))*min(longest, 1<<24), maxTable)
}

// runRelaxed goes on from the linear relaxation: rounding, cuts, branching.
func (s *barSearch) runRelaxed() {
	rel := s.relax(s.root, s.planColumns(), s.bestCost)
	s.raise(rel.bound)
	if s.proven() || !rel.done {
		return
	}
	if s.dive(rel); s.proven() {
		return
	}
	if rel = s.addCuts(rel); s.proven() || !rel.done {
		return
	}
	if s.branch(s.root, rel) && s.bestCost < math.MaxInt64 {
		s.raise(s.bestCost)
	}
}

// planColumns returns the patterns of the best plan as a start.
func (s *barSearch) planColumns() startColumns {
	var c startColumns
	for _, u := range s.best {
		c.cols = append(c.cols, u.barColumn)
		c.basic = append(c.basic, true)
	}
	return c
}

// quickBound returns the better of two bounds that need no search: the total
// length at the cheapest bar's rate, and, for one kind of bar, dual feasible
// functions.
func (s *barSearch) quickBound() int64 {
	if len(s.root.size) == 0 {
		return 0
	}
	bound := s.root.rateBound(s.root.demand)
	if len(s.root.bars) == 1 {
		bars := dualFeasibleBound(s.root.bars[0].Length, s.root.size, s.root.demand, s.meter)
		bound = max(bound, bars*s.root.bars[0].Cost)
	}
	return roundUp(bound, s.unit)
}

// rateBound returns what the demand's total length costs at least at the rate of
// the bar that is cheapest by length.
func (n *barNode) rateBound(demand []int64) int64 {
	cheapest := Bar{Length: 1, Cost: math.MaxInt64}
	for _, b := range n.bars {
		if b.Count > 0 && (cheapest.Cost == math.MaxInt64 || lessProduct(b.Cost, cheapest.Length, cheapest.Cost, b.Length)) {
			cheapest = b
		}
	}
	if cheapest.Cost == math.MaxInt64 || cheapest.Cost == 0 {
		return 0
	}
	hi, lo := totalLength(n.size, demand)
	total := new(big.Int).SetUint64(hi)
	total.Lsh(total, 64).Add(total, new(big.Int).SetUint64(lo))
	total.Mul(total, big.NewInt(cheapest.Cost)).Add(total, big.NewInt(cheapest.Length-1))
	return total.Quo(total, big.NewInt(cheapest.Length)).Int64()
}

// stop says why the search ended.
func (s *barSearch) stop() Stop {
	if s.proven() {
		return StopProven
	}
	if why := s.meter.Why(); why != "" {
		return why
	}
	return StopBudget
}

func (s *barSearch) proven() bool { return s.bound >= s.bestCost }

func (s *barSearch) raise(bound int64) {
	s.bound = max(s.bound, min(bound, s.bestCost))
}

// offer keeps a whole plan when it is the best so far.
func (s *barSearch) offer(p *partPlan) {
	if p.cost < s.bestCost {
		s.bestCost, s.best = p.cost, p.fixed
	}
}
