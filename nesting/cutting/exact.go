package cutting

import (
	"fmt"
	"slices"

	"batchwright/nesting/solve"
	"batchwright/orders/measure"
)

// Where a wood comes in few sizes of board, sheet goods and what a yard sells by
// the pack above all, the solvers for stock plates and, where every part is as
// wide as its boards, for bars are stronger than the search. They know nothing
// of safe cuts, so that their bound holds for every plan, and what of their
// layout no safe cuts free is laid again by the search.

const (
	fewSizes  = 6           // kinds of boards
	maxParts  = 600         // sizes of parts
	exactWork = 50_000_000  // on the exact solvers, for each second of thinking time
	unitWork  = 100_000_000 // of it, at most for each unit to be laid

	// What is hard for them is put off until the search is over: at first they
	// get one part in so many.
	firstExact = 10
)

// family is what the exact solvers take in one problem: items, and the lines of
// boards, equal ones together, that hold all of them.
type family struct {
	items []int
	kinds [][]int // lines that differ in nothing but their names
	unit  measure.Length
}

// families parts a wood into problems for the exact solvers: all of it, or the
// thicknesses of sheets, none of which may be cut from another's. False: the
// wood is none for them.
func (h *woodSearch) families() ([]family, bool) {
	var out []family
	for _, thick := range h.g.kinds {
		var f family
		at := map[string]int{}
		for _, i := range h.g.items {
			it := &h.p.items[i]
			if it.mixed || it.book {
				return nil, false
			}
			if it.thick == thick && len(it.units) > 0 {
				f.items = append(f.items, i)
			}
		}
		for _, j := range h.g.stocks {
			s := &h.p.stocks[j]
			if !s.takes(thick) {
				continue
			}
			if s.pair || s.cost <= 0 || len(h.g.kinds) > 1 && !s.board.Sheet {
				return nil, false
			}
			key := fmt.Sprint(s.sound, s.defects, s.cost)
			k, known := at[key]
			if !known {
				k = len(f.kinds)
				at[key] = k
				f.kinds = append(f.kinds, nil)
			}
			f.kinds[k] = append(f.kinds[k], j)
		}
		if len(f.items) == 0 {
			continue
		}
		if len(f.kinds) == 0 || len(f.kinds) > fewSizes || len(f.items) > maxParts {
			return nil, false
		}
		h.scale(&f)
		out = append(out, f)
	}
	return out, len(out) > 0
}

// scale finds the largest unit in which every size is whole.
func (h *woodSearch) scale(f *family) {
	unit := int64(0)
	add := func(lengths ...measure.Length) {
		for _, l := range lengths {
			for a := int64(max(l, -l)); a != 0; {
				unit, a = a, unit%a
			}
		}
	}
	add(h.p.set.CrosscutKerf, h.p.set.RipKerf)
	for _, i := range f.items {
		add(h.p.items[i].l, h.p.items[i].w)
	}
	for _, lines := range f.kinds {
		s := &h.p.stocks[lines[0]]
		add(s.sound.length(), s.sound.width())
		for _, d := range s.defects {
			add(d.x0-s.sound.x0, d.y0-s.sound.y0, d.length(), d.width())
		}
	}
	f.unit = max(1, measure.Length(unit))
}

// exactly lays the wood by the exact solvers and takes their bound.
func (h *woodSearch) exactly(work int64, w *watch) {
	if work == 0 || w.over() || h.best.short == 0 && h.best.cost <= h.bound {
		return
	}
	families, ok := h.families()
	if !ok {
		return
	}
	work = min(work, h.units()*unitWork)
	bound := measure.Money(0)
	var fills []used
	for k := range families {
		budget := solve.Budget{Work: work / int64(len(families)), Deadline: w.deadline, Stop: w.stop}
		found, floor := h.bars(&families[k], budget)
		if found == nil {
			found, floor = h.plates(&families[k], budget)
		}
		fills = append(fills, found...)
		bound += floor
	}
	h.bound = max(h.bound, bound)
	if s := h.laid(fills, w); s.better(h.best) {
		h.best = s
	}
}

// kindCount is how many boards of a kind there are.
func (h *woodSearch) kindCount(lines []int) int {
	n := 0
	for _, j := range lines {
		if h.p.stocks[j].board.Unlimited {
			return solve.Unlimited
		}
		n += max(0, h.p.stocks[j].left)
	}
	return min(n, solve.Unlimited-1)
}

// plates solves a family as stock plates; nil: its numbers are too large.
func (h *woodSearch) plates(f *family, budget solve.Budget) (out []used, bound measure.Money) {
	var stock []solve.Stock
	for _, lines := range f.kinds {
		s := &h.p.stocks[lines[0]]
		plate := solve.Plate{Length: int64(s.sound.length() / f.unit), Width: int64(s.sound.width() / f.unit)}
		for _, d := range s.defects {
			plate.Defects = append(plate.Defects, solve.Rect{X: int64((d.x0 - s.sound.x0) / f.unit), Y: int64((d.y0 - s.sound.y0) / f.unit),
				Length: int64(d.length() / f.unit), Width: int64(d.width() / f.unit)})
		}
		if max(plate.Length, plate.Width) >= 1<<30 {
			return nil, 0
		}
		stock = append(stock, solve.Stock{Plate: plate, Count: h.kindCount(lines), Cost: int64(s.cost)})
	}
	var parts []solve.PlatePart
	for _, i := range f.items {
		it := &h.p.items[i]
		parts = append(parts, solve.PlatePart{Length: int64(it.l / f.unit), Width: int64(it.w / f.unit), Max: len(it.units), Turn: it.turn})
	}
	rules := solve.Rules{KerfX: int64(h.p.set.CrosscutKerf / f.unit), KerfY: int64(h.p.set.RipKerf / f.unit)}
	cover := solve.Stock2D(stock, parts, rules, budget)
	for _, cut := range cover.Plates {
		lines := f.kinds[cut.Stock]
		s := &h.p.stocks[lines[0]]
		var places []place
		cut.Tree.Walk(func(n *solve.Node) {
			if n.Part >= 0 {
				places = append(places, place{f.items[n.Part], s.sound.x0 + measure.Length(n.X)*f.unit, s.sound.y0 + measure.Length(n.Y)*f.unit, n.Turned})
			}
		})
		out = append(out, used{stock: lines[0], fill: fill{places: places}, times: cut.Times})
	}
	return h.spread(f, out), measure.Money(cover.Bound)
}

// bars solves a family as bars where two parts never lie side by side; nil: they
// may.
func (h *woodSearch) bars(f *family, budget solve.Budget) (out []used, bound measure.Money) {
	narrow := h.p.items[f.items[0]].w
	problem := solve.BarProblem{Kerf: int64(h.p.set.CrosscutKerf / f.unit)}
	for _, i := range f.items {
		it := &h.p.items[i]
		if it.turn {
			return nil, 0
		}
		narrow = min(narrow, it.w)
		problem.Pieces = append(problem.Pieces, solve.Piece{Length: int64(it.l / f.unit), Count: int64(len(it.units))})
	}
	for _, lines := range f.kinds {
		s := &h.p.stocks[lines[0]]
		wide := func(i int) bool { return h.p.items[i].w > s.sound.width() }
		if len(s.defects) > 0 || 2*narrow+h.p.set.RipKerf <= s.sound.width() || slices.ContainsFunc(f.items, wide) {
			return nil, 0
		}
		problem.Bars = append(problem.Bars, solve.Bar{Length: int64(s.sound.length() / f.unit), Cost: int64(s.cost), Count: int64(h.kindCount(lines))})
	}
	plan, err := solve.Stock1D(problem, budget)
	if err != nil {
		return nil, 0
	}
	for _, pattern := range plan.Patterns {
		lines := f.kinds[pattern.Bar]
		s := &h.p.stocks[lines[0]]
		x := s.sound.x0
		var places []place
		for _, portion := range pattern.Portions {
			i := f.items[portion.Piece]
			for range portion.Count {
				places = append(places, place{i, x, s.sound.y0, false})
				x += h.p.items[i].l + h.p.set.CrosscutKerf
			}
		}
		out = append(out, used{stock: lines[0], fill: fill{places: places}, times: int(pattern.Times)})
	}
	return h.spread(f, out), measure.Money(plan.Bound)
}

// spread gives the boards of one kind to its lines, the first first.
func (h *woodSearch) spread(f *family, plan []used) (out []used) {
	have := h.p.boards()
	for _, u := range plan {
		k := slices.IndexFunc(f.kinds, func(lines []int) bool { return lines[0] == u.stock })
		for _, j := range f.kinds[k] {
			n := min(u.times, have[j])
			if have[j] != unlimitedBoards {
				have[j] -= n
			}
			if u.times -= n; n > 0 {
				out = append(out, used{stock: j, fill: u.fill, times: n})
			}
		}
	}
	return out
}

// laid makes a plan of boards filled without regard to safe cuts and to how much
// is wanted: what is too much is left out, what no safe cuts free is laid again.
func (h *woodSearch) laid(fills []used, w *watch) *state {
	b := h.builder(h.price)
	var plan []used
	for _, u := range fills {
		whole, left := h.p.safe(&h.p.stocks[u.stock], u.fill), u.times
		for left > 0 && b.have[u.stock] > 0 {
			f := b.wanted(u.stock, whole)
			uses := map[int]int{}
			for _, pl := range f.places {
				uses[pl.item] += h.p.each(u.stock, pl.item)
			}
			if len(uses) == 0 {
				break
			}
			n := min(left, b.copies(u.stock, uses))
			for item, each := range uses {
				b.left[item] -= n * each
			}
			if b.have[u.stock] != unlimitedBoards {
				b.have[u.stock] -= n
			}
			plan = append(plan, used{stock: u.stock, fill: f, times: n})
			left -= n
		}
	}
	h.met = append(h.met, h.fillingsOf(plan)...)
	return h.stateOf(b, append(plan, b.run(w.over)...))
}

// wanted is a fill less what is not wanted any more.
func (b *builder) wanted(line int, f fill) fill {
	left := map[int]int{}
	var kept []place
	for _, pl := range f.places {
		if _, seen := left[pl.item]; !seen {
			left[pl.item] = b.left[pl.item] / b.p.each(line, pl.item)
		}
		if left[pl.item] > 0 {
			left[pl.item]--
			kept = append(kept, pl)
		}
	}
	if len(kept) == len(f.places) {
		return f
	}
	f.places = kept
	return b.p.safe(&b.p.stocks[line], f)
}
