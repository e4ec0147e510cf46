package reports_test

import (
	"strings"
	"testing"

	"batchwright/jigplan"
	"batchwright/nesting"
	"batchwright/orders"
	"batchwright/orders/measure"
	"batchwright/reports"
)

// Jobs that each need a corner of the same sheet share one; by hand: an offcut
// of 48 in holds two corners of 20 in with their kerfs, and not three.
func TestJobsShareASheet(t *testing.T) {
	const in = measure.Inch
	for _, c := range []struct {
		jobs int
		used measure.Length
		want string
	}{{1, 20 * in, "1 sheet"}, {3, 20 * in, "1 sheet"}, {4, 20 * in, "2 sheets"}, {2, 49 * in, "2 sheets"}} {
		w := handWeek()
		first, booked := w.Jobs[0], w.Schedule.Bookings
		w.Jobs, w.Schedule.Bookings = nil, nil
		for k := range c.jobs {
			plan := *first.Plan
			stock := orders.Board{ID: "T1", Wood: "birch ply", Sheet: true, Length: 96 * in, Width: 24 * in, Origin: orders.FromTypical}
			plan.Layout.Boards = []nesting.CutBoard{{ID: "T1#1", Stock: stock, Length: stock.Length, Width: stock.Width,
				Pieces:  []nesting.Piece{{Length: c.used, Width: 20 * in}},
				Offcuts: []nesting.Offcut{{X: 48 * in, Length: 48 * in, Width: 24 * in, Keep: true}}}}
			plan.Buy = []jigplan.Purchase{{What: "birch ply", Kind: "wood", Size: "96 x 24 in", Count: 1, Quantity: "1 sheet", Board: stock}}
			plan.Order.Settings.RipKerf, plan.Order.Settings.CrosscutKerf = in/8, in/8
			job := first
			job.ID, job.Code, job.Plan = strings.Repeat("x", k+1), string(rune('A'+k)), &plan
			w.Jobs = append(w.Jobs, job)
			for _, b := range booked {
				b.Job = job.ID
				w.Schedule.Bookings = append(w.Schedule.Bookings, b)
			}
		}
		buy := reports.WeekBuy(w)
		if len(buy.Rows) != 1 || !strings.HasPrefix(buy.Rows[0][4], c.want+",") || strings.Count(buy.Rows[0][2], ",") != c.jobs-1 {
			t.Errorf("%d jobs: %v, want one row of %s", c.jobs, buy.Rows, c.want)
		}
	}
}
