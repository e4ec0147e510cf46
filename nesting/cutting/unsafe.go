package cutting

import (
	"fmt"

	"batchwright/orders/measure"
	"batchwright/orders/settings"
)

// safeAlone reports whether safe cuts free an item that has an empty board to
// itself, under some settings.
func (p *problem) safeAlone(s *stock, at int, set *settings.Shop) bool {
	q := *p
	q.set = set
	it := &p.items[at]
	for _, turned := range []bool{false, true} {
		if turned && !it.turn {
			break
		}
		for _, corner := range s.corners() {
			f := fill{places: []place{{at, corner.x0, corner.y0, turned}}}
			l, w := p.extent(f.places[0])
			r := rect{corner.x0, corner.y0, corner.x0 + l, corner.y0 + w}
			if r.within(s.sound) != r || s.blocked(r) {
				continue
			}
			if _, stuck := q.saws(s, f); stuck < 0 {
				return true
			}
		}
	}
	return false
}

// corners are where a part may begin: the low corner of the sound wood, and
// beyond every defect.
func (s *stock) corners() []rect {
	xs, ys := []measure.Length{s.sound.x0}, []measure.Length{s.sound.y0}
	for _, d := range s.defects {
		xs, ys = append(xs, d.x1), append(ys, d.y1)
	}
	var out []rect
	for _, x := range xs {
		for _, y := range ys {
			out = append(out, rect{x, y, x, y})
		}
	}
	return out
}

// unsafe says which limit of the saw keeps an item from being cut, and the way
// out.
func (p *problem) unsafe(at int, what, name string) string {
	it := &p.items[at]
	without := func(change func(set *settings.Shop)) bool {
		set := *p.set
		change(&set)
		for i := range p.stocks {
			s := &p.stocks[i]
			if s.suits(it) && p.aloneOn(s, it).clear && p.safeAlone(s, at, &set) {
				return true
			}
		}
		return false
	}
	size := p.show(it.l) + " x " + p.show(it.w)
	switch {
	case without(func(set *settings.Shop) { set.ShortestRip = 0 }):
		return fmt.Sprintf("not safe to rip: %s of %s needs a rip of wood shorter than %s, or shorter than its distance from the blade (setting Shortest rip), on every board of %q; add a longer board or one of this width, or rip it another way and enter the strip as an offcut",
			what, size, p.show(p.set.ShortestRip), name)
	case without(func(set *settings.Shop) { set.FenceReaches = 0 }):
		return fmt.Sprintf("beyond the fence: %s of %s needs a fence setting over %s (setting Fence reaches) on every board of %q; add a board of another width, or correct the setting",
			what, size, p.show(p.set.FenceReaches), name)
	}
	return fmt.Sprintf("no safe cuts: %s of %s cannot be cut from the boards of %q within the limits of the saw (settings Shortest rip, Fence reaches, Sled takes); add a larger board, or correct the settings",
		what, size, name)
}
