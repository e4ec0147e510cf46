package workbook

import (
	"batchwright/jigplan"
	"batchwright/reports"
)

// summary is the first page: what cannot be made, the batch, the boxes, what to
// check first.
func (b *book) summary(p *jigplan.Plan) *sheet {
	s := &sheet{name: "Summary", widths: []float64{3, 13, 6, 20, 10, 10, 14}}
	b.title(s, "Batch from "+p.Order.File)
	if cannot := reports.Cannot(p); len(cannot.Rows) > 0 {
		s.cannot(cannot)
	}
	s.heading("The batch")
	var facts []reports.Pair
	for _, r := range reports.Facts(p).Rows {
		facts = append(facts, reports.Pair{Name: r[0], Text: r[1]})
	}
	s.pairs(facts, 3)
	s.checks(reports.CheckFirst(p))
	s.boxes(reports.BoxLines(p))
	s.heading("How to use this workbook")
	for _, line := range howTo {
		s.paragraph(line)
	}
	return s
}

// cannot stands before all else, in a heavy frame: black ink tells it too.
func (s *sheet) cannot(t reports.Table) {
	s.gap(2)
	s.add(cell{0, 7, t.Title, style{bold: true, size: 14, single: true, rim: thick}})
	s.head([]string{"What", "Why", "What would work"}, grid{3, 2, 2})
	first := len(s.rows)
	for _, r := range t.Rows {
		what := r[0] + " (" + r[1] + ")"
		s.add(cell{0, 3, what, style{bold: true, rim: thin}}, cell{3, 2, r[2], style{rim: thin}}, cell{5, 2, r[3], style{rim: thin}})
	}
	s.goOn(first)
}

// boxes gives each line of the order a row, and what else is known of it a row
// beneath.
func (s *sheet) boxes(t reports.Table) {
	s.heading(t.Title)
	g := grid{2, 1, 2, 1, 1}
	s.head(t.Head[:5], g)
	first := len(s.rows)
	for _, r := range t.Rows {
		s.together(func() {
			s.tableRow(r[:5], g, map[int]bool{1: true})
			if more := joined("; ", r[5], prefixed("due ", r[6]), r[7]); more != "" {
				s.add(cell{1, 6, more, style{rim: thin}})
			}
		})
	}
	s.goOn(first)
}

func (s *sheet) checks(t reports.Table) {
	if len(t.Rows) == 0 {
		return
	}
	s.heading(t.Title)
	for _, r := range t.Rows {
		s.add(cell{0, 1, "☐", style{size: 12, middle: true}}, cell{1, 3, r[1], style{bold: true, rim: below}}, cell{4, 3, r[2], style{rim: below}})
	}
}

var howTo = []string{
	"Buy: what is missing. Boards: saw each board in the numbered order. Parts: tick the parts off and mark their ends and edges.",
	"Setups: in which order the saw is set, and what changes between. Stacks: which boards stand together. Jig: one count card a program, for the saw.",
	"Time: where the hours go. Cautions: read them once. As read: how every cell of the order was understood; compare it with what was meant.",
}

func prefixed(prefix, text string) string {
	if text == "" {
		return ""
	}
	return prefix + text
}

func joined(sep string, texts ...string) string {
	out := ""
	for _, t := range texts {
		switch {
		case t == "":
		case out == "":
			out = t
		default:
			out += sep + t
		}
	}
	return out
}
