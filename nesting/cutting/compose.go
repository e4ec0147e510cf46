package cutting

import (
	"cmp"
	"math/rand/v2"
	"slices"

	"batchwright/nesting/solve"
	"batchwright/orders/measure"
)

// maxComposed is how many sizes a wood may have for its plan to be composed
// of fillings: beyond it the master takes longer than it saves.
const maxComposed = 250

// composer makes a plan of fillings: a master problem over those met says how
// often each would be used if boards could be shared, its prices make new
// fillings, and boards are fixed one after another, the fullest used first (P.
// C. Gilmore and R. E. Gomory, Operations Research 11, 1963; the diving after
// G. Belov and G. Scheithauer, from memory).
type composer struct {
	h     *woodSearch
	w     *watch
	rng   *rand.Rand
	meter *solve.Meter

	lp       *solve.Master
	stockRow map[int]int // line -> row; none for unlimited ones
	pool     pool
	first    int // the LP's column of the first filling
	rounds   int // of pricing, since the last plan was begun

	left, have []int // as in builder
	plan       []used
	cost       measure.Money
}

// compose goes on with a plan made of fillings for a slice of work, and returns
// it when it is whole and may be better; nil: not yet, or it is not.
func (h *woodSearch) compose(rng *rand.Rand, w *watch) *state {
	if h.composer == nil {
		h.composer = newComposer(h)
	}
	c := h.composer
	c.rng, c.w = rng, w
	c.meter = solve.NewMeter(solve.Budget{Work: composeSlices * h.slice, Deadline: w.deadline, Stop: w.stop}, 0)
	c.takeIn()
	for c.rounds < pricingRounds && !c.meter.Over() {
		if c.lp.Solve(c.meter) != solve.LPOptimal {
			return nil
		}
		c.rounds++
		if !c.price(12) {
			c.rounds = pricingRounds
		}
	}
	if c.meter.Over() || !c.dive() {
		return nil
	}
	s := &state{p: h.p, g: h.g, plan: c.plan, left: c.left, have: c.have}
	s.measure()
	c.begin()
	return s
}

// composeSlices is the work of a round's composition, in slices of a chain: its
// steps are the quicker ones.
const composeSlices = 4

// pricingRounds is how often new fillings are made before boards are fixed.
const pricingRounds = 8

// newComposer has a row for each item, one for each limited line, and a dear
// column that leaves an item out.
func newComposer(h *woodSearch) *composer {
	c := &composer{h: h, stockRow: map[int]int{}}
	c.lp = solve.NewMaster(make([]float64, len(h.g.items)))
	dearest := measure.Money(1)
	for _, j := range h.g.stocks {
		dearest = max(dearest, h.p.stocks[j].cost)
		if !h.p.stocks[j].board.Unlimited {
			c.stockRow[j] = c.lp.AddRow(0, nil)
		}
	}
	for k := range h.g.items {
		c.lp.AddColumn(4*float64(dearest), solve.NoBound, []solve.Term{{Index: k, Value: 1}})
	}
	c.first = c.lp.Columns()
	c.begin()
	return c
}

// begin starts from an empty plan.
func (c *composer) begin() {
	c.left, c.have, c.plan, c.cost, c.rounds = c.h.p.demand(), c.h.p.boards(), nil, 0, 0
	c.restate()
}

// takeIn adds the fillings met since the last slice.
func (c *composer) takeIn() {
	for _, f := range c.h.met {
		c.add(f)
	}
	for _, f := range c.h.fillingsOf(c.h.best.plan) {
		c.add(f)
	}
	c.h.met = nil
}

func (c *composer) add(f filling) bool {
	if !c.pool.add(f) {
		return false
	}
	var entries []solve.Term
	for k, n := range f.uses {
		if n > 0 {
			entries = append(entries, solve.Term{Index: k, Value: float64(n)})
		}
	}
	if r, limited := c.stockRow[f.stock]; limited {
		entries = append(entries, solve.Term{Index: r, Value: -1})
	}
	c.lp.AddColumn(float64(c.h.p.stocks[f.stock].cost), solve.NoBound, entries)
	return true
}

// price fills some lines of boards at the master's prices, and reports whether
// any filling is worth more there than its board.
func (c *composer) price(lines int) bool {
	card := c.card()
	if card == nil {
		return false
	}
	found := false
	for _, n := range c.rng.Perm(len(c.h.g.stocks)) {
		if lines == 0 || c.w.over() {
			break
		}
		j := c.h.g.stocks[n]
		if c.have[j] == 0 {
			continue
		}
		lines--
		f := c.h.filling(j, card.fillBoard(&c.h.p.stocks[j], c.left))
		if c.gain(f) > 1e-6 && c.add(f) {
			found = true
		}
	}
	c.meter.Spend(card.spent())
	return found
}

// card offers what is left at the master's prices; nil: nothing is.
func (c *composer) card() *card {
	g := c.h.g
	prices := c.prices()
	worth := make([]int64, len(g.kinds))
	var alive []int
	for _, i := range g.items {
		if c.left[i] > 0 {
			alive = append(alive, i)
			worth[g.kind(c.h.p.items[i].thick)] += int64(c.left[i]) * prices[i]
		}
	}
	if len(alive) == 0 {
		return nil
	}
	card := c.h.p.newCard(g, alive, c.left, prices, worth)
	card.rng, card.sections = c.rng, c.rng.IntN(4)
	return card
}

// prices are the master's, as whole numbers of the size of areas.
func (c *composer) prices() []int64 {
	out := c.h.p.areaPrices()
	worth, size := 1e-9, 0.0
	for k, i := range c.h.g.items {
		worth += max(0, c.lp.Dual(k))
		size += float64(out[i])
	}
	for k, i := range c.h.g.items {
		out[i] = 1 + out[i]/64 + int64(max(0, c.lp.Dual(k))/worth*size)
	}
	return out
}

// gain is what a filling is worth at the master's prices, less its board.
func (c *composer) gain(f filling) float64 {
	worth := -float64(c.h.p.stocks[f.stock].cost)
	for k, n := range f.uses {
		worth += float64(n) * c.lp.Dual(k)
	}
	if r, limited := c.stockRow[f.stock]; limited {
		worth -= c.lp.Dual(r)
	}
	return worth
}

// dive fixes fillings until everything is laid. False: its work is spent, and
// it goes on from there the next time; or it cannot become better than the best
// plan, and a new one is begun.
func (c *composer) dive() bool {
	for !c.meter.Over() {
		if c.allLaid() {
			return true
		}
		c.restate()
		for range 3 {
			if c.lp.Solve(c.meter) != solve.LPOptimal {
				return c.finish()
			}
			if c.hopeless() || !c.price(4) {
				break
			}
		}
		if c.lp.Solve(c.meter) != solve.LPOptimal {
			return c.finish()
		}
		if c.hopeless() {
			c.begin()
			return false
		}
		if !c.fix() {
			return c.finish()
		}
	}
	return false
}

func (c *composer) allLaid() bool {
	for _, i := range c.h.g.items {
		if c.left[i] > 0 {
			return false
		}
	}
	return true
}

// restate sets the master's right-hand side to what is left.
func (c *composer) restate() {
	for k, i := range c.h.g.items {
		c.lp.SetRHS(k, float64(c.left[i]))
	}
	for j, r := range c.stockRow {
		c.lp.SetRHS(r, -float64(c.have[j]))
	}
}

// hopeless: what is fixed and the least for the rest cost no less than the best
// plan.
func (c *composer) hopeless() bool {
	return c.h.best.short == 0 && float64(c.cost)+c.lp.Objective() > float64(c.h.best.cost)-0.5
}

// choice is a filling to be fixed so many times.
type choice struct {
	at, times int
	score     float64
}

// fix takes the fillings chosen. A board whose filling holds more than is left
// is filled anew. It reports whether any board was fixed.
func (c *composer) fix() bool {
	fixed := false
	for n, ch := range c.choose() {
		f := c.pool.list[ch.at]
		if n == 0 && !c.within(f) {
			f = c.refill(f.stock)
		}
		for range ch.times {
			if len(f.fill.places) == 0 || !c.within(f) || c.have[f.stock] == 0 {
				break
			}
			c.lay(f)
			fixed = true
		}
	}
	return fixed
}

// choose lists the fillings that the master uses whole, as often as it does;
// where it uses none so, an eighth of those it uses, the most used first.
func (c *composer) choose() []choice {
	var whole, part []choice
	for k := range c.pool.list {
		x := c.lp.Primal(c.first + k)
		switch {
		case x < 1e-6 || c.have[c.pool.list[k].stock] == 0:
		case x > 1-1e-6:
			whole = append(whole, choice{k, int(x + 1e-6), 0})
		default:
			part = append(part, choice{k, 1, x + 0.3*c.rng.Float64()})
		}
	}
	if len(whole) > 0 {
		return whole
	}
	slices.SortStableFunc(part, func(a, b choice) int { return cmp.Compare(b.score, a.score) })
	return part[:(len(part)+7)/8]
}

// within reports whether a filling holds no more than is left.
func (c *composer) within(f filling) bool {
	for k, n := range f.uses {
		if int(n) > c.left[c.h.g.items[k]] {
			return false
		}
	}
	return true
}

// refill fills a board of a line with what is left.
func (c *composer) refill(stock int) filling {
	card := c.card()
	f := c.h.filling(stock, card.fillBoard(&c.h.p.stocks[stock], c.left))
	c.meter.Spend(card.spent())
	c.add(f)
	return f
}

func (c *composer) lay(f filling) {
	for k, n := range f.uses {
		c.left[c.h.g.items[k]] -= int(n)
	}
	if c.have[f.stock] != unlimitedBoards {
		c.have[f.stock]--
	}
	c.cost += c.h.p.stocks[f.stock].cost
	for k := range c.plan {
		if c.plan[k].stock == f.stock && slices.Equal(c.plan[k].fill.places, f.fill.places) {
			c.plan[k].times++
			return
		}
	}
	c.plan = append(c.plan, used{stock: f.stock, fill: f.fill, times: 1})
}

// finish lays what is left board by board, when the master knows no more.
func (c *composer) finish() bool {
	if c.meter.Over() {
		return false
	}
	b := builder{p: c.h.p, g: c.h.g, price: c.prices(), left: c.left, have: c.have, lines: c.h.g.stocks, rng: c.rng, sections: c.rng.IntN(4)}
	c.plan = append(c.plan, b.run(c.w.over)...)
	return true
}
