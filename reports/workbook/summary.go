package workbook

import (
	"fmt"
	"strings"

	"batchwright/jigplan"
	"batchwright/reports"
	"batchwright/reports/draw"
)

// startWidths is the first page's columns: four quarters of the page, and the
// columns of the boxes across them.
var startWidths = []float64{8, 9, 11, 4, 8, 8.5, 9, 8.5, 2, 8}

// boxGrid is how the table of boxes uses those columns.
var boxGrid = grid{1, 2, 1, 2, 1, 1, 2}

// summary is the first page: what cannot be made, the batch in four figures,
// what is in the way, the boxes, where the boards are, and the order of work.
func (b *book) summary(p *jigplan.Plan) (*sheet, error) {
	start := reports.StartOf(p)
	s := &sheet{name: "Summary", least: 0.8, widths: startWidths}
	b.head(s, start.Title, start.About, start.Shop)
	if len(start.Cannot.Rows) > 0 {
		s.cannot(start.Cannot)
	}
	s.figures(start.Figures)
	s.checks(start.Checks)
	if err := s.boxes(p, &start); err != nil {
		return nil, err
	}
	s.begin(&start)
	return s, nil
}

// head opens a sheet: what it is in large type, what it is for, and at the
// right what else is to be known of it.
func (b *book) head(s *sheet, title, about, aside string) {
	all := len(s.widths)
	if b.mark != "" {
		s.add(cell{0, all, b.mark, style{bold: true, size: 11, rim: thick}})
	}
	s.addTall(27, cell{0, all, title, style{bold: true, size: fitting(title, s.width(0, all), 22), single: true, middle: true}})
	s.hold()
	if aside == "" {
		s.add(cell{0, all, about, style{rim: heavy}})
		return
	}
	half := all * 2 / 3
	s.add(cell{0, half, about, style{rim: heavy}}, cell{half, all - half, aside, style{rim: heavy, bold: true, across: right}})
}

// cannot stands before all else, in a heavy frame: black ink tells it too.
func (s *sheet) cannot(t reports.Table) {
	s.gap(2)
	s.add(cell{0, 10, t.Title, style{bold: true, size: 14, single: true, rim: thick}})
	s.head([]string{"What", "Why", "What to do"}, grid{2, 4, 4})
	first := len(s.rows)
	for _, r := range t.Rows {
		s.add(cell{0, 2, r[0], style{bold: true, size: 9, rim: thin}}, cell{2, 4, r[2], style{size: 9, rim: thin}}, cell{6, 4, r[3], style{size: 9, rim: thin}})
	}
	s.goOn(first)
}

// figures are the batch in four numbers.
func (s *sheet) figures(list [4]reports.Figure) {
	s.gap(2)
	at := []int{0, 2, 5, 7, 10}
	var cells []cell
	for i, f := range list {
		col, span := at[i], at[i+1]-at[i]
		text := rich{{text: f.Large, size: fitting(f.Large, s.width(col, span), 18), bold: true}}
		for _, small := range f.Small {
			if small != "" {
				text = append(text, run{text: small, size: 8.5})
			}
		}
		cells = append(cells, cell{col, span, text, style{rim: thin, top: true}})
	}
	s.add(cells...)
}

// checks is what is done before the first cut, each with its box to tick.
func (s *sheet) checks(list []reports.Check) {
	if len(list) == 0 {
		return
	}
	s.heading("Before you start")
	for _, c := range list {
		s.add(cell{0, 10, rich{{text: "☐  ", size: 11}, {text: c.Do, bold: true, size: 9, on: true}, {text: prefixed(": ", c.Why), size: 9, on: true}}, style{rim: below}})
	}
}

// tick writes a row that begins with a box to tick, at a column.
func (s *sheet) tick(col int, cells ...cell) {
	s.add(append([]cell{{col, 1, "☐", style{size: 11, rim: below}}}, cells...)...)
}

// boxes gives each line of the order a row: a drawing, what it is, the finger
// that is cut, its date.
func (s *sheet) boxes(p *jigplan.Plan, start *reports.Start) error {
	if len(start.Boxes)+len(start.Loose) == 0 {
		return nil
	}
	s.gap(2)
	if len(start.Boxes) > 0 {
		s.columns([]string{"", "Box", "Count", "Size as ordered", "Wood", "Asked → cut finger", "Due, for"}, boxGrid, 2)
	}
	first := len(s.rows)
	notes := map[string]bool{}
	for _, box := range start.Boxes {
		if err := s.boxRow(p, box); err != nil {
			return err
		}
		notes[box.FingerNote] = true
	}
	if first > 0 && len(start.Boxes) > 0 {
		s.goOn(first)
	}
	if len(start.Loose) > 0 {
		s.add(cell{0, 1, "Loose parts", style{size: 8.5, rim: below, top: true}}, cell{1, 9, strings.Join(start.Loose, " · "), style{size: 9, rim: below}})
	}
	delete(notes, "")
	if len(notes) > 0 {
		s.add(cell{0, 10, "Where the finger differs from the order, it is the closest this rod and blade allow.", style{size: 8.5}})
	}
	return nil
}

const thumbWide, thumbTall = 15.0, 8.5 // mm

func (s *sheet) boxRow(p *jigplan.Plan, box reports.StartBox) error {
	name := rich{{text: box.Name, bold: true}, {text: joined(", ", box.With, box.Remarks), size: 8}}
	due := rich{{text: box.Due}, {text: box.Customer, size: 8}}
	cells := []cell{{0, 1, nil, style{rim: below}}}
	col := 1
	for i, value := range []any{name, box.Count, box.Size, box.Wood, box.Finger, due} {
		st := style{rim: below, top: true}
		if i == 1 {
			st.across, st.bold = centre, true
		}
		st.bold = st.bold || i == 4
		if i == 2 || i == 3 {
			st.size = fitting(longestWord(value.(string)), s.width(col, boxGrid[i+1]), 9)
		}
		cells = append(cells, cell{col, boxGrid[i+1], value, st})
		col += boxGrid[i+1]
	}
	s.add(cells...)
	r := &s.rows[len(s.rows)-1]
	r.height = max(r.height, (thumbTall+1.5)*pointsPerMM)
	if box.Build == nil {
		return nil
	}
	picture, err := draw.Thumb(reports.BuildViews(p, box.Build), thumbWide, thumbTall)
	if err != nil {
		return fmt.Errorf("draw %s: %w", box.Name, err)
	}
	r.picture = &pic{picture, box.Name}
	return nil
}

// columns heads a table in small type over a line.
func (s *sheet) columns(names []string, g grid, centred ...int) {
	var cells []cell
	col := 0
	for i, name := range names {
		st := style{size: 8, rim: ruled}
		for _, c := range centred {
			if c == i {
				st.across = centre
			}
		}
		cells = append(cells, cell{col, g[i], name, st})
		col += g[i]
	}
	s.add(cells...)
	s.hold()
}

// begin is where the boards are, beside the order of the work.
func (s *sheet) begin(start *reports.Start) {
	if len(start.Rack)+len(start.Work) == 0 {
		return
	}
	s.together(func() {
		s.gap(3)
		title := style{bold: true, size: 12, single: true, rim: ruled}
		s.add(cell{0, 5, "Take down these boards", title}, cell{5, 5, "Order of work", title})
		for i := range max(len(start.Rack), len(start.Work)) {
			s.add(append(rackCells(start.Rack, i), workCells(start.Work, i)...)...)
		}
	})
}

func rackCells(list []reports.Place, i int) []cell {
	if i >= len(list) {
		return nil
	}
	text := rich{{text: list[i].Where, bold: true, size: 9}, {text: "  " + list[i].Boards, size: 9, on: true}}
	return []cell{{0, 5, text, style{rim: below, top: true}}}
}

func workCells(list []reports.WorkStep, i int) []cell {
	if i >= len(list) {
		return nil
	}
	w := list[i]
	text := rich{{text: fmt.Sprintf("%d  ", i+1), bold: true, size: 9}, {text: w.What + " (" + w.Sheet + ")", size: 9, on: true}}
	return []cell{{5, 3, text, style{rim: below, top: true}}, {8, 2, w.Hours, style{size: 9, rim: below, top: true, across: right}}}
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
