package cutting

import (
	"math/rand/v2"
	"slices"
	"sync"
	"time"

	"batchwright/nesting"
	"batchwright/nesting/solve"
	"batchwright/orders"
	"batchwright/orders/measure"
)

// A search is rounds; in a round every chain does one slice of work, in steps
// of the tables' inner loops, a few nanoseconds each.
const (
	roundsASecond = 5
	maxSlice      = 20_000_000 // of one chain, all woods together
	minSlice      = 1_000_000
	sliceAUnit    = 50_000 // of work, for each unit to be laid
	cores         = 2
	givenUp       = 60 // rounds without a better plan end the search
)

// rounds is the budget of a search that may think so long; under a millisecond
// the first plan is the answer.
func rounds(think time.Duration) uint64 {
	think = thinkTime(think)
	if think < time.Millisecond {
		return 0
	}
	return uint64(max(1, think.Seconds()*roundsASecond))
}

// thinkTime is the time a search may nominally take, the default where none is
// said.
func thinkTime(think time.Duration) time.Duration {
	if think <= 0 {
		return 5 * time.Second
	}
	return think
}

// woodSearch searches one wood: its best plan so far and the floor under its cost.
type woodSearch struct {
	p        *problem
	g        *woodGroup
	price    []int64
	best     *state
	easy     *state        // of plans nearly as cheap, the least work; nil: none
	bound    measure.Money // under what its plan counts for
	worth    measure.Money // under what its boards cost
	cheapest measure.Money // what the cheapest plan costs, when the easy one was taken
	wood     measure.Area  // a floor under the area used
	slice    int64         // work of one chain in one round
	idle     int           // rounds without a better plan
	met      []filling     // since the last composition

	composer *composer
}

// search lays every wood on its boards, as start does, then improves the plans round by
// round. Rounds are of equal work and each starts from the best plan of the
// last, so that more work never makes a plan worse, and two cores change
// nothing.
func (p *problem) search(w *watch, lim nesting.Limits, start func(*woodGroup, *watch) *woodSearch) []*woodSearch {
	woodGroups := p.woodGroups()
	searches := make([]*woodSearch, len(woodGroups))
	inParallel(len(woodGroups), func(i int) { searches[i] = start(&woodGroups[i], w) })
	shareWork(searches)
	for round := range rounds(lim.Think) {
		var open []*woodSearch
		for _, h := range searches {
			if !h.done() {
				open = append(open, h)
			}
		}
		if len(open) == 0 || w.over() {
			break
		}
		improve(open, uint64(lim.Seed), round, w)
		if round%mixEvery == mixEvery-1 {
			mixAll(open, w.mix/mixEvery, lim, w)
		}
	}
	return searches
}

// settle bounds the plan that was kept: its area, and where parts are short,
// its cost by the parts that are laid.
func (h *woodSearch) settle(w *watch) {
	placed := make([]int, len(h.p.items))
	for _, i := range h.g.items {
		placed[i] = len(h.p.items[i].units) - h.best.left[i]
	}
	if h.best.short > 0 {
		h.bound = h.bounded(placed, countOf, h.best.cost, w)
	}
	h.worth = h.bound
	if printed := h.printed(); h.weighted(printed) {
		h.worth = h.bounded(placed, printed, h.best.worth, w)
	}
	h.wood = h.areaFloor(placed, w)
}

// inParallel runs f(0..n-1) on both cores.
func inParallel(n int, f func(int)) {
	var wg sync.WaitGroup
	gate := make(chan struct{}, cores)
	for i := range n {
		wg.Add(1)
		gate <- struct{}{}
		go func() {
			defer wg.Done()
			f(i)
			<-gate
		}()
	}
	wg.Wait()
}

// improve runs one round: every open search, every lane, then the best of each.
func improve(open []*woodSearch, seed, round uint64, w *watch) {
	found := make([]lane, len(open)*lanes)
	inParallel(len(found), func(i int) {
		h, k := open[i/lanes], i%lanes
		rng := rand.New(rand.NewPCG(seed, round*lanes+uint64(k)))
		switch {
		case k == lanes-1 && h.composes():
			found[i].best = h.compose(rng, w)
		case k == 1 && round%2 == 1:
			found[i] = h.ease(rng, w)
		case k < h.chains():
			found[i] = h.chain(rng, w)
		}
	})
	for i, l := range found {
		h := open[i/lanes]
		if i%lanes == 0 {
			h.idle++
		}
		h.met = append(h.met, l.met...)
		if l.best != nil && l.best.better(h.best) {
			if l.best.saves(h.best) {
				h.idle = 0
			}
			h.best = l.best
		}
		h.easy = easier(l.easy, easier(l.best, h.easy, h.best), h.best)
	}
}

// lanes is what a round does side by side: two chains, of which every other
// round one looks for less work, and a composition.
const lanes = 3

// chains is how many of them take boards apart.
func (h *woodSearch) chains() int {
	if h.composes() && h.units() > manyUnits {
		return 1
	}
	return 2
}

// composes reports whether a plan of fillings is worth its master problem.
func (h *woodSearch) composes() bool { return len(h.g.items) <= maxComposed }

// manyUnits is from where taking boards apart by the handful gains little.
const manyUnits = 500

// done: proven, and nothing more was gained at the same cost for a while; or
// nothing was gained for long; or nothing to search.
func (h *woodSearch) done() bool {
	if len(h.best.plan) == 0 || h.idle >= givenUp {
		return true
	}
	return h.best.short == 0 && h.best.cost <= h.bound && h.idle >= 6
}

// shareWork sets the work of one chain in one round, the woods sharing it by what
// they have to lay.
func shareWork(searches []*woodSearch) {
	total := int64(1)
	for _, h := range searches {
		total += h.units()
	}
	for _, h := range searches {
		share := min(h.units()*sliceAUnit, maxSlice*h.units()/total)
		h.slice = max(share, minSlice)
	}
}

func (h *woodSearch) units() int64 {
	n := int64(0)
	for _, i := range h.g.items {
		n += int64(len(h.p.items[i].units))
	}
	return n
}

// boundWork is the most spent on one floor.
const boundWork = 1_000_000_000

// countOf and worthOf are the two measures of a board's cost.
func countOf(s *stock) int64 { return int64(s.cost) }
func worthOf(s *stock) int64 { return int64(s.worth) }

// saidOf is worthOf where no board without a price was bought: a plan that buys
// one costs nobody knows what, and is no cheaper plan.
func saidOf(s *stock) int64 {
	if s.unsaid {
		return int64(max(s.cost, s.worth))
	}
	return int64(s.worth)
}

// printed is how the boards count under the printed cost of the plan kept.
func (h *woodSearch) printed() func(*stock) int64 {
	if slices.ContainsFunc(h.best.plan, func(u used) bool { return h.p.stocks[u.stock].unsaid }) {
		return worthOf
	}
	return saidOf
}

// weighted reports whether some board counts for other than in another measure.
func (h *woodSearch) weighted(cost func(*stock) int64) bool {
	return slices.ContainsFunc(h.g.stocks, func(j int) bool { return countOf(&h.p.stocks[j]) != cost(&h.p.stocks[j]) })
}

// bounded is a lower bound of what a plan costs, its boards cut whole.
func (h *woodSearch) bounded(placed []int, cost func(*stock) int64, known measure.Money, w *watch) measure.Money {
	return h.wholeBoards(placed, h.lineBound(placed, cost, w), cost, known, w)
}

// lineBound is a lower bound of the cost, and the prices that prove it.
func (h *woodSearch) lineBound(placed []int, cost func(*stock) int64, w *watch) solve.LineBound {
	lp := h.p.lineProblem(h.g, placed, cost)
	return solve.Lines(lp, solve.Budget{Work: boundWork, Deadline: w.deadline, Stop: w.stop})
}

// firstSearch lays a first plan of one wood.
func (p *problem) firstSearch(g *woodGroup, w *watch) *woodSearch {
	h := &woodSearch{p: p, g: g, price: p.areaPrices()}
	h.best = h.firstPlan()
	for _, lines := range h.openings() {
		if s := h.firstOn(lines, h.price, w); s.better(h.best) {
			h.best = s
		}
	}
	return h
}

// startSearch bounds one wood and lays a first plan, a second one at the prices
// that prove the bound.
func (p *problem) startSearch(g *woodGroup, w *watch) *woodSearch {
	h := p.firstSearch(g, w)
	b := h.lineBound(p.demand(), countOf, w)
	h.bound = measure.Money(b.Bound)
	if w.over() {
		return h
	}
	proven := p.linePrices(g, b.Prices)
	if s := h.first(proven, w); s.better(h.best) {
		h.best, h.price = s, proven
	}
	if h.best.short == 0 {
		h.bound = h.wholeBoards(p.demand(), b, countOf, h.best.cost, w)
	}
	h.exactly(w.exact/firstExact, w)
	return h
}

// wholeWork is what is spent on a lower bound with whole boards, for each second of
// thinking time up to two.
const wholeWork = 300_000_000

// wholeBoards raises a floor by what it costs that boards are bought whole.
// No plan that costs less than known is looked for.
func (h *woodSearch) wholeBoards(placed []int, b solve.LineBound, cost func(*stock) int64, known measure.Money, w *watch) measure.Money {
	if w.whole == 0 {
		return measure.Money(b.Bound)
	}
	lp := h.p.lineProblem(h.g, placed, cost)
	return measure.Money(solve.WholeLines(lp, b, int64(known), solve.Budget{Work: w.whole, Deadline: w.deadline, Stop: w.stop}))
}

// linePrices turns the prices of the relaxation into whole numbers, area
// standing in where it has none.
func (p *problem) linePrices(g *woodGroup, prices []float64) []int64 {
	out := p.areaPrices()
	worth, size := 0.0, 0.0
	for k, i := range g.items {
		worth += prices[k] * float64(p.items[i].leaves())
		size += float64(out[i])
	}
	if worth <= 0 {
		return out
	}
	for k, i := range g.items {
		out[i] = 1 + out[i]/8 + int64(prices[k]*float64(p.items[i].leaves())/worth*size)
	}
	k := len(g.items)
	p.eachOfMixed(g, func(i int, _ *orders.Part) {
		out[i] += int64(prices[k] / worth * size)
		k++
	})
	return out
}

// firstPlan is a plan for when the clock runs out before a better one is whole.
func (h *woodSearch) firstPlan() *state {
	b := h.builder(h.price)
	b.takeStock()
	return h.stateOf(b, b.quick())
}

// openings are the boards a first plan may begin with: all; what is bought, so
// that a rack never makes a plan dearer; what is on the rack, so that it is
// bought last.
func (h *woodSearch) openings() [][]int {
	var rack, bought []int
	for _, j := range h.g.stocks {
		if isBought(&h.p.stocks[j].board) {
			bought = append(bought, j)
		} else {
			rack = append(rack, j)
		}
	}
	if len(rack) == 0 || len(bought) == 0 {
		return [][]int{h.g.stocks}
	}
	return [][]int{h.g.stocks, bought, rack}
}

// first lays everything from nothing.
func (h *woodSearch) first(price []int64, w *watch) *state { return h.firstOn(h.g.stocks, price, w) }

// firstOn lays what it can on some boards, and the rest on all.
func (h *woodSearch) firstOn(lines []int, price []int64, w *watch) *state {
	b := h.builder(price)
	b.lines = lines
	plan := b.run(w.over)
	if len(lines) < len(h.g.stocks) {
		b.lines, b.alive = h.g.stocks, nil
		plan = append(plan, b.run(w.over)...)
	}
	if w.over() {
		plan = append(plan, b.quick()...)
	}
	return h.stateOf(b, plan)
}

func (h *woodSearch) builder(price []int64) *builder {
	return &builder{p: h.p, g: h.g, price: price, left: h.p.demand(), have: h.p.boards(), lines: h.g.stocks}
}

func (h *woodSearch) stateOf(b *builder, plan []used) *state {
	s := &state{p: h.p, g: h.g, plan: plan, left: b.left, have: b.have}
	s.measure()
	return s
}

// areaPrices prices every item by its area, its kerf included.
func (p *problem) areaPrices() []int64 {
	out := make([]int64, len(p.items))
	for i := range p.items {
		it := &p.items[i]
		out[i] = 1 + it.leaves()*area(it.l+p.set.CrosscutKerf, it.w+p.set.RipKerf)
	}
	return out
}
