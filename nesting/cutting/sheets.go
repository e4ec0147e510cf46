package cutting

import (
	"cmp"
	"slices"

	"batchwright/nesting"
	"batchwright/orders/measure"
)

// maxRelaid bounds the sheets of one wood that are laid again.
const maxRelaid = 60

// relaySheets lays what lies on each sheet once more where that is less work or
// leaves one large piece in the place of thin ones. No other part moves.
func (h *woodSearch) relaySheets(w *watch) {
	plan := slices.Clone(h.best.plan)
	for k := range min(len(plan), maxRelaid) {
		s := &h.p.stocks[plan[k].stock]
		if !s.board.Sheet || len(s.defects) > 0 || w.over() {
			continue
		}
		plan[k] = h.p.relaidSheet(plan[k])
	}
	again := h.best.clone()
	again.plan = plan
	again.measure()
	if again.net <= h.best.net {
		h.best = again
	}
}

// relaidSheet is the easiest of the ways tried to lay a sheet's places.
func (p *problem) relaidSheet(u used) used {
	s := &p.stocks[u.stock]
	best, least := u, p.sheetMinutes(&u)
	for _, order := range p.turnings(u.fill.places) {
		for _, a := range []axis{alongX, alongY} {
			for share := measure.Length(1); share <= maxShares; share++ {
				for _, equal := range []bool{true, false} {
					places := p.shelved(s, order, a, share, equal)
					if places == nil {
						continue
					}
					next := used{stock: u.stock, fill: fill{places, u.fill.value}, times: u.times}
					if next.cuts, _ = p.saws(s, next.fill); next.cuts == nil {
						continue
					}
					if m := p.sheetMinutes(&next); m < least {
						best, least = next, m
					}
				}
			}
		}
	}
	return best
}

// sheetMinutes is the time at the saw for one sheet, every change of stop and
// fence in its turn, less what is kept of the sheet.
func (p *problem) sheetMinutes(u *used) float64 {
	one := *u
	one.times = 1
	spare := p.spareOf(&one)
	var l nesting.Layout
	for _, cut := range one.cuts {
		l.Boards = append(l.Boards, nesting.CutBoard{Cuts: cut.cuts()})
	}
	p.accountWork(&l)
	return l.CutMinutes - float64(spare)/60_000
}

// turnings are the places as they lie, and with all that may be turned lying
// along the sheet or across it.
func (p *problem) turnings(places []place) [][]place {
	out := [][]place{places}
	for _, along := range []bool{true, false} {
		list := slices.Clone(places)
		for i := range list {
			if it := &p.items[list[i].item]; it.turn {
				list[i].turned = (it.l > it.w) != along
			}
		}
		out = append(out, list)
	}
	return out
}

// maxShares is how many lengths of shelf are tried on a sheet.
const maxShares = 12

// shelved lays places on shelves along an axis, each as long as a share of the
// sheet, wide ones first; equal: only such as are equally wide share a shelf.
// nil: they do not fit.
func (p *problem) shelved(s *stock, list []place, a axis, share measure.Length, equal bool) []place {
	type shelf struct{ at, high, end measure.Length }
	lo, hi := s.sound.span(a)
	from, to := s.sound.span(a.other())
	limit := lo + (hi-lo)*share/maxShares
	along, across := p.set.CrosscutKerf, p.set.RipKerf
	if a == alongY {
		along, across = across, along
	}
	size := func(pl place) (long, high measure.Length) {
		l, w := p.extent(pl)
		if a == alongY {
			l, w = w, l
		}
		return l, w
	}
	sorted := slices.Clone(list)
	slices.SortStableFunc(sorted, func(x, y place) int {
		xl, xh := size(x)
		yl, yh := size(y)
		return cmp.Or(cmp.Compare(yh, xh), cmp.Compare(yl, xl), cmp.Compare(x.item, y.item))
	})
	var shelves []shelf
	for i := range sorted {
		long, high := size(sorted[i])
		k := slices.IndexFunc(shelves, func(f shelf) bool {
			return (f.high == high || !equal && f.high > high) && f.end+along+long <= limit
		})
		if k < 0 {
			next := shelf{at: from, high: high, end: lo - along}
			if n := len(shelves); n > 0 {
				next.at = shelves[n-1].at + shelves[n-1].high + across
			}
			if next.at+high > to || lo+long > limit {
				return nil
			}
			k, shelves = len(shelves), append(shelves, next)
		}
		f := &shelves[k]
		sorted[i].x, sorted[i].y = f.end+along, f.at
		if a == alongY {
			sorted[i].x, sorted[i].y = f.at, f.end+along
		}
		f.end += along + long
	}
	return sorted
}
