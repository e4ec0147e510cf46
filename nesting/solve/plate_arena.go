package solve

// fillings is an arena of fillings that are part of others.
type fillings struct {
	b    *board
	pack *packing
	w    worths

	rank, value []int64
	mark        []uint64
	made        []uint64 // pack.words each
	how         []how
}

// worths is how fillings are ranked: by scale*value less prices.
type worths struct {
	scale int64
	price []int64 // of one copy, in scaled units, from 0 to its scaled value
	rank  []int64 // of one copy: scale*value - price
	free  int64   // the prices of all copies allowed
}

// how says how a filling is made: one shape, or a cut into two others.
type how struct {
	low, high int32     // -1: nothing on that side
	shape     int32     // -1: cut
	cut       Direction // of the cut
	at        int64     // its distance from the origin; 0: beside what lies in low
}

// add puts a filling into the arena.
func (f *fillings) add(h how) int32 {
	id := int32(len(f.rank))
	f.how = append(f.how, h)
	if h.shape >= 0 {
		f.addShape(f.b.shapes[h.shape].part)
		return id
	}
	f.rank, f.value, f.mark = append(f.rank, 0), append(f.value, 0), append(f.mark, 0)
	words := f.pack.words
	for range words {
		f.made = append(f.made, 0)
	}
	for _, side := range []int32{h.low, h.high} {
		if side < 0 {
			continue
		}
		f.rank[id] += f.rank[side]
		f.value[id] += f.value[side]
		f.mark[id] += f.mark[side]
		for w := range words {
			f.made[int(id)*words+w] += f.made[int(side)*words+w]
		}
	}
	return id
}

func (f *fillings) addShape(part int) {
	f.rank = append(f.rank, f.w.rank[part])
	f.value = append(f.value, f.b.value[part])
	f.mark = append(f.mark, f.pack.mark[part])
	for w := range f.pack.words {
		one := uint64(0)
		if w == f.pack.word[part] {
			one = f.pack.one[part]
		}
		f.made = append(f.made, one)
	}
}

// fits reports whether fillings a and b together keep the limits.
func (f *fillings) fits(a, b int32) bool {
	w := f.pack.words
	return f.pack.fits(f.made[int(a)*w:][:w], f.made[int(b)*w:][:w])
}

// plan reads a filling back.
func (f *fillings) plan(h how) *plan {
	if h.shape >= 0 {
		return &plan{shape: f.b.shapes[h.shape]}
	}
	p := &plan{cut: h.cut, at: h.at}
	if h.low >= 0 {
		p.low = f.plan(f.how[h.low])
	}
	if h.high >= 0 {
		p.high = f.plan(f.how[h.high])
	}
	return p
}
