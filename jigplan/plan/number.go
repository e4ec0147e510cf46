package plan

import (
	"fmt"
	"slices"

	"batchwright/jigplan"
	"batchwright/jigplan/sequence"
)

// numberInOrder numbers setups, their stacks and the count cards in the order
// they are run: the first card put up is J1. A recut keeps the numbers of the
// cards that already hang at the saw.
func numberInOrder(p *jigplan.Plan) {
	if p.Recut {
		return
	}
	place := map[string]int{}
	for i, id := range p.Sequence.Setups {
		place[id] = i
	}
	slices.SortStableFunc(p.Setups, func(a, b jigplan.Setup) int { return place[a.ID] - place[b.ID] })
	slices.SortStableFunc(p.Stacks, func(a, b jigplan.Stack) int { return place[a.Setup] - place[b.Setup] })
	setups, stacks, cards := map[string]string{}, map[string]string{}, numberCards(p)
	for i := range p.Setups {
		u := &p.Setups[i]
		id := fmt.Sprintf("U%d", i+1)
		setups[u.ID], u.ID, u.Program = id, id, cards[u.Program]
		for k, stack := range u.Stacks {
			u.Stacks[k] = fmt.Sprintf("%s-%d", id, k+1)
			stacks[stack] = u.Stacks[k]
		}
	}
	for i := range p.Stacks {
		k := &p.Stacks[i]
		k.ID, k.Setup = stacks[k.ID], setups[k.Setup]
	}
	renameSequence(&p.Sequence, p.Setups, setups)
}

// numberCards sorts and numbers the programs by the first setup that runs them,
// those that none runs last, and gives back their new numbers by the old.
func numberCards(p *jigplan.Plan) map[string]string {
	first := map[string]int{}
	for i := len(p.Setups) - 1; i >= 0; i-- {
		first[p.Setups[i].Program] = i - len(p.Setups)
	}
	programs := slices.Clone(p.Programs) // choosing keeps its own
	slices.SortStableFunc(programs, func(a, b jigplan.Program) int { return first[a.ID] - first[b.ID] })
	cards := map[string]string{}
	for i := range programs {
		cards[programs[i].ID] = fmt.Sprintf("J%d", i+1)
	}
	for i := range programs {
		programs[i].ID, programs[i].Mate = cards[programs[i].ID], cards[programs[i].Mate]
	}
	p.Programs = programs
	return cards
}

func renameSequence(s *jigplan.Sequence, setups []jigplan.Setup, renamed map[string]string) {
	card := map[string]string{}
	for i := range setups {
		card[setups[i].ID] = setups[i].Program
	}
	for i := range s.Setups {
		s.Setups[i] = renamed[s.Setups[i]]
	}
	for i := range s.Changes {
		c := &s.Changes[i]
		c.Setup = renamed[c.Setup]
		for k, element := range c.Elements {
			if element == "Change card" {
				c.What[k] = sequence.CardWords(card[c.Setup])
			}
		}
	}
}
