package plan

import (
	"errors"
	"fmt"

	"batchwright/jigplan"
	"batchwright/jigplan/check"
	layout "batchwright/nesting/check"
)

// Verify puts a plan through every check before anyone sees it.
func Verify(p *jigplan.Plan) error {
	var faults []error
	job := jobOf(p.Order)
	given := layout.Given{Parts: p.Parts, Rack: job.Rack, Yard: job.Yard, Standard: job.Standard, Settings: job.Settings}
	for _, f := range layout.Layout(p.Layout, given) {
		faults = append(faults, f)
	}
	faults = append(faults, check.Programs(p.Programs)...)
	faults = append(faults, check.Stacks(p)...)
	faults = append(faults, check.Sequence(p)...)
	faults = append(faults, check.Boxes(p)...)
	faults = append(faults, check.Panels(p)...)
	faults = append(faults, check.Buying(p)...)
	faults = append(faults, check.Time(p)...)
	if len(faults) > 0 {
		return fmt.Errorf("%w: %w", jigplan.ErrFault, errors.Join(faults...))
	}
	return nil
}
