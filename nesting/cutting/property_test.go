package cutting_test

import (
	"fmt"
	"testing"
	"time"

	"pgregory.net/rapid"

	"batchwright/nesting"
	"batchwright/nesting/check"
	"batchwright/nesting/cutting"
	"batchwright/orders"
	"batchwright/orders/measure"
	"batchwright/orders/settings"
	"batchwright/orders/woods"
)

// TestEveryRandomLayoutIsValid lays random jobs and has every layout
// recomputed by check.
func TestEveryRandomLayoutIsValid(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		job := drawJob(t)
		l := cutting.Nest(job, nesting.Limits{Seed: 1, Think: time.Millisecond})
		verify(t, job, l)
	})
}

type failer interface {
	Helper()
	Fatalf(format string, args ...any)
}

func verify(t failer, job cutting.Job, l nesting.Layout) {
	t.Helper()
	given := check.Given{Parts: job.Parts, Rack: job.Rack, Yard: job.Yard, Standard: job.Standard, Settings: job.Settings}
	for _, f := range check.Layout(l, given) {
		t.Fatalf("%v\n%+v", f, l)
	}
}

const inch = measure.Inch

func drawLength(t *rapid.T, what string, from, to int) measure.Length {
	return measure.Length(rapid.IntRange(from*16, to*16).Draw(t, what)) * measure.Inch / 16
}

func drawJob(t *rapid.T) cutting.Job {
	set := settings.Default()
	set.CutFirst = rapid.SampledFrom([]string{"best", "crosscut", "rip"}).Draw(t, "cut first")
	set.CrosscutKerf = drawLength(t, "crosscut kerf", 0, 1) / 4
	set.RipKerf = drawLength(t, "rip kerf", 0, 1) / 4
	set.EndTrim = drawLength(t, "end trim", 0, 2)
	set.EdgeTrim = drawLength(t, "edge trim", 0, 1)
	set.ShortestMachine = drawLength(t, "machine", 0, 16)
	set.ShortestRip = drawLength(t, "rip", 0, 14)
	set.FenceReaches = drawLength(t, "fence", 0, 30)
	set.SledTakes = drawLength(t, "sled", 0, 24)
	set.Units = rapid.SampledFrom([]measure.Unit{measure.Inches, measure.Millimetres}).Draw(t, "units")
	job := cutting.Job{Settings: set}
	woods := []string{"Walnut", "walnut ", "Birch plywood"}
	for line := range rapid.IntRange(1, 6).Draw(t, "lines") {
		part := orders.Part{Wood: rapid.SampledFrom(woods).Draw(t, "wood"),
			Grain:     rapid.SampledFrom([]orders.Grain{orders.AlongLength, orders.EitherWay}).Draw(t, "grain"),
			Thickness: measure.Length(rapid.IntRange(2, 7).Draw(t, "thickness")) * measure.Inch / 8,
			CutLength: drawLength(t, "length", 1, 30), CutWidth: drawLength(t, "width", 1, 8)}
		run := rapid.Bool().Draw(t, "run")
		for unit := range rapid.IntRange(1, 8).Draw(t, "count") {
			part.ID = fmt.Sprintf("L%d-%d", line, unit)
			if run {
				part.Run, part.Place = fmt.Sprintf("G%d-%d", line, unit/3), unit%3+1
			}
			job.Parts = append(job.Parts, part)
		}
	}
	job.Rack = drawBoards(t, "R", woods, rapid.IntRange(0, 5).Draw(t, "rack"))
	job.Yard = drawBoards(t, "Y", woods, rapid.IntRange(0, 2).Draw(t, "yard"))
	job.Standard = rapid.Bool().Draw(t, "standard boards")
	job.Settings.RackCounts = float64(rapid.SampledFrom([]int{100, 100, 0, 50, 130}).Draw(t, "rack counts"))
	for i := range job.Yard {
		job.Yard[i].Unlimited = rapid.Bool().Draw(t, "unlimited")
	}
	return job
}

func drawBoards(t *rapid.T, prefix string, kinds []string, n int) []orders.Board {
	var out []orders.Board
	for i := range n {
		b := orders.Board{ID: fmt.Sprintf("%s%d", prefix, i+1), Wood: rapid.SampledFrom(kinds).Draw(t, "wood"),
			Count: rapid.IntRange(0, 3).Draw(t, "boards"), Length: drawLength(t, "board length", 8, 100),
			Width: drawLength(t, "board width", 1, 20)}
		b.Sheet = woods.IsSheet(b.Wood)
		if b.Sheet || rapid.Bool().Draw(t, "true thickness") {
			b.Thickness = measure.Length(rapid.IntRange(2, 9).Draw(t, "board thickness")) * measure.Inch / 8
		} else {
			b.Class = rapid.SampledFrom([]string{"4/4", "5/4", "8/4"}).Draw(t, "class")
		}
		if rapid.Bool().Draw(t, "priced") {
			b.Cost, b.CostKnown = measure.Money(rapid.IntRange(0, 5000).Draw(t, "cost")), true
		}
		if rapid.Bool().Draw(t, "offcut") && prefix == "R" {
			b.Origin = orders.FromOffcut
		}
		for range rapid.IntRange(0, 3).Draw(t, "defects") {
			b.Defects = append(b.Defects, orders.Defect{X: drawLength(t, "x", 0, 90), Y: drawLength(t, "y", 0, 10),
				Length: drawLength(t, "along", 0, 8), Width: drawLength(t, "across", 0, 12)})
		}
		out = append(out, b)
	}
	return out
}
