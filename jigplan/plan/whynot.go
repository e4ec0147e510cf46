package plan

import (
	"fmt"
	"slices"

	"batchwright/jigplan"
	"batchwright/orders"
)

// WhyNot says why a plan makes less than was asked; empty: it makes all.
func WhyNot(p *jigplan.Plan) string {
	switch {
	case orders.HasError(p.Findings):
		return p.Findings[slices.IndexFunc(p.Findings, func(x orders.Finding) bool { return x.Level == orders.Error })].Did
	case len(p.Refusals) > 0:
		return p.Refusals[0].Why + "; " + p.Refusals[0].Nearest
	case len(p.Layout.Short) > 0:
		s := p.Layout.Short[0]
		return fmt.Sprintf("%d of %d parts cannot be made: %s, %s", len(p.Layout.Short), len(p.Parts), s.Part, s.Why)
	case len(p.Parts) == 0:
		return "there is nothing to make"
	}
	return ""
}
