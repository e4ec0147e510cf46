package cutting_test

import (
	"fmt"
	"math"
	"testing"
	"time"

	"pgregory.net/rapid"

	"batchwright/nesting"
	"batchwright/nesting/cutting"
	"batchwright/orders"
	"batchwright/orders/measure"
	"batchwright/orders/settings"
)

// TestBoundAgainstEveryPlan: on boards one part wide, every way of giving parts
// to boards is tried; the bound is never above the cheapest, nor the plan below
// it, and a plan called proven is it.
func TestBoundAgainstEveryPlan(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		set := settings.Default()
		set.EndTrim, set.EdgeTrim, set.ShortestMachine = inch, 0, 0
		set.CrosscutKerf = measure.Length(rapid.IntRange(0, 4).Draw(t, "kerf")) * inch / 8
		job := cutting.Job{Settings: set}
		for i := range rapid.IntRange(1, 6).Draw(t, "parts") {
			job.Parts = append(job.Parts, orders.Part{ID: fmt.Sprint("P", i), Wood: "ash", Grain: orders.AlongLength,
				Thickness: inch / 2, CutLength: drawLength(t, "length", 4, 30), CutWidth: 4 * inch})
		}
		for i := range rapid.IntRange(1, 4).Draw(t, "boards") {
			job.Rack = append(job.Rack, orders.Board{ID: fmt.Sprint("R", i), Wood: "ash", Class: "4/4", Count: 1,
				Length: drawLength(t, "board", 20, 80), Width: 4 * inch,
				Cost: measure.Money(rapid.IntRange(1, 3000).Draw(t, "cost")), CostKnown: true})
		}
		l := cutting.Nest(job, nesting.Limits{Seed: 1, Think: time.Millisecond})
		verify(t, job, l)
		best := cheapest(job, 0, make([]measure.Length, len(job.Rack)))
		if len(l.Short) > 0 {
			return // the bound is of what was laid
		}
		if int64(l.CostBound) > best || int64(l.Cost) < best {
			t.Fatalf("bound %d, cheapest of all plans %d, cost %d", l.CostBound, best, l.Cost)
		}
		if l.Proven && int64(l.Cost) != best {
			t.Fatalf("called proven at %d, the cheapest of all plans costs %d", l.Cost, best)
		}
	})
}

// cheapest gives part after part to every board that still holds it; used is the
// length taken of each board, a kerf after every part.
func cheapest(job cutting.Job, part int, used []measure.Length) int64 {
	if part == len(job.Parts) {
		sum := int64(0)
		for i, b := range job.Rack {
			if used[i] > 0 {
				sum += int64(b.Cost)
			}
		}
		return sum
	}
	best := int64(math.MaxInt64)
	for i, b := range job.Rack {
		l := job.Parts[part].CutLength
		if used[i]+l > b.Length-2*job.Settings.EndTrim {
			continue
		}
		used[i] += l + job.Settings.CrosscutKerf
		best = min(best, cheapest(job, part+1, used))
		used[i] -= l + job.Settings.CrosscutKerf
	}
	return best
}

// TestOddInput: each of these is a plan or is said to be short, and checked.
func TestOddInput(t *testing.T) {
	t.Parallel()
	part := orders.Part{ID: "P", Wood: "ash", Thickness: inch / 2, CutLength: 10 * inch, CutWidth: 3 * inch}
	board := orders.Board{ID: "R", Wood: "ash", Class: "4/4", Count: 1, Length: 60 * inch, Width: 6 * inch, Cost: 100, CostKnown: true}
	for _, c := range []struct {
		why   string
		odd   func(*cutting.Job)
		short int
	}{
		{"a defect that lies beside the board takes nothing", func(j *cutting.Job) {
			j.Rack[0].Defects = []orders.Defect{{X: 100 * inch, Y: 50 * inch, Length: inch, Width: inch}}
		}, 0},
		{"a kerf larger than the part", func(j *cutting.Job) {
			j.Settings.CrosscutKerf, j.Settings.RipKerf = 20*inch, 20*inch
		}, 0},
		{"trims that leave nothing of the board", func(j *cutting.Job) { j.Settings.EndTrim = 40 * inch }, 1},
		{"a part without a width", func(j *cutting.Job) { j.Parts[0].CutWidth = 0 }, 1},
		{"a part larger than every board", func(j *cutting.Job) { j.Parts[0].CutLength = 1000 * inch }, 1},
		{"a board without size", func(j *cutting.Job) { j.Rack[0].Length, j.Rack[0].Width = 0, 0 }, 1},
		{"no board of the line left", func(j *cutting.Job) { j.Rack[0].Count = 0 }, 1},
	} {
		job := cutting.Job{Parts: []orders.Part{part}, Rack: []orders.Board{board}, Settings: settings.Default()}
		c.odd(&job)
		l := cutting.Nest(job, nesting.Limits{Seed: 1, Think: time.Millisecond})
		verify(t, job, l)
		if len(l.Short) != c.short {
			t.Errorf("%s: %d parts short, want %d: %v", c.why, len(l.Short), c.short, l.Short)
		}
	}
}

// TestSameSeedSamePlan, and more rounds never cost more.
func TestSameSeedSamePlan(t *testing.T) {
	t.Parallel()
	job := rackJob(12, 80, 10)
	first := cutting.Nest(job, nesting.Limits{Seed: 7, Think: 200 * time.Millisecond})
	again := cutting.Nest(job, nesting.Limits{Seed: 7, Think: 200 * time.Millisecond})
	if fmt.Sprint(first.Boards) != fmt.Sprint(again.Boards) {
		t.Error("the same job and seed gave two layouts")
	}
	more := cutting.Nest(job, nesting.Limits{Seed: 7, Think: time.Second})
	if len(more.Short) > len(first.Short) || len(more.Short) == len(first.Short) && more.Cost > first.Cost {
		t.Errorf("with more thought %d short at %s, with less %d at %s", len(more.Short), more.Cost, len(first.Short), first.Cost)
	}
}

// TestATurnedPartIsGrownByItsOwnKerfs: turned, a part's crosscut kerf lies along
// its width. Worked by hand, with a crosscut kerf of 1/4 in and no other: eight
// parts of 2 x 8 in, two along and four across a board 8 in wide, take 8-1/4 in
// each along it beside the end trims of 1/4 in: 17 of 18 in. Unturned they would
// take 18-1/2 in.
func TestATurnedPartIsGrownByItsOwnKerfs(t *testing.T) {
	t.Parallel()
	set := settings.Default()
	set.CrosscutKerf, set.RipKerf, set.EndTrim, set.EdgeTrim, set.ShortestMachine = inch/4, 0, inch/4, 0, 0
	set.ShortestRip = 0
	job := cutting.Job{Settings: set, Rack: []orders.Board{{ID: "R", Wood: "ash", Class: "4/4", Count: 1, Length: 18 * inch, Width: 8 * inch, Cost: 100, CostKnown: true}}}
	for i := range 8 {
		job.Parts = append(job.Parts, orders.Part{ID: fmt.Sprint("P", i), Wood: "ash", Grain: orders.EitherWay, Thickness: inch / 2, CutLength: 2 * inch, CutWidth: 8 * inch})
	}
	l := cutting.Nest(job, nesting.Limits{Seed: 1, Think: time.Millisecond})
	verify(t, job, l)
	if used := (18 * inch).Times(8 * inch); len(l.Short) > 0 || l.AreaUsed.Cmp(used) > 0 || l.AreaBound.Cmp(l.AreaUsed) > 0 {
		t.Errorf("uses %v mm2, at most %v expected, bound %v; short %v", l.AreaUsed.SquareMillimetres(), used.SquareMillimetres(), l.AreaBound.SquareMillimetres(), l.Short)
	}
}
