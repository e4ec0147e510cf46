package cutting_test

import (
	"fmt"
	"math/rand/v2"
	"testing"
	"time"

	"batchwright/nesting"
	"batchwright/nesting/cutting"
	"batchwright/orders"
	"batchwright/orders/measure"
	"batchwright/orders/settings"
)

// BenchmarkResawn lays thirty random orders of thin parts on racks of boards of
// three thicknesses, every one of which may be resawn: what they cost in all, and
// how far that lies above the floors.
func BenchmarkResawn(b *testing.B) {
	for b.Loop() {
		cost, bound, resawn := measure.Money(0), measure.Money(0), 0
		for seed := range uint64(30) {
			job := resawnJob(rand.New(rand.NewPCG(seed, 7)))
			l := cutting.Nest(job, nesting.Limits{Seed: 1, Think: 2 * time.Second})
			verify(b, job, l)
			cost, bound = cost+l.Cost, bound+l.CostBound
			_, n := l.Count()
			resawn += n
		}
		b.ReportMetric(float64(cost)/100, "cost")
		b.ReportMetric(100*(float64(cost)/float64(bound)-1), "gap%")
		b.ReportMetric(float64(resawn), "resawn")
	}
}

func resawnJob(rng *rand.Rand) cutting.Job {
	job := cutting.Job{Settings: settings.Default()}
	job.Settings.ResawUpTo = 8 * inch
	classes := []struct {
		name  string
		price float64 // of a square foot
	}{{"4/4", 8}, {"8/4", 18.4}, {"6/4", 12.8}}
	for i := range 6 + rng.IntN(10) {
		c := classes[rng.IntN(len(classes))]
		long, wide := 30+rng.IntN(66), 9+rng.IntN(9) // in, half in
		feet := float64(long) * float64(wide) / 2 / 144
		job.Rack = append(job.Rack, orders.Board{ID: fmt.Sprint("R", i), Wood: "cherry", Class: c.name, Count: 1 + rng.IntN(2),
			Length: measure.Length(long) * inch, Width: measure.Length(wide) * inch / 2,
			Cost: measure.Money(100 * feet * c.price * (0.8 + 0.4*rng.Float64())), CostKnown: true})
	}
	thick := []measure.Length{inch / 4, inch * 5 / 16, inch / 2, inch * 3 / 4}
	for i := range 4 + rng.IntN(5) {
		l, w := measure.Length(40+rng.IntN(160))*inch/10, measure.Length(15+rng.IntN(45))*inch/10
		t := thick[rng.IntN(len(thick))]
		for j := range 4 + rng.IntN(8) {
			job.Parts = append(job.Parts, orders.Part{ID: fmt.Sprint(i, "-", j), Wood: "cherry", Grain: orders.AlongLength,
				Length: l, CutLength: l, Width: w, CutWidth: w, Thickness: t})
		}
	}
	return job
}
