package solve

// Prices on scarce parts bring the table's bound down: with a price on each
// copy, counted once for every copy allowed and taken off the value of every
// copy made, the table still bounds every filling that keeps the limits, and
// the best prices found by subgradient steps come near the bound of the linear
// relaxation (Held, Wolfe and Crowder, Mathematical Programming 6 (1974)).

// pricing is the state of that search.
type pricing struct {
	b       *board
	scale   int64
	price   []float64
	best    []float64 // prices of the least bound
	bound   int64     // scaled
	stepper float64   // share of the gap a step aims to close
	stale   int       // steps since the bound fell
}

// newPricing starts from prices, in values; nil for none.
func newPricing(b *board, scale int64, from []float64) *pricing {
	p := &pricing{b: b, scale: scale, price: make([]float64, len(b.limit)), bound: 1 << 62, stepper: 1}
	for k := range from {
		p.price[k] = from[k] * float64(scale)
	}
	p.best = append([]float64(nil), p.price...)
	return p
}

// worths returns the ranking under prices.
func (p *pricing) worths(price []float64) worths {
	w := worths{scale: p.scale, price: make([]int64, len(price)), rank: make([]int64, len(price))}
	for k, f := range price {
		if p.b.limit[k] <= 0 {
			continue
		}
		whole := p.scale * p.b.value[k]
		w.price[k] = max(0, min(int64(f), whole))
		w.rank[k] = whole - w.price[k]
		w.free += w.price[k] * int64(p.b.limit[k])
	}
	return w
}

// step fills one table and moves the prices. It returns the table's best
// filling and its copies; ok is false when the meter ended it.
func (p *pricing) step(floor int64, m *Meter) (pl *plan, made []int, ok bool) {
	w := p.worths(p.price)
	t := fillTable(p.b, w.rank, m)
	if t == nil {
		return nil, nil, false
	}
	bound := t.top() + w.free
	if bound < p.bound {
		p.stale = 0
		p.bound = bound
		copy(p.best, p.price)
	} else if p.stale++; p.stale >= 8 {
		p.stale = 0
		p.stepper /= 2
		copy(p.price, p.best)
	}
	pl = t.plan(p.b, w.rank)
	made = make([]int, len(p.b.limit))
	pl.count(made)
	p.move(made, w, float64(bound-floor))
	return pl, made, true
}

// move raises the prices of parts cut too often and lowers those of parts with
// copies to spare.
func (p *pricing) move(made []int, w worths, gap float64) {
	norm := 0.0
	for k, n := range made {
		over := float64(n - p.b.limit[k])
		if over > 0 || w.price[k] > 0 {
			norm += over * over
		}
	}
	if norm == 0 {
		p.stepper = 0
		return
	}
	t := p.stepper * max(gap, 1) / norm
	for k, n := range made {
		if p.b.limit[k] > 0 {
			most := float64(p.scale * p.b.value[k])
			p.price[k] = max(0, min(most, p.price[k]+t*float64(n-p.b.limit[k])))
		}
	}
}

// settled reports whether more steps are not worth their work.
func (p *pricing) settled() bool { return p.stepper < 0.01 }
