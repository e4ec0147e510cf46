package workbook

import (
	"fmt"
	"strings"

	"batchwright/jigplan"
	"batchwright/orders"
	"batchwright/reports"
)

// parts is the cut list: equal parts are one line with their count.
func (b *book) parts(p *jigplan.Plan) *sheet {
	w := reports.WordsOf(p)
	s := &sheet{name: "Parts", landscape: true, fit: true, widths: []float64{3, 13, 6, 8, 8, 12, 7, 9, 9, 9, 9, 8, 15, 16}}
	b.title(s, "Cut list")
	s.paragraph("n in a label is the box's number. Lengths in " + w.UnitName() + ". The marked edge is the bottom edge: mark it on every part before it leaves the saw, it goes to the stop of the jig.")
	s.repeatNext()
	s.head([]string{"", "Label", "Count", "Boxes n", "Part", "Wood", "Thick", "Length", "Width", "Cut length", "Cut width", "Corner marks", "On boards", "Notes"}, ones(14))
	for _, l := range reports.CutList(p) {
		s.cutLine(l, w)
	}
	return s
}

func (s *sheet) cutLine(l reports.CutLine, w reports.Words) {
	part := l.Part
	extras := reports.Extras(part, w)
	if l.Short > 0 {
		extras = joined("; ", fmt.Sprintf("%d CANNOT BE MADE, see Summary", l.Short), extras)
	}
	texts := []string{"☐", l.Label, "", l.Units, reports.What(part), part.Wood, w.Bare(part.Thickness), w.Bare(part.Length), w.Bare(part.Width),
		w.Bare(part.CutLength), w.Bare(part.CutWidth), reports.Marks(part), reports.Listed(l.Boards, 4), extras}
	var cells []cell
	for i, text := range texts {
		c := cell{i, 1, text, style{rim: thin}}
		switch i {
		case 1, 9, 10:
			c.style.bold = true
		case 2:
			c.value, c.style.across, c.style.bold = l.Count, centre, true
		case 11:
			c.style.across = centre
		}
		cells = append(cells, c)
	}
	s.add(cells...)
}

// buy is the buying list.
func (b *book) buy(p *jigplan.Plan) *sheet {
	s := &sheet{name: "Buy", landscape: true, fit: true, widths: []float64{3, 24, 10, 14, 16, 10, 27}}
	b.title(s, "To buy")
	s.repeatNext()
	s.table(reports.Buy(p), ones(7))
	return s
}

// setups is the running order of the saw's setups.
func (b *book) setups(p *jigplan.Plan) *sheet {
	w := reports.WordsOf(p)
	s := &sheet{name: "Setups", landscape: true, fit: true, widths: []float64{3, 5, 8, 8, 14, 10, 10, 32, 8, 14}}
	b.title(s, "Setups in running order")
	s.paragraph("Changing over takes " + changing(p) + ". Blade stopped and isolated for every change.")
	s.repeatNext()
	s.head([]string{"", "No", "Setup", "Card", "Blade", "Height", "Spacer", "What changes", "Minutes", "Stacks"}, ones(10))
	changes := map[string]jigplan.Changeover{}
	for _, c := range p.Sequence.Changes {
		changes[c.Setup] = c
	}
	for i, u := range reports.Running(p) {
		c := changes[u.ID]
		spacer := "none"
		if u.Spacer.Sign() > 0 {
			spacer = w.Fine(u.Spacer)
		}
		s.tableRow([]string{"☐", fmt.Sprint(i + 1), u.ID, "Jig " + u.Program, u.Blade, w.Len(u.BladeHeight), spacer,
			strings.Join(c.What, "; "), fmt.Sprintf("%.1f", c.Minutes), reports.Listed(u.Stacks, 12)}, ones(10), map[int]bool{1: true, 8: true})
	}
	return s
}

func changing(p *jigplan.Plan) string {
	for _, r := range reports.Facts(p).Rows {
		if r[0] == "Changing over" {
			return r[1]
		}
	}
	return "no time"
}

// stacks lists which boards stand together, in running order.
func (b *book) stacks(p *jigplan.Plan) *sheet {
	w := reports.WordsOf(p)
	s := &sheet{name: "Stacks", landscape: true, fit: true, widths: []float64{3, 7, 8, 8, 5, 32, 32, 9, 8}}
	b.title(s, "Stacks")
	s.paragraph("Boards in the order they stand, from the backing board outwards; the marked edge to the stop, all lower ends flush on the sled. For the second end tumble the boards end over end: the marked edge stays at the stop.")
	s.repeatNext()
	s.head([]string{"", "Stack", "Setup", "Card", "End", "Row A, at the stop", "Row B, behind the spacer", "Thick", "Minutes"}, ones(9))
	program := map[string]string{}
	order := map[string]int{}
	for i, u := range reports.Running(p) {
		program[u.ID] = u.Program
		order[u.ID] = i
	}
	for _, k := range inRunningOrder(p.Stacks, order) {
		s.tableRow([]string{"☐", k.ID, k.Setup, "Jig " + program[k.Setup], fmt.Sprint(k.End),
			rowBoards(k, orders.RowA, w), rowBoards(k, orders.RowB, w), w.Bare(k.Thickness), fmt.Sprintf("%.1f", k.Minutes)}, ones(9), map[int]bool{4: true, 8: true})
	}
	return s
}

func inRunningOrder(stacks []jigplan.Stack, order map[string]int) []*jigplan.Stack {
	groups := make([][]*jigplan.Stack, len(order)+1)
	for i := range stacks {
		at, ok := order[stacks[i].Setup]
		if !ok {
			at = len(order)
		}
		groups[at] = append(groups[at], &stacks[i])
	}
	var out []*jigplan.Stack
	for _, g := range groups {
		out = append(out, g...)
	}
	return out
}

// rowBoards names the boards of one row; a board that stands off the stop says
// by how much.
func rowBoards(k *jigplan.Stack, row orders.Row, w reports.Words) string {
	var out []string
	for _, b := range k.Boards {
		if b.Row != row {
			continue
		}
		text := b.Part
		if b.Shim.Sign() != 0 {
			text += " (shim " + w.Fine(b.Shim) + ")"
		}
		out = append(out, text)
	}
	return strings.Join(out, ", ")
}

// time is where the hours go.
func (b *book) time(p *jigplan.Plan) *sheet {
	s := &sheet{name: "Time", fit: true, widths: []float64{24, 9, 9, 9, 25}}
	b.title(s, "Time")
	s.paragraph(fmt.Sprintf("As likely as not: %s. Four times in five: %s or less.", reports.Hours(p.Time.Minutes), reports.Hours(p.Time.P80Minutes)))
	s.repeatNext()
	s.table(reports.Elements(p), ones(5))
	return s
}

// cautions are printed with every batch.
func (b *book) cautions() *sheet {
	s := &sheet{name: "Cautions", widths: []float64{3, 73}}
	b.title(s, "Cautions")
	for _, c := range reports.Cautions {
		s.heading(c.About, 25)
		for _, point := range c.Points {
			s.add(cell{0, 1, "•", style{size: 11, across: centre}}, cell{1, 1, point, style{size: 11}})
		}
		s.add(cell{1, 1, "Source: " + c.Source, style{size: 8.5}})
	}
	return s
}

// asRead shows the order as it was understood: problems, settings, every cell.
func (b *book) asRead(o *orders.Order, problems []orders.Problem) *sheet {
	s := asReadSheet()
	b.title(s, "The order as it was read")
	s.problems(problems)
	s.readings(o)
	return s
}

func asReadSheet() *sheet {
	return &sheet{name: "As read", fit: true, widths: []float64{8, 10, 14, 20, 24}}
}

// readings is every cell and every setting.
func (s *sheet) readings(o *orders.Order) {
	readings := reports.Readings(o)
	s.heading(readings.Title, 0)
	g := grid{2, 1, 1, 1}
	s.repeat, s.repeatTo = len(s.rows)+1, len(s.rows)+1
	s.table(readings, g)
	s.heading("Settings as used", 0)
	s.head([]string{"Setting", "Value", "Where from", "What it is"}, g)
	for _, u := range reports.SettingsUsed(o) {
		s.tableRow(u, g, nil)
	}
}

func (s *sheet) problems(list []orders.Problem) {
	t := reports.ProblemTable(list)
	if len(t.Rows) == 0 {
		s.paragraph("No problems were found.")
		return
	}
	s.heading("Problems", 0)
	t.Head = []string{"Level", "Where", "As it stands", "What was done", "How to mend it"}
	s.table(t, ones(5))
}
