package reports

import (
	"fmt"
	"slices"
	"sort"
	"strconv"
	"strings"

	"batchwright/jigplan"
	"batchwright/orders"
	"batchwright/orders/measure"
)

// CutLine is parts that are equal in everything but the box they belong to.
type CutLine struct {
	Part   *orders.Part  // one of them
	Build  *orders.Build // of its box; nil: a loose part
	Name   string        // "12 sides, boxes 1-6"
	Label  string        // "T1-n-S1, S2": n is the box's number
	Units  string        // "1-25", "1-4, 6"
	Count  int
	Boards []string // where they lie, each once, in the layout's order
	Short  int      // how many of them cannot be made
}

// CutList groups the plan's parts, in the order they first appear: a thousand
// equal boxes are as many lines as one box.
func CutList(p *jigplan.Plan) []CutLine {
	board := boardOf(p)
	builds := map[int]*orders.Build{}
	for i := range p.Builds {
		builds[p.Builds[i].Line] = &p.Builds[i]
	}
	short := map[string]bool{}
	for _, s := range Short(p) {
		short[s.Part] = true
	}
	index := map[string]int{}
	var lines []CutLine
	units := map[int][]int{}
	seen, labels := map[int]map[string]bool{}, map[int][]string{}
	for i := range p.Parts {
		part := &p.Parts[i]
		key := sameness(part)
		at, ok := index[key]
		if !ok {
			at = len(lines)
			index[key] = at
			seen[at] = map[string]bool{}
			line := CutLine{Part: part}
			if !part.IsLoose() {
				line.Build = builds[part.Line]
			}
			lines = append(lines, line)
		}
		if label := Label(part); !slices.Contains(labels[at], label) {
			labels[at] = append(labels[at], label)
		}
		l := &lines[at]
		l.Count++
		units[at] = append(units[at], part.Unit)
		if short[part.ID] {
			l.Short++
		}
		if b := board[part.ID]; b != "" && !seen[at][b] {
			seen[at][b] = true
			l.Boards = append(l.Boards, b)
		}
	}
	for at := range lines {
		lines[at].Units = Ranges(units[at])
		lines[at].Label = sharing(labels[at])
		lines[at].Name = lines[at].name()
	}
	return lines
}

// sameness is all that tells parts apart at the bench.
func sameness(p *orders.Part) string {
	key := fmt.Sprint(p.Line, p.Source, p.Role, p.Box, p.Wood, p.Grain, p.Length, p.Width, p.Thickness, p.CutLength, p.CutWidth, p.Run != "", p.Book != "", p.Notes)
	if p.Joint != nil {
		key += fmt.Sprint(*p.Joint)
	}
	return key
}

// name is "12 sides, boxes 1-6"; of a loose part how many there are.
func (l *CutLine) name() string {
	what, many := What(l.Part), What(l.Part)+"s"
	if l.Part.IsLoose() || l.Units == "1" {
		return Counted(l.Count, what, many)
	}
	boxes := "box "
	if strings.ContainsAny(l.Units, "-,") {
		boxes = "boxes "
	}
	return Counted(l.Count, what, many) + ", " + boxes + l.Units
}

// Label is a part's label with the box's number left open: "T1-n-S1".
func Label(p *orders.Part) string {
	unit := "-" + strconv.Itoa(p.Unit)
	if before, after, ok := strings.Cut(p.ID, unit+"-"); ok {
		return before + "-n-" + after
	}
	if before, ok := strings.CutSuffix(p.ID, unit); ok {
		return before + "-n"
	}
	return p.ID
}

// sharing joins labels that begin alike: "T1-n-S1, S2".
func sharing(labels []string) string {
	head, _, ok := strings.Cut(labels[0], "-n-")
	if !ok {
		return Listed(labels, 4)
	}
	out := labels[0]
	for _, l := range labels[1:] {
		rest, same := strings.CutPrefix(l, head+"-n-")
		if !same {
			rest = l
		}
		out += ", " + rest
	}
	return out
}

// Ranges writes numbers as "1-4, 6".
func Ranges(numbers []int) string {
	sorted := append([]int{}, numbers...)
	sort.Ints(sorted)
	var out []string
	for i := 0; i < len(sorted); {
		j := i
		for j+1 < len(sorted) && sorted[j+1] <= sorted[j]+1 {
			j++
		}
		if sorted[i] == sorted[j] {
			out = append(out, strconv.Itoa(sorted[i]))
		} else {
			out = append(out, fmt.Sprintf("%d-%d", sorted[i], sorted[j]))
		}
		i = j + 1
	}
	return strings.Join(out, ", ")
}

// boardOf says on which board each part lies.
func boardOf(p *jigplan.Plan) map[string]string {
	out := map[string]string{}
	for i := range p.Layout.Boards {
		for _, piece := range p.Layout.Boards[i].Pieces {
			out[piece.Part] = p.Layout.Boards[i].ID
		}
	}
	return out
}

// What names a part in its box: "side", "end"; a loose part by its own name.
func What(p *orders.Part) string {
	if p.IsLoose() {
		return "loose part"
	}
	return string(p.Role)
}

// Marks is the corner marks of a wall's left and right end, its show face
// towards you and its marked edge down: a side's end 1 lies to the right, an
// end's to the left, so that equal marks meet with every show face outside.
func Marks(p *orders.Part) string {
	if p.Joint == nil {
		return ""
	}
	left, right := p.Joint.Ends[0], p.Joint.Ends[1]
	if p.Role == orders.Side {
		left, right = right, left
	}
	return fmt.Sprintf("%d | %d", left, right)
}

// Extras is what a line says of the grain. Grooves and how a panel is held are
// among the steps of how its box is made; notes are said once above its line.
func (l *CutLine) Extras() string {
	p := l.Part
	var out []string
	switch {
	case p.Book != "":
		out = append(out, "grain matched around four corners")
	case p.Run != "":
		out = append(out, "matched grain")
	}
	if p.Grain == orders.EitherWay {
		out = append(out, "grain either way")
	}
	return strings.Join(out, "; ")
}

// LineTitles heads the parts of one line of the order: what it is, how many, its
// size, the finger where another is cut than asked, and the maker's notes.
func LineTitles(p *jigplan.Plan) func(*orders.Part) string {
	w, units, cut := WordsOf(p), unitsOf(p), programsOfLines(p)
	return func(part *orders.Part) string {
		at := part.Source.String()
		switch {
		case part.IsLoose() && part.Line < len(p.Order.Loose):
			l := &p.Order.Loose[part.Line]
			return joined(" · ", l.Name, at, Counted(l.Count, "piece", "pieces"), l.Notes)
		case part.IsLoose():
			return at
		case part.Line >= len(p.Order.Boxes):
			return joined(" · ", part.Box, at)
		}
		b, asked := &p.Order.Boxes[part.Line], ""
		if program := cut[part.Line]; program != nil {
			asked = w.AskedCut(program)
		}
		return joined(" · ", b.Name, at, Counted(units[part.Line], "box", "boxes"), boxSize(b, w), with(b), asked, notes(b))
	}
}

// BoxMaking is what is done to the boxes of one line and not to all.
type BoxMaking struct {
	Build        *orders.Build
	Title, About string
	Steps        []orders.MakingStep
}

// MakingOf is how the boxes of a plan are made: the steps that all lines share,
// then those of each. What was decided where the order is silent is the last
// of a line's steps.
//
// When is said at the first step of a stage, and Why where a reason is given
// first.
func MakingOf(p *jigplan.Plan) (all []orders.MakingStep, each []BoxMaking) {
	w, said := WordsOf(p), map[string]bool{}
	count := map[orders.MakingStep]int{}
	for i := range p.Builds {
		seen := map[orders.MakingStep]bool{}
		for _, step := range p.Builds[i].Steps {
			if !seen[step] {
				seen[step] = true
				count[step]++
			}
		}
	}
	shared := func(s orders.MakingStep) bool { return len(p.Builds) > 1 && count[s] == len(p.Builds) }
	for i := range p.Builds {
		b := &p.Builds[i]
		if i == 0 {
			all = stepsOf(b, shared, said)
		}
		sizes := joined("; ", sized("outside", b.Outside, w), sized("inside", b.Inside, w), sized("overall", b.Overall, w))
		m := BoxMaking{b, b.Box, sizes, stepsOf(b, func(s orders.MakingStep) bool { return !shared(s) }, said)}
		for _, note := range b.Notes {
			m.Steps = append(m.Steps, orders.MakingStep{When: "Decided", What: note})
		}
		each = append(each, m)
	}
	return all, each
}

// stepsOf is the wanted steps of a box in the order of the work.
func stepsOf(b *orders.Build, wanted func(orders.MakingStep) bool, said map[string]bool) (out []orders.MakingStep) {
	for _, when := range []orders.When{orders.BeforeJoints, orders.BeforeGlue, orders.GlueUp, orders.AfterGlue} {
		name := strings.ToUpper(string(when)[:1]) + string(when)[1:]
		for _, step := range b.Steps {
			if step.When == when && wanted(step) {
				why := step.Why
				if said[why] {
					why = ""
				}
				said[why] = true
				out = append(out, orders.MakingStep{When: orders.When(name), What: step.What, Why: why})
				name = ""
			}
		}
	}
	return out
}

func sized(name string, s measure.Size, w Words) string {
	if s == (measure.Size{}) {
		return ""
	}
	return name + " " + w.Sizes(s.Length, s.Width, s.Height)
}

func joined(sep string, texts ...string) string {
	var kept []string
	for _, t := range texts {
		if t != "" {
			kept = append(kept, t)
		}
	}
	return strings.Join(kept, sep)
}
