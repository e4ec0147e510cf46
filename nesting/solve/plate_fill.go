package solve

// Work and sizes of one plate, by measuring.
const (
	fillWork  = 3_000_000_000 // default budget of FillPlate, some seconds
	mostSizes = 2600          // sizes an axis before it is thinned out
	mostKept  = 512           // fillings a size
)

// FillPlate returns the best filling it finds of plate with parts, and a bound.
// It prices scarce parts to bring the bound down, then builds lists of fillings
// that keep the limits, wider and wider, until one is proven best or the budget
// is spent.
func FillPlate(plate Plate, parts []Part, rules Rules, budget Budget) Filling {
	m := NewMeter(budget, fillWork)
	f := newFiller(newBoard(plate, parts, rules, mostSizes), m)
	f.run()
	out := Filling{Tree: f.plan.layout(f.b), Made: make([]int, len(parts)), Value: f.value, Bound: f.bound, Work: m.Spent(), Stop: m.Why()}
	f.plan.count(out.Made)
	if f.value >= f.bound {
		out.Stop = StopProven
	}
	return out
}

// filler searches one board.
type filler struct {
	b     *board
	m     *Meter
	pack  *packing
	scale int64
	price []float64 // prices to start from, and the best found after
	steps int       // price steps at most
	keep  int       // fillings a size at most
	most  int       // fillings of the plate wanted, the best first

	plan   *plan
	value  int64
	bound  int64
	others []*plan // the best of the last lists
}

func newFiller(b *board, m *Meter) *filler {
	f := &filler{b: b, m: m, pack: newPacking(b.limit), scale: 1, steps: 400, keep: mostKept, most: 1}
	f.bound = areaBound(b)
	for f.scale < 1<<20 && f.bound < 1<<56/(2*f.scale) {
		f.scale *= 2
	}
	return f
}

// areaBound is the value of the plate's whole area cut into the densest part.
func areaBound(b *board) int64 {
	area := float64(b.length) * float64(b.width)
	best := 0.0
	for _, s := range b.shapes {
		if b.limit[s.part] > 0 {
			best = max(best, float64(b.value[s.part])/(float64(s.length)*float64(s.width)))
		}
	}
	return int64(min(best*area*(1+1e-9)+1, 1<<60))
}

// run searches until the best is proven or the meter ends it.
func (f *filler) run() {
	p := newPricing(f.b, f.scale, f.price)
	f.lowerBound(p)
	for keep := 1; keep <= f.keep && f.value < f.bound; keep *= 2 {
		if !f.widen(p, keep) {
			return
		}
	}
}

// lowerBound moves the prices until the bound settles.
func (f *filler) lowerBound(p *pricing) {
	for range f.steps {
		pl, made, ok := p.step(f.value*f.scale, f.m)
		if !ok {
			return
		}
		f.offer(pl, made)
		f.bound = min(f.bound, p.bound/f.scale)
		if f.value >= f.bound || p.settled() {
			break
		}
	}
	copy(p.price, p.best)
}

// offer takes a plan that keeps the limits and is worth more.
func (f *filler) offer(p *plan, made []int) {
	value := int64(0)
	for k, n := range made {
		if n > f.b.limit[k] {
			return
		}
		value += int64(n) * f.b.value[k]
	}
	if value > f.value {
		f.plan, f.value = p, value
	}
}

// widen builds lists of keep fillings a size; false when the meter ended it.
func (f *filler) widen(p *pricing, keep int) bool {
	w := p.worths(p.best)
	t := fillTable(f.b, w.rank, f.m)
	if t == nil {
		return false
	}
	floor := f.value*f.scale + f.scale - 1
	l := buildLists(f.b, f.pack, w, t, t.outside(), floor, keep, f.m)
	if l == nil {
		return false
	}
	if best := l.best(f.most); len(best) > 0 {
		f.plan, f.value = l.plan(best[0].how), best[0].value
		f.others = f.others[:0]
		for _, o := range best {
			f.others = append(f.others, l.plan(o.how))
		}
	}
	f.bound = max(f.value, min(f.bound, l.missed/f.scale))
	return true
}

// plan reads a filling back from the arena.
func (l *lists) plan(h how) *plan {
	if h.shape >= 0 {
		return &plan{shape: l.b.shapes[h.shape]}
	}
	return &plan{cut: h.cut, low: l.plan(l.how[h.low]), high: l.plan(l.how[h.high])}
}

// runUntilFound searches only until some filling beats the value given at the
// start, or none is proven to.
func (f *filler) runUntilFound() {
	p := newPricing(f.b, f.scale, f.price)
	f.lowerBound(p)
	for keep := 1; keep <= f.keep && f.value < f.bound && f.plan == nil; keep *= 2 {
		if !f.widen(p, keep) {
			break
		}
	}
	f.price = make([]float64, len(p.best))
	for k, v := range p.best {
		f.price[k] = v / float64(f.scale)
	}
}
