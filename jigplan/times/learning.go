package times

import (
	"math"

	"batchwright/orders/settings"
)

// Curve is how work grows quicker with practice. Two models exist under one
// name and may not be mixed:
//
//	unit     (Crawford) unit x takes x^-Exponent of the first
//	average  (Wright 1936) the first n units take n^-Exponent of the first on average
//
// The rate of an "80 % curve" is 2^-Exponent: see ExponentOf.
type Curve struct {
	Average  bool
	Exponent float64
	Floor    float64 // no unit takes less than this share of the first
}

// CurveOf is the curve of a shop.
func CurveOf(t settings.Times) Curve {
	return Curve{Average: t.LearningModel == "average", Exponent: t.LearningExponent, Floor: t.LearningFloor}
}

// ExponentOf is the exponent of a curve whose time falls to rate (0.8 for an
// 80 % curve) each time the count doubles.
func ExponentOf(rate float64) float64 { return -math.Log2(rate) }

// Unit is the time of unit x, from 1, as a share of the first.
func (c Curve) Unit(x int) float64 {
	at := func(n int) float64 { return math.Pow(float64(n), -c.Exponent) }
	share := at(x)
	if c.Average {
		share = float64(x)*at(x) - float64(x-1)*at(max(x-1, 1))
	}
	return max(share, c.Floor)
}

// Total is the time of the first n units as a multiple of the first, and the
// sum of the squares of their shares.
func (c Curve) Total(n int) (total, squares float64) {
	for x := 1; x <= n; x++ {
		share := c.Unit(x)
		total += share
		squares += share * share
	}
	return total, squares
}
