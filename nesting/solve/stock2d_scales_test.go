package solve

import (
	"testing"

	"pgregory.net/rapid"
)

// TestScalesNeverGain: two sizes are never worth more apart than together, which
// is all that a bound from scales rests on.
func TestScalesNeverGain(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		whole := rapid.Int64Range(1, 50).Draw(t, "whole")
		sizes := rapid.SliceOfN(rapid.Int64Range(1, 60), 0, 6).Draw(t, "sizes")
		for _, f := range scalesFor(whole, sizes) {
			for a := int64(0); a <= whole; a++ {
				for b := int64(0); a+b <= whole; b++ {
					if f.of(a)+f.of(b) > f.of(a+b) {
						t.Fatalf("%+v: %d and %d", f, a, b)
					}
				}
			}
		}
	})
}

// TestScaleBoundHalves: three parts that are each just over half a plate both
// ways need three plates, though their area fills less than one.
func TestScaleBoundHalves(t *testing.T) {
	stock := []Stock{{Plate{Length: 100, Width: 100}, Unlimited, 1}}
	s := newStock2D(stock, []PlatePart{{Length: 51, Width: 51, Max: 3}}, Rules{}, NewMeter(Budget{}, 1_000_000))
	if area, scales := s.areaBound(), s.scaleBound(); area != 1 || scales != 3 {
		t.Errorf("bound %d by area, %d by scales; want 1 and 3", area, scales)
	}
}
