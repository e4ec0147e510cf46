package workbook

import (
	"fmt"
	"strings"

	"batchwright/jigplan"
	"batchwright/orders"
	"batchwright/orders/measure"
	"batchwright/reports"
	"batchwright/reports/draw"
)

// parts is the cut list, a box line after the other: equal parts are one line
// with their count. How each box is made follows.
func (b *book) parts(p *jigplan.Plan) (*sheet, error) {
	w := reports.WordsOf(p)
	s := &sheet{name: "Parts", landscape: true, smaller: true, widths: []float64{3, 15, 7, 8, 10, 6, 8, 8, 9, 9, 7, 13, 22}}
	b.title(s, "Cut list")
	s.paragraph("n in a label is the box's number. Lengths in " + w.UnitWord() + ". Mark the bottom edge of every part before it leaves the saw: it goes to the stop of the jig. End marks are of the left and the right end, seen from the show face with the marked edge down; ends that carry the same number meet at a corner.")
	s.freezeNext()
	s.head([]string{"", "Label", "Count", "Part", "Wood", "Thick", "Length", "Width", "Cut length", "Cut width", "End marks", "On boards", "Notes"}, ones(13))
	first, list := len(s.rows), reports.CutList(p)
	for i, l := range list {
		if i == 0 || list[i-1].Part.Source != l.Part.Source {
			s.add(cell{0, 13, reports.LineTitle(p, l.Part), style{bold: true, grey: true, rim: thin}})
			s.hold()
		}
		s.cutLine(l, w)
	}
	s.goOn(first)
	return s, s.builds(p)
}

func (s *sheet) cutLine(l reports.CutLine, w reports.Words) {
	part := l.Part
	extras := l.Extras(w)
	if l.Short > 0 {
		extras = joined("; ", fmt.Sprintf("%d CANNOT BE MADE, see Summary", l.Short), extras)
	}
	texts := []string{"☐", l.Label, "", reports.What(part), part.Wood, w.Bare(part.Thickness), w.Bare(part.Length), w.Bare(part.Width),
		w.Bare(part.CutLength), w.Bare(part.CutWidth), reports.Marks(part), reports.Listed(l.Boards, 5), extras}
	var cells []cell
	for i, text := range texts {
		c := cell{i, 1, text, style{rim: thin}}
		switch i {
		case 1, 8, 9:
			c.style.bold = true
		case 2:
			c.value, c.style.across, c.style.bold = l.Count, centre, true
		case 10:
			c.style.across = centre
		}
		cells = append(cells, c)
	}
	s.add(cells...)
}

// builds says of each line how its boxes come together, step by step.
func (s *sheet) builds(p *jigplan.Plan) error {
	if len(p.Builds) == 0 {
		return nil
	}
	top := len(s.rows)
	s.heading("How the boxes are made")
	s.rows[top].breaks = true
	for i := range p.Builds {
		build := reports.Building(p, &p.Builds[i])
		first := len(s.rows)
		s.add(cell{0, 13, build.Title, style{bold: true, grey: true, rim: thin}})
		s.hold()
		if i < mostBoxesDrawn {
			s.rows[first].breaks = i > 0 // a page for each: it lies on the bench
			if err := s.boxDrawn(p, &p.Builds[i]); err != nil {
				return err
			}
		}
		steps := len(s.rows)
		for _, r := range build.Rows {
			s.add(cell{0, 3, r[0], style{bold: true, rim: thin}}, cell{3, 10, r[1], style{rim: thin}})
		}
		s.goOnUnder(steps, row{height: 15, cells: []cell{{0, 13, build.Title + ", continued", style{bold: true, grey: true, rim: thin}}}})
	}
	return nil
}

// mostBoxesDrawn is how many lines of boxes are drawn; the steps have them all.
const mostBoxesDrawn = 12

// boxDrawn draws a box beneath its title.
func (s *sheet) boxDrawn(p *jigplan.Plan, b *orders.Build) error {
	v := reports.BuildViews(p, b)
	pic, err := draw.Box(v, 170, 36)
	if err != nil {
		return err
	}
	s.picture(pic, fmt.Sprintf("%s from the front, the end and above, %s long, %s wide, %s high outside", b.Box, v.LengthText, v.WidthText, v.HeightText))
	return nil
}

// buy is the buying list.
func (b *book) buy(p *jigplan.Plan) *sheet {
	s := &sheet{name: "Buy", landscape: true, smaller: true, widths: []float64{3, 18, 9, 13, 15, 25, 10, 29}}
	b.title(s, "To buy")
	s.table(reports.Buy(p), ones(8))
	for _, t := range []struct {
		reports.Table
		grid
	}{{reports.YardTally(p), grid{2, 1, 1, 1, 1}}, {reports.Clears(p), ones(7)}} {
		if len(t.Rows) > 0 {
			s.heading(t.Title)
			s.table(t.Table, t.grid)
		}
	}
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
			strings.Join(c.What, "; "), fmt.Sprintf("%.1f", c.Minutes), span(u.Stacks)}, ones(10), map[int]bool{1: true, 8: true})
	}
	return s
}

// span names a setup's stacks, which are numbered one after the other.
func span(stacks []string) string {
	if len(stacks) <= 2 {
		return strings.Join(stacks, ", ")
	}
	return fmt.Sprintf("%s to %s", stacks[0], stacks[len(stacks)-1])
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
	s := &sheet{name: "Stacks", landscape: true, fit: true, widths: []float64{3, 8, 8, 8, 6, 32, 32, 9, 10}}
	b.title(s, "Stacks")
	s.paragraph("Boards in the order they stand, from the backing board outwards; the marked edge to the stop, all lower ends flush on the sled. For the second end tumble the boards end over end: the marked edge stays at the stop.")
	s.repeatNext()
	s.headings([]string{"", "Stack", "Setup", "Card", "End", "Row A, at the stop", "Row B, behind the spacer", "Thick, " + w.UnitName(), "Minutes"}, ones(9), []int{4, 8}, true)
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

// rowBoards names the boards of one row; boards that stand off the stop are
// gathered by how much.
func rowBoards(k *jigplan.Stack, row orders.Row, w reports.Words) string {
	var out, same []string
	var shim measure.Ratio
	flush := func() {
		if len(same) == 0 {
			return
		}
		text := strings.Join(same, ", ")
		if shim.Sign() != 0 {
			text += " (shim " + w.Fine(shim) + each(len(same)) + ")"
		}
		out, same = append(out, text), nil
	}
	for _, b := range k.Boards {
		if b.Row != row {
			continue
		}
		if b.Shim != shim {
			flush()
		}
		name := b.Part
		if b.Carrier > 0 {
			name += " (on a carrier)"
		}
		shim, same = b.Shim, append(same, name)
	}
	flush()
	return strings.Join(out, "; ")
}

func each(n int) string {
	if n > 1 {
		return " each"
	}
	return ""
}

// time is where the hours go.
func (b *book) time(p *jigplan.Plan) *sheet {
	s := &sheet{name: "Time", widths: []float64{24, 9, 9, 9, 25}}
	b.title(s, "Time")
	s.paragraph(fmt.Sprintf("As likely as not: %s. Four times in five: %s or less.", reports.Hours(p.Time.Minutes), reports.Hours(p.Time.P80Minutes)))
	s.table(reports.Elements(p), ones(5))
	rules, allowances := reports.TimeRules(&p.Order.Settings.Times), reports.Allowances()
	s.heading(rules.Title)
	s.table(rules, grid{1, 3, 1})
	s.together(func() {
		s.heading(allowances.Title)
		s.table(allowances, grid{1, 4})
	})
	return s
}

// cautions are printed with every batch.
func (b *book) cautions(list []reports.Caution) *sheet {
	s := &sheet{name: "Cautions", widths: []float64{3, 73}}
	b.title(s, "Cautions")
	for _, c := range list {
		s.together(func() { s.caution(c) })
	}
	return s
}

func (s *sheet) caution(c reports.Caution) {
	s.gap(1)
	s.add(cell{0, 2, c.About, style{bold: true, size: 11, single: true}})
	s.hold()
	for _, point := range c.Points {
		s.add(cell{0, 1, "•", style{across: centre, size: 9}}, cell{1, 1, point, style{size: 9}})
	}
	s.add(cell{1, 1, "Source: " + c.Source, style{size: 8}})
}

// asRead shows the order as it was understood: problems, every cell, settings.
func (b *book) asRead(o *orders.Order, problems []orders.Problem) *sheet {
	s := asReadSheet()
	b.title(s, "The order as it was read")
	s.problems(problems)
	s.readings(o)
	return s
}

func asReadSheet() *sheet {
	return &sheet{name: "As read", smaller: true, size: 8.5, widths: []float64{8, 7, 17, 20, 24}}
}

// readings is every cell and, under the same headings, every setting.
func (s *sheet) readings(o *orders.Order) {
	g := grid{2, 1, 1, 1}
	readings, settings := reports.Readings(o), reports.SettingsUsed(o)
	s.heading("Every cell as it was read, then every setting as used")
	s.head([]string{"Cell", "Column or setting", "As it stands", "Understood as"}, g)
	first := len(s.rows)
	for _, r := range append(readings.Rows, settings.Rows...) {
		s.tableRow(r, g, nil)
	}
	s.goOn(first)
	for _, note := range settings.Notes {
		s.paragraph(note)
	}
}

func (s *sheet) problems(list []orders.Problem) {
	t := reports.ProblemTable(list)
	if len(t.Rows) == 0 {
		s.paragraph("No problems were found.")
		return
	}
	s.heading("Problems")
	t.Head = []string{"Level", "Where", "As it stands", "What was done, and how to mend it"}
	g := grid{1, 1, 1, 2}
	s.head(t.Head, g)
	first := len(s.rows)
	for _, r := range t.Rows {
		s.tableRow([]string{r[0], r[1], r[2], joined("; ", r[3], r[4])}, g, nil)
	}
	s.goOn(first)
}
