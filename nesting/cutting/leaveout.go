package cutting

import (
	"slices"

	"batchwright/nesting"
	"batchwright/orders/measure"
)

// maxLeftOut bounds the trials without some boards that a wood gets: together
// they are no more rounds than the search had, four times as many where it had
// only a few.
const maxLeftOut = 12

// roundsWithout is how long plans without several boards of the rack, or
// without its only one, are looked for.
const roundsWithout = 5

// leaveOut tries plans without boards that the search may have been misled by,
// and keeps what is better: without the whole rack, without those of it that
// cost something, without those not used, without one that is used. A board more
// on the rack is one to leave out, so that it does not make a plan dearer.
func (p *problem) leaveOut(searches []*woodSearch, lim nesting.Limits, w *watch) {
	most := int(min(maxLeftOut, 4*rounds(lim.Think)))
	if thinkTime(lim.Think) <= minThink {
		return
	}
	for _, h := range searches {
		if h.best.short == 0 && h.best.cost <= h.bound || len(h.best.plan) == 0 {
			continue
		}
		for tries := 0; tries < most && !w.over(); {
			found := false
			closings := h.closings()
			for _, closed := range closings {
				tries++
				if s := h.without(closed, len(closings), lim, w); s != nil && s.saves(h.best) {
					h.best, found = s, true
					break
				}
				if tries == most || w.over() {
					break
				}
			}
			if !found {
				break
			}
		}
	}
}

// closings are the sets of lines that are worth trying to do without.
func (h *woodSearch) closings() (out [][]int) {
	var rack, priced, idle []int
	for _, j := range h.g.stocks {
		if isBought(&h.p.stocks[j].board) {
			continue
		}
		rack = append(rack, j)
		if h.p.stocks[j].cost > 0 {
			priced = append(priced, j)
		}
		if !slices.ContainsFunc(h.best.plan, func(u used) bool { return u.stock == j }) {
			idle = append(idle, j)
		}
	}
	for _, closed := range [][]int{rack, priced, idle} {
		known := slices.ContainsFunc(out, func(o []int) bool { return slices.Equal(o, closed) })
		if len(closed) > 0 && !known && len(closed) < len(h.g.stocks) {
			out = append(out, closed)
		}
	}
	for _, j := range rack {
		if !slices.Contains(idle, j) && len(h.g.stocks) > 1 {
			out = append(out, []int{j})
		}
	}
	return out
}

// without searches for a plan that does without some lines, one of several such
// sets; nil: it has none, or none that could be cheaper. The fewer sets there
// are, the longer each is looked at.
func (h *woodSearch) without(closed []int, sets int, lim nesting.Limits, w *watch) *state {
	g := *h.g
	g.stocks = slices.DeleteFunc(slices.Clone(g.stocks), func(j int) bool { return slices.Contains(closed, j) })
	trial := h.p.firstSearch(&g, w)
	if len(trial.best.plan) == 0 {
		return nil
	}
	trial.slice, trial.bound = h.slice, h.bound
	all := rounds(lim.Think)
	most := max(1, all/maxLeftOut, min(all, roundsWithout)/uint64(sets))
	if len(closed) > 1 || sets == 1 {
		if h.best.short == 0 && measure.Money(trial.lineBound(h.p.demand(), countOf, w).Bound) >= h.best.cost {
			return nil
		}
		most = min(all, roundsWithout)
	}
	for round := range most {
		if w.over() || trial.done() {
			break
		}
		improve([]*woodSearch{trial}, uint64(lim.Seed), round, w)
	}
	h.share(trial)
	s := trial.best.clone()
	s.g = h.g
	s.measure()
	return s
}
