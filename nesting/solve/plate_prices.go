package solve

// Prices on scarce parts bring the table's bound down: with a price on each
// copy, counted once for every copy allowed and taken off the value of every
// copy made, the table still bounds every filling that keeps the limits, and
// the best prices found by subgradient steps come near the bound of the linear
// relaxation (Held, Wolfe and Crowder, Mathematical Programming 6 (1974)).

// pricing is the state of that search.
type pricing struct {
	f       *filler
	price   []float64 // scaled
	best    []float64 // prices of the least bound
	bound   int64     // scaled
	stepper float64   // share of the gap a step aims to close
	stale   int       // steps since the bound fell
}

// newPricing starts from the filler's prices.
func newPricing(f *filler) *pricing {
	p := &pricing{f: f, price: make([]float64, len(f.b.limit)), bound: 1 << 62, stepper: 1}
	for k := range f.price {
		p.price[k] = f.price[k] * float64(f.scale)
	}
	p.best = append([]float64(nil), p.price...)
	return p
}

// values returns the best prices in the filler's values.
func (p *pricing) values() []float64 {
	out := make([]float64, len(p.best))
	for k, v := range p.best {
		out[k] = v / float64(p.f.scale)
	}
	return out
}

// worths returns the ranking under prices.
func (p *pricing) worths(price []float64) worths {
	b := p.f.b
	w := worths{scale: p.f.scale, price: make([]int64, len(price)), rank: make([]int64, len(price))}
	for k, v := range price {
		if b.limit[k] <= 0 {
			continue
		}
		whole := w.scale * b.value[k]
		w.price[k] = max(0, min(int64(v), whole))
		w.rank[k] = whole - w.price[k]
		w.free += w.price[k] * int64(b.limit[k])
	}
	return w
}

// step fills one table and moves the prices. It returns the table's best
// filling and its copies; ok is false when the meter ended it.
func (p *pricing) step(floor int64, m *Meter) (best rooted, made []int, ok bool) {
	w := p.worths(p.price)
	t := fillTable(p.f.b, w.rank, m)
	if t == nil {
		return rooted{}, nil, false
	}
	reach := int64(noRoot)
	for r, c := range p.f.b.roots {
		if v := p.f.bonus[r]; v != noRoot && t.worth[c.i*t.g.ny+c.j]+v*p.f.scale > reach {
			reach, best.root = t.worth[c.i*t.g.ny+c.j]+v*p.f.scale, r
		}
	}
	reach += w.free
	if reach < p.bound {
		p.stale = 0
		p.bound = reach
		copy(p.best, p.price)
	} else if p.stale++; p.stale >= 8 {
		p.stale = 0
		p.stepper /= 2
		copy(p.price, p.best)
	}
	best.plan = t.plan(p.f.b, w.rank, best.root)
	made = make([]int, len(p.f.b.limit))
	best.plan.count(made)
	p.move(made, w, float64(reach-floor))
	return best, made, true
}

// move raises the prices of parts cut too often and lowers those of parts with
// copies to spare.
func (p *pricing) move(made []int, w worths, gap float64) {
	b := p.f.b
	norm := 0.0
	for k, n := range made {
		over := float64(n - b.limit[k])
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
		if b.limit[k] > 0 {
			most := float64(w.scale * b.value[k])
			p.price[k] = max(0, min(most, p.price[k]+t*float64(n-b.limit[k])))
		}
	}
}

// settled reports whether more steps are not worth their work.
func (p *pricing) settled() bool { return p.stepper < 0.02 }
