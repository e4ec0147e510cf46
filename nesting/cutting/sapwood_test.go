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

// TestSapwoodIsCutOffUnlessAllowed: boards sold with a pale edge are ripped to
// the heartwood unless the maker takes it (common practice).
func TestSapwoodIsCutOffUnlessAllowed(t *testing.T) {
	for _, c := range []struct {
		why      string
		y, width measure.Length
		allowed  string
		laid     bool
	}{
		{"heartwood wide enough beside it", 0, inch / 2, "avoid", true},
		{"heartwood too narrow beside it", 0, inch, "avoid", false},
		{"the whole width where it is allowed", 0, inch, "allowed", true},
		{"along the far edge", 5*inch - inch/2, inch / 2, "avoid", true},
		{"too wide along the far edge", 4 * inch, inch, "avoid", false},
	} {
		job := cutting.Job{Settings: settings.Default(), Parts: []orders.Part{{ID: "a", Wood: "cherry", Grain: orders.AlongLength,
			Thickness: inch / 2, CutLength: 20 * inch, CutWidth: 4*inch + inch/8}},
			Rack: []orders.Board{{ID: "R", Wood: "cherry", Class: "4/4", Count: 1, Length: 30 * inch, Width: 5 * inch,
				Defects: []orders.Defect{{Y: c.y, Length: 30 * inch, Width: c.width, Sapwood: true}}}}}
		job.Settings.Sapwood = c.allowed
		l := cutting.Nest(job, nesting.Limits{Seed: 1, Think: time.Millisecond})
		verify(t, job, l)
		if laid := len(l.Short) == 0; laid != c.laid {
			t.Errorf("%s: laid %v, want %v", c.why, laid, c.laid)
		}
	}
}
