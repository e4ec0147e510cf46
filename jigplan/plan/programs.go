package plan

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"batchwright/jigplan"
	"batchwright/jigplan/joint"
	"batchwright/jigplan/times"
	"batchwright/orders"
	"batchwright/orders/measure"
	"batchwright/orders/settings"
)

// programs is which program cuts which part.
type programs struct {
	programs []jigplan.Program
	of       map[string]string // part id -> program id
	refusals []jigplan.Refusal
	problems []orders.Finding
}

// jointKey is what boards must share to be cut by one program.
type jointKey struct {
	finger, rowA, rowB measure.Length
	pattern            orders.Pattern
}

func keyOf(p *orders.Part) jointKey {
	if p.Joint.Row == orders.RowA {
		return jointKey{p.Joint.Finger, p.Thickness, p.Joint.Mate, p.Joint.Pattern}
	}
	return jointKey{p.Joint.Finger, p.Joint.Mate, p.Thickness, p.Joint.Pattern}
}

// choosePrograms gives every jointed part a program, or the reason why not.
func choosePrograms(all []orders.Part, s *settings.Shop) programs {
	c := programs{of: map[string]string{}}
	groups := map[jointKey][]*orders.Part{}
	var keys []jointKey
	for i := range all {
		if all[i].Joint == nil {
			continue
		}
		key := keyOf(&all[i])
		if groups[key] == nil {
			keys = append(keys, key)
		}
		groups[key] = append(groups[key], &all[i])
	}
	slices.SortFunc(keys, func(a, b jointKey) int {
		return cmp.Or(cmp.Compare(a.rowA, b.rowA), cmp.Compare(a.rowB, b.rowB), cmp.Compare(a.finger, b.finger), cmp.Compare(a.pattern.Exact, b.pattern.Exact))
	})
	for _, key := range keys {
		c.choose(key, groups[key], s)
	}
	return c
}

// choose finds the programs of one group. Heights that no program serves are
// refused; the others are shared out among as many cards as save time.
func (c *programs) choose(key jointKey, boards []*orders.Part, s *settings.Shop) {
	byHeight := map[measure.Length][]*orders.Part{}
	for _, b := range boards {
		byHeight[b.Joint.Height] = append(byHeight[b.Joint.Height], b)
	}
	var good []rung
	for _, h := range sortedHeights(byHeight) {
		candidate, refusal := solve(key, []measure.Length{h}, s)
		if refusal != nil {
			c.refuse(*refusal, byHeight[h])
			continue
		}
		minutes := times.StackMinutes(candidate.Program, s.Times)
		good = append(good, rung{height: h, boards: len(byHeight[h]), minutes: minutes, alone: candidate})
	}
	stackOf := max(1, int((s.Opening-s.ClampTakes-s.Backing)/max(key.rowA, 1)))
	if s.Replaceable > 0 {
		stackOf = min(stackOf, max(2, s.Replaceable))
	}
	for _, span := range shareOut(good, stackOf, s.Times.ChangeCard/60) {
		c.give(key, span, byHeight, s)
	}
}

// rung is one height of a group, with what a stack end of it takes alone.
type rung struct {
	height  measure.Length
	boards  int
	minutes float64
	alone   joint.Candidate
}

// shareOut splits heights, rising, into runs that share a card: a shared card
// fills stacks better, but every board then waits for the tallest one's cuts.
// The split is the best one by dynamic programming.
func shareOut(rungs []rung, stackOf int, card float64) [][]rung {
	n := len(rungs)
	best := make([]float64, n+1)
	from := make([]int, n+1)
	for end := 1; end <= n; end++ {
		boards := 0
		for start := end - 1; start >= 0; start-- {
			boards += rungs[start].boards
			stacks := (boards + stackOf - 1) / stackOf
			cost := best[start] + card + float64(2*stacks)*rungs[end-1].minutes
			if start == end-1 || cost < best[end]-1e-9 {
				best[end], from[end] = cost, start
			}
		}
	}
	var spans [][]rung
	for end := n; end > 0; end = from[end] {
		spans = append(spans, rungs[from[end]:end])
	}
	slices.Reverse(spans)
	return spans
}

// give hands a run of heights its program; heights that cannot share one get
// one each.
func (c *programs) give(key jointKey, span []rung, byHeight map[measure.Length][]*orders.Part, s *settings.Shop) {
	heights := make([]measure.Length, len(span))
	for i, r := range span {
		heights[i] = r.height
	}
	candidate, refusal := span[0].alone, (*jigplan.Refusal)(nil)
	if len(span) > 1 {
		candidate, refusal = solve(key, heights, s)
	}
	if refusal != nil {
		for i := range span {
			c.give(key, span[i:i+1], byHeight, s)
		}
		return
	}
	idA, idB := c.add(candidate)
	c.sayAsked(&candidate.Program, byHeight, s)
	for _, h := range heights {
		for _, b := range byHeight[h] {
			c.of[b.ID] = idA
			if b.Joint.Row == orders.RowB {
				c.of[b.ID] = idB
			}
		}
	}
}

// sayAsked notes, once for each line of the order, a finger that is cut at
// another width than asked.
func (c *programs) sayAsked(p *jigplan.Program, byHeight map[measure.Length][]*orders.Part, s *settings.Shop) {
	seen := map[orders.Source]bool{}
	for _, asked := range p.OffAsked() {
		for _, h := range p.Heights {
			for _, b := range byHeight[h.Height] {
				if seen[b.Source] {
					continue
				}
				seen[b.Source] = true
				c.problems = append(c.problems, orders.Finding{
					Level: orders.Note, Source: b.Source, Read: b.Box,
					Did: fmt.Sprintf("%s asked, %s cut: the closest this rod and blade allow", asked.BareOnRule(s.Units), p.Finger.Length().BareOnRule(s.Units)),
					Fix: "OK if intended",
				})
			}
		}
	}
}

// add numbers a candidate's programs and gives the ids for rows A and B.
func (c *programs) add(candidate joint.Candidate) (idA, idB string) {
	first := len(c.programs)
	for _, prog := range candidate.Programs() {
		prog.ID = fmt.Sprintf("J%d", len(c.programs)+1)
		c.programs = append(c.programs, prog)
	}
	added := c.programs[first:]
	if len(added) == 2 {
		added[0].Mate, added[1].Mate = added[1].ID, added[0].ID
	}
	return added[0].ID, added[len(added)-1].ID
}

func solve(key jointKey, heights []measure.Length, s *settings.Shop) (joint.Candidate, *jigplan.Refusal) {
	q := joint.Request{Finger: key.finger, Heights: heights, RowA: key.rowA, RowB: key.rowB, Settings: *s}
	if key.pattern.Exact != "" {
		return solvePattern(key.pattern, q)
	}
	answer, err := joint.Solve(q)
	switch {
	case err != nil:
		return joint.Candidate{}, &jigplan.Refusal{Why: err.Error(), Nearest: "correct the Shop setting it names"}
	case answer.Refused != nil:
		return joint.Candidate{}, answer.Refused
	}
	return answer.Candidates[0], nil
}

// solvePattern is the program of a pattern, or the two of its rows.
func solvePattern(p orders.Pattern, q joint.Request) (joint.Candidate, *jigplan.Refusal) {
	answer, err := joint.SolveNamed(q, p.Exact, measure.Reading{Bare: measure.Millimetres})
	switch {
	case err != nil:
		return joint.Candidate{}, &jigplan.Refusal{Why: err.Error(), Nearest: "correct the pattern in the Finger column"}
	case answer.Refused != nil:
		return joint.Candidate{}, answer.Refused
	}
	c := answer.Candidate
	c.Program.Pattern, c.Program.Asked = p.Text, widthsIn(p)
	if c.Mate != nil {
		c.Mate.Pattern, c.Mate.Asked = p.Text, widthsIn(p)
	}
	return c, nil
}

// widthsIn is the widths that a pattern names, each once.
func widthsIn(p orders.Pattern) []measure.Length {
	var out []measure.Length
	for _, word := range strings.Fields(p.Exact) {
		if l, err := measure.Parse(word, measure.Reading{Bare: measure.Millimetres}); err == nil && !slices.Contains(out, l) {
			out = append(out, l)
		}
	}
	return out
}

// refuse notes why boards get no program, once a line of the order.
func (c *programs) refuse(r jigplan.Refusal, boards []*orders.Part) {
	lines := map[orders.Source][]string{}
	var sources []orders.Source
	for _, b := range boards {
		if lines[b.Source] == nil {
			sources = append(sources, b.Source)
		}
		lines[b.Source] = append(lines[b.Source], b.ID)
	}
	for _, source := range sources {
		r.Source, r.Parts = source, lines[source]
		c.refusals = append(c.refusals, r)
		c.problems = append(c.problems, r.Finding(boards[0].Box))
	}
}

func sortedHeights(m map[measure.Length][]*orders.Part) []measure.Length {
	heights := make([]measure.Length, 0, len(m))
	for h := range m {
		heights = append(heights, h)
	}
	slices.Sort(heights)
	return heights
}
