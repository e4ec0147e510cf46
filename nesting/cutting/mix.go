package cutting

import (
	"cmp"
	"math"
	"math/rand/v2"
	"slices"

	"batchwright/nesting"
	"batchwright/nesting/solve"
	"batchwright/orders/measure"
)

// A mixer chooses among all fillings met, whatever search found them, how often
// each is cut: branch and bound over the master of the composer, depth first, a
// filling used a broken number of times first more often, then less. A plan may
// hold more of an item than is wanted: what is too much is not cut.
type mixer struct {
	c     *composer
	meter *solve.Meter
	step  measure.Money // every cost is a multiple of it
	upper []float64     // of each filling: how often it may still be used
	fixed []choice
	cost  measure.Money
	best  []choice
	most  measure.Money // what a plan must cost less than
}

// mixWork is what is spent on it for each second of thinking time.
const mixWork = 60_000_000

// mixPricing is the share of it that makes fillings before.
const mixPricing = 3

// mixEvery is after how many rounds of a search its fillings are mixed.
const mixEvery = 5

// mixAll mixes the fillings of every wood.
func mixAll(searches []*woodSearch, work int64, lim nesting.Limits, w *watch) {
	inParallel(len(searches), func(i int) { searches[i].mix(work, uint64(lim.Seed), w) })
}

// share takes over the fillings another search of the same wood met.
func (h *woodSearch) share(other *woodSearch) {
	h.met = append(h.met, other.met...)
	h.met = append(h.met, h.fillingsOf(other.best.plan)...)
	if other.composer != nil {
		h.met = append(h.met, other.composer.pool.list...)
	}
}

// mix lays the wood anew from all fillings met, where that saves something.
func (h *woodSearch) mix(work int64, seed uint64, w *watch) {
	if work == 0 || !h.composes() || len(h.best.plan) == 0 || h.best.short > 0 || h.best.cost <= h.bound {
		return
	}
	if h.composer == nil {
		h.composer = newComposer(h)
	}
	c := h.composer
	c.w, c.rng = w, rand.New(rand.NewPCG(seed, mixWork))
	c.meter = solve.NewMeter(solve.Budget{Work: work, Deadline: w.deadline, Stop: w.stop}, 0)
	for !c.meter.Over() {
		c.begin()
		c.takeIn()
		priced := c.meter.Part(work / mixPricing)
		for !priced.Over() {
			before := c.meter.Spent()
			if c.lp.Solve(priced) != solve.LPOptimal || !c.price(12) {
				break
			}
			priced.Spend(c.meter.Spent() - before)
		}
		c.meter.Absorb(priced)
		m := &mixer{c: c, meter: c.meter, step: c.costStep(), most: h.best.cost}
		m.upper = slices.Repeat([]float64{solve.NoBound}, len(c.pool.list))
		m.closeDear()
		m.visit()
		m.openAll()
		if m.best == nil {
			return
		}
		var fills []used
		for _, ch := range m.best {
			f := c.pool.list[ch.at]
			fills = append(fills, used{stock: f.stock, fill: f.fill, times: ch.times})
		}
		s := h.laid(fills, w)
		if !s.better(h.best) {
			return
		}
		h.best = s
	}
}

// costStep is the greatest common divisor of the boards' costs.
func (c *composer) costStep() measure.Money {
	step := measure.Money(0)
	for _, j := range c.h.g.stocks {
		for a := c.h.p.stocks[j].cost; a > 0; {
			step, a = a, step%a
		}
	}
	return max(1, step)
}

// closeDear shuts the fillings that no plan cheaper than the best uses, by their
// reduced costs.
func (m *mixer) closeDear() {
	c := m.c
	if c.lp.Solve(m.meter) != solve.LPOptimal {
		return
	}
	room := float64(m.most-m.step) - c.lp.Objective() + 1e-6
	for at := range m.upper {
		if c.lp.ReducedCost(c.first+at) > room {
			m.limit(at, 0)
		}
	}
}

func (m *mixer) limit(at int, upper float64) {
	m.upper[at] = upper
	m.c.lp.SetUpper(m.c.first+at, upper)
}

// openAll undoes closeDear.
func (m *mixer) openAll() {
	for at := range m.upper {
		m.limit(at, solve.NoBound)
	}
	m.c.begin()
}

// visit searches below what is fixed.
func (m *mixer) visit() {
	c := m.c
	c.restate()
	if m.meter.Over() || c.lp.Solve(m.meter) != solve.LPOptimal {
		return
	}
	least := m.cost + m.step*measure.Money(math.Ceil((c.lp.Objective()-1e-6)/float64(m.step)))
	if least >= m.most {
		return
	}
	at, x := m.pick()
	if at < 0 {
		m.take()
		return
	}
	upper := m.upper[at]
	m.limit(at, upper-math.Ceil(x))
	m.fix(at, int(math.Ceil(x)))
	m.limit(at, math.Floor(x))
	m.visit()
	m.limit(at, upper)
}

// fix searches with a filling used so many times more.
func (m *mixer) fix(at, times int) {
	c := m.c
	f := c.pool.list[at]
	left, have, cost := slices.Clone(c.left), c.have[f.stock], m.cost
	for k, n := range f.uses {
		i := c.h.g.items[k]
		c.left[i] = max(0, c.left[i]-int(n)*times)
	}
	if have != unlimitedBoards {
		c.have[f.stock] -= times
	}
	m.cost += measure.Money(times) * c.h.p.stocks[f.stock].cost
	m.fixed = append(m.fixed, choice{at: at, times: times})
	m.visit()
	m.fixed = m.fixed[:len(m.fixed)-1]
	c.left, c.have[f.stock], m.cost = left, have, cost
}

// pick is the filling to branch on and its value: the largest part of a board;
// -1 when all are whole.
func (m *mixer) pick() (at int, x float64) {
	at, score := -1, 1e-6
	for k := range m.c.pool.list {
		v := m.c.lp.Primal(m.c.first + k)
		if part := v - math.Floor(v+1e-6); part > score {
			at, x, score = k, v, part
		}
	}
	return at, x
}

// take keeps a whole plan: what is fixed and what the master uses.
func (m *mixer) take() {
	cost := m.cost
	plan := slices.Clone(m.fixed)
	for col := range m.c.first {
		if m.c.lp.Primal(col) > 1e-6 {
			return // something is left out
		}
	}
	for k := range m.c.pool.list {
		if n := int(m.c.lp.Primal(m.c.first+k) + 1e-6); n > 0 {
			plan = append(plan, choice{at: k, times: n})
			cost += measure.Money(n) * m.c.h.p.stocks[m.c.pool.list[k].stock].cost
		}
	}
	if cost < m.most {
		slices.SortStableFunc(plan, func(a, b choice) int { return cmp.Compare(a.at, b.at) })
		m.best, m.most = plan, cost
	}
}
