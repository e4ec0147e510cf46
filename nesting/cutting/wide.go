package cutting

import "math/bits"

// wide is an unsigned 128-bit product.
type wide struct{ hi, lo uint64 }

// product multiplies two numbers that are not negative.
func product(a, b int64) wide {
	hi, lo := bits.Mul64(uint64(a), uint64(b))
	return wide{hi, lo}
}

func (a wide) less(b wide) bool { return a.hi < b.hi || a.hi == b.hi && a.lo < b.lo }
