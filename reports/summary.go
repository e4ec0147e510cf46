package reports

import (
	"fmt"
	"math"
	"strings"

	"batchwright/jigplan"
	"batchwright/nesting"
	"batchwright/orders"
	"batchwright/orders/measure"
	"batchwright/orders/settings"
)

// PartialMark stands on every page of a plan that left lines out.
const PartialMark = "PARTIAL: lines with errors were left out; totals are incomplete"

// Summary is the batch in a few tables for the screen, the most important first:
// what cannot be made (only if something cannot), the batch, and what to check
// first; all adds what is proven of it and the boxes as ordered.
func Summary(p *jigplan.Plan, all bool) []Table {
	var out []Table
	if cannot := Cannot(p); len(cannot.Rows) > 0 {
		out = append(out, cannot)
	}
	if !all {
		return append(out, facts(p, false), CheckFirst(p))
	}
	return append(out, facts(p, true), CheckFirst(p), BoxLines(p))
}

// Cannot lists what cannot be made as asked: refused joints with what would
// work, then parts without a board, equal reasons together.
func Cannot(p *jigplan.Plan) Table {
	t := Table{Title: "Cannot be made as asked", Head: []string{"What", "Parts", "Why", "What would work"}, Numbers: []int{1}}
	byID := map[string]*orders.Part{}
	for i := range p.Parts {
		byID[p.Parts[i].ID] = &p.Parts[i]
	}
	refused := map[string]bool{}
	for _, r := range p.Refusals {
		for _, id := range r.Parts {
			refused[id] = true
		}
	}
	names := NamesOf(p)
	for _, r := range alike(p.Refusals, byID) {
		t.Add(names.Together(r.Parts, false), len(r.Parts), r.Why, r.Nearest)
	}
	index, groups := map[string]int{}, [][]string{}
	for _, s := range p.Layout.Short {
		if refused[s.Part] {
			continue
		}
		at, ok := index[s.Why]
		if !ok {
			at = len(groups)
			index[s.Why] = at
			groups = append(groups, nil)
		}
		groups[at] = append(groups[at], s.Part)
	}
	for why, at := range inOrder(index) {
		why, remedy := remedyIn(why)
		t.Add(names.Together(groups[at], false), len(groups[at]), why, remedy)
	}
	return t
}

// remedyIn parts what is wrong from what to do, which follows the last semicolon
// of a reason; without one it is a board that is missing.
func remedyIn(why string) (wrong, remedy string) {
	if at := strings.LastIndex(why, "; "); at >= 0 {
		return why[:at], why[at+2:]
	}
	return why, "a board that holds them: add one to Rack or Yard"
}

// alike joins refusals that concern the same parts of several boxes and have
// the same way out; the first one's reason speaks for them.
func alike(list []jigplan.Refusal, byID map[string]*orders.Part) []jigplan.Refusal {
	type key struct{ labels, nearest string }
	index := map[key]int{}
	var out []jigplan.Refusal
	for _, r := range list {
		k := key{whose(r.Parts, byID), r.Nearest}
		at, ok := index[k]
		if !ok {
			index[k] = len(out)
			r.Parts = append([]string(nil), r.Parts...)
			out = append(out, r)
			continue
		}
		out[at].Parts = append(out[at].Parts, r.Parts...)
	}
	return out
}

// inOrder ranges over an index by its numbers.
func inOrder(index map[string]int) func(yield func(string, int) bool) {
	names := make([]string, len(index))
	for name, at := range index {
		names[at] = name
	}
	return func(yield func(string, int) bool) {
		for at, name := range names {
			if !yield(name, at) {
				return
			}
		}
	}
}

// whose names parts by their labels, each label once.
func whose(ids []string, byID map[string]*orders.Part) string {
	var labels []string
	seen := map[string]bool{}
	for _, id := range ids {
		label := id
		if part := byID[id]; part != nil {
			label = Label(part)
		}
		if !seen[label] {
			seen[label] = true
			labels = append(labels, label)
		}
	}
	return Listed(labels, 6)
}

// facts is the batch in a few lines: what is made, how long it takes, what it
// costs; all adds what is proven of it, and the risk.
func facts(p *jigplan.Plan, all bool) Table {
	t := Table{Title: "This batch", Head: []string{"", ""}}
	if p.Partial {
		t.Add("Note", PartialMark)
	}
	t.Add("Boxes", made(p))
	if buy := ToBuy(p); buy != "" {
		t.Add("To buy", buy)
	}
	t.Add("Time", fmt.Sprintf("median %s; %s chance of %s or less", Hours(p.Time.Minutes), p.Order.Settings.Units.Percent(80, 0), Hours(p.Time.P80Minutes)))
	t.Add("Wood", wood(p))
	costs := cost(p)
	if l := &p.Layout; !all && l.CostKnown && len(l.Boards) > 0 {
		costs += ", " + boundWords(l, p.Order.Settings.Units)
	}
	t.Add("Cost of the wood", costs)
	if all {
		t.Add("Best possible", bound(&p.Layout, &p.Order.Settings))
	}
	if all && p.Matching.Runs > 0 {
		t.Add("Matched grain", matching(p))
	}
	if other := otherFingers(p); other != "" {
		t.Add("Fingers", other)
	}
	if len(p.Programs) > 0 {
		t.Add("At the jig", fmt.Sprintf("%s, %s, %s%s", Counted(len(p.Programs), "count card", "count cards"),
			Counted(len(p.Setups), "setup", "setups"), Counted(len(p.Stacks), "stack end", "stack ends"), fewest(p)))
	}
	if all && len(p.Programs) > 0 {
		t.Add("Setup changes", changing(&p.Sequence))
		t.Add("Miscount", lostCount(p))
	}
	return t
}

func made(p *jigplan.Plan) string {
	loose, spares := 0, spareBlanks(p)
	for i := range p.Parts {
		if p.Parts[i].IsLoose() {
			loose++
		}
	}
	text := Counted(Boxes(p), "box", "boxes")
	if loose > spares {
		text += " and " + Counted(loose-spares, "loose part", "loose parts")
	}
	if spares > 0 {
		text += ", with " + Counted(spares, "spare blank", "spare blanks")
	}
	text += ", " + Counted(len(p.Parts), "part", "parts")
	if short := len(Short(p)); short > 0 {
		text += fmt.Sprintf("; %s cannot be made, so %s cannot be finished", Counted(short, "part", "parts"), Counted(unfinished(p), "box", "boxes"))
	}
	return text
}

// unfinished counts the boxes that lack a part.
func unfinished(p *jigplan.Plan) int {
	short := map[string]bool{}
	for _, s := range Short(p) {
		short[s.Part] = true
	}
	type box struct{ line, unit int }
	seen := map[box]bool{}
	for i := range p.Parts {
		if part := &p.Parts[i]; short[part.ID] && !part.IsLoose() {
			seen[box{part.Line, part.Unit}] = true
		}
	}
	return len(seen)
}

func wood(p *jigplan.Plan) string {
	if len(p.Layout.Boards) == 0 {
		return "no board is used"
	}
	used := p.Layout.AreaUsed.SquareMillimetres()
	boards, resawn := p.Layout.Count()
	text := Counted(boards, "board", "boards") + ", " + solid(p)
	switch {
	case resawn == boards:
		text += ", resawn"
	case resawn > 0:
		text += fmt.Sprintf(", %d of them resawn", resawn)
	}
	if used > 0 {
		text += "; yield " + p.Order.Settings.Units.Percent(100*p.Layout.AreaParts.SquareMillimetres()/used, 0)
	}
	kept := 0
	for i := range p.Layout.Boards {
		for _, o := range p.Layout.Boards[i].Offcuts {
			if o.Keep {
				kept++
			}
		}
	}
	if kept > 0 {
		text += "; " + Counted(kept, "offcut goes", "offcuts go") + " back to the rack"
	}
	return text
}

// solid is how much solid wood the boards hold, as the shop's yard counts it.
func solid(p *jigplan.Plan) string {
	w := WordsOf(p)
	sum := contents(p.Layout.Boards, w)
	if w.Unit.Metric() {
		return w.Unit.Number(sum, 3) + " m3 of solid wood"
	}
	return w.Unit.Number(sum, 1) + " board feet"
}

func cost(p *jigplan.Plan) string {
	if !p.Layout.CostKnown {
		return "not known: give boards a Cost, or set Cost of the wood on the Shop sheet"
	}
	return Money(&p.Order.Settings, p.Layout.Cost)
}

// bound says how much better a layout could be at the very most.
func bound(l *nesting.Layout, set *settings.Shop) string {
	if len(l.Boards) == 0 {
		return "nothing to compare"
	}
	if l.Proven {
		return "best possible (proven)"
	}
	text := "no bound known"
	switch {
	case l.CostBound > 0:
		text = fmt.Sprintf("within %s of the best possible", set.Units.Percent(100*(float64(l.Cost)/float64(l.CostBound)-1), 1))
	case l.AreaBound.Cmp(measure.Area{}) > 0:
		text = fmt.Sprintf("wood within %s of the best possible", set.Units.Percent(100*(l.AreaUsed.SquareMillimetres()/l.AreaBound.SquareMillimetres()-1), 1))
	}
	if l.Cheapest < l.Cost && l.Cheapest > 0 {
		text += fmt.Sprintf("; %s more in wood than the cheapest found, for less work at the saw (setting Wood before work)",
			Money(set, l.Cost-l.Cheapest))
	}
	if l.Credit > 0 {
		text += fmt.Sprintf("; the offcuts kept count for %s of its cost (setting Kept offcuts count)", Money(set, l.Credit))
	}
	switch l.Stop {
	case nesting.StopTime:
		text += "; stopped at the time limit (a longer --think may find better)"
	case nesting.StopInterrupted:
		text += "; the search was interrupted"
	}
	return text
}

// fewest is what is proven of the number of stacks.
func fewest(p *jigplan.Plan) string {
	switch {
	case p.StackBound == 0:
		return ""
	case p.StackBound == len(p.Stacks):
		return ", fewest possible"
	}
	return fmt.Sprintf(", of at least %d", p.StackBound)
}

// lostCount is the chance that some stack end of the batch is miscounted, and
// what one would cost: the boards lost do not depend on how high the stacks are,
// how many must be made anew at once does.
func lostCount(p *jigplan.Plan) string {
	s := &p.Order.Settings
	most := 0
	for i := range p.Stacks {
		most = max(most, len(p.Stacks[i].Boards))
	}
	risk := s.MiscountRisk / 100
	text := fmt.Sprintf("%s chance of at least one miscount in %s (%s each); a stack has up to %s", s.Units.Percent(100*(1-math.Pow(1-risk, float64(len(p.Stacks)))), 0),
		Counted(len(p.Stacks), "stack end", "stack ends"), s.Units.Percent(s.MiscountRisk, -1), Counted(most, "board", "boards"))
	spares := spareBlanks(p)
	if spares == 0 {
		return text + "; no spare blanks are cut"
	}
	return text + "; " + Counted(spares, "spare blank stands by", "spare blanks stand by")
}

// spareBlanks counts the parts that a setting asks for and no line of the
// order: they stand by for the boards of the stacks.
func spareBlanks(p *jigplan.Plan) int {
	n := 0
	for i := range p.Order.Loose {
		if l := &p.Order.Loose[i]; l.Source == p.Order.Settings.Source("Spares per stack") {
			n += l.Count
		}
	}
	return n
}

func changing(s *jigplan.Sequence) string {
	text := Hours(s.ChangeoverMinutes) + " in this running order"
	if s.AsWrittenMinutes > s.ChangeoverMinutes+0.5 {
		text += fmt.Sprintf(" (%s in the order as written)", Hours(s.AsWrittenMinutes))
	}
	switch {
	case s.Proven:
		text += "; fastest order (proven)"
	case s.BoundMinutes > 0:
		text += fmt.Sprintf("; no order needs less than %s", Hours(s.BoundMinutes))
	}
	return text
}

// BoxLines is what is made, a line of the order a row.
func BoxLines(p *jigplan.Plan) Table {
	w := WordsOf(p)
	t := Table{Title: "What is made", Head: []string{"Box", "Count", "Size as ordered", "Wall", "Wood", "With", "Due", "Notes"}, Numbers: []int{1}}
	units := unitsOf(p)
	for i := range p.Order.Boxes {
		b := &p.Order.Boxes[i]
		if units[i] == 0 {
			continue
		}
		t.Add(b.Name, units[i], boxSize(b, w), wall(b, w), b.Wood, with(b), date(b, w.Unit), notes(b))
	}
	for i := range p.Order.Loose {
		l := &p.Order.Loose[i]
		t.Add(l.Name, l.Count, w.Size(l.Length, l.Width), w.Len(l.Thickness), l.Wood, "loose part", "", l.Notes)
	}
	return t
}

// unitsOf counts the planned boxes of each line.
func unitsOf(p *jigplan.Plan) map[int]int {
	type box struct{ line, unit int }
	seen := map[box]bool{}
	out := map[int]int{}
	for i := range p.Parts {
		at := box{p.Parts[i].Line, p.Parts[i].Unit}
		if !p.Parts[i].IsLoose() && !seen[at] {
			seen[at] = true
			out[at.line]++
		}
	}
	return out
}

func boxSize(b *orders.Box, w Words) string {
	where := "outside"
	if b.Inside {
		where = "inside"
	}
	return w.Sizes(b.Length, b.Width, b.Height) + ", " + where
}

func wall(b *orders.Box, w Words) string {
	if b.EndThickness != 0 && b.EndThickness != b.Thickness {
		return w.Bare(b.Thickness) + " / ends " + w.Len(b.EndThickness)
	}
	return w.Len(b.Thickness)
}

func with(b *orders.Box) string {
	var out []string
	if b.Bottom.Kind != "" && b.Bottom.Kind != orders.NoBottom {
		out = append(out, string(b.Bottom.Kind)+" bottom")
	}
	if b.Lid.Kind != "" && b.Lid.Kind != orders.NoLid {
		out = append(out, string(b.Lid.Kind)+" lid")
	}
	if b.Dividers.Along > 1 || b.Dividers.Across > 1 {
		out = append(out, fmt.Sprintf("dividers %d x %d", b.Dividers.Along, b.Dividers.Across))
	}
	switch {
	case b.Opened:
		out = append(out, "grain matched around four corners")
	case b.Matched:
		out = append(out, "matched grain")
	}
	if b.Finish != "" {
		out = append(out, b.Finish)
	}
	return strings.Join(out, ", ")
}

func date(b *orders.Box, unit measure.Unit) string {
	if b.Due.IsZero() {
		return ""
	}
	return unit.Date(b.Due)
}

func notes(b *orders.Box) string {
	var out []string
	if b.Spare > 0 {
		out = append(out, Counted(b.Spare, "spare", "spares")+" included")
	}
	if b.Customer != "" {
		out = append(out, "for "+b.Customer)
	}
	if b.Notes != "" {
		out = append(out, b.Notes)
	}
	return strings.Join(out, "; ")
}
