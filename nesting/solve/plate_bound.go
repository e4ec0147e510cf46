package solve

import "slices"

// table holds, for every size of the grid, the best worth of a filling that
// may use each part any number of times: Gilmore and Gomory's recursion,
// Operations Research 14 (1966), over the grid's sizes. It never falls short of
// a filling that keeps to the limits.
type table struct {
	g     *grid
	cuts  layer
	below *table  // of the stage cut after this one; nil for the last
	worth []int64 // [i*ny+j]
}

// layer is the cuts of one stage; free cutting is one layer with both. Below
// the last stage a single part is trimmed out of what is left.
type layer struct{ across, along, trim bool }

// layers lists the stages, the last one cut first.
func (r Rules) layers() []layer {
	if r.Stages <= 0 {
		return []layer{{across: true, along: true}}
	}
	ls := make([]layer, r.Stages+1)
	ls[0].trim = true
	across := r.First == Across
	for k := r.Stages; k > 0; k-- {
		ls[k] = layer{across: across, along: !across}
		across = !across
	}
	return ls
}

// fillTable computes the table of b under worth, one number a part. It returns
// nil when the meter ends it.
func fillTable(b *board, worth []int64, m *Meter) *table {
	g := b.grid
	var t *table
	for _, cuts := range b.rules.layers() {
		next := &table{g: g, cuts: cuts, below: t, worth: make([]int64, g.nx*g.ny)}
		if t == nil {
			next.seed(b, worth)
		} else {
			copy(next.worth, t.worth)
		}
		t = next
		for i := 1; i < g.nx; i++ {
			t.fillRow(i)
			if !m.Spend(g.rowWork(i)) {
				return nil
			}
		}
	}
	return t
}

// seed enters the single parts.
func (t *table) seed(b *board, worth []int64) {
	for k, s := range b.shapes {
		c := b.at[k]
		if p := &t.worth[c.i*t.g.ny+c.j]; worth[s.part] > *p && b.limit[s.part] > 0 {
			*p = worth[s.part]
		}
	}
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
	for _, p := range t.acrossPairs(i) {
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
		for _, p := range t.alongPairs(j) {
			if s := row[p.low] + row[p.high]; s > best {
				best = s
			}
		}
		row[j] = best
	}
}

// acrossPairs returns the cuts of length i that this stage may make.
func (t *table) acrossPairs(i int) []pair {
	if !t.cuts.across {
		return nil
	}
	return t.g.xs.pairs[i]
}

// alongPairs returns the cuts of width j that this stage may make.
func (t *table) alongPairs(j int) []pair {
	if !t.cuts.along {
		return nil
	}
	return t.g.ys.pairs[j]
}

// outside returns, for every size, the most that can lie on the plate beside
// one rectangle of that size cut from it at this stage: the table read from the
// whole down. above is that of the stage before.
func (t *table) outside(above []int64) []int64 {
	nx, ny := t.g.nx, t.g.ny
	out := slices.Clone(above)
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
		if beside == noRoot {
			continue
		}
		row[j-1] = max(row[j-1], beside)
		for _, p := range t.alongPairs(j) {
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
	for _, p := range t.acrossPairs(i) {
		t.passOn(row, out[int(p.low)*ny:][:ny], t.worth[int(p.high)*ny:][:ny])
		t.passOn(row, out[int(p.high)*ny:][:ny], t.worth[int(p.low)*ny:][:ny])
	}
}

func (t *table) passOn(row, to, beside []int64) {
	for j, w := range row {
		if s := w + beside[j]; w != noRoot && s > to[j] {
			to[j] = s
		}
	}
}
