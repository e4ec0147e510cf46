package parts

import (
	"fmt"

	"batchwright/orders"
)

// steps is the order of work.
func (f *frame) steps(b *orders.Build) []orders.Step {
	var out []orders.Step
	add := func(when orders.When, why, what string, args ...any) {
		out = append(out, orders.Step{When: when, What: fmt.Sprintf(what, args...), Why: why})
	}
	add(orders.BeforeJoints, "equal lengths matter more than exact ones",
		"crosscut all sides on one stop, then all ends, %s over the finished length", f.show(2*f.set.Proud))
	return out
}
