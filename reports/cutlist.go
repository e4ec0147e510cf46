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
			if part.Role != orders.Loose {
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
	}
	return lines
}

// sameness is all that tells parts apart at the bench.
func sameness(p *orders.Part) string {
	key := fmt.Sprint(p.Line, p.Source, p.Role, p.Box, p.Wood, p.Grain, p.Length, p.Width, p.Thickness, p.CutLength, p.CutWidth, p.Place, p.Notes)
	if p.Joint != nil {
		key += fmt.Sprint(*p.Joint)
	}
	return key
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
	if p.Role == orders.Loose {
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

// Extras is what a line says beside its sizes: grain, grooves where they are
// cut, place in a run, the maker's own notes.
func (l *CutLine) Extras(w Words) string {
	p := l.Part
	out := l.grooves(w)
	switch {
	case p.Book != "":
		out = append(out, "opened leaves, place "+strconv.Itoa(p.Place))
	case p.Run != "":
		out = append(out, "grain run, place "+strconv.Itoa(p.Place))
	}
	if p.Grain == orders.EitherWay {
		out = append(out, "grain either way")
	}
	if p.Joint == nil && p.Notes != "" { // a wall's notes are its box's, said once above it
		out = append(out, p.Notes)
	}
	return strings.Join(out, "; ")
}

// grooves are those of a wall, after its fingers have had their say about them.
// A lid that slides out over the front leaves E1 without its groove.
func (l *CutLine) grooves(w Words) []string {
	if l.Part.Joint == nil || l.Build == nil {
		return nil
	}
	var out []string
	for _, g := range l.Build.Grooves {
		if g.Refused != "" {
			continue
		}
		text := fmt.Sprintf("%s groove %s to %s from the marked edge", g.For, w.Bare(g.From), w.Len(g.To))
		if !g.Front && l.Part.Role == orders.End {
			text += " (E2 alone)"
		}
		out = append(out, text)
	}
	return out
}

// LineTitle heads the parts of one line of the order: what it is, how many, its
// size, and the maker's notes word for word.
func LineTitle(p *jigplan.Plan, part *orders.Part) string {
	w := WordsOf(p)
	at := part.Source.String()
	if part.Role == orders.Loose {
		if part.Line < len(p.Order.Loose) {
			l := &p.Order.Loose[part.Line]
			return joined(" · ", l.Name, at, Counted(l.Count, "piece", "pieces"), l.Notes)
		}
		return at
	}
	if part.Line >= len(p.Order.Boxes) {
		return joined(" · ", part.Box, at)
	}
	b := &p.Order.Boxes[part.Line]
	return joined(" · ", b.Name, at, Counted(unitsOf(p)[part.Line], "box", "boxes"), boxSize(b, w), w.lineAsked(p, part.Line), with(b), notes(b))
}

// Building is how the boxes of one line are made: sizes, then the steps in
// order, then what was decided where the order is silent.
func Building(p *jigplan.Plan, b *orders.Build) Table {
	w := WordsOf(p)
	t := Table{Title: joined(" · ", b.Box, b.Source.String()), Head: []string{"", ""}}
	t.Add("Sizes", joined("; ", sized("outside", b.Outside, w), sized("inside", b.Inside, w), sized("over all", b.Overall, w)))
	for _, when := range []orders.When{orders.BeforeJoints, orders.BeforeGlue, orders.GlueUp, orders.AfterGlue} {
		n := 0
		for _, step := range b.Steps {
			if step.When != when {
				continue
			}
			name := ""
			if n++; n == 1 {
				name = strings.ToUpper(string(when)[:1]) + string(when)[1:]
			}
			t.Add(name, joined(": ", step.What, step.Why))
		}
	}
	for _, note := range b.Notes {
		t.Add("Decided", note)
	}
	return t
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
