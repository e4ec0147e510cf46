package cutting

import (
	"fmt"

	"batchwright/nesting"
	"batchwright/orders/measure"
)

// layout writes the plans out board by board and part by part; short are the
// parts that were not looked at.
func (p *problem) layout(hunts []*hunt, short []nesting.Short, w *watch) nesting.Layout {
	var out nesting.Layout
	next := make([]int, len(p.items)) // units laid so far
	serial := make([]int, len(p.stocks))
	for _, h := range hunts {
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
func (p *problem) board(u used, serial int, next []int) []nesting.Board {
	s := &p.stocks[u.stock]
	out := make([]nesting.Board, len(u.cuts))
	cost := s.worth
	for leaf, cut := range u.cuts {
		share := cost / measure.Money(len(u.cuts)-leaf)
		cost -= share
		out[leaf] = nesting.Board{
			ID: boardID(s, serial), Stock: s.board, Cost: share,
			Length: s.board.Length, Width: s.board.Width, Thickness: s.board.Rough(),
			Cuts: cut.cuts(), Offcuts: cut.offcuts,
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

// saws are the cuts of one fill, leaf by leaf.
func (p *problem) saws(s *stock, f fill) []*saw {
	out := make([]*saw, s.leaves())
	for leaf := range out {
		out[leaf] = p.saw(s, f, leaf)
	}
	return out
}

// saw finds the cuts of one leaf: whichever way of starting keeps more and cuts
// less, unless the shop says how to start.
func (p *problem) saw(s *stock, f fill, leaf int) *saw {
	var pieces []cutPiece
	for _, pl := range f.places {
		it := &p.items[pl.item]
		unit := it.onLeaf(it.units[0], leaf)
		for k, piece := range p.pieces(unit, pl) {
			r := rect{piece.X, piece.Y, piece.X + piece.Length, piece.Y + piece.Width}
			pieces = append(pieces, cutPiece{r, p.job.Parts[unit[k]].Thickness})
		}
	}
	var best *saw
	for _, first := range p.starts() {
		w := &saw{p: p, s: s, pieces: pieces}
		w.before(rect{0, 0, s.board.Length, s.board.Width}, pieces, first)
		if best == nil || w.better(best) {
			best = w
		}
	}
	return best
}

func (p *problem) starts() []axis {
	switch p.set.CutFirst {
	case "crosscut":
		return []axis{alongX}
	case "rip":
		return []axis{alongY}
	}
	return []axis{alongX, alongY}
}

func (w *saw) better(v *saw) bool {
	if c := w.kept().Cmp(v.kept()); c != 0 {
		return c > 0
	}
	return len(w.rough)+len(w.final) < len(v.rough)+len(v.final)
}

func (w *saw) kept() measure.Area {
	var sum measure.Area
	for _, o := range w.offcuts {
		if o.Keep {
			sum = sum.Add(o.Length.Times(o.Width))
		}
	}
	return sum
}

// cuts numbers the cuts in the order they are made.
func (w *saw) cuts() []nesting.Cut {
	all := make([]nesting.Cut, 0, len(w.rough)+len(w.final))
	all = append(append(all, w.rough...), w.final...)
	for i := range all {
		all[i].N = i + 1
	}
	return all
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
}
