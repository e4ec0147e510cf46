package joint

import (
	"testing"

	"batchwright/orders/measure"
)

// BenchmarkOneJoint lists all candidates of one joint.
func BenchmarkOneJoint(b *testing.B) {
	q := plainRequest(measure.Inch/4, measure.Inch*7/2)
	for b.Loop() {
		if a, err := Solve(q); err != nil || len(a.Candidates) == 0 {
			b.Fatal(err, a.Refused)
		}
	}
}

// BenchmarkTenHeights lists all candidates of a joint that ten centred heights
// share.
func BenchmarkTenHeights(b *testing.B) {
	q := plainRequest(measure.Inch/4, measure.Inch*7/2)
	q.Settings.Layout = "centred"
	for i := range measure.Length(9) {
		q.Heights = append(q.Heights, 2*measure.Inch+i*measure.Inch*3/7)
	}
	for b.Loop() {
		if a, err := Solve(q); err != nil || len(a.Candidates) == 0 {
			b.Fatal(err, a.Refused)
		}
	}
}

// BenchmarkRefusal searches every rod, blade and index for a way out.
func BenchmarkRefusal(b *testing.B) {
	q := plainRequest(measure.Inch/4, measure.Inch*7/2)
	q.Settings.BladeKerf, q.Settings.FitAtLeast = 94*thou, thou
	for b.Loop() {
		if a, err := Solve(q); err != nil || a.Refused == nil || a.Refused.Nearest == "" {
			b.Fatal(err, "no refusal")
		}
	}
}

// BenchmarkFitMap maps 40 rods, 20 blades and 4 indexes.
func BenchmarkFitMap(b *testing.B) {
	var blades []measure.Length
	for i := range measure.Length(20) {
		blades = append(blades, 80*thou+i*3*thou)
	}
	for b.Loop() {
		if m := Map(Rods()[:40], blades, []int{1, 2, 3, 4}, 0, 10*thou, 10*thou); len(m) != 40*20*4 {
			b.Fatal(len(m))
		}
	}
}
