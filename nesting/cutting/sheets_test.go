package cutting_test

import (
	"fmt"
	"testing"
	"time"

	"batchwright/nesting"
	"batchwright/nesting/cutting"
	"batchwright/orders"
	"batchwright/orders/measure"
	"batchwright/orders/settings"
)

// TestASheetIsNotShredded, worked by hand on a sheet of 1525 x 1525 mm with trims
// of 25.4 and 3.175 mm and kerfs of 3.175 mm. Rows from one edge: of ten bottoms
// of 90 mm six and four, which leaves 1525 - 2 x 3.175 - 2 x 93.175 = 1332.3 mm
// whole; with three trays of 200 and five lids of 120 mm rows of 200, 120, 90
// and 90 mm, which leaves 1005.9 mm; the third order in rows of 250, 250, 190,
// 190 and four of 60 mm leaves 373.2 mm. No part takes more than three cuts.
func TestASheetIsNotShredded(t *testing.T) {
	t.Parallel()
	const mm = measure.Millimetre
	for _, c := range []struct {
		sizes [][3]int // so many, long, wide
		whole int      // mm across, along the whole sheet
	}{
		{[][3]int{{10, 220, 90}}, 1332},
		{[][3]int{{10, 220, 90}, {3, 300, 200}, {5, 180, 120}}, 1005},
		{[][3]int{{12, 290, 190}, {30, 180, 60}, {6, 350, 250}}, 373},
	} {
		job := cutting.Job{Settings: settings.Default()}
		for k, size := range c.sizes {
			l, w := measure.Length(size[1])*mm, measure.Length(size[2])*mm
			for i := range size[0] {
				job.Parts = append(job.Parts, orders.Part{ID: fmt.Sprint(k, "-", i), Wood: "birch ply", Grain: orders.AlongLength,
					Thickness: 6 * mm, Length: l, CutLength: l, Width: w, CutWidth: w})
			}
		}
		job.Rack = []orders.Board{{ID: "S", Wood: "birch ply", Sheet: true, Count: 1, Thickness: 6 * mm, Length: 1525 * mm, Width: 1525 * mm,
			Cost: 4000, CostKnown: true}}
		for _, think := range []time.Duration{time.Millisecond, time.Second} {
			l := cutting.Nest(job, nesting.Limits{Seed: 1, Think: think})
			verify(t, job, l)
			var largest nesting.Offcut
			for _, o := range keptOn(l) {
				if o.Length.Times(o.Width).Cmp(largest.Length.Times(largest.Width)) > 0 {
					largest = o
				}
			}
			least := (1474 * mm).Times(measure.Length(c.whole) * mm)
			if cuts := len(l.Boards[0].Cuts); largest.Length.Times(largest.Width).Cmp(least) < 0 || cuts > 3*len(job.Parts) {
				t.Errorf("%v, %v of thought: %d cuts, keeps %v", c.sizes, think, cuts, keptOn(l))
			}
		}
	}
}
