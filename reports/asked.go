package reports

import (
	"fmt"
	"slices"
	"strings"

	"batchwright/jigplan"
	"batchwright/orders/measure"
)

// AskedCut says what finger was asked for where another one is cut, and why;
// empty: it is cut as asked.
func (w Words) AskedCut(p *jigplan.Program) string {
	off := p.OffAsked()
	switch {
	case p.Pattern != "":
		return fmt.Sprintf("%s asked, %s cut: the closest this rod and blade allow", p.Pattern, w.featureList(p))
	case len(off) == 0:
		return ""
	}
	return fmt.Sprintf("%s asked, %s cut: the closest this rod and blade allow", w.askedList(off), w.Fine(p.Finger))
}

// featureList is a pattern's fingers from the marked edge, in one unit.
func (w Words) featureList(p *jigplan.Program) string {
	var all []string
	for _, f := range p.Features {
		text, _, _ := strings.Cut(w.Fine(f), " ")
		all = append(all, text)
	}
	return strings.Join(all, ", ") + " " + w.UnitName()
}

func (w Words) askedList(off []measure.Length) string {
	var asked []string
	for _, l := range off {
		asked = append(asked, w.Len(l))
	}
	return strings.Join(asked, " and ")
}

// otherFingers lists the plan's fingers that differ from the order, each once.
func otherFingers(p *jigplan.Plan) string {
	w := WordsOf(p)
	var texts []string
	for i := range p.Programs {
		if text := w.AskedCut(&p.Programs[i]); text != "" && !slices.Contains(texts, text) {
			texts = append(texts, text)
		}
	}
	for i := range len(texts) - 1 { // the reason once, behind the last that has it
		_, why, _ := strings.Cut(texts[i], ": ")
		if _, next, _ := strings.Cut(texts[i+1], ": "); next == why {
			texts[i] = strings.TrimSuffix(texts[i], ": "+why)
		}
	}
	return strings.Join(texts, "; ")
}
