package cutting_test

import (
	"fmt"
	"math"
	"testing"
	"time"

	"batchwright/nesting"
	"batchwright/nesting/cutting"
	"batchwright/orders"
	"batchwright/orders/measure"
	"batchwright/orders/settings"
)

// TestCopiesInCrowds, twice what an order may hold: equal parts are one size with a count and equal
// boards one layout, so that the work is that of a single board. Fifteen parts
// lie on a board, five along (5 x 11 in + 4 x 1/8 in in 58 in) and three across
// (3 x 1-3/4 in + 2 x 1/8 in in 5-3/4 in), worked by hand; no more fit, as
// 58-1/8 over 11-1/8 is below 6 and 5-7/8 over 1-7/8 below 4.
func TestCopiesInCrowds(t *testing.T) {
	t.Parallel()
	const copies, onEach = 200_000, 15
	set := settings.Default()
	set.EndTrim, set.EdgeTrim, set.CrosscutKerf, set.RipKerf = inch, inch/8, inch/8, inch/8
	job := cutting.Job{Settings: set, Yard: []orders.Board{{ID: "Y", Wood: "ash", Class: "4/4", Unlimited: true,
		Length: 60 * inch, Width: 6 * inch, Cost: 700, CostKnown: true}}}
	for i := range copies {
		job.Parts = append(job.Parts, orders.Part{ID: fmt.Sprint("P", i), Wood: "ash", Grain: orders.AlongLength,
			Thickness: inch / 2, CutLength: 11 * inch, CutWidth: 7 * inch / 4})
	}
	l := cutting.Nest(job, nesting.Limits{Seed: 1, Think: time.Millisecond})
	want := (copies + onEach - 1) / onEach
	if len(l.Short) > 0 || len(l.Boards) != want || l.Cost != measure.Money(want)*700 {
		t.Errorf("%d boards at %s, %d short; want %d boards", len(l.Boards), l.Cost, len(l.Short), want)
	}
	if l.CostBound > l.Cost || l.CostBound*100 < l.Cost*85 {
		t.Errorf("bound %s of %s", l.CostBound, l.Cost)
	}
}

// TestLargeNumbersDoNotOverflow: money, counts and sizes near the ends of what
// an order can say still give a plan that is whole and not below its bound.
func TestLargeNumbersDoNotOverflow(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		why  string
		odd  func(*cutting.Job)
		cost measure.Money
	}{
		{"more boards on the rack than can be counted to", func(j *cutting.Job) { j.Rack[0].Count = math.MaxInt }, 300},
		{"boards of a hundred million each", func(j *cutting.Job) { j.Rack[0].Cost = 10_000_000_000 }, 30_000_000_000},
		{"boards as long as a length may be", func(j *cutting.Job) { j.Rack[0].Length = measure.Longest }, 100},
		{"boards that are less than none", func(j *cutting.Job) { j.Rack[0].Count, j.Yard = -7, j.Rack }, 0},
	} {
		job := cutting.Job{Settings: settings.Default(), Rack: []orders.Board{{ID: "R", Wood: "ash", Class: "4/4",
			Count: 3, Length: 60 * inch, Width: 6 * inch, Cost: 100, CostKnown: true}}}
		for i := range 3 {
			job.Parts = append(job.Parts, orders.Part{ID: fmt.Sprint("P", i), Wood: "ash", Thickness: inch / 2,
				Grain: orders.AlongLength, CutLength: 50 * inch, CutWidth: 5 * inch})
		}
		c.odd(&job)
		l := cutting.Nest(job, nesting.Limits{Seed: 1, Think: time.Millisecond})
		verify(t, job, l)
		if l.Cost != c.cost || l.CostBound > l.Cost || l.CostBound < 0 || (len(l.Short) > 0) != (c.cost == 0) {
			t.Errorf("%s: cost %d, bound %d, %d short; want %d", c.why, l.Cost, l.CostBound, len(l.Short), c.cost)
		}
	}
}

// TestAnInterruptKeepsThePlan: the maker's interrupt ends a search of hours, and
// what is returned is no worse than the first plan, every part laid.
func TestAnInterruptKeepsThePlan(t *testing.T) {
	t.Parallel()
	job := rackJob(12, 80, 10)
	began := time.Now()
	first := cutting.Nest(job, nesting.Limits{Seed: 7, Think: time.Microsecond})
	stop := make(chan struct{})
	time.AfterFunc(300*time.Millisecond+5*time.Since(began), func() { close(stop) })
	l := cutting.Nest(job, nesting.Limits{Seed: 7, Think: 5 * time.Hour, Stop: stop})
	verify(t, job, l)
	if len(l.Short) > len(first.Short) || len(l.Short) == len(first.Short) && l.Cost > first.Cost {
		t.Errorf("interrupted: %d short at %s; the first plan: %d at %s", len(l.Short), l.Cost, len(first.Short), first.Cost)
	}
	if l.Stop != nesting.StopInterrupted && l.Stop != nesting.StopProven && l.Stop != nesting.StopBudget {
		t.Errorf("stop %q", l.Stop)
	}
}
