package cutting

import (
	"cmp"
	"fmt"
	"slices"
	"time"

	"batchwright/nesting"
	"batchwright/orders"
	"batchwright/orders/measure"
	"batchwright/orders/woods"
)

// minThink is how long the plan may take that first decides what is resawn:
// one round, whatever else the search may do, so that more time to think searches the
// same boards further. A search with no more of it decides no better.
const minThink = time.Millisecond

// nest lays the job with no board resawn and with those that quick plans pick,
// and keeps the best. The bound is of the job in which everything may be resawn.
func (r *resawing) nest(lim nesting.Limits) nesting.Layout {
	share, quick := lim, lim
	share.Think, quick.Think = thinkTime(lim.Think)/3, minThink
	best, outside := layAsLies(r.job, share)
	either, cut := layAsLies(r.either(), quick)
	outside = cmp.Or(outside, cut)
	tried := [][]int{make([]int, len(r.leaves))}
	first := [][]int{r.decide(&either, true), r.decide(&either, false)}
	if thinkTime(lim.Think) > minThink {
		first = append(first, r.climb(first, lim))
	}
	for _, resawn := range first {
		if slices.ContainsFunc(tried, func(t []int) bool { return slices.Equal(t, resawn) }) {
			continue
		}
		tried = append(tried, resawn)
		l, cut := layAsLies(r.decided(resawn), share)
		outside = cmp.Or(outside, cut)
		r.restore(&l)
		if r.better(&l, &best) {
			best = l
		}
	}
	r.bound(&best, lim, outside)
	return best
}

// bound sets the floors under a layout's cost and area: those of its parts on
// boards each of which is used whole or as leaves.
func (r *resawing) bound(l *nesting.Layout, lim nesting.Limits, outside nesting.Stop) {
	short := map[string]bool{}
	for _, s := range l.Short {
		short[s.Part] = true
	}
	job := r.job
	job.Parts = slices.DeleteFunc(slices.Clone(job.Parts), func(p orders.Part) bool { return short[p.ID] })
	p, w := newProblem(job), newWatch(lim)
	p.resawn = r.open(p)
	known := map[string]measure.Money{}
	for i := range l.Boards {
		known[woods.Key(l.Boards[i].Stock.Wood)] += l.Boards[i].Cost
	}
	l.CostBound, l.AreaBound = 0, measure.Area{}
	for _, g := range p.woodGroups() {
		h := &woodSearch{p: p, g: &g}
		l.CostBound += h.bounded(p.demand(), worthOf, known[g.wood], w)
		l.AreaBound = l.AreaBound.Add(h.areaFloor(p.demand(), w))
	}
	l.Proven = l.Cost == l.CostBound
	switch {
	case l.Proven:
		l.Stop = nesting.StopProven
	default:
		l.Stop = cmp.Or(outside, nesting.StopBudget)
	}
}

// leaves are what one board is sawn into: so many of a stock.
type leaves struct {
	stock stock
	n     int
}

// open lists what the boards of each stock may be sawn into, each number of
// leaves once.
func (r *resawing) open(p *problem) map[int][]leaves {
	out := map[int][]leaves{}
	for _, line := range r.leaves {
		if slices.ContainsFunc(out[line.parent], func(l leaves) bool { return l.n == line.n }) {
			continue
		}
		leaf := p.stocks[line.parent].board
		leaf.Class, leaf.Thickness = "", line.finished+p.set.Planing
		out[line.parent] = append(out[line.parent], leaves{p.openBoard(leaf), line.n})
	}
	return out
}

// better: less is short, or it costs less, or less of that is bought, or it uses
// less wood.
func (r *resawing) better(a, b *nesting.Layout) bool {
	if c := r.shortOf(a).Cmp(r.shortOf(b)); c != 0 {
		return c < 0
	}
	return cmp.Or(cmp.Compare(a.Net(), b.Net()), cmp.Compare(boughtFor(a), boughtFor(b)), a.AreaUsed.Cmp(b.AreaUsed)) < 0
}

// boughtFor is what a layout costs of boards that do not lie on the rack.
func boughtFor(l *nesting.Layout) (sum measure.Money) {
	for i := range l.Boards {
		if b := &l.Boards[i]; isBought(&b.Stock) {
			sum += b.Cost
		}
	}
	return sum
}

func (r *resawing) shortOf(l *nesting.Layout) (sum measure.Area) {
	size := make(map[string]measure.Area, len(r.job.Parts))
	for _, p := range r.job.Parts {
		size[p.ID] = p.CutLength.Times(p.CutWidth)
	}
	for _, s := range l.Short {
		sum = sum.Add(size[s.Part])
	}
	return sum
}

// restore gives a layout the boards of the rack and yard back: whole ones
// under their names, then the leaves of each that is resawn.
func (r *resawing) restore(l *nesting.Layout) {
	p := &problem{job: r.job, set: &r.job.Settings}
	boards := p.openStock()
	serial := make([]int, len(boards))
	name := func(i int) string {
		serial[i]++
		return boardID(&boards[i], serial[i])
	}
	var whole []nesting.CutBoard
	leaves := map[string][]nesting.CutBoard{}
	for _, b := range l.Boards {
		i, isWhole := r.wholeLine(b.Stock.ID)
		if !isWhole {
			leaves[b.Stock.ID] = append(leaves[b.Stock.ID], b)
			continue
		}
		b.ID, b.Stock = name(i), boards[i].board
		whole = append(whole, b)
	}
	l.Boards = whole
	for k, line := range r.leaves {
		for cut := range slices.Chunk(leaves[leafName(k)], line.n) {
			l.Boards = append(l.Boards, p.sawn(&boards[line.parent], line, name(line.parent), cut)...)
		}
	}
	l.Cost, l.Counted, l.Credit, l.AreaUsed, l.AreaParts = 0, 0, 0, measure.Area{}, measure.Area{}
	p.account(l)
}

// sawn are the leaves of one physical board: those with parts, then those that
// go back to the rack squared and otherwise as they come off the saw. The
// board's cost is shared among them to the cent.
func (p *problem) sawn(s *stock, line leafLine, of string, cut []nesting.CutBoard) []nesting.CutBoard {
	out := slices.Clone(cut)
	for len(out) < line.n {
		spare := &saw{p: p, s: s, whole: float64(max(1, area(s.board.Length, s.board.Width)))}
		spare.root = spare.drop(rect{0, 0, s.board.Length, s.board.Width}, true)
		out = append(out, nesting.CutBoard{Length: s.board.Length, Width: s.board.Width, Cuts: spare.cuts(), Offcuts: spare.offcuts()})
	}
	n := measure.Money(line.n)
	for i := range out {
		b, k := &out[i], measure.Money(i)
		b.Leaf = nesting.Leaf{Of: of, N: i + 1, Count: line.n}
		b.ID = fmt.Sprintf("%s/%d", of, i+1)
		b.Stock, b.Thickness = s.board, line.thick
		b.Cost = (s.worth*(k+1))/n - s.worth*k/n
	}
	return out
}
