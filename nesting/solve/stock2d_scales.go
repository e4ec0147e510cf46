package solve

import (
	"math"
	"slices"
)

// Bounds from conservative scales: lengths and widths are changed by functions f
// and g that never gain by cutting up (f(a)+f(b) <= f(a+b)); then parts cut from
// a plate are together worth no more than the plate, a part or plate a x b being
// worth f(a)*g(b) (Fekete and Schepers, Mathematical Methods of Operations
// Research 60 (2004), from memory). Good ones let parts over half a plate take
// all of it.

const scaleSteps = 40 // thresholds tried an axis

// scale is such a function on sizes up to whole.
type scale struct {
	kind  scaleKind
	whole int64
	step  int64
}

type scaleKind uint8

const (
	plainScale scaleKind = iota // sizes as they are
	cutScale                    // below the step nothing, within the step of the whole all of it
	countScale                  // how many steps it holds, the upper half counted from the whole
	shareScale                  // rounded down to a whole share, of step+1 in the whole
)

func (f scale) of(x int64) int64 {
	switch f.kind {
	case cutScale:
		if x > f.whole-f.step {
			return f.whole
		} else if x < f.step {
			return 0
		}
	case countScale:
		if 2*x > f.whole {
			return 2 * (f.whole/f.step - (f.whole-x)/f.step)
		} else if 2*x == f.whole {
			return f.whole / f.step
		}
		return 2 * (x / f.step)
	case shareScale:
		if n := x * (f.step + 1); n%f.whole != 0 {
			return n / f.whole * f.whole
		}
		return x * f.step
	}
	return x
}

// scalesFor lists the scales that may tell on sizes up to whole.
func scalesFor(whole int64, sizes []int64) []scale {
	fs := []scale{{plainScale, whole, 0}}
	var steps []int64
	for _, x := range sizes {
		for _, s := range []int64{x, whole - x + 1} {
			if s > 0 && s <= whole/2 {
				steps = append(steps, s)
			}
		}
	}
	slices.Sort(steps)
	steps = slices.Compact(steps)
	for k := 0; k < min(len(steps), scaleSteps); k++ {
		s := steps[k*len(steps)/min(len(steps), scaleSteps)]
		fs = append(fs, scale{cutScale, whole, s}, scale{countScale, whole, s})
	}
	for k := int64(1); k <= 10; k++ {
		fs = append(fs, scale{shareScale, whole, k})
	}
	return fs
}

// scaleBound is the best bound of all pairs of scales.
func (s *stock2d) scaleBound() (bound int64) {
	var lengths, widths []int64
	length, width := int64(0), int64(0)
	for k, p := range s.parts {
		if s.need[k] > 0 {
			lengths, widths = append(lengths, p.Length+s.rules.KerfX), append(widths, p.Width+s.rules.KerfY)
			if p.Turn {
				lengths, widths = append(lengths, p.Width+s.rules.KerfX), append(widths, p.Length+s.rules.KerfY)
			}
		}
	}
	for k, st := range s.stock {
		if s.kinds[k].count > 0 {
			length, width = max(length, st.Length+s.rules.KerfX), max(width, st.Width+s.rules.KerfY)
		}
	}
	if max(length, width) > 1<<24 {
		return 0 // products might overflow
	}
	m := s.m.Part(workLeft(s.m) / 20)
	defer s.m.Absorb(m)
	gs := scalesFor(width, widths)
	for _, f := range scalesFor(length, lengths) {
		for _, g := range gs {
			bound = max(bound, s.boundBy(f, g, bound))
			if !m.Spend(int64(10 * len(s.parts))) {
				return bound
			}
		}
	}
	return bound
}

// boundBy is the bound of one pair of scales, or 0 when it is not above beat.
func (s *stock2d) boundBy(f, g scale, beat int64) int64 {
	most, rate := make([]int64, len(s.kinds)), math.Inf(1)
	for k, st := range s.stock {
		most[k] = f.of(max(0, st.Length+s.rules.KerfX)) * g.of(max(0, st.Width+s.rules.KerfY))
		if s.kinds[k].count > 0 && most[k] > 0 {
			rate = min(rate, float64(s.kinds[k].cost)/float64(most[k]))
		}
	}
	worth, need := make([]int64, len(s.need)), 0.0
	for k, p := range s.parts {
		if s.need[k] > 0 {
			worth[k] = f.of(p.Length+s.rules.KerfX) * g.of(p.Width+s.rules.KerfY)
			if p.Turn {
				worth[k] = min(worth[k], f.of(p.Width+s.rules.KerfX)*g.of(p.Length+s.rules.KerfY))
			}
			need += float64(s.need[k]) * float64(worth[k])
		}
	}
	// with limited stock the bound can be above this rate
	if !s.limited() && need*rate < float64(beat)*(1+1e-9) {
		return 0
	}
	return s.lagrangeBound(worth, most)
}

// limited reports whether some kind of plate may run out.
func (s *stock2d) limited() bool {
	for _, k := range s.kinds {
		if k.count < total(s.need) {
			return true
		}
	}
	return false
}
