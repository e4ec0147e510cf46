package batch

import (
	"fmt"
	"slices"

	"batchwright/jigplan"
	"batchwright/jigplan/pace"
	"batchwright/orders"
)

// Recut plans some parts of an accepted plan again, from the boards given. The
// cards are the accepted ones, so that the new boards meet those already cut;
// everything else of the batch is left out.
func Recut(accepted *jigplan.Plan, ids []string, rack []orders.Board, opt Options) (*jigplan.Plan, error) {
	o := *accepted.Order
	o.Rack, o.HasRack = rack, true
	p := &jigplan.Plan{Order: &o, Builds: accepted.Builds, Seed: opt.Limits.Seed}
	for _, part := range accepted.Parts {
		if slices.Contains(ids, part.ID) {
			part.Run, part.Place = "", 0 // its neighbours in the grain are cut already
			p.Parts = append(p.Parts, part)
		}
	}
	for _, id := range ids {
		if !slices.ContainsFunc(p.Parts, func(part orders.Part) bool { return part.ID == id }) {
			return nil, fmt.Errorf("the plan has no part %q: its labels stand on the sheet Parts", id)
		}
	}
	chosen := keptPrograms(accepted, p.Parts)
	lay(p, opt)
	cut(p, chosen)
	if err := order(p, opt); err != nil {
		return nil, err
	}
	p.Time = pace.Estimate(pace.Input{
		Boxes: o.Boxes, Parts: p.Parts, Layout: p.Layout, Programs: p.Programs,
		Setups: p.Setups, Stacks: p.Stacks, Sequence: p.Sequence, Settings: &o.Settings,
	})
	p.Buy = boughtWood(p)
	return p, verify(p)
}

// keptPrograms are the accepted cards; parts that were short, and so are on no
// card, are given one as they would have been.
func keptPrograms(accepted *jigplan.Plan, wanted []orders.Part) programs {
	program := map[string]string{}
	for _, s := range accepted.Setups {
		program[s.ID] = s.Program
	}
	kept := programs{programs: accepted.Programs, of: map[string]string{}}
	for _, stack := range accepted.Stacks {
		for _, b := range stack.Boards {
			kept.of[b.Part] = program[stack.Setup]
		}
	}
	for _, part := range wanted {
		if part.Joint != nil && kept.of[part.ID] == "" {
			return choosePrograms(accepted.Parts, &accepted.Order.Settings)
		}
	}
	return kept
}
