package solve

// patch is a rectangle of a plate that can be filled anew, the rest staying.
type patch struct {
	whole         bool              // all of the plate
	old           *plan             // what lies there
	length, width int64             // of the rectangle, kerfs included
	put           func(*plan) *plan // the plate with something else there
}

const patchParts = 12

// patch picks neighbours in p, which lies in length x width, some parts at most
// together. Neighbours in a row may change places, so that any of them stand
// together, with all the waste of the row beside them.
func (p *plan) patch(length, width int64, parts int, random func(int) int) patch {
	row := p.row(p.cut, nil)
	for k := range row {
		r := k + random(len(row)-k)
		row[k], row[r] = row[r], row[k]
	}
	chosen, n := row[0], 1
	for held := row[0].parts(); n < len(row) && held+row[n].parts() <= parts; n++ {
		held += row[n].parts()
		chosen = beside(chosen, row[n], p.cut)
	}
	var rest *plan
	for _, q := range row[n:] {
		rest = beside(rest, q, p.cut)
	}
	l, w := rest.size()
	if p.cut == Across {
		length -= l
	} else {
		width -= w
	}
	in := patch{old: chosen, length: length, width: width, put: func(q *plan) *plan { return q }}
	if n == 1 && chosen.cut != Either && chosen.parts() > parts {
		in = chosen.patch(length, width, parts, random)
	}
	inner := in.put
	in.put = func(q *plan) *plan { return join(rest, inner(q), p.cut) }
	return in
}

// join puts two plans side by side; nil is nothing.
func join(low, high *plan, cut Direction) *plan {
	if high == nil {
		return low
	}
	return beside(low, high, cut)
}

// row lists what lies side by side in p.
func (p *plan) row(cut Direction, to []*plan) []*plan {
	if p.cut != cut || cut == Either {
		return append(to, p)
	}
	return p.high.row(cut, p.low.row(cut, to))
}

// parts counts the copies in p.
func (p *plan) parts() int {
	switch {
	case p == nil:
		return 0
	case p.cut == Either:
		return 1
	}
	return p.low.parts() + p.high.parts()
}

// count adds by for each copy of a part in p to made.
func count(p *plan, made []int, by int) {
	switch {
	case p == nil:
	case p.cut == Either:
		made[p.shape.part] += by
	default:
		count(p.low, made, by)
		count(p.high, made, by)
	}
}
