package sequence

// scale makes the multipliers of the bound finer than the costs.
const scale = 1024

// bound is a Lagrangean lower bound: the cheapest arborescence in which a
// node is charged for every arc that leaves it beyond the first. With the
// best charges it is the bound of M. Held and R. M. Karp (Oper. Res. 18,
// 1970) carried over to directed graphs.
type bound struct {
	g       *graph
	charge  []int   // of node i, in scaled cost
	cost    [][]int // scaled cost with the charge of the tail
	nodes   []int
	tree    *arborescence
	length  int // proven: no path is shorter
	scaled  int // the same, scaled
	charges []int
	reduced [][]int
}

func newBound(g *graph) *bound {
	b := &bound{g: g, charge: make([]int, g.n), charges: make([]int, g.n), tree: newArborescence(g.n)}
	for i := range g.n {
		b.nodes = append(b.nodes, i)
		b.cost = append(b.cost, make([]int, g.n))
		b.reduced = append(b.reduced, make([]int, g.n))
	}
	b.price()
	return b
}

// price writes the scaled costs with the present charges.
func (b *bound) price() {
	for i, row := range b.cost {
		for j := range row {
			row[j] = forbidden
			if c := b.g.cost[i][j]; c < forbidden {
				row[j] = c*scale + b.charge[i]
			}
		}
	}
}

// raise looks for the charges with the highest bound by subgradient steps
// towards a known path length, and keeps them.
func (b *bound) raise(known int, clock *clock) {
	const most, patience = 600, 12
	rounds := min(most, 50+clock.work/10)
	step, idle := 1.5, 0
	for range rounds {
		if clock.spent() || step < 0.002 {
			break
		}
		b.price()
		value, slopes, norm := b.evaluate()
		if value > b.scaled {
			b.scaled, idle = value, 0
			copy(b.charges, b.charge)
		} else if idle++; idle >= patience {
			step, idle = step*0.7, 0
			copy(b.charge, b.charges)
			continue
		}
		if norm == 0 || b.scaled > (known-1)*scale {
			break
		}
		move := step * float64(known*scale-value) / float64(norm)
		for i, s := range slopes {
			b.charge[i] += int(move * float64(s))
		}
	}
	copy(b.charge, b.charges)
	b.price()
	b.length = (b.scaled + scale - 1) / scale
}

// evaluate finds the cheapest arborescence: its value less the charges that
// every path pays, and by how many arcs too many or too few leave each node.
func (b *bound) evaluate() (value int, slopes []int, norm int) {
	b.tree.load(b.nodes, b.cost)
	value, levels := b.tree.solve()
	slopes = make([]int, b.g.n)
	if value >= forbidden {
		return value, slopes, 0
	}
	for v, parent := range b.tree.parents(levels) {
		if v > 0 {
			slopes[parent]++
		}
	}
	for i := range b.g.n - 1 {
		value -= b.charge[i]
		slopes[i]--
		norm += slopes[i] * slopes[i]
	}
	slopes[b.g.n-1] = 0
	return value, slopes, norm
}

// fix forbids the arcs that no path shorter than known uses: the bound and
// what the arc is dearer are too much together.
func (b *bound) fix(known int) {
	b.tree.load(b.nodes, b.cost)
	value, levels := b.tree.solve()
	for _, c := range b.charge[:b.g.n-1] {
		value -= c
	}
	for i, row := range b.cost {
		copy(b.reduced[i], row)
	}
	b.tree.reduce(levels, b.reduced)
	for i := range b.g.n {
		for j := range b.g.n {
			if b.cost[i][j] < forbidden && value+b.reduced[i][j] > (known-1)*scale {
				b.cost[i][j] = forbidden
			}
		}
	}
}
