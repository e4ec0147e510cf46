package workbook

import (
	"fmt"

	"batchwright/jigplan"
	"batchwright/orders"
	"batchwright/reports"
	"batchwright/reports/draw"
)

// parts is the cut list, a box line after the other: equal parts are one line
// with their count.
func (b *book) parts(p *jigplan.Plan) *sheet {
	w := reports.WordsOf(p)
	s := &sheet{name: "Parts", least: 0.9, widths: []float64{3, 20.5, 7.5, 4.5, 13.5, 14.5, 4, 8.5}}
	b.head(s, "Parts", "Tick each row when its parts are cut and marked. Lengths in "+w.UnitWord()+". Mark the bottom edge of every part before it leaves the saw: it goes to the stop of the jig.", "")
	s.freezeNext()
	s.columns([]string{"", "Part", "Wood", "Thick", "Finished size", "Cut size", "Ends", "Boards"}, ones(8))
	first, list, title := len(s.rows), reports.CutList(p), reports.LineTitles(p)
	for i, l := range list {
		if i == 0 || list[i-1].Part.Source != l.Part.Source {
			s.add(cell{0, 8, title(l.Part), style{bold: true, size: 9, grey: true, rim: ruled}})
			s.hold()
		}
		s.cutLine(l, w)
	}
	s.goOn(first)
	s.add(cell{0, 8, "Ends: the corner marks of the left and the right end, seen from the show face with the marked edge down; ends with the same number meet at a corner. " +
		"In a code n is the number of the box.", style{size: 8.5}})
	return s
}

func (s *sheet) cutLine(l reports.CutLine, w reports.Words) {
	part := l.Part
	extras := l.Extras()
	if l.Short > 0 {
		extras = joined("; ", fmt.Sprintf("%d CANNOT BE MADE, see Summary", l.Short), extras)
	}
	name := rich{{text: l.Name, bold: true, size: 9}, {text: "  " + joined(" · ", l.Label, extras), size: 8, on: true}}
	plain := style{rim: below, size: 9}
	sized := func(col int, text string, bold bool) cell {
		return cell{col, 1, text, style{rim: below, bold: bold, size: fitting(longestWord(text), s.widths[col], 9)}}
	}
	middle := style{rim: below, size: 9, across: centre}
	s.tick(0, cell{1, 1, name, style{rim: below}}, cell{2, 1, part.Wood, plain}, cell{3, 1, w.Bare(part.Thickness), plain},
		sized(4, w.Bare(part.Length)+" x "+w.Bare(part.Width), false),
		sized(5, w.Rule(part.CutLength.Ratio())+" x "+w.Rule(part.CutWidth.Ratio()), true),
		cell{6, 1, reports.Marks(part), middle}, cell{7, 1, reports.Listed(l.Boards, 3), style{rim: below, size: 8}})
}

// making is how the boxes come together: once what is done to all of them, then
// each box with its drawing and its own steps.
func (b *book) making(p *jigplan.Plan) (*sheet, error) {
	s := &sheet{name: "Making", least: 0.9, widths: []float64{3, 13, 60}}
	b.head(s, "Making the boxes", "In working order: before the joints are cut, before glue-up, glue-up, after glue-up.", "")
	all, each := reports.MakingOf(p)
	if len(all) > 0 {
		s.heading("Every box")
		s.steps(all)
	}
	for i := range each {
		if err := s.boxSteps(p, &each[i], i < maxBoxesDrawn); err != nil {
			return nil, err
		}
	}
	return s, nil
}

func (s *sheet) boxSteps(p *jigplan.Plan, m *reports.BoxMaking, drawn bool) (err error) {
	func() {
		s.gap(2)
		title := cell{0, 3, rich{{text: m.Title, size: 12, bold: true}, {text: " · " + m.About, size: 9, on: true}}, style{rim: ruled}}
		s.add(title)
		s.hold()
		if drawn {
			err = s.boxDrawn(p, m.Build)
			s.hold()
		}
		first := len(s.rows)
		s.steps(m.Steps)
		for i := first; i < min(first+3, len(s.rows)-1); i++ {
			s.rows[i].holds = true
		}
		s.goOnUnder(first, row{height: 18, cells: []cell{{0, 3, m.Title + ", continued", style{bold: true, size: 12, single: true, rim: ruled}}}})
	}()
	return err
}

func (s *sheet) steps(list []orders.MakingStep) {
	for _, step := range list {
		text := rich{{text: step.What, size: 9}, {text: prefixed(" – ", step.Why), size: 8, on: true}}
		s.tick(0, cell{1, 1, string(step.When), style{bold: true, size: 8.5, rim: below}}, cell{2, 1, text, style{rim: below}})
	}
}

// maxBoxesDrawn is how many lines of boxes are drawn; the steps have them all.
const maxBoxesDrawn = 12

// boxDrawn draws a box beneath its title.
func (s *sheet) boxDrawn(p *jigplan.Plan, b *orders.Build) error {
	v := reports.BuildViews(p, b)
	pic, err := draw.Box(v, 155, 27)
	if err != nil {
		return err
	}
	s.picture(pic, fmt.Sprintf("%s from the front, the end and above, %s long, %s wide, %s high outside", b.Box, v.LengthText, v.WidthText, v.HeightText))
	return nil
}

// buy is the buying list.
func (b *book) buy(p *jigplan.Plan) *sheet {
	s := &sheet{name: "Buy", least: 0.8, size: 9, widths: []float64{3, 12, 9, 9.5, 10, 12.5, 7, 13}}
	b.title(s, "To buy")
	s.table(reports.Buy(p), ones(8))
	for _, t := range []struct {
		reports.Table
		grid
	}{{reports.YardTally(p), grid{2, 1, 1, 1, 1}}, {reports.ClearPieces(p), ones(7)}} {
		if len(t.Rows) > 0 {
			s.heading(t.Title)
			s.table(t.Table, t.grid)
		}
	}
	if t := reports.Bought(p); len(t.Rows) > 0 {
		s.heading(t.Title)
		s.paragraph("Write the sizes of the boards you bought, one row for each size, and save. " +
			"Then put them on the rack with batchwright rack import and the name of this workbook, and plan again.")
		s.hold()
		s.table(t, grid{2, 1, 1, 1, 1, 1, 1})
	}
	return s
}

// time is where the hours go.
func (b *book) time(p *jigplan.Plan) *sheet {
	s := &sheet{name: "Time", widths: []float64{24, 9, 9, 9, 25}}
	b.title(s, "Time")
	s.paragraph(fmt.Sprintf("Median %s. 80%% chance of %s or less.", reports.Hours(p.Time.Minutes), reports.Hours(p.Time.P80Minutes)))
	s.table(reports.Elements(p), ones(5))
	rules, allowances := reports.TimeRules(&p.Order.Settings), reports.Allowances(p.Order.Settings.Units)
	s.heading(rules.Title)
	s.table(rules, grid{1, 3, 1})
	s.together(func() {
		s.heading(allowances.Title)
		s.table(allowances, grid{1, 4})
	})
	s.keepOff(0)
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
// Errors and warnings are printed where the first page does not have them all;
// the rest is for the screen.
func (b *book) asRead(p *jigplan.Plan) *sheet {
	s := asReadSheet()
	b.title(s, "The order as it was read")
	weighty := s.problems(reports.Findings(p))
	if reports.OnFirstPage(p) {
		weighty = 0
	}
	s.readings(p.Order)
	s.keepOff(weighty)
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

// problems lists what was found, errors and warnings before notes, and gives
// back how many rows of the sheet are more than notes.
func (s *sheet) problems(list []orders.Finding) (weighty int) {
	t := reports.FindingTable(list)
	if len(t.Rows) == 0 {
		s.paragraph("No problems were found.")
		return 0
	}
	s.heading("Problems")
	t.Head = []string{"Level", "Where", "Read", "What we did; what to do"}
	g := grid{1, 1, 1, 2}
	s.head(t.Head, g)
	first := len(s.rows)
	for _, r := range t.Rows {
		s.tableRow([]string{r[0], r[1], r[2], joined("; ", r[3], r[4])}, g, nil)
		if r[0] != string(orders.Note) {
			weighty = len(s.rows)
		}
	}
	s.goOn(first)
	return weighty
}
