package solve

import (
	"cmp"
	"slices"
)

// A plate many times larger than its parts has too many sizes for a table, and
// needs none when copies are free: strips of a few widths, each of columns of
// parts one above the other, leave next to nothing. Three knapsacks, in a
// column, along a strip and across the plate, choose the best of them.

const (
	stripWidths  = 240 // widths tried
	stripColumns = 60  // kinds of column in one strip
	stripLongest = 200_000
)

// strips fills a board in strips along it, or across it when turned.
type strips struct {
	b             *board
	turned        bool
	length, width int64
	order         []int     // shapes, the shortest along the strips first
	stacks        [][]int64 // [n][w]: the most worth one above the other in w of the first n+1
}

// column is a stack of the first n+1 shapes, as long as the longest of them.
type column struct {
	n             int
	length, value int64
}

// stripPlan returns the best plan of strips of b both ways; nil when the board
// is too long or its stages do not allow it.
func (b *board) stripPlan(m *Meter) (best *plan, value int64) {
	if max(b.length, b.width) > stripLongest || b.rules.Stages > 0 || len(b.shapes) == 0 {
		return nil, 0
	}
	for _, turned := range []bool{false, true} {
		if best != nil && m.Over() {
			break
		}
		s := strips{b: b, turned: turned, length: b.length, width: b.width}
		if turned {
			s.length, s.width = b.width, b.length
		}
		if p, v := s.run(m); v > value {
			best, value = p, v
		}
	}
	return best, value
}

// sides returns a shape's extent along and across the strips.
func (s *strips) sides(k int) (along, across int64) {
	sh := s.b.shapes[k]
	if s.turned {
		return sh.width, sh.length
	}
	return sh.length, sh.width
}

func (s *strips) run(m *Meter) (*plan, int64) {
	widths := s.widths()
	s.stack(slices.Max(widths))
	values := make([]int64, len(widths))
	for k, w := range widths {
		values[k], _ = s.fill(w, false)
		if !m.Spend(s.length * stripColumns) {
			break
		}
	}
	value, chosen := knapsack(s.width, widths, values)
	var all *plan
	rows := make(map[int64]*plan)
	for _, k := range chosen {
		w := widths[k]
		if rows[w] == nil {
			_, rows[w] = s.fill(w, true)
		}
		all = beside(all, rows[w], s.cut(false))
	}
	return all, value
}

// cut is the direction of a cut across a strip, or along it.
func (s *strips) cut(across bool) Direction {
	if across != s.turned {
		return Across
	}
	return Along
}

// widths returns the widths of strips to try: those of the densest shapes,
// their sums by twos and threes, the narrower first.
func (s *strips) widths() []int64 {
	order := make([]int, len(s.b.shapes))
	for k := range order {
		order[k] = k
	}
	density := func(k int) float64 {
		sh := s.b.shapes[k]
		return float64(s.b.value[sh.part]) / float64(sh.length) / float64(sh.width)
	}
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(density(b), density(a)) })
	var out []int64
	for _, dense := range []int{6, 12, 24, 48, 96} {
		sums := []int64{0}
		for range 3 {
			for _, k := range order[:min(dense, len(order))] {
				_, w := s.sides(k)
				for _, v := range slices.Clone(sums) {
					if len(sums) < 4*stripWidths && v+w <= s.width {
						sums = append(sums, v+w)
					}
				}
			}
			slices.Sort(sums)
			sums = slices.Compact(sums)
		}
		out = append(out, sums[1:min(len(sums), 1+stripWidths/4)]...)
	}
	slices.Sort(out)
	return slices.Compact(out)
}

// stack fills columns up to width most, one more shape at a time.
func (s *strips) stack(most int64) {
	s.order = make([]int, len(s.b.shapes))
	for k := range s.order {
		s.order[k] = k
	}
	slices.SortStableFunc(s.order, func(a, b int) int {
		la, _ := s.sides(a)
		lb, _ := s.sides(b)
		return cmp.Compare(la, lb)
	})
	best := make([]int64, most+1)
	for _, k := range s.order {
		_, w := s.sides(k)
		value := s.b.value[s.b.shapes[k].part]
		for x := w; x <= most; x++ {
			best[x] = max(best[x], best[x-w]+value)
		}
		s.stacks = append(s.stacks, slices.Clone(best))
	}
}

// fill returns the worth of a strip of width w, and how it is filled.
func (s *strips) fill(w int64, wanted bool) (int64, *plan) {
	cols := s.columns(w)
	sizes, values := make([]int64, len(cols)), make([]int64, len(cols))
	for k, c := range cols {
		sizes[k], values[k] = c.length, c.value
	}
	value, chosen := knapsack(s.length, sizes, values)
	var row *plan
	for _, k := range chosen {
		if !wanted {
			break
		}
		row = beside(row, s.column(cols[k], w), s.cut(true))
	}
	return value, row
}

// column returns how a column of width w is filled.
func (s *strips) column(c column, w int64) (col *plan) {
	sizes, values := make([]int64, c.n+1), make([]int64, c.n+1)
	for k := range sizes {
		_, sizes[k] = s.sides(s.order[k])
		values[k] = s.b.value[s.b.shapes[s.order[k]].part]
	}
	_, chosen := knapsack(w, sizes, values)
	for _, k := range chosen {
		col = beside(col, &plan{shape: s.b.shapes[s.order[k]]}, s.cut(false))
	}
	return col
}

// columns returns the densest columns of a strip of width w.
func (s *strips) columns(w int64) []column {
	var cols []column
	for n, k := range s.order {
		along, _ := s.sides(k)
		if v := s.stacks[n][w]; v > 0 && (n == 0 || v > s.stacks[n-1][w]) {
			cols = append(cols, column{n, along, v})
		}
	}
	slices.SortStableFunc(cols, func(a, b column) int {
		return cmp.Compare(float64(b.value)/float64(b.length), float64(a.value)/float64(a.length))
	})
	return cols[:min(len(cols), stripColumns)]
}

// knapsack fills size with any number of pieces for the most value and lists
// the pieces.
func knapsack(size int64, sizes, values []int64) (value int64, chosen []int) {
	best, last := make([]int64, size+1), make([]int16, size+1)
	for k, s := range sizes {
		if values[k] <= 0 {
			continue
		}
		for x := s; x <= size; x++ {
			if v := best[x-s] + values[k]; v > best[x] {
				best[x], last[x] = v, int16(k+1)
			}
		}
	}
	for x := size; last[x] > 0; {
		k := int(last[x] - 1)
		chosen = append(chosen, k)
		x -= sizes[k]
	}
	return best[size], chosen
}
