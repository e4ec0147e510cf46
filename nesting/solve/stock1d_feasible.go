package solve

import "math/bits"

// dualFeasibleBound returns a lower bound on the bars needed when all bars are
// of one kind, from dual feasible functions: maps of the lengths under which no
// set that fits a bar outgrows it, so that the mapped total over the mapped bar
// bounds the count. It takes the best over two families:
//
//   - a threshold: lengths below it vanish, lengths within it of the whole bar
//     become the whole bar (S. Martello, P. Toth, Knapsack Problems, 1990,
//     section 8.3.2, bound L2);
//   - a step: small lengths count their whole steps, large ones what the bar
//     loses in whole steps, after the threshold (F. Clautiaux, C. Alves, J. Valerio
//     de Carvalho, Annals of Operations Research 179, 2010, function f_CCM1; from
//     memory).
func dualFeasibleBound(length int64, size, demand []int64, meter *Meter) int64 {
	best := int64(0)
	for _, threshold := range thresholds(length, size) {
		mapped := make([]int64, len(size))
		for k, s := range size {
			mapped[k] = applyThreshold(s, length, threshold)
		}
		best = max(best, mappedBound(length, mapped, demand))
		if len(size) > maxSteps {
			continue
		}
		for _, step := range thresholds(length, size)[1:] {
			if !meter.Spend(int64(8 * len(size))) {
				return best
			}
			best = max(best, stepBound(length, step, mapped, demand))
		}
	}
	return best
}

// maxSteps is the number of types up to which both families are combined.
const maxSteps = 400

// thresholds returns 0 and the lengths up to half the bar.
func thresholds(length int64, size []int64) []int64 {
	out := []int64{0}
	for _, s := range size {
		if 2*s <= length {
			out = append(out, s)
		}
	}
	return out
}

func applyThreshold(s, length, threshold int64) int64 {
	switch {
	case s > length-threshold:
		return length
	case s < threshold:
		return 0
	}
	return s
}

// stepBound bounds by whole steps of a length.
func stepBound(length, step int64, size, demand []int64) int64 {
	whole := length / step
	mapped := make([]int64, len(size))
	for k, s := range size {
		switch {
		case 2*s > length:
			mapped[k] = 2 * (whole - (length-s)/step)
		case 2*s == length:
			mapped[k] = whole
		default:
			mapped[k] = 2 * (s / step)
		}
	}
	return mappedBound(2*whole, mapped, demand)
}

// mappedBound returns the total of the lengths, none over the bar's, divided by
// the bar's and rounded up.
func mappedBound(length int64, size, demand []int64) int64 {
	hi, lo := totalLength(size, demand)
	q, r := bits.Div64(hi, lo, uint64(length))
	if r > 0 {
		q++
	}
	return int64(q)
}

// totalLength returns the sum of size times demand in 128 bits.
func totalLength(size, demand []int64) (hi, lo uint64) {
	for k, s := range size {
		h, l := bits.Mul64(uint64(s), uint64(demand[k]))
		var carry uint64
		lo, carry = bits.Add64(lo, l, 0)
		hi += h + carry
	}
	return hi, lo
}
