package solve

import (
	"math"
	"math/bits"
)

// dualScale is what dual values are multiplied by before they are rounded down
// to integers: large, but such that no sum over all pieces overflows.
func dualScale(demand []int64, maxCost int64) int64 {
	total := int64(1)
	for _, d := range demand {
		total += d
	}
	scale := int64(1) << 30
	for scale > 1 && float64(scale)*float64(total)*float64(maxCost) > 1<<60 {
		scale /= 2
	}
	return scale
}

// barDuals is a dual solution in integers, all scaled: a profit of each type and
// a penalty of each cut.
type barDuals struct {
	scale   int64
	profit  []int64
	penalty []int64
}

// bound turns the duals into a proven lower bound of the cost of covering the
// node. upper[b] is at least the profit of any pattern that fits bar b. For any
// plan x that makes the demand, the profits of its patterns add up to at least
//
//	P = sum(profit x demand) - sum(penalty x limit),
//
// and each costs at least its profit once all profits are scaled down by the
// worst ratio of upper to cost among unlimited bars; a limited bar may exceed its
// cost by what its count then pays for. All of it is integer arithmetic, so
// rounding in the LP can weaken the bound but never break it.
func (d *barDuals) bound(n *barNode, cuts []*subsetRow, upper []int64) int64 {
	num, den := int64(1), int64(1) // the factor
	for b, bar := range n.bars {
		if bar.Count < Unlimited {
			continue
		}
		if cost := bar.Cost * d.scale; lessProduct(cost, den, num, upper[b]) {
			num, den = cost, upper[b]
		}
	}
	sum := int64(0)
	for k, demand := range n.demand {
		if demand > 0 {
			sum += demand * scaleDown(d.profit[k], num, den)
		}
	}
	for c, cut := range cuts {
		sum -= cut.limit * scaleUp(d.penalty[c], num, den)
	}
	for b, bar := range n.bars {
		if bar.Count < Unlimited && bar.Count > 0 {
			over := scaleUp(upper[b], num, den) - bar.Cost*d.scale
			if hi, lo := bits.Mul64(uint64(max(over, 0)), uint64(bar.Count)); hi > 0 || lo > math.MaxInt64/2 {
				return 0
			}
			sum -= max(over, 0) * bar.Count
		}
	}
	if sum <= 0 {
		return 0
	}
	return (sum + d.scale - 1) / d.scale
}

// lessProduct reports whether a*b < c*e, all at least zero.
func lessProduct(a, b, c, e int64) bool {
	h1, l1 := bits.Mul64(uint64(a), uint64(b))
	h2, l2 := bits.Mul64(uint64(c), uint64(e))
	return h1 < h2 || h1 == h2 && l1 < l2
}

// scaleDown returns v*num/den rounded down, for num <= den.
func scaleDown(v, num, den int64) int64 {
	hi, lo := bits.Mul64(uint64(v), uint64(num))
	q, _ := bits.Div64(hi, lo, uint64(den))
	return int64(q)
}

// scaleUp returns v*num/den rounded up, for num <= den.
func scaleUp(v, num, den int64) int64 {
	hi, lo := bits.Mul64(uint64(v), uint64(num))
	q, r := bits.Div64(hi, lo, uint64(den))
	if r > 0 {
		q++
	}
	return int64(q)
}
