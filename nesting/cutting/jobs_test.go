package cutting_test

import (
	"fmt"
	"math/rand/v2"

	"batchwright/nesting/cutting"
	"batchwright/orders"
	"batchwright/orders/measure"
	"batchwright/orders/settings"
)

// rackJob is an invented rack of distinct boards, two in three with defects,
// and parts of a number of sizes in three thicknesses; always the same one.
func rackJob(boards, parts, sizes int) cutting.Job {
	rng := rand.New(rand.NewPCG(1, 1))
	eighths := func(from, n int) measure.Length { return measure.Length(from+rng.IntN(n)) * measure.Inch / 8 }
	type size struct{ l, w, t measure.Length }
	var list []size
	for range sizes {
		list = append(list, size{eighths(40, 120), eighths(12, 30), eighths(3, 3)})
	}
	job := cutting.Job{Settings: settings.Default()}
	for i := range parts {
		s := list[rng.IntN(len(list))]
		job.Parts = append(job.Parts, orders.Part{ID: fmt.Sprint("P", i), Wood: "walnut", Grain: orders.AlongLength,
			Thickness: s.t, CutLength: s.l + measure.Inch/16, CutWidth: s.w + measure.Inch/8})
	}
	for i := range boards {
		b := orders.Board{ID: fmt.Sprint("R", i), Wood: "walnut", Count: 1, Class: "4/4",
			Length: eighths(480, 400), Width: eighths(36, 50), CostKnown: true}
		b.Cost = measure.Money(b.Length.Inches() * b.Width.Inches() / 144 * float64(700+rng.IntN(200)))
		for range rng.IntN(3) {
			b.Defects = append(b.Defects, orders.Defect{X: eighths(0, 480), Y: eighths(0, 40), Length: eighths(8, 40), Width: eighths(8, 24)})
		}
		job.Rack = append(job.Rack, b)
	}
	return job
}
