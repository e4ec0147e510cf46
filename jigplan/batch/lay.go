package batch

import (
	"batchwright/jigplan"
	"batchwright/nesting"
	"batchwright/nesting/cutting"
	"batchwright/orders"
)

// lay nests every part that is not refused. A box that lacks wood for one of
// its walls keeps none of them, because a wall without its mates joins nothing:
// they are named as short, and the wood goes to the other boxes.
func lay(p *jigplan.Plan, opt Options) {
	out := map[string]string{}
	var short []nesting.Short
	leave := func(part, why string) {
		if _, known := out[part]; !known {
			out[part] = why
			short = append(short, nesting.Short{Part: part, Why: why})
		}
	}
	for _, r := range p.Refusals {
		for _, id := range r.Parts {
			leave(id, r.Why)
		}
	}
	lim := opt.Limits
	for {
		p.Layout = cutting.Nest(cutting.Job{Parts: without(p.Parts, out), Rack: p.Order.Rack, Yard: p.Order.Yard, Settings: p.Order.Settings}, lim)
		broken := brokenBoxes(p.Parts, out, p.Layout.Short)
		if len(broken) == 0 {
			break
		}
		for _, s := range broken {
			leave(s.Part, s.Why)
		}
		lim.Deadline = opt.Finish
	}
	p.Layout.Short = append(short, p.Layout.Short...)
}

func without(all []orders.Part, out map[string]string) []orders.Part {
	var kept []orders.Part
	for _, part := range all {
		if _, gone := out[part.ID]; !gone {
			kept = append(kept, part)
		}
	}
	return kept
}

// brokenBoxes lists the walls of the boxes that have wood for some of their
// walls and not for others.
func brokenBoxes(all []orders.Part, out map[string]string, short []nesting.Short) []nesting.Short {
	type unit struct{ line, unit int }
	why := map[string]string{}
	for _, s := range short {
		why[s.Part] = s.Why
	}
	lacks := map[unit]string{} // the first wall without wood
	laid := map[unit]int{}
	for _, part := range all {
		if _, gone := out[part.ID]; gone || part.Joint == nil {
			continue
		}
		u := unit{part.Line, part.Unit}
		switch {
		case why[part.ID] == "":
			laid[u]++
		case lacks[u] == "":
			lacks[u] = part.ID
		}
	}
	var broken []nesting.Short
	for _, part := range all {
		u := unit{part.Line, part.Unit}
		if _, gone := out[part.ID]; gone || part.Joint == nil || lacks[u] == "" || laid[u] == 0 {
			continue
		}
		reason := why[part.ID]
		if reason == "" {
			reason = "left out because its box lacks " + lacks[u] + ": " + why[lacks[u]]
		}
		broken = append(broken, nesting.Short{Part: part.ID, Why: reason})
	}
	return broken
}
