package cutting

import (
	"fmt"
	"slices"

	"batchwright/nesting"
	"batchwright/orders/measure"
)

// layout writes the plans out board by board and part by part; short are the
// parts that were not looked at.
func (p *problem) layout(searches []*woodSearch, short []nesting.Short, w *watch) nesting.Layout {
	var out nesting.Layout
	next := make([]int, len(p.items)) // units laid so far
	serial := make([]int, len(p.stocks))
	for _, h := range searches {
		for _, u := range h.best.plan {
			for range u.times {
				serial[u.stock]++
				out.Boards = append(out.Boards, p.board(u, serial[u.stock], next)...)
			}
		}
	}
	for i := range p.items {
		for _, unit := range p.items[i].units[next[i]:] {
			for _, part := range unit {
				out.Short = append(out.Short, nesting.Short{Part: p.job.Parts[part].ID, Why: p.noneLeft(&p.items[i], w)})
			}
		}
	}
	out.Short = append(out.Short, short...)
	p.sortShort(out.Short)
	p.account(&out)
	return out
}

func (p *problem) noneLeft(it *item, w *watch) string {
	if w.ended() {
		return "not laid yet: the search was ended before this part's turn; allow more time with a longer --think"
	}
	return fmt.Sprintf("no board left: every board of %q that takes %s x %s is used up; add boards or make fewer",
		it.wood, p.show(it.l), p.show(it.w))
}

// board writes one physical board, or both leaves of a pair, and takes its
// units off the list.
func (p *problem) board(u used, serial int, next []int) []nesting.CutBoard {
	s := &p.stocks[u.stock]
	out := make([]nesting.CutBoard, len(u.cuts))
	cost := s.worth
	for leaf, cut := range u.cuts {
		share := cost / measure.Money(len(u.cuts)-leaf)
		cost -= share
		out[leaf] = nesting.CutBoard{
			ID: boardID(s, serial), Stock: s.board, Cost: share,
			Length: s.board.Length, Width: s.board.Width, Thickness: s.board.Rough(),
			Cuts: cut.cuts(), Offcuts: cut.offcuts(),
		}
	}
	for _, pl := range u.fill.places {
		it := &p.items[pl.item]
		for leaf := range out {
			unit := it.units[next[pl.item]]
			if !it.book || leaf == len(out)-1 {
				next[pl.item]++
			}
			out[leaf].Pieces = append(out[leaf].Pieces, p.pieces(it.onLeaf(unit, leaf), pl)...)
		}
	}
	return out
}

// boardID tells boards of one line apart: the first keeps the line's name.
func boardID(s *stock, serial int) string {
	if s.board.Unlimited || s.board.Count > 1 {
		return fmt.Sprintf("%s#%d", s.board.ID, serial)
	}
	return s.board.ID
}

// pieces lays the parts of one unit end to end.
func (p *problem) pieces(unit []int, pl place) []nesting.Piece {
	var out []nesting.Piece
	x := pl.x
	for _, u := range unit {
		part := p.job.Parts[u]
		piece := nesting.Piece{Part: part.ID, X: x, Y: pl.y, Length: part.CutLength, Width: part.CutWidth, Turned: pl.turned}
		if pl.turned {
			piece.Length, piece.Width = piece.Width, piece.Length
		}
		out = append(out, piece)
		x += piece.Length + p.set.CrosscutKerf
	}
	return out
}

// saws are the cuts of one fill, leaf by leaf. Where no safe cuts free it,
// stuck is a place that stands in the way.
func (p *problem) saws(s *stock, f fill) (out []*saw, stuck int) {
	for leaf := range s.leaves() {
		w := p.saw(s, f, int(leaf))
		if w.root == nil {
			return nil, p.inTheWay(f, w.stuck)
		}
		out = append(out, w)
	}
	return out, -1
}

// saw finds the cuts of one leaf.
func (p *problem) saw(s *stock, f fill, leaf int) *saw {
	w := &saw{p: p, s: s, memo: map[rect]*node{}, whole: float64(max(1, area(s.board.Length, s.board.Width)))}
	for _, pl := range f.places {
		it := &p.items[pl.item]
		unit := it.onLeaf(it.units[0], leaf)
		for k, piece := range p.pieces(unit, pl) {
			r := rect{piece.X, piece.Y, piece.X + piece.Length, piece.Y + piece.Width}
			w.pieces = append(w.pieces, cutPiece{r, p.job.Parts[unit[k]].Thickness})
		}
	}
	w.root = w.before(rect{0, 0, s.board.Length, s.board.Width}, w.pieces, true)
	return w
}

// inTheWay is the smallest place that lies where no safe cut frees it.
func (p *problem) inTheWay(f fill, stuck []cutPiece) int {
	best, least := 0, int64(-1)
	for i, pl := range f.places {
		l, w := p.extent(pl)
		r := rect{pl.x, pl.y, pl.x + l, pl.y + w}
		among := stuck == nil || slices.ContainsFunc(stuck, func(c cutPiece) bool { return c.overlaps(r) })
		if size := area(l, w); among && (least < 0 || size < least) {
			best, least = i, size
		}
	}
	return best
}

// safe is a fill with its gaps closed up, less what no safe cuts free.
func (p *problem) safe(s *stock, f fill) fill {
	for len(f.places) > 0 {
		neat := f
		neat.places = p.tidy(s, f.places)
		_, stuck := p.saws(s, neat)
		if stuck < 0 {
			return neat
		}
		_, stuck = p.saws(s, f)
		if stuck < 0 {
			return f
		}
		f.value -= f.value / int64(len(f.places))
		f.places = slices.Delete(slices.Clone(f.places), stuck, stuck+1)
	}
	return f
}

// offcuts are what a board leaves over.
func (w *saw) offcuts() []nesting.Offcut {
	var out []nesting.Offcut
	var walk func(n *node)
	walk = func(n *node) {
		if n == nil {
			return
		}
		if n.offcut != nil {
			out = append(out, *n.offcut)
		}
		for _, st := range n.steps {
			walk(st.low)
		}
		walk(n.rest)
	}
	walk(w.root)
	return out
}

// account adds up areas and money, and sets the bounds.
func (p *problem) account(out *nesting.Layout) {
	var kept measure.Area
	out.CostKnown = true
	for _, b := range out.Boards {
		out.Cost += b.Cost
		out.Counted += p.job.money.counted(&b)
		out.AreaUsed = out.AreaUsed.Add(b.Length.Times(b.Width))
		_, known := b.Stock.Worth(p.set)
		out.CostKnown = out.CostKnown && known
		for _, piece := range b.Pieces {
			out.AreaParts = out.AreaParts.Add(piece.Length.Times(piece.Width))
		}
		own := int64(0)
		for _, o := range b.Offcuts {
			if o.Keep {
				kept = kept.Add(o.Length.Times(o.Width))
				own += area(o.Length, o.Width)
			}
		}
		out.Credit += p.credit(b.Cost, own, area(b.Length, b.Width))
	}
	out.AreaUsed = out.AreaUsed.Sub(kept)
	p.accountWork(out)
}

// accountWork adds up the time at the saw and what it costs.
func (p *problem) accountWork(out *nesting.Layout) {
	t, w := &p.set.Times, out.Work()
	seconds := float64(w.Crosscuts)*t.CrosscutEach + float64(w.Rips)*t.RipEach + w.RipFeet*t.RipPerFoot +
		float64(w.Straightedge)*t.StraightedgeEach + float64(w.Settings)*t.SetSaw
	out.CutMinutes = seconds / 60
	out.PriceWork(p.set.Rates.Labour)
}
