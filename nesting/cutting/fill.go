package cutting

import (
	"math/rand/v2"
	"slices"

	"batchwright/orders/measure"
)

// place is one unit of an item on a board: its low corner and which way it lies.
type place struct {
	item   int
	x, y   measure.Length
	turned bool
}

// fill is what is cut from one board.
type fill struct {
	places []place
	value  int64 // by the prices it was made with
}

// size is an item as it lies.
type size struct {
	item   int
	l, w   measure.Length
	turned bool
}

// extent is a place's size along x and y.
func (p *problem) extent(pl place) (l, w measure.Length) {
	it := &p.items[pl.item]
	if pl.turned {
		return it.w, it.l
	}
	return it.l, it.w
}

// card is the menus of one wood at one moment, thin to thick.
type card struct {
	p     *problem
	menus []*menu
	worth []int64 // of everything left, by kind; kept up by the builder
	kinds []int   // of each menu

	rng      *rand.Rand // nil: sections as long as they can be
	sections int        // shorter sections tried at one place
}

// newCard writes the menus for what is left.
func (p *problem) newCard(g *woodGroup, items, left []int, price, worth []int64) *card {
	c := &card{p: p, worth: worth}
	var longest, widest measure.Length
	for _, j := range g.stocks {
		longest = max(longest, p.stocks[j].sound.length())
		widest = max(widest, p.stocks[j].sound.width())
	}
	for k, thick := range g.kinds {
		add := func(pair, alone bool, items []int) {
			if m := p.newMenu(thick, pair, alone, items, left, price, longest, widest); len(m.shapes) > 0 {
				c.menus, c.kinds = append(c.menus, m), append(c.kinds, k)
			}
		}
		for _, pair := range g.pairing {
			add(pair, false, items)
			for _, i := range items {
				if it := &p.items[i]; it.mixed && it.thick == thick {
					add(pair, true, []int{i})
				}
			}
		}
	}
	return c
}

// shapes counts what the card offers.
func (c *card) shapes() int {
	n := 0
	for _, m := range c.menus {
		n += len(m.shapes)
	}
	return n
}

// promise is what the tables say a board may hold, never more than is left.
func (c *card) promise(s *stock, left []int) int64 {
	most, all := int64(0), int64(0)
	left = c.p.placesFor(s, left)
	for k, m := range c.menus {
		if !m.serves(s) {
			continue
		}
		worth := m.newBands(s, s.sound, left).best[0]
		most = max(most, worth)
		all += min(worth, c.worth[c.kinds[k]])
	}
	return min(most, all)
}

// fillBoard lays sections along the board, each of one finished thickness and
// parted from the next by a crosscut. left is what may be used, and is put
// back as it was.
func (c *card) fillBoard(s *stock, left []int) fill {
	var out fill
	left = c.p.placesFor(s, left)
	for e := (end{x: s.sound.x0, planed: s.sound.x0}); ; {
		m, got := c.bestSection(s, e, left)
		if m == nil {
			break
		}
		for _, pl := range got.places {
			left[pl.item]--
		}
		out.places = append(out.places, got.places...)
		out.value += got.value
		from := e.start(m)
		if e.last == nil || !e.last.planedWith(m) {
			e.planed = from + c.p.machine(s) + c.p.set.CrosscutKerf
		}
		e.x, e.last = from+c.p.reach(got, from)+c.p.set.CrosscutKerf, m
		if c.p.set.CutFirst == "rip" && !s.board.Sheet {
			break
		}
	}
	for _, pl := range out.places {
		left[pl.item]++
	}
	return c.p.safe(s, out)
}

// aligned keeps of the strips of a run what lies at the places of the first, so
// that one crosscut parts the thicknesses of all.
func (m *menu) aligned(f fill) fill {
	out, worth := fill{}, int64(0)
	if len(f.places) > 0 {
		worth = f.value / int64(len(f.places))
	}
	for _, pl := range f.places {
		first := func(q place) bool { return q.y == f.places[0].y && q.x == pl.x }
		if slices.ContainsFunc(f.places, first) {
			out.places = append(out.places, pl)
			out.value += worth
		}
	}
	return out
}

// end is where the sections of a board end so far. What is of one thickness is
// planed together, and only that must be as long as the planer asks.
type end struct {
	x      measure.Length // behind the last section and its kerf
	planed measure.Length // where another thickness may begin at the earliest
	last   *menu          // of the last section; nil: there is none yet
}

// start is where a section of a menu begins.
func (e end) start(m *menu) measure.Length {
	if e.last == nil || e.last.planedWith(m) {
		return e.x
	}
	return max(e.x, e.planed)
}

// bestSection fills the rest of a board, or a shorter section of it, with one
// thickness: whichever fills its length best. What takes all that is left of
// its thickness is drawn together.
func (c *card) bestSection(s *stock, e end, left []int) (best *menu, got fill) {
	var used measure.Length
	for _, m := range c.menus {
		if !m.serves(s) {
			continue
		}
		r, least := rect{e.start(m), s.sound.y0, s.sound.x1, s.sound.y1}, c.p.machine(s)
		if e.last != nil && e.last.planedWith(m) {
			least = max(0, e.planed-c.p.set.CrosscutKerf-e.x)
		}
		if r.empty() || r.length() < least {
			continue
		}
		for _, length := range c.sectionLengths(m, s, r.length(), least) {
			f := m.lay(s, rect{r.x0, r.y0, r.x0 + length, r.y1}, left)
			for _, pl := range f.places {
				left[pl.item]++
			}
			if m.alone {
				f = m.aligned(f)
			}
			reach := max(c.p.reach(f, r.x0), least) + c.p.set.CrosscutKerf
			if denser(f.value, reach, got.value, used) {
				best, got, used = m, f, reach
			}
		}
	}
	if best != nil && !best.alone && c.takesAll(best, got, left) {
		got = best.drawTogether(s, rect{e.start(best), s.sound.y0, s.sound.x1, s.sound.y1}, left, got)
	}
	return best, got
}

// sectionLengths are the lengths worth trying, at least so long: all that is
// left, and some that the shapes suggest.
func (c *card) sectionLengths(m *menu, s *stock, rest, least measure.Length) []measure.Length {
	out := []measure.Length{rest}
	if c.rng == nil || c.p.set.CutFirst == "rip" && !s.board.Sheet {
		return out
	}
	for range c.sections {
		length := measure.Length(0)
		for length < max(least, 1) || c.rng.IntN(2) == 0 {
			length += m.lengths[c.rng.IntN(len(m.lengths))] + c.p.set.CrosscutKerf
		}
		if length -= c.p.set.CrosscutKerf; length < rest {
			out = append(out, length)
		}
	}
	return out
}

// denser compares value over length, exactly; an empty fill is never denser.
func denser(v1 int64, l1 measure.Length, v2 int64, l2 measure.Length) bool {
	if v1 <= 0 || v2 <= 0 {
		return v1 > 0
	}
	return product(v2, int64(l1)).less(product(v1, int64(l2)))
}

// takesAll reports whether a fill holds everything left of its thickness.
func (c *card) takesAll(m *menu, got fill, left []int) bool {
	n := 0
	seen := map[int]bool{}
	for _, sz := range m.shapes {
		if !seen[sz.item] {
			seen[sz.item] = true
			n += left[sz.item]
		}
	}
	return n == len(got.places)
}

// drawTogether lays the same shapes in the shortest stretch found by halving.
func (m *menu) drawTogether(s *stock, r rect, left []int, got fill) fill {
	low, high := measure.Length(0), m.p.reach(got, r.x0)
	for range 7 {
		middle := (low + high) / 2
		f := m.lay(s, rect{r.x0, r.y0, r.x0 + middle, r.y1}, left)
		for _, pl := range f.places {
			left[pl.item]++
		}
		if len(f.places) == len(got.places) {
			got, high = f, m.p.reach(f, r.x0)
		} else {
			low = middle
		}
	}
	return got
}

// reach is how far from x the places extend.
func (p *problem) reach(got fill, x measure.Length) measure.Length {
	end := x
	for _, pl := range got.places {
		l, _ := p.extent(pl)
		end = max(end, pl.x+l)
	}
	return end - x
}

// spent is the work done in the tables since the card was written.
func (c *card) spent() int64 {
	sum := int64(0)
	for _, m := range c.menus {
		sum += m.spent
	}
	return sum
}
