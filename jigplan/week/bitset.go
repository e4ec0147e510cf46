package week

import "math/bits"

// bitset is a set of units of the axis.
type bitset []uint64

func newBitset(n int) bitset { return make(bitset, n/64+1) }

func (b bitset) set(u int)   { b[u>>6] |= 1 << (u & 63) }
func (b bitset) clear(u int) { b[u>>6] &^= 1 << (u & 63) }

// next is the first unit of the set at or after u; past the end: none.
func (b bitset) next(u int) int {
	for k := u >> 6; k < len(b); k++ {
		word := b[k]
		if k == u>>6 {
			word &^= 1<<(u&63) - 1
		}
		if word != 0 {
			return k<<6 + bits.TrailingZeros64(word)
		}
	}
	return len(b) << 6
}

// gap is the first unit at or after u that is not in the set.
func (b bitset) gap(u int) int {
	for k := u >> 6; k < len(b); k++ {
		word := ^b[k]
		if k == u>>6 {
			word &^= 1<<(u&63) - 1
		}
		if word != 0 {
			return k<<6 + bits.TrailingZeros64(word)
		}
	}
	return len(b) << 6
}

// run is the first unit at or after from that begins n units of the set;
// -1: none.
func (b bitset) run(from, n int) int {
	if n > 64 {
		return b.longRun(from, n)
	}
	for k := from >> 6; k < len(b); k++ {
		low, high := b[k], uint64(0)
		if low == 0 {
			continue
		}
		if k+1 < len(b) {
			high = b[k+1]
		}
		if k == from>>6 {
			low &^= 1<<(from&63) - 1
		}
		// After each step a bit says that so many units from it on are in the set.
		for have := 1; have < n; {
			step := min(have, n-have)
			low &= low>>step | high<<(64-step)
			high &= high >> step
			have += step
		}
		if low != 0 {
			return k<<6 + bits.TrailingZeros64(low)
		}
	}
	return -1
}

func (b bitset) longRun(from, n int) int {
	for u := b.next(from); u < len(b)<<6; {
		end := b.gap(u)
		if end-u >= n {
			return u
		}
		u = b.next(end)
	}
	return -1
}

// free is what is free at each unit of the axis.
type free struct {
	open   [places]bitset // by saw and benches: a person and the place are free
	people []int16
	bench  []int16
	held   [2][]int16 // clamps, drying places
}

func newFree(units int) *free {
	f := &free{people: make([]int16, units), bench: make([]int16, units)}
	for p := range f.open {
		f.open[p] = newBitset(units)
	}
	for r := range f.held {
		f.held[r] = make([]int16, units)
	}
	return f
}

// reset makes it a copy of another.
func (f *free) reset(from *free) {
	copy(f.people, from.people)
	copy(f.bench, from.bench)
	for p := range f.open {
		copy(f.open[p], from.open[p])
	}
	for r := range f.held {
		copy(f.held[r], from.held[r])
	}
}

// attend takes a person and a place for the units from u up to end.
func (f *free) attend(place, u, end int) {
	for k := u; k < end; k++ {
		if f.people[k]--; f.people[k] == 0 {
			f.open[atSaw].clear(k)
			f.open[atBench].clear(k)
		}
		if place == atSaw {
			f.open[atSaw].clear(k)
		} else if f.bench[k]--; f.bench[k] == 0 {
			f.open[atBench].clear(k)
		}
	}
}

// hold takes clamps and drying places for the units from u up to end.
func (f *free) hold(clamps, space int16, u, end int) {
	if clamps > 0 {
		for k := u; k < end; k++ {
			f.held[0][k] -= clamps
		}
	}
	if space > 0 {
		for k := u; k < end; k++ {
			f.held[1][k] -= space
		}
	}
}

// short is the last unit from u up to end at which there are too few clamps or
// drying places; -1: none.
func (f *free) short(clamps, space int16, u, end int) int {
	last := -1
	if clamps > 0 {
		last = lastBelow(f.held[0], clamps, u, end)
	}
	if space > 0 {
		last = max(last, lastBelow(f.held[1], space, u, end))
	}
	return last
}

func lastBelow(amount []int16, need int16, u, end int) int {
	for k := end - 1; k >= u; k-- {
		if amount[k] < need {
			return k
		}
	}
	return -1
}
