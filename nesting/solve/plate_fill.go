package solve

// Work and sizes of one plate, by measuring.
const (
	fillWork    = 5_000_000_000 // default budget of FillPlate, some seconds
	maxSizes    = 2600          // sizes an axis before it is thinned out
	coarseSizes = 160           // sizes an axis of a quick first search
	maxKept     = 1024          // fillings a size
)

// firsts lists the ways the first cut is tried.
func (r Rules) firsts() []Direction {
	if r.Stages > 0 && r.First == Either {
		return []Direction{Across, Along}
	}
	return []Direction{r.First}
}

// filler searches one board, for one root or several.
type filler struct {
	b     *board
	m     *Meter
	pack  *packing
	scale int64
	bonus []int64   // of each root, added to a filling's value
	price []float64 // prices to start from, and the best found after
	steps int       // price steps at most
	keep  int       // fillings a size at most
	most  int       // fillings of each root wanted
	until bool      // stop at the first filling found

	value int64 // the best value and bonus found, or to beat
	bound int64 // proven: none is more
	found []rooted
	whole bool // found is all fillings that beat value, with all
}

// rooted is a filling of one of the board's roots.
type rooted struct {
	root  int
	plan  *plan
	value int64
}

func newFiller(b *board, bonus []int64, m *Meter) *filler {
	f := &filler{b: b, m: m, pack: newPacking(b.limit), bonus: bonus, scale: 1, steps: 200, keep: maxKept, most: 1}
	most := b.densest() // no table entry is worth more, bonuses aside
	f.bound = min(most, b.allCopies())
	for _, v := range bonus {
		f.bound = max(f.bound, v+min(most, b.allCopies()))
		most = max(most, v+b.densest())
	}
	for f.scale < 1<<16 && most < 1<<55/f.scale {
		f.scale *= 2
	}
	return f
}

// run searches until the best is proven, the lists are as wide as they may be,
// or the meter ends it.
func (f *filler) run() {
	p := newPricing(f)
	if f.widen(p, 1) && !f.done() {
		f.settlePrices(p)
	}
	for keep := 1; keep <= f.keep && !f.done(); keep *= 2 {
		if !f.widen(p, keep) {
			break
		}
	}
	f.price = p.values()
}

func (f *filler) done() bool { return f.value >= f.bound || f.until && len(f.found) > 0 }

// settlePrices moves the prices until the bound settles.
func (f *filler) settlePrices(p *pricing) {
	for range f.steps {
		best, made, ok := p.step(f.value*f.scale, f.m)
		if !ok {
			break
		}
		f.offer(best, made)
		f.bound = min(f.bound, floorDiv(p.bound, f.scale))
		if f.done() || p.settled() {
			break
		}
	}
	f.bound = max(f.bound, f.value)
	copy(p.price, p.best)
}

// offer takes a filling that keeps the limits and beats the value known.
func (f *filler) offer(r rooted, made []int) {
	value := f.bonus[r.root]
	for k, n := range made {
		if n > f.b.limit[k] {
			return
		}
		value += int64(n) * f.b.value[k]
	}
	if value > f.value {
		f.value = value
		r.value = value - f.bonus[r.root]
		f.found = []rooted{r}
	}
}

// all finds all fillings that beat the value given, as far as lists and wants
// go.
func (f *filler) all() {
	p := newPricing(f)
	beat := f.value
	for range f.steps {
		if _, _, ok := p.step(f.value*f.scale, f.m); !ok || p.settled() {
			break
		}
	}
	for keep := 8; keep <= f.keep && !f.whole; keep *= 4 {
		f.value = beat
		if !f.widen(p, keep) {
			return
		}
	}
}

// widen builds lists of keep fillings a size; false when the meter ended it.
func (f *filler) widen(p *pricing, keep int) bool {
	w := p.worths(p.best)
	t := fillTable(f.b, w.rank, f.m)
	if t == nil {
		return false
	}
	a := aim{w: w, floor: f.value*f.scale + f.scale - 1, bonus: make([]int64, len(f.bonus))}
	for r, v := range f.bonus {
		a.bonus[r] = noRoot
		if v != noRoot {
			a.bonus[r] = v * f.scale
		}
	}
	l := newLists(f.b, f.pack, t, a, keep)
	if !l.build(f.m) {
		return false
	}
	f.take(l)
	f.bound = max(f.value, min(f.bound, floorDiv(l.missed, f.scale)))
	return true
}

// take takes the fillings that lists found.
func (f *filler) take(l *lists) {
	var all []rooted
	best := f.value
	f.whole = l.missed <= l.aim.floor
	for r := range f.b.roots {
		found := l.best(r, f.most)
		f.whole = f.whole && len(found) < f.most
		for _, o := range found {
			all = append(all, rooted{r, l.plan(o.how), o.value})
			best = max(best, o.value+f.bonus[r])
		}
	}
	if best > f.value {
		f.value, f.found = best, all
	}
}
