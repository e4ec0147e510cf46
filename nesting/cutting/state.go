package cutting

import (
	"cmp"
	"math/rand/v2"
	"slices"

	"batchwright/orders"
	"batchwright/orders/measure"
)

// state is a plan of one wood, with what is left to lay and the boards left.
type state struct {
	p    *problem
	g    *woodGroup
	plan []used
	left []int
	have []int

	short  int64 // area of what lies nowhere
	cost   measure.Money
	worth  measure.Money // printed
	net    measure.Money // less what the offcuts kept count for
	bought measure.Money // of it: boards that do not lie on the rack
	kept   int64         // area of offcuts kept, in the coarse unit
	work   int64         // milliseconds at the saw, about
	spare  int64         // what is kept of sheets counts for, in milliseconds
}

// measure adds up what a plan is judged by.
func (s *state) measure() {
	s.worth = 0
	s.short, s.cost, s.net, s.bought, s.kept, s.work = 0, 0, 0, 0, 0, 0
	s.spare = 0
	for _, i := range s.g.items {
		s.short += int64(s.left[i]) * s.p.items[i].value
	}
	for k := range s.plan {
		u := &s.plan[k]
		st := &s.p.stocks[u.stock]
		s.cost += measure.Money(u.times) * st.cost
		s.worth += measure.Money(u.times) * st.worth
		if isBought(&st.board) {
			s.bought += measure.Money(u.times) * st.cost
		}
		kept := s.p.keptOf(u)
		s.kept += int64(u.times) * kept
		s.net += measure.Money(u.times) * (st.cost - s.p.credit(st.worth, kept, st.leaves()*area(st.board.Length, st.board.Width)))
		s.work += s.p.workOf(u)
		s.spare += s.p.spareOf(u)
	}
}

// credit is what kept offcuts of a board count for: so many percent of their
// share of its cost, rounded down.
func (p *problem) credit(cost measure.Money, kept, whole int64) measure.Money {
	if kept == 0 || whole == 0 || p.set.KeptCounts == 0 {
		return 0
	}
	return measure.Money(float64(cost) * float64(kept) / float64(whole) * p.set.KeptCounts / 100)
}

// isBought reports whether a board must be brought from the yard.
func isBought(b *orders.Board) bool {
	return b.Origin == orders.FromYard || b.Origin == orders.FromTypical
}

// keptOf is the area of the offcuts one board gives back.
func (p *problem) keptOf(u *used) int64 {
	if u.cuts == nil {
		u.cuts, _ = p.saws(&p.stocks[u.stock], u.fill)
	}
	sum := int64(0)
	for _, cut := range u.cuts {
		for _, o := range cut.offcuts() {
			if o.Keep {
				sum += area(o.Length, o.Width)
			}
		}
	}
	return sum
}

// workOf is the milliseconds it takes to cut the boards cut one way: every cut,
// and for each distance on them stop or fence set once.
func (p *problem) workOf(u *used) int64 {
	if u.work == 0 {
		p.keptOf(u)
		for _, cut := range u.cuts {
			u.work += cut.root.work
			u.sets += cut.settings()
		}
	}
	return int64(u.times)*u.work + int64(u.sets)*int64(1000*p.set.Times.SetSaw)
}

// spareOf is what the offcuts kept of the sheets cut one way count for in
// milliseconds of work, one large one for more than many thin ones.
func (p *problem) spareOf(u *used) int64 {
	if !p.stocks[u.stock].board.Sheet {
		return 0
	}
	p.keptOf(u)
	sum := int64(0)
	for _, cut := range u.cuts {
		for _, o := range cut.offcuts() {
			if o.Keep {
				sum += cut.worth(rect{o.X, o.Y, o.X + o.Length, o.Y + o.Width})
			}
		}
	}
	return int64(u.times) * sum
}

// settings counts the distances that stop and fence are set to on a board.
func (w *saw) settings() int {
	type setting struct {
		axis axis
		set  measure.Length
	}
	seen := map[setting]bool{}
	var walk func(n *node)
	walk = func(n *node) {
		if n == nil {
			return
		}
		lo, _ := n.region.span(n.axis)
		for _, st := range n.steps {
			seen[setting{n.axis, st.at - lo}] = true
			walk(st.low)
			lo = st.at + w.kerf(n.axis)
		}
		walk(n.rest)
	}
	walk(w.root)
	return len(seen)
}

// wood is the area of the boards used.
func (s *state) wood() int64 {
	sum := int64(0)
	for _, u := range s.plan {
		st := &s.p.stocks[u.stock]
		sum += int64(u.times) * st.leaves() * area(st.board.Length, st.board.Width)
	}
	return sum
}

// saves: less is short, or it costs less net of what is kept, or less of that is bought, or it uses
// less wood.
func (s *state) saves(t *state) bool {
	switch {
	case s.short != t.short:
		return s.short < t.short
	case s.net != t.net:
		return s.net < t.net
	case s.bought != t.bought:
		return s.bought < t.bought
	}
	return s.wood()-s.kept < t.wood()-t.kept
}

// better: it saves something, or among equals it is less work at the saw.
func (s *state) better(t *state) bool {
	return s.saves(t) || s.work < t.work && !t.saves(s)
}

// near lets a search pass through a plan that is a little dearer.
func (s *state) near(t *state, rng *rand.Rand) bool {
	return s.short <= t.short && s.net <= t.net+t.cost/100 && rng.IntN(8) == 0
}

func (s *state) clone() *state {
	c := *s
	c.plan = slices.Clone(s.plan)
	c.left, c.have = slices.Clone(s.left), slices.Clone(s.have)
	return &c
}

// chain searches for a slice of work from the best plan: it takes boards apart
// and lays their parts again at prices learnt from the plan (sequential value
// correction: what lay on a badly used board is worth more the next time; G.
// Belov and G. Scheithauer, INFORMS Journal on Computing 19, 2007, from memory).
func (h *woodSearch) chain(rng *rand.Rand, w *watch) lane {
	out := lane{best: h.best, easy: h.easy}
	now := out.best.clone()
	price := slices.Clone(h.price)
	var met pool
	for work := int64(0); work < h.slice && !w.over(); {
		next, spent := h.relay(now, price, rng, w)
		if next.short == 0 && next.cost <= out.best.cost+out.best.cost/16 && len(h.g.items) <= maxComposed {
			for _, f := range h.fillingsOf(next.plan) {
				met.add(f)
			}
		}
		work += spent
		h.learn(price, next, rng)
		if !now.better(next) || next.near(now, rng) {
			now = next
		}
		if now.better(out.best) {
			out.best = now
		}
		out.easy = easier(next, out.easy, out.best)
	}
	out.met = met.list
	return out
}

// relay takes some boards of a plan apart and lays them again.
func (h *woodSearch) relay(s *state, price []int64, rng *rand.Rand, w *watch) (*state, int64) {
	next := s.clone()
	lines := next.takeApart(h.choose(s, rng))
	lines = next.addLines(lines, rng)
	b := builder{p: h.p, g: h.g, price: price, left: next.left, have: next.have, lines: lines,
		rng: rng, sections: rng.IntN(4)}
	next.plan = append(next.plan, b.run(w.over)...)
	next.measure()
	return next, b.spent + 20_000
}

// learn moves prices towards what each item cost where it lies.
func (h *woodSearch) learn(price []int64, s *state, rng *rand.Rand) {
	total, wood := int64(0), int64(0)
	for _, u := range s.plan {
		total += int64(u.times) * int64(h.p.stocks[u.stock].cost)
		wood += int64(u.times) * h.area(u)
	}
	if total == 0 || wood == 0 {
		return
	}
	share := 1 + rng.IntN(4) // eighths of the new value
	for _, u := range s.plan {
		here := h.area(u)
		rate := float64(h.p.stocks[u.stock].cost) / float64(here) * float64(wood) / float64(total)
		for _, pl := range u.fill.places {
			it := &h.p.items[pl.item]
			want := int64(rate * float64(it.leaves()*area(it.l+h.p.set.CrosscutKerf, it.w+h.p.set.RipKerf)))
			price[pl.item] += (want - price[pl.item]) * int64(share) / 32
			price[pl.item] = max(price[pl.item], 1)
		}
	}
}

// area is what the parts on one board take, their kerfs included.
func (h *woodSearch) area(u used) int64 {
	sum := int64(0)
	for _, pl := range u.fill.places {
		it := &h.p.items[pl.item]
		sum += area(it.l+h.p.set.CrosscutKerf, it.w+h.p.set.RipKerf)
	}
	return sum * h.p.stocks[u.stock].leaves()
}

// maxApart bounds the boards taken apart at once: of many more, a composition
// makes better use.
const maxApart = 60

// choose picks boards to take apart: a handful or many, badly used ones first.
func (h *woodSearch) choose(s *state, rng *rand.Rand) []int {
	n := len(s.plan)
	order := make([]int, n)
	use := make([]float64, n)
	for k, u := range s.plan {
		order[k] = k
		use[k] = float64(h.area(u)) / (float64(h.p.stocks[u.stock].cost) + 1) * (1 - 0.1*rng.Float64())
	}
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(use[a], use[b]) })
	many := 2 + rng.IntN(4)
	if rng.IntN(3) == 0 {
		many = 2 + rng.IntN(max(1, min(n, maxApart)))
	}
	var out []int
	for len(out) < min(many, n) {
		k := order[int(float64(n)*rng.Float64()*rng.Float64())]
		if !slices.Contains(out, k) {
			out = append(out, k)
		}
	}
	return out
}

// takeApart removes one board of each of these entries and returns their lines.
func (s *state) takeApart(entries []int) []int {
	var lines []int
	slices.SortFunc(entries, func(a, b int) int { return b - a })
	for _, k := range entries {
		u := &s.plan[k]
		if !slices.Contains(lines, u.stock) {
			lines = append(lines, u.stock)
		}
		for _, pl := range u.fill.places {
			s.left[pl.item] += s.p.each(u.stock, pl.item)
		}
		if s.have[u.stock] != unlimitedBoards {
			s.have[u.stock]++
		}
		u.times--
		if u.times == 0 {
			s.plan = slices.Delete(s.plan, k, k+1)
		}
	}
	return lines
}

// moreLines is how many other lines a relay may choose from.
const moreLines = 12

// addLines adds a choice of the other lines of which boards are left, and now
// and then leaves lines out, so that a board that looks dear is tried in the
// place of one that looks cheap.
func (s *state) addLines(lines []int, rng *rand.Rand) []int {
	all := s.g.stocks
	if len(all) <= moreLines {
		lines = slices.Clone(all)
	} else {
		for range moreLines {
			if j := all[rng.IntN(len(all))]; s.have[j] > 0 && !slices.Contains(lines, j) {
				lines = append(lines, j)
			}
		}
		slices.Sort(lines)
	}
	barred := rng.IntN(3)
	return slices.DeleteFunc(lines, func(int) bool { return rng.IntN(6) < barred })
}
