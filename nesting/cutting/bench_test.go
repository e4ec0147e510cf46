package cutting_test

import (
	"flag"
	"fmt"
	"testing"
	"time"

	"batchwright/nesting"
	"batchwright/nesting/check"
	"batchwright/nesting/cutting"
	"batchwright/orders"
)

// BenchmarkRack nests 8,000 parts on a rack of 300 boards with defects, the
// rest from a yard, within 20 s, and reports the gap that is proven.
func BenchmarkRack(b *testing.B) {
	job := benchRack()
	b.ReportAllocs()
	for b.Loop() {
		report(b, job, 20*time.Second, 20*time.Second)
	}
}

var rackLong = flag.Bool("rack.long", false, "think ten minutes about the rack in BenchmarkRackLong")

// BenchmarkRackLong thinks ten minutes about the same rack: how much better the
// plan becomes.
func BenchmarkRackLong(b *testing.B) {
	if !*rackLong {
		b.Skip("ten minutes: asked for with -rack.long")
	}
	job := benchRack()
	for b.Loop() {
		report(b, job, 10*time.Minute, 10*time.Minute)
	}
}

// BenchmarkDoublings shows what more parts cost: first plans that no clock ends.
func BenchmarkDoublings(b *testing.B) {
	for _, n := range []int{3125, 6250, 12500, 25000, 50000, 100000} {
		for _, sizes := range []int{60, n} {
			b.Run(fmt.Sprintf("parts=%d/sizes=%d", n, sizes), func(b *testing.B) {
				job := rackJob(0, n, sizes)
				job.Yard = []orders.Board{{ID: "Y", Wood: "walnut", Class: "4/4", Unlimited: true,
					Length: 96 * inch, Width: 11 * inch, Cost: 4500, CostKnown: true}}
				for b.Loop() {
					report(b, job, time.Millisecond, 2*time.Minute)
				}
			})
		}
	}
}

// benchRack is 8,000 parts for a rack of 300 boards, two in three with defects,
// and a yard.
func benchRack() cutting.Job {
	job := rackJob(300, 8000, 60)
	job.Yard = []orders.Board{{ID: "Y", Wood: "walnut", Class: "4/4", Unlimited: true,
		Length: 96 * inch, Width: 8 * inch, Cost: 4500, CostKnown: true}}
	return job
}

// report nests, has the layout checked and reports its quality.
func report(b *testing.B, job cutting.Job, think, most time.Duration) {
	began := time.Now()
	l := cutting.Nest(job, nesting.Limits{Seed: 1, Think: think, Deadline: began.Add(most)})
	b.ReportMetric(time.Since(began).Seconds(), "s")
	b.StopTimer()
	for _, f := range check.Layout(l, check.Given{Parts: job.Parts, Rack: job.Rack, Yard: job.Yard, Settings: job.Settings}) {
		b.Fatal(f)
	}
	b.ReportMetric(100*(float64(l.Cost)/float64(l.CostBound)-1), "gap%")
	b.ReportMetric(float64(len(l.Short)), "short")
	b.ReportMetric(float64(len(l.Boards)), "boards")
	b.StartTimer()
}
