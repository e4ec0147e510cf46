package solve

import (
	"cmp"
	"math"
	"slices"
)

// relaxation is the linear relaxation of a node, solved by column generation
// (P. C. Gilmore, R. E. Gomory, Operations Research 9, 1961).
type relaxation struct {
	cols    []barColumn
	x       []float64 // how often each pattern is cut
	reduced []float64 // cost of each pattern, reduced by the duals
	basic   []bool    // whether each pattern is in the basis
	rows    int       // of the master
	value   float64   // its objective
	bound   int64     // proven lower bound of the node's cost
	done    bool      // solved as far as its caller needs, and all demand is met
}

// startColumns is what a column generation starts from: patterns, and which of
// them to make basic.
type startColumns struct {
	cols  []barColumn
	basic []bool
}

// start returns the start of a child: the patterns in the basis, and of the
// others those of least reduced cost.
func (r *relaxation) start() startColumns {
	order := make([]int, len(r.cols))
	for i := range order {
		order[i] = i
	}
	rank := func(i int) float64 {
		if r.basic[i] {
			return math.Inf(-1)
		}
		return r.reduced[i]
	}
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(rank(a), rank(b)) })
	var s startColumns
	for _, i := range order[:min(len(order), 2*r.rows)] {
		s.cols = append(s.cols, r.cols[i])
		s.basic = append(s.basic, r.basic[i])
	}
	return s
}

// artificialCost is the cost of leaving a piece unmade, in dearest bars.
const artificialCost = 10_000

// columnGenerator solves the relaxation of one node.
type columnGenerator struct {
	node    *barNode
	cuts    []*subsetRow
	meter   *Meter
	scratch *[]int64

	lp         *Master
	kinds      []int32 // the live types, a row each
	row        []int   // of each type, -1 for a dead one
	cols       []barColumn
	lpIndex    []int // the master's column of each pattern
	artificial []int // the master's columns that leave a piece unmade
	known      map[string]bool
	duals      barDuals
}

// relax solves the node's relaxation, starting from the given columns, until its
// bound reaches prune (the node is of no use) or cannot rise any more.
func (s *barSearch) relax(n *barNode, start startColumns, prune int64) relaxation {
	return s.newGenerator(n, start).run(prune, s.unit)
}

// relaxFully solves the node's relaxation to its optimum.
func (s *barSearch) relaxFully(n *barNode, start startColumns, prune int64) relaxation {
	return s.newGenerator(n, start).run(prune, 0)
}

func (s *barSearch) newGenerator(n *barNode, start startColumns) *columnGenerator {
	g := &columnGenerator{node: n, cuts: s.cuts, meter: s.meter, scratch: &s.scratch, known: map[string]bool{}}
	g.addRows()
	g.addColumns(start)
	return g
}

// costUnit returns the greatest common divisor of the costs, at least 1.
func costUnit(bars []Bar) int64 {
	unit := int64(0)
	for _, b := range bars {
		unit = gcd(unit, b.Cost)
	}
	return max(unit, 1)
}

func gcd(a, b int64) int64 {
	for b != 0 {
		a, b = b, a%b
	}
	return a
}

// roundUp returns the least multiple of unit that is at least v.
func roundUp(v, unit int64) int64 { return (v + unit - 1) / unit * unit }

// addRows sets up the master with a row for each live type, for each limited bar
// and for each cut.
func (g *columnGenerator) addRows() {
	n := g.node
	g.row = make([]int, len(n.size))
	var rhs []float64
	for k, d := range n.demand {
		g.row[k] = -1
		if d > 0 {
			g.row[k] = len(rhs)
			g.kinds = append(g.kinds, int32(k))
			rhs = append(rhs, float64(d))
		}
	}
	for _, b := range n.bars {
		if b.Count < Unlimited {
			rhs = append(rhs, -float64(b.Count))
		}
	}
	for _, c := range g.cuts {
		rhs = append(rhs, -float64(c.limit))
	}
	g.lp = NewMaster(rhs)
	g.duals = barDuals{profit: make([]int64, len(n.size)), penalty: make([]int64, len(g.cuts))}
}

// addColumns adds the start columns, for each type a pattern that holds it alone,
// and where bars are limited a way to leave it unmade.
func (g *columnGenerator) addColumns(start startColumns) {
	n := g.node
	dearest, limited := int64(1), false
	for _, b := range n.bars {
		dearest = max(dearest, b.Cost)
		limited = limited || b.Count < Unlimited
	}
	g.duals.scale = dualScale(n.demand, dearest)
	if limited {
		g.duals.scale = dualScale(n.demand, dearest*artificialCost)
	}
	for _, k := range g.kinds {
		if limited {
			cost := artificialCost * float64(dearest)
			g.artificial = append(g.artificial, g.lp.AddColumn(cost, NoBound, []Term{{g.row[k], 1}}))
		}
		for b, bar := range n.bars {
			if bar.Count > 0 && n.size[k] <= bar.Length {
				count := min(bar.Length/n.size[k], n.demand[k], math.MaxInt32)
				g.add(n.fit(barColumn{b, []barPart{{k, int32(count)}}}))
			}
		}
	}
	var basic []int
	for i, c := range start.cols {
		if g.add(n.fit(c)) && start.basic[i] {
			basic = append(basic, g.lpIndex[len(g.lpIndex)-1])
		}
	}
	if len(basic) > 0 {
		g.lp.StartFrom(basic, g.meter)
	}
}

// add adds a pattern to the master unless it is there.
func (g *columnGenerator) add(c barColumn) bool {
	if len(c.parts) == 0 {
		return false
	}
	key := c.key()
	if g.known[key] {
		return false
	}
	g.known[key] = true
	entries := make([]Term, 0, len(c.parts)+1)
	for _, p := range c.parts {
		entries = append(entries, Term{g.row[p.kind], float64(p.count)})
	}
	r := len(g.kinds)
	for b, bar := range g.node.bars {
		if bar.Count < Unlimited {
			if b == c.bar {
				entries = append(entries, Term{r, -1})
			}
			r++
		}
	}
	for i, cut := range g.cuts {
		if w := cut.coefficient(g.node, c); w > 0 {
			entries = append(entries, Term{r + i, -float64(w)})
		}
	}
	g.lpIndex = append(g.lpIndex, g.lp.AddColumn(float64(g.node.bars[c.bar].Cost), NoBound, entries))
	g.cols = append(g.cols, c)
	return true
}

// key is a text equal for equal patterns.
func (c barColumn) key() string {
	b := make([]byte, 0, 4+6*len(c.parts))
	b = append(b, byte(c.bar), byte(c.bar>>8))
	for _, p := range c.parts {
		b = append(b, byte(p.kind), byte(p.kind>>8), byte(p.kind>>16), byte(p.count), byte(p.count>>8), byte(p.count>>16))
	}
	return string(b)
}

// run alternates between the master and pricing. With unit above zero it ends
// as soon as the bound, rounded up to a multiple of it, has reached the master.
func (g *columnGenerator) run(prune, unit int64) relaxation {
	out := relaxation{}
	for {
		if g.lp.Solve(g.meter) != LPOptimal {
			break
		}
		out.value = g.lp.Objective()
		if unit > 0 && out.value <= float64(out.bound)+wholeTol*float64(unit) && !g.usesArtificial() {
			out.done = true
			break
		}
		found, bound := g.price()
		out.bound = max(out.bound, roundUp(bound, max(unit, 1)))
		if out.bound >= prune {
			out.done = true
			break
		}
		added := false
		for _, c := range found {
			added = g.add(c) || added
		}
		if g.meter.Over() {
			break
		}
		if !added {
			out.done = !g.usesArtificial()
			break
		}
	}
	g.solution(&out)
	return out
}

// solution copies the master's solution.
func (g *columnGenerator) solution(out *relaxation) {
	out.cols, out.rows = g.cols, g.lp.Rows()
	for _, j := range g.lpIndex {
		out.x = append(out.x, g.lp.Primal(j))
		out.basic = append(out.basic, g.lp.Basic(j))
		out.reduced = append(out.reduced, g.lp.ReducedCost(j))
	}
}

func (g *columnGenerator) usesArtificial() bool {
	for _, j := range g.artificial {
		if g.lp.Primal(j) > 1e-7 {
			return true
		}
	}
	return false
}

// columnsPerRound is how many patterns one pricing adds at most.
const columnsPerRound = 40

// price finds patterns of negative reduced cost, the best first, and a proven
// lower bound of the node's cost.
func (g *columnGenerator) price() ([]barColumn, int64) {
	n := g.node
	d := &g.duals
	clear(d.profit)
	for i, k := range g.kinds {
		d.profit[k] = g.scaled(i)
	}
	limited := len(g.kinds)
	floor := make([]int64, len(n.bars))
	for b, bar := range n.bars {
		floor[b] = bar.Cost * d.scale
		if bar.Count < Unlimited {
			floor[b] += g.scaled(limited)
			limited++
		}
	}
	for c := range g.cuts {
		d.penalty[c] = g.scaled(limited + c)
	}
	p := newBarPricer(n, d.profit, g.cuts, d.penalty, g.scratch, g.meter)
	upper := make([]int64, len(n.bars))
	var found []pricedColumn
	for b, bar := range n.bars {
		if bar.Count <= 0 {
			continue
		}
		slack := floor[b] + max(1, floor[b]>>27)
		cols, most := p.ledBy(b, bar.Length, slack)
		upper[b] = most
		for _, c := range cols {
			c.profit -= floor[b]
			found = append(found, c)
		}
	}
	slices.SortStableFunc(found, func(a, b pricedColumn) int { return cmp.Compare(b.profit, a.profit) })
	var cols []barColumn
	for _, c := range found[:min(len(found), columnsPerRound)] {
		cols = append(cols, c.barColumn)
	}
	return cols, d.bound(n, g.cuts, upper)
}

// scaled returns a row's dual value as a scaled integer, at least zero.
func (g *columnGenerator) scaled(row int) int64 {
	return int64(math.Max(0, math.Floor(g.lp.Dual(row)*float64(g.duals.scale))))
}
