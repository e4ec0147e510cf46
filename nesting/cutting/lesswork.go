package cutting

import (
	"math/rand/v2"
	"slices"

	"batchwright/orders/measure"
)

// lane is what one of the searches of a round finds.
type lane struct {
	best *state    // the cheapest plan; nil: none
	easy *state    // of those nearly as cheap, the least work; nil: none
	met  []filling // on the way
}

// easier is a plan where it may take the place of another: it leaves nothing
// out that the cheapest lays, its wood costs hardly more, and it is less work.
// With a labor rate wood and work count as money.
func easier(s, than, cheapest *state) *state {
	if s == nil || !s.mayReplace(cheapest) {
		return than
	}
	if than == nil || s.burden() < than.burden() {
		return s
	}
	return than
}

// mayReplace: as much is laid, at a wood cost within Wood before work; with a
// labor rate, at less wood and work together.
func (s *state) mayReplace(cheapest *state) bool {
	if s.short > cheapest.short {
		return false
	}
	if s.p.set.Rates.Labour > 0 {
		return s.burden() <= cheapest.burden()
	}
	return float64(s.net-cheapest.net) <= float64(cheapest.worth)*s.p.set.WoodBeforeWork/100
}

// burden is what plans that may replace each other are compared by: wood and
// work in hundredths of a cent with a labor rate, else work. What is kept of
// sheets is work saved, so that no sheet is shredded to save a minute.
func (s *state) burden() float64 {
	if rate := s.p.set.Rates.Labour; rate > 0 {
		return 100*float64(s.net) + 100*float64(rate)*float64(s.work-s.spare)/3_600_000
	}
	return float64(s.work - s.spare)
}

// ease searches for a slice of work for plans nearly as cheap that are less
// work, from the easiest so far.
func (h *woodSearch) ease(rng *rand.Rand, w *watch) lane {
	now := h.easy
	if now == nil || !now.mayReplace(h.best) {
		now = h.best
	}
	out := lane{best: h.best, easy: now}
	price := slices.Clone(h.price)
	for work := int64(0); work < h.slice && !w.over(); {
		next, spent := h.relay(now, price, rng, w)
		work += spent
		h.learn(price, next, rng)
		if next.better(out.best) {
			out.best = next
		}
		if next.mayReplace(out.best) && next.burden() <= now.burden() {
			now = next
		}
		out.easy = easier(next, out.easy, out.best)
	}
	return out
}

// settleOn ends the searches of all woods.
func settleOn(searches []*woodSearch, w *watch) {
	for _, h := range searches {
		h.settleOn()
		h.relaySheets(w)
		h.best.plan = h.p.firstOfAlike(h.best.plan)
	}
}

// settleOn takes the easy plan where there is one, and keeps what the cheapest
// costs.
func (h *woodSearch) settleOn() {
	h.cheapest = h.best.worth
	if h.easy != nil && h.easy.mayReplace(h.best) && h.easy.burden() < h.best.burden() {
		h.best = h.easy
	}
	h.cheapest = min(h.cheapest, h.best.worth)
}

// cheapestOf adds up what the cheapest plans cost.
func cheapestOf(searches []*woodSearch) (sum measure.Money) {
	for _, h := range searches {
		sum += h.cheapest
	}
	return sum
}
