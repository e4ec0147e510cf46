package plan

import (
	"errors"
	"fmt"

	"batchwright/jigplan"
	"batchwright/jigplan/check"
	layout "batchwright/nesting/check"
)

// ErrFault marks a plan that the independent checks do not accept: a mistake
// of this program, never of the order.
var ErrFault = errors.New("the plan does not pass its own checks")

// verify puts a plan through every check before anyone sees it.
func verify(p *jigplan.Plan) error {
	var faults []error
	given := layout.Given{Parts: p.Parts, Rack: p.Order.Rack, Yard: p.Order.Yard, Settings: p.Order.Settings}
	for _, f := range layout.Layout(p.Layout, given) {
		faults = append(faults, f)
	}
	faults = append(faults, check.Programs(p.Programs)...)
	faults = append(faults, check.Stacks(p)...)
	faults = append(faults, check.Sequence(p)...)
	faults = append(faults, check.Time(p)...)
	if len(faults) > 0 {
		return fmt.Errorf("%w: %w", ErrFault, errors.Join(faults...))
	}
	return nil
}
