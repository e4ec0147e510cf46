package cutting

import (
	"fmt"
	"testing"

	"batchwright/nesting"
	"batchwright/orders"
	"batchwright/orders/measure"
	"batchwright/orders/settings"
)

func TestNestSmoke(t *testing.T) {
	job := Job{Settings: settings.Default()}
	for i := range 24 {
		l := measure.Length(8+i%3*4) * measure.Inch
		job.Parts = append(job.Parts, orders.Part{ID: fmt.Sprintf("P%d", i), Wood: "Walnut", Grain: orders.AlongLength,
			Length: l, Width: 7 * measure.Inch / 2, Thickness: measure.Inch / 2,
			CutLength: l + measure.Inch/16, CutWidth: 7*measure.Inch/2 + measure.Inch/8})
	}
	l := Nest(job, nesting.Limits{})
	for _, b := range l.Boards {
		t.Log(b.ID, b.Length.Inches(), b.Width.Inches(), len(b.Pieces))
		for _, p := range b.Pieces {
			t.Log("  ", p.Part, p.X.Inches(), p.Y.Inches(), p.Length.Inches(), p.Width.Inches())
		}
		for _, c := range b.Cuts {
			t.Log("    ", c.N, c.Kind, c.At.Inches(), c.From.Inches(), c.To.Inches(), c.Rough)
		}
		for _, c := range b.Offcuts {
			t.Log("     off", c.X.Inches(), c.Y.Inches(), c.Length.Inches(), c.Width.Inches(), c.Keep)
		}
	}
	t.Log(l.Short, l.Cost, l.CostBound)
}
