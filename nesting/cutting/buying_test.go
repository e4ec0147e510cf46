package cutting_test

import (
	"fmt"
	"testing"
	"time"

	"pgregory.net/rapid"

	"batchwright/nesting"
	"batchwright/nesting/cutting"
	"batchwright/orders"
	"batchwright/orders/measure"
	"batchwright/orders/settings"
)

// TestMoreBoardsNeverCostMore adds boards to a rack one by one: the cheapest
// layout never costs more, no part is made fewer, and
// everything is made that an empty rack makes.
func TestMoreBoardsNeverCostMore(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		job := drawPurchase(t)
		boards := job.Rack
		job.Rack = nil
		before := nest(t, job)
		if job.Standard && len(before.Short) > 0 {
			t.Fatalf("short with everything to be bought: %v", before.Short)
		}
		for n := range boards {
			job.Rack = boards[:n+1]
			now := nest(t, job)
			if len(now.Short) > len(before.Short) || len(now.Short) == len(before.Short) && now.Cheapest > before.Cheapest {
				t.Fatalf("with %+v: %d short, costs %s; before %d short, %s", boards[n], len(now.Short), now.Cheapest,
					len(before.Short), before.Cheapest)
			}
			before = now
		}
	})
}

func nest(t *rapid.T, job cutting.Job) nesting.Layout {
	l := cutting.Nest(job, nesting.Limits{Seed: 1, Think: time.Second})
	verify(t, job, l)
	return l
}

// drawPurchase is a small order in one wood or two, a rack, and a yard with
// prices or a price a board foot.
func drawPurchase(t *rapid.T) cutting.Job {
	job := cutting.Job{Settings: settings.Default(), Standard: true}
	woods := []string{"cherry", "cherry", "cherry", "pine"}
	for line := range rapid.IntRange(1, 4).Draw(t, "lines") {
		part := orders.Part{Wood: rapid.SampledFrom(woods).Draw(t, "wood"), Grain: orders.AlongLength, Thickness: inch / 2,
			CutLength: drawLength(t, "length", 5, 24), CutWidth: drawLength(t, "width", 2, 5)}
		for unit := range rapid.IntRange(1, 10).Draw(t, "count") {
			part.ID = fmt.Sprintf("L%d-%d", line, unit)
			job.Parts = append(job.Parts, part)
		}
	}
	job.Settings.CostOf["cherry"], job.Settings.CostOf["pine"] = settings.WoodCost{Each: 1100, Per: settings.BoardFoot}, settings.WoodCost{Each: 400, Per: settings.BoardFoot}
	if rapid.Bool().Draw(t, "yard") {
		for i, size := range []measure.Length{72 * inch, 96 * inch} {
			job.Yard = append(job.Yard, orders.Board{ID: fmt.Sprint("Y", i), Wood: "cherry", Class: "4/4", Unlimited: true,
				Length: size, Width: drawLength(t, "yard width", 5, 8), Cost: measure.Money(rapid.IntRange(2000, 6000).Draw(t, "price")), CostKnown: true})
		}
	}
	for i := range rapid.IntRange(1, 5).Draw(t, "rack") {
		b := orders.Board{ID: fmt.Sprint("R", i), Wood: rapid.SampledFrom(woods).Draw(t, "wood"), Class: "4/4", Count: 1,
			Length: drawLength(t, "board", 10, 110), Width: drawLength(t, "board width", 2, 9)}
		if rapid.Bool().Draw(t, "priced") {
			b.Cost, b.CostKnown = measure.Money(rapid.IntRange(0, 8000).Draw(t, "cost")), true
		}
		job.Rack = append(job.Rack, b)
	}
	return job
}
