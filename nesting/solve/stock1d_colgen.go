package solve

import (
	"cmp"
	"math"
	"slices"
)

// relaxation is the linear relaxation of a node, solved by column generation.
type relaxation struct {
	cols  []barColumn
	x     []float64
	value float64
	bound int64 // proven lower bound of the node's cost
	short bool  // the optimum leaves demand unmet: the node has no plan
	done  bool  // solved as far as its caller needs; false when the meter stopped it
}

// artificialCost is the cost of leaving a piece unmade, in bars.
const artificialCost = 1000

// columnGenerator solves the relaxation of one node.
type columnGenerator struct {
	node  *barNode
	cuts  []*subsetRow
	meter *Meter
	lp    *Master
	row   []int // of each live type
	kinds []int32
	cols  []barColumn
	known map[string]bool

	lpIndex    []int // the master's column of each pattern
	artificial []int // the master's columns that leave a piece unmade
	unit       int64 // every cost is a multiple of it
	duals      barDuals
}

// relax solves the node's relaxation, starting from the given columns, until it
// is optimal, or its bound reaches prune (the node is of no use), or the rounded
// bound cannot rise any more.
func relax(n *barNode, start []barColumn, cuts []*subsetRow, prune int64, meter *Meter) relaxation {
	g := &columnGenerator{node: n, cuts: cuts, meter: meter, known: map[string]bool{}, unit: costUnit(n.bars)}
	g.build(start)
	return g.run(prune)
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

// build sets up the master: a row for each live type, for each limited bar and
// for each cut, a column for each single type and each start column.
func (g *columnGenerator) build(start []barColumn) {
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
	maxCost := int64(1)
	for _, b := range n.bars {
		maxCost = max(maxCost, b.Cost)
	}
	g.duals = barDuals{scale: dualScale(n.demand, maxCost), profit: make([]int64, len(n.size)), penalty: make([]int64, len(g.cuts))}
	for _, k := range g.kinds {
		g.artificial = append(g.artificial, g.lp.AddColumn(artificialCost*float64(maxCost), NoBound, []Term{{g.row[k], 1}}))
		for b, bar := range n.bars {
			if bar.Count > 0 && n.size[k] <= bar.Length {
				count := min(bar.Length/n.size[k], n.demand[k], math.MaxInt32)
				g.add(n.fit(barColumn{b, []barPart{{k, int32(count)}}}))
			}
		}
	}
	for _, c := range start {
		g.add(n.fit(c))
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

// run alternates between the master and pricing.
func (g *columnGenerator) run(prune int64) relaxation {
	out := relaxation{}
	for {
		if g.lp.Solve(g.meter) != LPOptimal {
			break
		}
		out.value = g.lp.Objective()
		if settled(out.value, out.bound, g.unit) && !g.usesArtificial() {
			out.done = true
			break
		}
		found, bound := g.price()
		out.bound = max(out.bound, roundUp(bound, g.unit))
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
			out.done = true
			out.short = g.usesArtificial()
			break
		}
	}
	out.cols = g.cols
	out.x = make([]float64, len(g.cols))
	for i := range out.x {
		out.x[i] = g.lp.Primal(g.lpIndex[i])
	}
	return out
}

// settled reports whether a master of this value cannot lift the rounded bound
// any more.
func settled(value float64, bound, unit int64) bool {
	return value <= float64(bound)+1e-6*float64(unit)
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
	p := newBarPricer(n, d.profit, g.cuts, d.penalty, g.meter)
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
