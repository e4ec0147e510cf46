package solve

import "math/bits"

// packing keeps the copies of every part side by side in a few words, each
// with one spare bit on top, so that adding two fillings and testing all limits
// takes one addition and one mask a word.
type packing struct {
	words int
	word  []int // of each part
	one   []uint64
	bias  []uint64 // per word: brings a count above its limit into the spare bit
	guard []uint64 // per word: the spare bits
	mark  []uint64 // of each part: sums of marks tell fillings apart
}

func newPacking(limit []int) *packing {
	n := len(limit)
	p := &packing{
		word: make([]int, n),
		one:  make([]uint64, n), mark: make([]uint64, n),
	}
	at := uint(64)
	for k, most := range limit {
		p.mark[k] = mix(uint64(k) + 1)
		if most <= 0 {
			continue
		}
		width := uint(bits.Len(uint(most)))
		if at+width+1 > 64 {
			p.bias, p.guard = append(p.bias, 0), append(p.guard, 0)
			at = 0
		}
		w := len(p.bias) - 1
		p.word[k] = w
		p.one[k] = 1 << at
		p.guard[w] |= 1 << (at + width)
		p.bias[w] |= (1<<width - 1 - uint64(most)) << at
		at += width + 1
	}
	p.words = len(p.bias)
	return p
}

// mix scatters the bits of x (the finaliser of Steele, Lea and Flood's
// SplitMix, OOPSLA 2014).
func mix(x uint64) uint64 {
	x *= 0x9e3779b97f4a7c15
	x = (x ^ x>>30) * 0xbf58476d1ce4e5b9
	x = (x ^ x>>27) * 0x94d049bb133111eb
	return x ^ x>>31
}

// fits reports whether the fillings a and b together keep all limits.
func (p *packing) fits(a, b []uint64) bool {
	for w, g := range p.guard {
		if (a[w]+b[w]+p.bias[w])&g != 0 {
			return false
		}
	}
	return true
}
