package solve

// plan returns one best filling of a root under worth.
func (t *table) plan(b *board, worth []int64, root int) *plan {
	return newFinder(b, worth).find(t, b.roots[root].i, b.roots[root].j)
}

// finder finds again how the worths of a table came about, which is cheaper
// than noting it while the table is filled.
type finder struct {
	b      *board
	worth  []int64
	shapes map[cell]int // the worthiest shape of a cell
}

func newFinder(b *board, worth []int64) *finder {
	f := &finder{b: b, worth: worth, shapes: make(map[cell]int)}
	for k, s := range b.shapes {
		old, taken := f.shapes[b.at[k]]
		if !taken || worth[s.part] > worth[b.shapes[old].part] {
			f.shapes[b.at[k]] = k
		}
	}
	return f
}

// find returns a filling of size i, j of the table's worth; nil for nothing.
func (f *finder) find(t *table, i, j int) *plan {
	ny := t.g.ny
	w := t.worth[i*ny+j]
	if w <= 0 {
		return nil
	}
	for i > 0 && t.worth[(i-1)*ny+j] == w {
		i--
	}
	for j > 0 && t.worth[i*ny+j-1] == w {
		j--
	}
	if t.below != nil && t.below.worth[i*ny+j] == w {
		return f.find(t.below, i, j)
	}
	if k, ok := f.shapes[cell{i, j}]; t.below == nil && ok && f.worth[f.b.shapes[k].part] == w {
		return &plan{shape: f.b.shapes[k]}
	}
	cut, low, high := t.split(i, j, w)
	return &plan{cut: cut, low: f.find(t, low.i, low.j), high: f.find(t, high.i, high.j)}
}

// split finds a cut of size i, j whose sides are worth w together.
func (t *table) split(i, j int, w int64) (cut Direction, low, high cell) {
	ny := t.g.ny
	for _, p := range t.acrossPairs(i) {
		if t.worth[int(p.low)*ny+j]+t.worth[int(p.high)*ny+j] == w {
			return Across, cell{int(p.low), j}, cell{int(p.high), j}
		}
	}
	for _, p := range t.alongPairs(j) {
		if t.worth[i*ny+int(p.low)]+t.worth[i*ny+int(p.high)] == w {
			return Along, cell{i, int(p.low)}, cell{i, int(p.high)}
		}
	}
	return Either, cell{}, cell{} // not reached: every worth came about somehow
}
