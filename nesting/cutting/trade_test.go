package cutting_test

import (
	"testing"
	"time"

	"batchwright/nesting"
	"batchwright/nesting/cutting"
	"batchwright/orders"
	"batchwright/orders/measure"
	"batchwright/orders/settings"
)

// tradeJob is a job without raw ends and edges, with kerfs of 1/8 in, a planer
// that takes 12 in and offcuts kept from 12 x 2 in, so that the tests of the
// trade can be reckoned by hand.
func tradeJob(rack ...orders.Board) cutting.Job {
	job := cutting.Job{Rack: rack, Settings: settings.Default()}
	set := &job.Settings
	set.EndTrim, set.EdgeTrim, set.CrosscutKerf, set.RipKerf = 0, 0, inch/8, inch/8
	set.ShortestMachine, set.KeepLength, set.KeepWidth = 12*inch, 12*inch, 2*inch
	return job
}

// ashBoard is one board of 4/4 ash.
func ashBoard(id string, length, width measure.Length, cost measure.Money) orders.Board {
	return orders.Board{ID: id, Wood: "ash", Class: "4/4", Count: 1, Length: length, Width: width, Cost: cost, CostKnown: true}
}

// ashPart is a part 1/2 in thick, its grain along its length.
func ashPart(id string, length, width measure.Length) orders.Part {
	return orders.Part{ID: id, Wood: "ash", Grain: orders.AlongLength, Thickness: inch / 2,
		Length: length, Width: width, CutLength: length, CutWidth: width}
}

// laid lays a job and has the layout checked.
func laid(t *testing.T, job cutting.Job) nesting.Layout {
	t.Helper()
	l := cutting.Nest(job, nesting.Limits{Seed: 1, Think: 50 * time.Millisecond})
	verify(t, job, l)
	return l
}

func boardsOf(l nesting.Layout) (ids []string) {
	for _, b := range l.Boards {
		ids = append(ids, b.ID)
	}
	return ids
}

// keptOn is what of a layout goes back to the rack.
func keptOn(l nesting.Layout) (kept []nesting.Offcut) {
	for _, b := range l.Boards {
		for _, o := range b.Offcuts {
			if o.Keep {
				kept = append(kept, o)
			}
		}
	}
	return kept
}
