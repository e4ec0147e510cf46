package cutting

import (
	"fmt"
	"slices"
)

// firstOfAlike takes, of boards that differ in nothing but their names, the
// first ones: a rack is used from its front, whatever the search tried.
func (p *problem) firstOfAlike(plan []used) []used {
	alike := map[string][]int{} // stocks, in order
	for j := range p.stocks {
		if key := p.kindOf(j); key != "" {
			alike[key] = append(alike[key], j)
		}
	}
	out := slices.Clone(plan)
	for k := range out {
		if key := p.kindOf(out[k].stock); key != "" {
			out[k].stock = alike[key][0]
			alike[key] = alike[key][1:]
		}
	}
	return out
}

// kindOf is what boards that may stand for each other have in common; empty for
// a line of several boards, and for leaves.
func (p *problem) kindOf(j int) string {
	s := &p.stocks[j]
	b := s.board
	_, isLeaf := p.job.leaves[b.ID]
	if isLeaf || s.pair || b.Unlimited || b.Count != 1 {
		return ""
	}
	return fmt.Sprint(s.wood, "|", b.Class, b.Thickness, b.Length, b.Width, b.WideEnd, b.Cost, b.CostKnown, b.Origin, b.Sheet, b.Defects)
}
