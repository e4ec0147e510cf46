package plan

import (
	"fmt"
	"math"
	"slices"

	"batchwright/jigplan"
	"batchwright/jigplan/setup"
	"batchwright/jigplan/times"
	"batchwright/orders"
	"batchwright/orders/settings"
)

// Recut plans some parts of an accepted plan again, from the boards given. The
// cards are the accepted ones, so that the new boards meet those already cut;
// everything else of the batch is left out.
func Recut(accepted *jigplan.Plan, ids []string, rack []orders.Board, opt Options) (*jigplan.Plan, error) {
	o := *accepted.Order
	o.Rack, o.HasRack = rack, true
	p := &jigplan.Plan{Order: &o, Builds: accepted.Builds, Seed: opt.Limits.Seed, Recut: true}
	for _, part := range accepted.Parts {
		if slices.Contains(ids, part.ID) {
			part.Run, part.Place, part.Book = "", 0, "" // its neighbours in the grain are cut already
			p.Parts = append(p.Parts, part)
		}
	}
	for _, id := range ids {
		if !slices.ContainsFunc(p.Parts, func(part orders.Part) bool { return part.ID == id }) {
			return nil, fmt.Errorf("the plan has no part %q: the sheet Parts lists its labels, such as %s", id, accepted.Parts[0].ID)
		}
	}
	chosen := keptPrograms(accepted, p.Parts)
	lay(p, opt)
	cutSome(p, accepted.Parts, chosen)
	if err := reckon(p, opt); err != nil {
		return nil, err
	}
	p.Buy = boughtWood(p)
	return p, Verify(p)
}

// cutSome forms the stacks of the plan's parts alone. The boxes are grouped
// whole, as each board's place follows from its mates; then the boards that are
// cut already are taken out, and what is left of the stacks is put together.
func cutSome(p *jigplan.Plan, whole []orders.Part, c programs) {
	laid := map[string]orders.Part{}
	for _, part := range without(p.Parts, shortOf(p)) {
		laid[part.ID] = part
	}
	s := &p.Order.Settings
	grouped := setup.Group(setup.Input{Parts: whole, Programs: c.programs, ProgramOf: c.of, Settings: s})
	for _, u := range grouped.Setups {
		stacks := mergeStacks(u.ID, grouped.Stacks, laid, s)
		if len(stacks) == 0 {
			continue
		}
		id := fmt.Sprintf("U%d", len(p.Setups)+1)
		u.ID, u.Stacks = id, nil
		for i := range stacks {
			stacks[i].ID, stacks[i].Setup = fmt.Sprintf("%s-%d", id, i+1), id
			u.Stacks = append(u.Stacks, stacks[i].ID)
		}
		p.Setups, p.Stacks = append(p.Setups, u), append(p.Stacks, stacks...)
	}
	p.Programs = used(c.programs, p.Setups)
	times.Stacks(p.Stacks, p.Setups, p.Programs, s.Times)
}

func shortOf(p *jigplan.Plan) map[string]string {
	out := map[string]string{}
	for _, s := range p.Layout.Short {
		out[s.Part] = s.Why
	}
	return out
}

// mergeStacks keeps of a setup's stacks the boards that are laid, and joins
// stacks of one end and thickness as long as the opening takes them and the
// shop could replace them.
func mergeStacks(setup string, all []jigplan.Stack, laid map[string]orders.Part, shop *settings.Shop) (out []jigplan.Stack) {
	room := shop.Opening - shop.ClampTakes - shop.Backing
	most := math.MaxInt
	if shop.Replaceable > 0 {
		most = shop.Replaceable
	}
	for _, stack := range all {
		if stack.Setup != setup {
			continue
		}
		for _, b := range stack.Boards {
			part, wanted := laid[b.Part]
			if !wanted {
				continue
			}
			at := slices.IndexFunc(out, func(s jigplan.Stack) bool {
				return s.End == stack.End && laid[s.Boards[0].Part].Thickness == part.Thickness &&
					s.Room()+part.Thickness+b.Carrier <= room && len(s.Boards) < most
			})
			if at < 0 {
				at = len(out)
				out = append(out, jigplan.Stack{End: stack.End})
			}
			out[at].Boards = append(out[at].Boards, b)
			out[at].Thickness += part.Thickness
		}
	}
	return out
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
