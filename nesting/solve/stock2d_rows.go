package solve

import (
	"cmp"
	"slices"
)

// rowsPlate fills one plate row by row, widest parts first, in no time to speak
// of: what is used when the budget is spent, so that all that fits is made. It
// takes the plates without defects in order of their cost.
func (s *stock2d) rowsPlate(left, used []int) (cut2d, bool) {
	order := make([]int, 0, len(s.kinds))
	for k, kind := range s.kinds {
		if used[k] < kind.count && len(s.stock[k].Defects) == 0 {
			order = append(order, k)
		}
	}
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(s.kinds[a].cost, s.kinds[b].cost) })
	for _, k := range order {
		parts := slices.Clone(s.parts)
		for p := range parts {
			parts[p].Max, parts[p].Value = left[p], 1
		}
		plan := rowsOf(s.stock[k].Plate, parts, s.rules)
		c := cut2d{kind: k, times: s.kinds[k].count - used[k], plan: plan, made: make([]int, len(left))}
		c.plan.count(c.made)
		if c.plan != nil {
			return c, true
		}
	}
	return cut2d{}, false
}

// rowsMost is the copies in rows on one plate, at most.
const rowsMost = 20_000

// rowsOf fills a plate without defects with rows of the parts of any value.
func rowsOf(plate Plate, parts []PlatePart, rules Rules) *plan {
	b := newPlainBoard(plate, rules)
	for p, part := range parts {
		b.limit = append(b.limit, 0)
		if part.Value > 0 {
			part.Max = min(part.Max, rowsMost/len(parts)+1)
			b.addShapes(p, part)
		}
	}
	return b.rows()
}

// rows lays rows along the board, each of the parts no wider than its first.
func (b *board) rows() *plan {
	left := slices.Clone(b.limit)
	shapes := slices.Clone(b.shapes)
	slices.SortStableFunc(shapes, func(a, c shape) int { return cmp.Compare(c.width, a.width) })
	var all *plan
	for y := int64(0); ; {
		row, width := b.row(shapes, left, b.width-y)
		if row == nil {
			return all
		}
		all = beside(all, row, Along)
		if b.rules.Stages > 0 && b.rules.First == Across && b.rules.Stages < 3 {
			return all // a single row of single parts is all these stages surely allow
		}
		y += width
	}
}

// row fills one row at most width wide and counts its parts off left.
func (b *board) row(shapes []shape, left []int, width int64) (row *plan, rowWidth int64) {
	x := int64(0)
	for _, s := range shapes {
		for left[s.part] > 0 && s.width <= width && x+s.length <= b.length {
			if row == nil {
				width, rowWidth = s.width, s.width
			}
			row = beside(row, &plan{shape: s}, Across)
			x += s.length
			left[s.part]--
		}
	}
	return row, rowWidth
}

// beside puts two plans side by side; nil is nothing.
func beside(low, high *plan, cut Direction) *plan {
	if low == nil {
		return high
	}
	return &plan{cut: cut, low: low, high: high}
}
