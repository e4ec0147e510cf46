package solve

import (
	"cmp"
	"errors"
	"fmt"
	"math"
	"slices"
)

// Bar is one kind of stock length.
type Bar struct {
	Length int64
	Cost   int64 // of one bar, at least zero
	Count  int64 // how many there are; Unlimited for no limit
}

// Piece is a length wanted.
type Piece struct {
	Length int64
	Count  int64
}

// BarProblem is one-dimensional cutting stock: cut the pieces from bars at
// least cost. All sizes are whole numbers of one unit. Every cut loses Kerf;
// shaving off a last sliver thinner than the blade is allowed, so n pieces fit a
// bar when their lengths and n-1 kerfs do.
type BarProblem struct {
	Bars   []Bar
	Pieces []Piece
	Kerf   int64
}

// Portion is how many of one piece a pattern holds.
type Portion struct {
	Piece int // index in BarProblem.Pieces
	Count int64
}

// Pattern is how one bar is cut, and how many bars are cut so.
type Pattern struct {
	Bar      int // index in BarProblem.Bars
	Times    int64
	Portions []Portion
}

// BarPlan is an answer to a BarProblem.
type BarPlan struct {
	Patterns []Pattern
	Short    []int64 // of each piece, the copies that no bar took
	Cost     int64
	Bound    int64 // proven: no plan that makes what this one makes costs less
	Stop     Stop  // never StopProven when a piece is short for want of bars
	Work     int64 // spent of the budget
}

// Largest figures a BarProblem may hold; beyond them sums could overflow.
const (
	maxBarLength = 1 << 40
	maxBarCost   = 1 << 36
	maxBarPieces = 1 << 24
)

// stock1dWork is the default budget, some ten seconds.
const stock1dWork = 10_000_000_000

// Stock1D cuts the pieces from the bars at least cost. It returns the best plan
// it found within the budget, with a proven bound, and an error only when the
// problem makes no sense.
func Stock1D(p BarProblem, b Budget) (BarPlan, error) {
	if err := p.validate(); err != nil {
		return BarPlan{}, err
	}
	meter := NewMeter(b, stock1dWork)
	root, origin, short := newBarRoot(p)
	s := newBarSearch(root, meter)
	s.run()
	return s.plan(p, origin, short), nil
}

// validate returns everything that is wrong with the problem.
func (p BarProblem) validate() error {
	var errs []error
	if p.Kerf < 0 || p.Kerf > maxBarLength {
		errs = append(errs, fmt.Errorf("kerf %d is not between 0 and %d", p.Kerf, int64(maxBarLength)))
	}
	if len(p.Bars) > 1<<15 {
		errs = append(errs, fmt.Errorf("%d kinds of bars, at most %d can be planned", len(p.Bars), 1<<15))
	}
	for i, b := range p.Bars {
		if b.Length <= 0 || b.Length > maxBarLength || b.Cost < 0 || b.Cost > maxBarCost || b.Count < 0 {
			errs = append(errs, fmt.Errorf("bar %d: length %d, cost %d, count %d: want a length of 1 to %d, a cost of 0 to %d and a count of at least 0",
				i, b.Length, b.Cost, b.Count, int64(maxBarLength), int64(maxBarCost)))
		}
	}
	total := int64(0)
	for i, q := range p.Pieces {
		if q.Length <= 0 || q.Length > maxBarLength || q.Count < 0 || q.Count > maxBarPieces {
			errs = append(errs, fmt.Errorf("piece %d: length %d, count %d: want a length of 1 to %d and a count of 0 to %d",
				i, q.Length, q.Count, int64(maxBarLength), maxBarPieces))
			continue
		}
		total += q.Count
	}
	if total > maxBarPieces {
		errs = append(errs, fmt.Errorf("%d pieces in all, at most %d can be planned at once: split the order", total, maxBarPieces))
	}
	return errors.Join(errs...)
}

// newBarRoot turns the problem into the root of the search: the kerf shifted
// into the lengths (n lengths and n-1 kerfs fit L exactly when n lengths grown by
// a kerf fit L grown by a kerf), equal lengths merged, longest first, all
// divided by their common divisor. origin lists the pieces of each type; short
// counts the pieces too long for any bar.
func newBarRoot(p BarProblem) (root *barNode, origin [][]int, short []int64) {
	short = make([]int64, len(p.Pieces))
	longest := int64(-1)
	for _, b := range p.Bars {
		if b.Count > 0 {
			longest = max(longest, b.Length)
		}
	}
	byLength := map[int64][]int{}
	for i, q := range p.Pieces {
		switch {
		case q.Count == 0:
		case q.Length > longest:
			short[i] = q.Count
		default:
			byLength[q.Length] = append(byLength[q.Length], i)
		}
	}
	root = &barNode{}
	unit := int64(0)
	for length := range byLength {
		root.size = append(root.size, length+p.Kerf)
		unit = gcd(unit, length+p.Kerf)
	}
	slices.SortFunc(root.size, func(a, b int64) int { return cmp.Compare(b, a) })
	for k, size := range root.size {
		pieces := byLength[size-p.Kerf]
		demand := int64(0)
		for _, i := range pieces {
			demand += p.Pieces[i].Count
		}
		origin = append(origin, pieces)
		root.size[k] = size / unit
		root.demand = append(root.demand, demand)
		root.glued = append(root.glued, []int32{int32(k)})
		root.apart = append(root.apart, nil)
	}
	for _, b := range p.Bars {
		if unit > 0 {
			b.Length = (b.Length + p.Kerf) / unit
		}
		if b.Count > Unlimited {
			b.Count = Unlimited
		}
		root.bars = append(root.bars, b)
	}
	return root, origin, short
}

// usedColumn is a pattern of root types, and how often it is cut.
type usedColumn struct {
	barColumn
	times int64
}

// plan turns the best solution found into pieces: each pattern takes from the
// pieces of a type in turn, and no more than were asked for.
func (s *barSearch) plan(p BarProblem, origin [][]int, short []int64) BarPlan {
	plan := BarPlan{Short: short, Stop: s.stop(), Work: s.meter.Spent()}
	left := make([]int64, len(p.Pieces))
	for i, q := range p.Pieces {
		left[i] = q.Count - short[i]
	}
	for _, u := range s.best {
		for times := u.times; times > 0; {
			pattern := Pattern{Bar: u.bar, Times: times}
			for _, part := range u.parts {
				pattern.Times = takePieces(&pattern, origin[part.kind], int64(part.count), left)
			}
			times -= pattern.Times
			if len(pattern.Portions) == 0 {
				continue
			}
			for _, q := range pattern.Portions {
				left[q.Piece] -= q.Count * pattern.Times
			}
			plan.Cost += pattern.Times * p.Bars[u.bar].Cost
			plan.Patterns = append(plan.Patterns, pattern)
		}
	}
	bound := s.bound
	if s.bestCost == math.MaxInt64 {
		bound = s.boundOfMade(origin, left)
	}
	for i, n := range left {
		plan.Short[i] += n
	}
	plan.Bound = min(bound, plan.Cost)
	return plan
}

// boundOfMade bounds the cost of the pieces that a plan short of bars makes.
func (s *barSearch) boundOfMade(origin [][]int, left []int64) int64 {
	made := slices.Clone(s.root.demand)
	for k, pieces := range origin {
		for _, i := range pieces {
			made[k] -= left[i]
		}
	}
	return s.root.rateBound(made)
}

// takePieces adds count pieces of one type to the pattern, and returns how often
// the pattern can be cut before one of the pieces runs out. Demand that has run
// out is left out of the pattern.
func takePieces(pattern *Pattern, pieces []int, count int64, left []int64) int64 {
	times := pattern.Times
	for _, i := range pieces {
		take := min(count, left[i])
		if take <= 0 {
			continue
		}
		pattern.Portions = append(pattern.Portions, Portion{i, take})
		times = min(times, left[i]/take)
		if count -= take; count == 0 {
			break
		}
	}
	return times
}
