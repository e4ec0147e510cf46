// Package plan composes the stages into one plan: parts, programs, layout,
// setups, stacks, running order, time, purchases. It knows no file, flag or
// clock; what it plans has been through the checks before it is returned.
package plan

import (
	"fmt"
	"time"

	"batchwright/jigplan"
	"batchwright/jigplan/sequence"
	"batchwright/jigplan/setup"
	"batchwright/jigplan/times"
	"batchwright/nesting"
	"batchwright/orders"
)

// Options is how a batch is planned.
type Options struct {
	Limits  nesting.Limits
	Finish  time.Time // when the whole search must end; zero: never. Limits.Deadline is the nesting's share
	Partial bool      // plan the good lines of an order that has errors
}

// Plan plans an order. An order with errors, unless Partial, comes back with
// nothing planned and every problem listed: see Failed. An error means that a
// check found fault with the plan, which is our mistake and never the order's.
func Plan(o *orders.Order, opt Options) (*jigplan.Plan, error) {
	made, asMade := makeParts(o)
	p := &jigplan.Plan{
		Order:    o,
		Builds:   made.Builds,
		Seed:     opt.Limits.Seed,
		Findings: append(append([]orders.Finding(nil), o.Findings...), made.Findings...),
	}
	if Failed(p) {
		if !opt.Partial {
			return p, nil
		}
		p.Partial = true
	}
	p.Parts = made.Parts
	chosen := prepare(p, asMade)
	lay(p, opt)
	layGlued(p, opt)
	priceMatching(p, opt)
	sayCosts(p)
	cut(p, chosen)
	if err := reckon(p, opt); err != nil {
		return nil, err
	}
	p.Buy = purchases(p)
	return p, Verify(p)
}

// prepare does what comes before the boards: woods, joints, stacks, panels. What
// cannot be made is in the plan's refusals.
func prepare(p *jigplan.Plan, asMade *orders.Order) programs {
	chooseSpecies(p)
	chosen := choosePrograms(p.Parts, &p.Order.Settings)
	p.Refusals = append(p.Refusals, chosen.refusals...)
	p.Findings = append(p.Findings, chosen.problems...)
	placeGrooves(p, asMade, chosen)
	addSpares(p, refuseUnclampable(p, chosen))
	gluePanels(p)
	return chosen
}

// Unmade is what a plan of the order would leave unmade: joints that are
// refused, and parts without a board. With nothing bought, a quick layout says
// which those are.
func Unmade(o *orders.Order) *jigplan.Plan {
	made, asMade := makeParts(o)
	p := &jigplan.Plan{Order: o, Builds: made.Builds, Parts: made.Parts}
	prepare(p, asMade)
	b := newBoxChoice(p, Options{})
	p.Layout.Short = b.refused
	if job := jobOf(o); !job.Standard {
		lay(p, Options{Limits: nesting.Limits{Think: firstThink}})
	}
	return p
}

// reckon orders the setups and times the whole.
func reckon(p *jigplan.Plan, opt Options) error {
	if err := order(p, opt); err != nil {
		return err
	}
	in := times.Input{
		Boxes: p.Order.Boxes, Parts: p.Parts, Layout: p.Layout, Programs: p.Programs,
		Setups: p.Setups, Stacks: p.Stacks, Sequence: p.Sequence, Settings: &p.Order.Settings,
	}
	p.Time, p.Milling = times.Estimate(in), times.Milling(in)
	return nil
}

// Failed reports whether the order has errors.
func Failed(p *jigplan.Plan) bool {
	for _, problem := range p.Findings {
		if problem.Level == orders.Error {
			return true
		}
	}
	return false
}

// Findings is everything that is wrong with an order before it is planned.
func Findings(o *orders.Order) []orders.Finding {
	made, _ := makeParts(o)
	return append(append([]orders.Finding(nil), o.Findings...), made.Findings...)
}

// refuseUnclampable takes out the boards that no stack can hold before wood is
// spent on them, and returns the stacks the others would lie in.
func refuseUnclampable(p *jigplan.Plan, c programs) []jigplan.Stack {
	grouped := setup.Group(setup.Input{Parts: p.Parts, Programs: c.programs, ProgramOf: c.of, Boxes: p.Order.Boxes, Settings: &p.Order.Settings})
	p.Refusals = append(p.Refusals, grouped.Refused...)
	return grouped.Stacks
}

// cut forms the setups and stacks of the boards that have wood.
func cut(p *jigplan.Plan, c programs) {
	short := map[string]bool{}
	for _, s := range p.Layout.Short {
		short[s.Part] = true
	}
	var placed []orders.Part
	for _, part := range p.Parts {
		if !short[part.ID] {
			placed = append(placed, part)
		}
	}
	grouped := setup.Group(setup.Input{Parts: placed, Programs: c.programs, ProgramOf: c.of, Boxes: p.Order.Boxes, Settings: &p.Order.Settings})
	p.Setups, p.Stacks, p.StackBound = grouped.Setups, grouped.Stacks, grouped.StackBound
	p.Programs = used(c.programs, p.Setups)
	times.Stacks(p.Stacks, p.Setups, p.Programs, p.Order.Settings.Times)
}

// used keeps the programs that some setup runs, and their mates.
func used(all []jigplan.Program, setups []jigplan.Setup) (out []jigplan.Program) {
	wanted := map[string]bool{}
	for _, s := range setups {
		wanted[s.Program] = true
	}
	for _, prog := range all {
		if wanted[prog.ID] || prog.Mate != "" && wanted[prog.Mate] {
			out = append(out, prog)
		}
	}
	return out
}

// order finds the running order of the setups.
func order(p *jigplan.Plan, opt Options) error {
	seq, err := sequence.Order(sequence.Input{
		Setups: p.Setups, Programs: p.Programs, Stacks: p.Stacks, Due: dueOf(p), Settings: &p.Order.Settings,
		Limits: sequence.Limits{Deadline: opt.Finish, Stop: opt.Limits.Stop},
	})
	if err != nil {
		return fmt.Errorf("running order: %w", err)
	}
	p.Sequence = seq
	numberInOrder(p)
	return nil
}

// dueOf is the earliest date of the boxes each setup cuts.
func dueOf(p *jigplan.Plan) map[string]time.Time {
	date := map[string]time.Time{}
	for _, part := range p.Parts {
		if part.Joint != nil && part.Line < len(p.Order.Boxes) {
			date[part.ID] = p.Order.Boxes[part.Line].Due
		}
	}
	out := map[string]time.Time{}
	for _, s := range p.Stacks {
		for _, b := range s.Boards {
			if d, first := date[b.Part], out[s.Setup]; !d.IsZero() && (first.IsZero() || d.Before(first)) {
				out[s.Setup] = d
			}
		}
	}
	return out
}

// purchases is the wood to bring from the yard and what is used up beside it.
func purchases(p *jigplan.Plan) []jigplan.Purchase {
	return append(boughtWood(p), Supplies(p.Order, p.Parts)...)
}
