package workbook

import (
	"fmt"

	"batchwright/jigplan"
	"batchwright/orders"
	"batchwright/reports"
	"batchwright/reports/draw"
)

// Week is the week workbook: the page to hang up, the bars, the half-days and
// the hours in words, dates, wood and purchases, changes. What could not be
// planned stands first. The same week gives the same bytes.
func Week(w *jigplan.Week) ([]byte, error) {
	b, err := newBook(w.Settings.Units, reports.WeekTitle(w), "")
	if err != nil {
		return nil, err
	}
	var sheets []*sheet
	if hasWarnings(w.Findings) || reports.WeekWarning(w) != "" {
		sheets = append(sheets, b.weekProblems(w))
	}
	wall, err := b.wall(w)
	if err != nil {
		return nil, err
	}
	bars, err := b.bars(w)
	if err != nil {
		return nil, err
	}
	sheets = append(sheets, wall, bars, b.halfDays(w), b.hours(w), b.due(w), b.milling(w), b.changes(w))
	for _, s := range sheets {
		if err := b.emit(s); err != nil {
			return nil, fmt.Errorf("write the week: %w", err)
		}
	}
	return b.bytes()
}

func hasWarnings(problems []orders.Finding) bool {
	for _, p := range problems {
		if p.Level != orders.Note {
			return true
		}
	}
	return false
}

func (b *book) weekProblems(w *jigplan.Week) *sheet {
	s := &sheet{name: "Read first", landscape: true, fit: true, widths: []float64{9, 24, 17, 18, 12, 20, 24}}
	b.title(s, "Read first")
	if late := reports.LateList(w); len(late.Rows) > 0 {
		s.heading(late.Title)
		s.table(late, ones(7))
	}
	if len(w.Findings) > 0 {
		t := reports.WeekFindings(w)
		t.Head[0] = "Level"
		s.heading(t.Title)
		s.table(t, grid{1, 1, 1, 2, 2})
	}
	return s
}

// wallText is the title of a page to hang up: it says first what is late.
func wallText(w *jigplan.Week) string {
	if warning := reports.WeekWarning(w); warning != "" {
		return reports.WeekTitle(w) + "   " + warning
	}
	return reports.WeekTitle(w)
}

// wallDays is how many days one page to hang up holds.
const wallDays = 7

// wall is the week by half-day, to hang up: seven days a page.
func (b *book) wall(w *jigplan.Week) (*sheet, error) {
	s := &sheet{name: "Week", landscape: true, widths: wallWide(), bare: true}
	halves := reports.WeekHalves(w)
	for len(halves) > 0 {
		last := halves[0].Day.AddDate(0, 0, wallDays)
		n := 0
		for n < len(halves) && halves[n].Day.Before(last) {
			n++
		}
		p, err := draw.WallWeek(wallText(w), halves[:n], reports.WeekKey(w), landscapeTall-3)
		if err != nil {
			return nil, err
		}
		s.fullPage(p, "The week by half-day: saw, bench, clamps, drying, hours, what the next day needs. The sheet Half-days has the same in words.")
		halves = halves[n:]
	}
	return s, nil
}

// wallWide are the columns under a picture as wide as a page. They are narrow:
// a font makes columns wider or narrower, and a page is as wide as the columns
// that its picture reaches.
func wallWide() []float64 {
	columns := make([]float64, 130)
	for i := range columns {
		columns[i] = 1
	}
	return columns
}

// fullPage is a picture as tall as a page: taller than one row may be.
func (s *sheet) fullPage(p draw.Picture, alt string) {
	first := len(s.rows)
	s.picture(p, alt)
	if rest := (p.Height+1)*pointsPerMM - tallestRow; rest > 0 {
		s.hold()
		s.addTall(rest)
	}
	s.rows[first].breaks = first > 0
}

// bars is the picture of the week: seven days and twelve jobs a page.
func (b *book) bars(w *jigplan.Week) (*sheet, error) {
	const most = 12
	s := &sheet{name: "Bars", landscape: true, widths: wallWide(), bare: true}
	all := reports.BarsOf(w)
	for from := 0; from == 0 || from < len(all.Days); from += wallDays {
		for row := 0; row == 0 || row < len(all.Rows); row += most {
			part := all
			part.Days = all.Days[from:min(from+wallDays, len(all.Days))]
			part.From = part.Days[0].Day
			part.To = part.Days[len(part.Days)-1].Day.AddDate(0, 0, 1)
			part.Rows = all.Rows[row:min(row+most, len(all.Rows))]
			p, err := draw.Bars(wallText(w), part, landscapeTall-3)
			if err != nil {
				return nil, err
			}
			s.fullPage(p, "The week as bars, a row a job. The sheet Hour by hour has the same in words.")
		}
	}
	return s, nil
}

func (b *book) halfDays(w *jigplan.Week) *sheet {
	s := &sheet{name: "Half-days", landscape: true, fit: true, widths: []float64{11, 14, 15, 18, 14, 8, 8, 16}}
	b.title(s, reports.WeekTitle(w))
	for _, r := range reports.WeekFacts(w).Rows {
		s.add(cell{0, 2, r[0], style{bold: true, rim: below}}, cell{2, 6, r[1], style{rim: below}})
	}
	s.gap(2)
	s.repeatNext()
	s.table(reports.WeekTable(w), ones(8))
	return s
}

func (b *book) hours(w *jigplan.Week) *sheet {
	s := &sheet{name: "Hour by hour", landscape: true, fit: true, widths: []float64{3, 10, 6, 10, 5, 7, 23, 22, 11, 17}}
	b.title(s, "Hour by hour")
	s.repeatNext()
	s.table(reports.HourList(w), ones(10))
	s.paragraph("Cautions for the saw stand in each order's batch workbook: follow the manuals of your machines and the rules of your place. Rags with finish can catch fire by themselves: dry them flat, outdoors.")
	return s
}

func (b *book) due(w *jigplan.Week) *sheet {
	s := &sheet{name: "Due", landscape: true, fit: true, widths: []float64{7, 20, 12, 16, 10, 12, 17, 24}}
	b.title(s, "Due")
	s.repeatNext()
	s.table(reports.DueList(w), ones(8))
	s.heading("Dates that break")
	late := reports.LateList(w)
	if len(late.Rows) == 0 {
		s.paragraph("No date breaks.")
		for _, note := range late.Notes {
			s.paragraph(note)
		}
		return s
	}
	s.table(late, grid{1, 1, 1, 1, 1, 2, 1})
	return s
}

func (b *book) milling(w *jigplan.Week) *sheet {
	s := &sheet{name: "Wood and buying", landscape: true, smaller: true, widths: []float64{3, 11, 6, 16, 14, 16, 9, 10, 30}}
	b.title(s, "Wood to mill")
	mill := reports.Milling(w)
	if len(mill.Rows) == 0 {
		s.paragraph("No wood to mill in these days.")
	} else {
		s.table(mill, ones(9))
	}
	s.heading("To buy")
	buy := reports.WeekBuy(w)
	if len(buy.Rows) == 0 {
		s.paragraph("Nothing to buy for these days.")
		return s
	}
	s.table(buy, ones(9))
	return s
}

func (b *book) changes(w *jigplan.Week) *sheet {
	s := &sheet{name: "Changes", landscape: true, fit: true, widths: []float64{8, 46, 25, 25}}
	t := reports.WeekChanges(w)
	b.title(s, t.Title)
	if len(t.Rows) == 0 {
		for _, note := range t.Notes {
			s.paragraph(note)
		}
		return s
	}
	s.repeatNext()
	s.table(t, ones(4))
	return s
}
