package cutting

import (
	"cmp"
	"slices"

	"batchwright/orders/measure"
)

// tidier closes the gaps between places and puts equal ones together, so that
// every piece begins at a fresh edge and is cut to its own size.
type tidier struct {
	p      *problem
	s      *stock
	places []place
}

// tidy returns places that the same strips and slots free, without gaps between
// them but for defects and the sections that are planed on their own. Where
// that does not work out the places stay as they are.
func (p *problem) tidy(s *stock, places []place) []place {
	t := &tidier{p, s, slices.Clone(places)}
	ids := make([]int, len(places))
	for i := range ids {
		ids[i] = i
	}
	t.arrange(ids, s.sound.x0, s.sound.y0)
	for i := range t.places {
		if r := t.rect(i); r.within(s.sound) != r || s.blocked(r) {
			return places
		}
	}
	return t.places
}

func (t *tidier) rect(i int) rect {
	pl := t.places[i]
	l, w := t.p.extent(pl)
	return rect{pl.x, pl.y, pl.x + l, pl.y + w}
}

// bounds is the rectangle around some places.
func (t *tidier) bounds(ids []int) rect {
	r := t.rect(ids[0])
	for _, i := range ids[1:] {
		q := t.rect(i)
		r = rect{min(r.x0, q.x0), min(r.y0, q.y0), max(r.x1, q.x1), max(r.y1, q.y1)}
	}
	return r
}

// arrange moves some places so that they begin at x, y.
func (t *tidier) arrange(ids []int, x, y measure.Length) {
	for _, a := range []axis{alongY, alongX} {
		if gs := t.groups(ids, a); len(gs) > 1 {
			t.inTurn(gs, a, x, y)
			return
		}
	}
	r := t.bounds(ids)
	t.shift(ids, x-r.x0, y-r.y0)
}

func (t *tidier) shift(ids []int, dx, dy measure.Length) {
	for _, i := range ids {
		t.places[i].x += dx
		t.places[i].y += dy
	}
}

// inTurn arranges groups one after another. What meets a defect stays where it
// is, and so do sections of several thicknesses.
func (t *tidier) inTurn(gs [][]int, a axis, x, y measure.Length) {
	fixed := a == alongX && !t.oneThickness(gs)
	if len(t.s.defects) == 0 && !fixed {
		t.sort(gs, a)
	}
	for _, g := range gs {
		before := slices.Clone(t.places)
		gx, gy := x, y
		if fixed {
			gx = max(x, t.bounds(g).x0)
		}
		t.arrange(g, gx, gy)
		if t.blocked(g) {
			t.places = before
		}
		r := t.bounds(g)
		if a == alongX {
			x = r.x1 + t.p.set.CrosscutKerf
		} else {
			y = r.y1 + t.p.set.RipKerf
		}
	}
}

func (t *tidier) blocked(ids []int) bool {
	return slices.ContainsFunc(ids, func(i int) bool { return t.s.blocked(t.rect(i)) })
}

func (t *tidier) oneThickness(gs [][]int) bool {
	first := &t.p.items[t.places[gs[0][0]].item]
	for _, g := range gs {
		for _, i := range g {
			if it := &t.p.items[t.places[i].item]; it.mixed || it.thick != first.thick {
				return false
			}
		}
	}
	return true
}

// sort puts wide strips before narrow ones, and in a strip wide slots before
// narrow ones and long before short ones.
func (t *tidier) sort(gs [][]int, a axis) {
	slices.SortStableFunc(gs, func(g, h []int) int {
		r, q := t.bounds(g), t.bounds(h)
		if a == alongY {
			return cmp.Or(cmp.Compare(q.width(), r.width()), cmp.Compare(q.length(), r.length()))
		}
		return cmp.Or(cmp.Compare(q.width(), r.width()), cmp.Compare(q.length(), r.length()), cmp.Compare(len(h), len(g)))
	})
}

// groups parts places wherever a kerf fits between them, along an axis.
func (t *tidier) groups(ids []int, a axis) [][]int {
	kerf := t.p.set.CrosscutKerf
	if a == alongY {
		kerf = t.p.set.RipKerf
	}
	sorted := slices.Clone(ids)
	slices.SortStableFunc(sorted, func(i, j int) int {
		lo, _ := t.rect(i).span(a)
		other, _ := t.rect(j).span(a)
		return cmp.Compare(lo, other)
	})
	var out [][]int
	end := measure.Length(0)
	for _, i := range sorted {
		lo, hi := t.rect(i).span(a)
		if len(out) > 0 && lo < end+kerf {
			out[len(out)-1] = append(out[len(out)-1], i)
			end = max(end, hi)
			continue
		}
		out = append(out, []int{i})
		end = hi
	}
	return out
}
