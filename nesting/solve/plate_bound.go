package solve

// table holds, for every size of the grid, the best worth of a filling that
// may use each part any number of times: Gilmore and Gomory's recursion,
// Operations Research 14 (1966), over the grid's sizes. It never falls short of
// a filling that keeps to the limits.
type table struct {
	g     *grid
	worth []int64 // [i*ny+j]
}

// fillTable computes the table of b under worth, one number a part.
func fillTable(b *board, worth []int64, m *Meter) *table {
	g := b.grid
	t := &table{g: g, worth: make([]int64, g.nx*g.ny)}
	for k, s := range b.shapes {
		c := b.at[k]
		if p := &t.worth[c.i*g.ny+c.j]; worth[s.part] > *p && b.limit[s.part] > 0 {
			*p = worth[s.part]
		}
	}
	for i := 1; i < g.nx; i++ {
		t.fillRow(i)
		if !m.Spend(g.rowWork(i)) {
			return nil
		}
	}
	return t
}

// rowWork is the work of one row of a table.
func (g *grid) rowWork(i int) int64 {
	return int64(g.ny)*int64(len(g.xs.pairs[i])+1) + g.ys.pairCount
}

// fillRow settles the sizes with length i from all smaller ones.
func (t *table) fillRow(i int) {
	ny := t.g.ny
	row := t.worth[i*ny : (i+1)*ny]
	for j, w := range t.worth[(i-1)*ny : i*ny] {
		row[j] = max(row[j], w)
	}
	for _, p := range t.g.xs.pairs[i] {
		low := t.worth[int(p.low)*ny:][:len(row)]
		high := t.worth[int(p.high)*ny:][:len(row)]
		for j := range row {
			if s := low[j] + high[j]; s > row[j] {
				row[j] = s
			}
		}
	}
	for j := 1; j < ny; j++ {
		best := max(row[j], row[j-1])
		for _, p := range t.g.ys.pairs[j] {
			if s := row[p.low] + row[p.high]; s > best {
				best = s
			}
		}
		row[j] = best
	}
}

// top is the worth of the whole plate.
func (t *table) top() int64 { return t.worth[len(t.worth)-1] }

// outside returns, for every size, the most that can lie on the plate beside
// one rectangle of that size cut from it: the table read from the whole down.
func (t *table) outside() []int64 {
	nx, ny := t.g.nx, t.g.ny
	out := make([]int64, nx*ny)
	for k := range out {
		out[k] = -1
	}
	out[nx*ny-1] = 0
	for i := nx - 1; i > 0; i-- {
		row := out[i*ny : (i+1)*ny]
		t.outsideAlong(i, row)
		t.outsideAcross(i, row, out)
	}
	return out
}

// outsideAlong passes what lies beside a size on to the widths it is cut into.
func (t *table) outsideAlong(i int, row []int64) {
	worth := t.worth[i*t.g.ny:]
	for j := t.g.ny - 1; j > 0; j-- {
		beside := row[j]
		if beside < 0 {
			continue
		}
		row[j-1] = max(row[j-1], beside)
		for _, p := range t.g.ys.pairs[j] {
			row[p.low] = max(row[p.low], beside+worth[p.high])
			row[p.high] = max(row[p.high], beside+worth[p.low])
		}
	}
}

// outsideAcross passes what lies beside sizes of length i on to the lengths
// they are cut into.
func (t *table) outsideAcross(i int, row, out []int64) {
	ny := t.g.ny
	shorter := out[(i-1)*ny : i*ny]
	for j, w := range row {
		shorter[j] = max(shorter[j], w)
	}
	for _, p := range t.g.xs.pairs[i] {
		t.passOn(row, out[int(p.low)*ny:][:ny], t.worth[int(p.high)*ny:][:ny])
		t.passOn(row, out[int(p.high)*ny:][:ny], t.worth[int(p.low)*ny:][:ny])
	}
}

func (t *table) passOn(row, to, beside []int64) {
	for j, w := range row {
		if s := w + beside[j]; w >= 0 && s > to[j] {
			to[j] = s
		}
	}
}

// plan returns one best filling of the whole plate under worth.
func (t *table) plan(b *board, worth []int64) *plan {
	f := finder{t: t, b: b, worth: worth, shapes: make(map[cell]int)}
	for k, s := range b.shapes {
		old, taken := f.shapes[b.at[k]]
		if !taken || worth[s.part] > worth[b.shapes[old].part] {
			f.shapes[b.at[k]] = k
		}
	}
	return f.find(t.g.nx-1, t.g.ny-1)
}

// finder finds again how the worths of a table came about, which is cheaper
// than noting it while the table is filled.
type finder struct {
	t      *table
	b      *board
	worth  []int64
	shapes map[cell]int // the worthiest shape of a cell
}

// find returns a filling of size i, j of the table's worth; nil for nothing.
func (f *finder) find(i, j int) *plan {
	ny := f.t.g.ny
	w := f.t.worth[i*ny+j]
	if w <= 0 {
		return nil
	}
	for i > 0 && f.t.worth[(i-1)*ny+j] == w {
		i--
	}
	for j > 0 && f.t.worth[i*ny+j-1] == w {
		j--
	}
	if k, ok := f.shapes[cell{i, j}]; ok && f.worth[f.b.shapes[k].part] == w {
		return &plan{shape: f.b.shapes[k]}
	}
	cut, low, high := f.split(i, j, w)
	return &plan{cut: cut, low: f.find(low.i, low.j), high: f.find(high.i, high.j)}
}

// split finds a cut of size i, j whose sides are worth w together.
func (f *finder) split(i, j int, w int64) (cut Direction, low, high cell) {
	g, worth := f.t.g, f.t.worth
	for _, p := range g.xs.pairs[i] {
		if worth[int(p.low)*g.ny+j]+worth[int(p.high)*g.ny+j] == w {
			return Across, cell{int(p.low), j}, cell{int(p.high), j}
		}
	}
	for _, p := range g.ys.pairs[j] {
		if worth[i*g.ny+int(p.low)]+worth[i*g.ny+int(p.high)] == w {
			return Along, cell{i, int(p.low)}, cell{i, int(p.high)}
		}
	}
	return Either, cell{}, cell{} // not reached: every worth came about somehow
}
