package main

import (
	"cmp"
	"fmt"
	"slices"
)

// The check of a cut plate takes from the answer where the parts lie and
// nothing else: the cuts are found anew from the coordinates.

// placed is a part on a plate.
type placed struct {
	item                int
	x, y, length, width int64
	turned              bool
}

func (p placed) reach(across bool) (from, to int64) {
	if across {
		return p.x, p.x + p.length
	}
	return p.y, p.y + p.width
}

// checkPlate recomputes one cut plate: sizes and turning, inside the plate, a
// kerf apart, off the defects, and free by guillotine cuts.
func checkPlate(c instance, stock int, parts []placed) error {
	s := c.stocks[stock]
	for i, p := range parts {
		it := c.items[p.item]
		if p.turned {
			it.length, it.width = it.width, it.length
		}
		switch {
		case p.turned && !c.turn:
			return fmt.Errorf("item %d is turned", p.item)
		case p.length != it.length || p.width != it.width:
			return fmt.Errorf("item %d is cut %d x %d", p.item, p.length, p.width)
		case p.x < 0 || p.y < 0 || p.x+p.length > s.length || p.y+p.width > s.width:
			return fmt.Errorf("item %d at %d, %d leaves the plate", p.item, p.x, p.y)
		}
		for _, d := range s.defects {
			if p.x < d.x+d.length && d.x < p.x+p.length && p.y < d.y+d.width && d.y < p.y+p.width {
				return fmt.Errorf("item %d at %d, %d lies on a defect", p.item, p.x, p.y)
			}
		}
		for _, q := range parts[:i] {
			if p.x < q.x+q.length+c.kerf && q.x < p.x+p.length+c.kerf && p.y < q.y+q.width+c.kerf && q.y < p.y+p.width+c.kerf {
				return fmt.Errorf("items %d and %d are less than a kerf apart", p.item, q.item)
			}
		}
	}
	if !freed(parts, c.kerf) {
		return fmt.Errorf("no guillotine cuts free the parts")
	}
	return nil
}

// freed reports whether cuts of any number of stages free the parts. Any cut
// that meets no part may be made first: what it parts stays as free as before.
func freed(parts []placed, kerf int64) bool {
	if len(parts) <= 1 {
		return true
	}
	groups := parted(parts, kerf, true)
	if len(groups) == 1 {
		groups = parted(parts, kerf, false)
	}
	if len(groups) == 1 {
		return false
	}
	for _, g := range groups {
		if !freed(g, kerf) {
			return false
		}
	}
	return true
}

// parted sorts the parts into the groups that all cuts one way leave.
func parted(parts []placed, kerf int64, across bool) (groups [][]placed) {
	parts = slices.Clone(parts)
	slices.SortFunc(parts, func(a, b placed) int {
		from, _ := a.reach(across)
		other, _ := b.reach(across)
		return cmp.Compare(from, other)
	})
	first, end := 0, int64(0)
	for i, p := range parts {
		from, to := p.reach(across)
		if i > 0 && from >= end+kerf {
			groups, first = append(groups, parts[first:i]), i
		}
		end = max(end, to)
	}
	return append(groups, parts[first:])
}
