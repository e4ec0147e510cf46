package cutting

import (
	"slices"

	"batchwright/nesting/solve"
	"batchwright/orders"
	"batchwright/orders/measure"
)

// lineProblem is the job of one wood as its line relaxation: sizes with their
// kerf, boards as the clear widths that lines across and along them meet. cost
// says what a board counts as.
func (p *problem) lineProblem(g *woodGroup, placed []int, cost func(*stock) int64) solve.LineProblem {
	var lp solve.LineProblem
	for _, i := range g.items {
		it := &p.items[i]
		if it.mixed { // its parts are counted below
			lp.Parts = append(lp.Parts, solve.LinePart{Length: int64(it.l), Width: int64(it.w)})
			continue
		}
		part := solve.LinePart{
			Length: int64(it.l + p.set.CrosscutKerf), Width: int64(it.w + p.set.RipKerf),
			Kind: g.lineKind(it.thick, it), Count: int64(placed[i]) * it.leaves(),
		}
		if it.turn {
			part.Turned = [2]int64{int64(it.w + p.set.CrosscutKerf), int64(it.l + p.set.RipKerf)}
		}
		lp.Parts = append(lp.Parts, part)
	}
	p.eachOfMixed(g, func(i int, part *orders.Part) {
		lp.Parts = append(lp.Parts, solve.LinePart{
			Length: int64(part.CutLength + p.set.CrosscutKerf), Width: int64(part.CutWidth + p.set.RipKerf),
			Kind: g.lineKind(part.Thickness, &p.items[i]), Count: int64(placed[i]),
		})
	})
	for _, j := range g.stocks {
		s := &p.stocks[j]
		b := solve.LineBoard{Count: solve.Unlimited, Cost: cost(s)}
		if !s.board.Unlimited {
			b.Count = int64(max(0, s.left))
		}
		b.Ways = append(b.Ways, p.lineWay(g, s, int(s.leaves())))
		for _, leaf := range p.resawn[j] {
			b.Ways = append(b.Ways, p.lineWay(g, &leaf.stock, leaf.n))
		}
		lp.Boards = append(lp.Boards, b)
	}
	return lp
}

// eachOfMixed goes through the parts of the wood group's runs of several thicknesses:
// a line meets each of them on its own.
func (p *problem) eachOfMixed(g *woodGroup, f func(i int, part *orders.Part)) {
	for _, i := range g.items {
		if it := &p.items[i]; it.mixed && len(it.units) > 0 {
			for _, u := range it.units[0] {
				f(i, &p.job.Parts[u])
			}
		}
	}
}

// lineWay is what so many leaves of a stock give, two of which may be opened
// like a book.
func (p *problem) lineWay(g *woodGroup, s *stock, leaves int) (w solve.LineWay) {
	for _, thick := range g.kinds {
		w.Kinds = append(w.Kinds, s.takes(thick), s.takes(thick) && leaves > 1)
	}
	for range leaves {
		w.Across = append(w.Across, stretches(s, alongX, p.set.CrosscutKerf, p.set.RipKerf)...)
		w.Along = append(w.Along, stretches(s, alongY, p.set.RipKerf, p.set.CrosscutKerf)...)
	}
	return w
}

// woodGroup is what shares boards: the items and stock of one wood.
type woodGroup struct {
	wood   string
	items  []int
	stocks []int
	kinds  []measure.Length // finished thicknesses, thin to thick

	pairing []bool // what its stocks are: boards, pairs of leaves
}

// add lists a thickness, once; they are a few and sorted in the end.
func (g *woodGroup) add(thick measure.Length) {
	if !slices.Contains(g.kinds, thick) {
		g.kinds = append(g.kinds, thick)
	}
}

// kind is the place of a thickness among the wood group's.
func (g *woodGroup) kind(thick measure.Length) int {
	k, _ := slices.BinarySearch(g.kinds, thick)
	return k
}

// lineKind tells apart, of one thickness, what lies on any board and what lies
// on pairs of leaves.
func (g *woodGroup) lineKind(thick measure.Length, it *item) int {
	return 2*g.kind(thick) + int(it.leaves()) - 1
}

// woodGroups groups the problem by wood, in the order of the items.
func (p *problem) woodGroups() []woodGroup {
	at := map[string]int{}
	var out []woodGroup
	for i := range p.items {
		it := &p.items[i]
		k, ok := at[it.wood]
		if !ok {
			k = len(out)
			at[it.wood] = k
			out = append(out, woodGroup{wood: it.wood})
		}
		g := &out[k]
		g.items = append(g.items, i)
		g.add(it.thick)
		if it.mixed && len(it.units) > 0 {
			for _, u := range it.units[0] {
				g.add(p.job.Parts[u].Thickness)
			}
		}
	}
	for j := range p.stocks {
		if k, ok := at[p.stocks[j].wood]; ok && (len(p.resawn[j]) > 0 || p.holdsAny(&p.stocks[j], out[k].items)) {
			out[k].stocks = append(out[k].stocks, j)
			if pair := p.stocks[j].pair; !slices.Contains(out[k].pairing, pair) {
				out[k].pairing = append(out[k].pairing, pair)
			}
		}
	}
	for k := range out {
		slices.Sort(out[k].kinds)
	}
	return out
}

// holdsAny reports whether a stock holds some item; one that holds none would
// only lead the search astray.
func (p *problem) holdsAny(s *stock, items []int) bool {
	return slices.ContainsFunc(items, func(i int) bool {
		it := &p.items[i]
		return len(it.units) > 0 && s.suits(it) && p.aloneOn(s, it).clear
	})
}

// takes reports whether the board yields the finished thickness.
func (s *stock) takes(thick measure.Length) bool {
	if s.board.Sheet {
		return s.yields == thick
	}
	return thick <= s.yields
}

// stretches lists what parallel lines through a board meet, a kerf added to
// each clear interval and to the board as a whole. Lines are told apart along
// a. A part with its kerf beside it may reach a kerf into a defect, so that a
// defect counts for a kerf less.
func stretches(s *stock, a axis, kerf, otherKerf measure.Length) []solve.Stretch {
	lo, hi := s.sound.span(a)
	marks := []measure.Length{lo, hi + kerf}
	for _, d := range s.defects {
		dlo, dhi := d.span(a)
		if dlo+kerf < dhi {
			marks = append(marks, dlo+kerf, dhi)
		}
	}
	slices.Sort(marks)
	var out []solve.Stretch
	for i, from := range marks[:len(marks)-1] {
		if to := marks[i+1]; to > from && from < hi+kerf {
			out = append(out, solve.Stretch{Extent: int64(to - from), Clear: s.meets(a, from, kerf, otherKerf)})
		}
	}
	return out
}

// meets lists the clear intervals on the line at one place.
func (s *stock) meets(a axis, at, kerf, otherKerf measure.Length) []int64 {
	lo, hi := s.sound.span(a.other())
	blocked := [][2]measure.Length{}
	for _, d := range s.defects {
		dlo, dhi := d.span(a)
		if dlo+kerf <= at && at < dhi {
			from, to := d.span(a.other())
			blocked = append(blocked, [2]measure.Length{from, to})
		}
	}
	slices.SortFunc(blocked, func(p, q [2]measure.Length) int { return int(max(-1, min(1, p[0]-q[0]))) })
	var out []int64
	add := func(from, to measure.Length) {
		if to > from {
			out = append(out, int64(to-from+otherKerf))
		}
	}
	for _, b := range blocked {
		add(lo, b[0])
		lo = max(lo, b[1])
	}
	add(lo, hi)
	return out
}

// areaWork is the most spent on one floor of area.
const areaWork = 300_000_000

// areaFloor is a proven floor under the area used by a plan of this wood: the
// parts, each with a kerf beside and above, and for every board at least what
// its raw ends and edges take beyond the kerfs that fall outside its sound
// wood. Where a board's trims are smaller than that, kerfs are not counted.
// When time is up it is the area of the parts.
func (h *woodSearch) areaFloor(placed []int, w *watch) measure.Area {
	if w.over() {
		return h.areaOf(placed, 0, 0)
	}
	kx, ky := h.p.set.CrosscutKerf, h.p.set.RipKerf
	for _, j := range h.g.stocks {
		if beyondKerfs(&h.p.stocks[j], kx, ky) < 0 {
			kx, ky = 0, 0
		}
	}
	lp := h.p.lineProblem(h.g, placed, func(s *stock) int64 { return s.leaves() * max(0, beyondKerfs(s, kx, ky)) })
	lines := solve.Lines(lp, solve.Budget{Work: areaWork, Deadline: w.deadline, Stop: w.stop})
	trims := measure.Length(1 << 10).Times(measure.Length(lines.Bound) << 10)
	return h.areaOf(placed, kx, ky).Add(trims)
}

// beyondKerfs is what a board's raw ends and edges take less the kerfs that may
// fall outside its sound wood, in the coarse unit of area, rounded down.
func beyondKerfs(s *stock, kx, ky measure.Length) int64 {
	up := func(l measure.Length) measure.Length {
		if l == 0 {
			return 0
		}
		return l + 1<<10
	}
	l, w := s.sound.length(), s.sound.width()
	kerfs := area(up(w), up(kx)) + area(up(l), up(ky)) + area(up(kx), up(ky))
	return area(s.board.Length, s.board.Width) - area(up(l), up(w)) - kerfs
}

// areaOf adds up the parts laid, each grown by a kerf either way; one that may
// be turned as it gains less.
func (h *woodSearch) areaOf(placed []int, kx, ky measure.Length) measure.Area {
	var sum measure.Area
	for _, i := range h.g.items {
		it := &h.p.items[i]
		for _, unit := range it.units[:placed[i]] {
			for _, u := range unit {
				part := h.p.job.Parts[u]
				grown := (part.CutLength + kx).Times(part.CutWidth + ky)
				if turned := (part.CutLength + ky).Times(part.CutWidth + kx); it.turn && turned.Cmp(grown) < 0 {
					grown = turned
				}
				sum = sum.Add(grown)
			}
		}
	}
	return sum
}
