package workbook

import (
	"fmt"

	"batchwright/jigplan"
	"batchwright/reports"
)

// Fair is the fair's workbook: what to make and why, the mix with figures that
// can be changed, the demand behind it, and price tags. The same fair gives the
// same bytes.
func Fair(f *jigplan.Fair) ([]byte, error) {
	b, err := newBook(f.Order.Settings.Units, "Fair: "+reports.FairName(f), "")
	if err != nil {
		return nil, err
	}
	demand := newDemandSheet(f)
	sheets := []*sheet{b.fairSummary(f), b.fairMix(f, demand), demand.sheet(b)}
	if tags := b.priceTags(f); len(tags.rows) > 0 {
		sheets = append(sheets, tags, b.fairCount(f))
	}
	for _, s := range sheets {
		if err := b.emit(s); err != nil {
			return nil, fmt.Errorf("write the fair: %w", err)
		}
	}
	return b.bytes()
}

func (b *book) fairSummary(f *jigplan.Fair) *sheet {
	s := &sheet{name: "Fair", landscape: true, widths: []float64{16, 12, 8, 10, 8, 7, 9, 7, 27}}
	b.title(s, "What to bring to "+reports.FairName(f))
	if text := reports.LossText(f); text != "" {
		s.add(cell{0, 9, text, style{bold: true, size: 12, rim: thick}})
		s.gap(3)
	}
	if found := reports.NotNotes(f.Findings); len(found) > 0 {
		s.heading("Read first")
		t := reports.FindingTable(found)
		t.Head[0] = "Level"
		s.table(t, grid{1, 1, 1, 5, 1})
		s.gap(4)
	}
	for _, r := range reports.FairFacts(f).Rows {
		s.add(cell{0, 2, r[0], style{bold: true, rim: below}}, cell{2, 7, r[1], style{rim: below}})
	}
	s.heading("What to make")
	s.table(reports.FairMix(f), ones(9))
	s.together(func() {
		s.heading("What limits, and what one more is worth")
		s.table(reports.FairLimits(f), grid{1, 2, 2, 1, 2, 1})
	})
	if len(f.Past) > 0 {
		s.together(func() {
			s.heading("Sold before")
			s.table(reports.FairPast(f), grid{1, 2, 1, 1, 1, 1, 1, 1})
		})
	}
	s.paragraph("Worth is found by choosing the mix again with one more of the limit, with each box's own cost and time. That mix is not nested or scheduled, so the real gain can differ a little. The batch workbook beside this one makes the new boxes; the week schedules the work. The demand for one box is assumed not to depend on the demand for another. Bad weather, which affects all of them, is not included in the chance that the fair pays.")
	return s
}

// fairCount is the page to tick at the stall.
func (b *book) fairCount(f *jigplan.Fair) *sheet {
	s := &sheet{name: "Sold", landscape: true, fit: true, widths: []float64{20, 14, 9, 9, 44, 8, 8}}
	t := reports.FairCount(f)
	b.title(s, t.Title)
	notes := t.Notes
	t.Notes = nil
	s.repeatNext()
	s.head(t.Head, ones(len(t.Head)), t.Numbers...)
	for _, row := range t.Rows {
		cells := make([]cell, len(row))
		for col, text := range row {
			cells[col] = cell{col, 1, text, style{rim: thin, bold: col == 0}}
			if col == 2 || col == 3 {
				cells[col].style.across = right
			}
		}
		s.addTall(22, cells...)
	}
	s.gap(1)
	for _, note := range notes {
		s.paragraph(note)
	}
	return s
}

// demandName is the sheet of what may be asked for.
const demandName = "Demand"

// demandSheet is, for each row of the catalog, the chance that the kth box is
// asked for. Its rows are k, its columns the catalog's rows.
type demandSheet struct {
	fair *jigplan.Fair
	last int
}

// demandFirst is the row of the first box: title, text and heading stand above.
const demandFirst = 4

func newDemandSheet(f *jigplan.Fair) *demandSheet {
	d := &demandSheet{fair: f}
	for _, line := range f.Demand {
		d.last = max(d.last, len(line))
	}
	return d
}

func (d *demandSheet) sheet(b *book) *sheet {
	wide := []float64{8}
	head := []string{"Box no"}
	for line := range d.fair.Demand {
		wide = append(wide, 11)
		head = append(head, d.fair.Order.Candidates[line].Name)
	}
	s := &sheet{name: demandName, landscape: true, fit: true, widths: wide}
	b.title(s, "The chance that a box can be sold")
	s.paragraph("Row k: the chance that k or more can be sold. From Sells low, likely and high: mean (low + 4 likely + high) / 6, standard deviation (high - low) / 6, whole boxes. Or from Sells mean and Sells spread. From a likely number or a mean alone: a Poisson distribution. Logged sales are included.")
	s.repeatNext()
	s.head(head, ones(len(head)), numbersFrom(1, len(head))...)
	for k := range d.last {
		cells := []cell{{0, 1, k + 1, style{rim: thin, across: centre}}}
		for line, chances := range d.fair.Demand {
			chance := 0.0
			if k < len(chances) {
				chance = chances[k]
			}
			cells = append(cells, cell{line + 1, 1, chance, style{rim: thin, across: right, single: true, format: "0.0000"}})
		}
		s.add(cells...)
	}
	return s
}

// sold is a formula for how many of a number brought are sold on average.
func (d *demandSheet) sold(line int, brought string) string {
	if d.last == 0 {
		return "0"
	}
	numbers := refOn(demandName, 0, demandFirst) + ":" + ref(0, demandFirst+d.last-1)
	chances := refOn(demandName, line+1, demandFirst) + ":" + ref(line+1, demandFirst+d.last-1)
	return fmt.Sprintf("SUMIF(%s,\"<=\"&%s,%s)", numbers, brought, chances)
}

// soldOf is what that formula gives.
func (d *demandSheet) soldOf(line, brought int) (sum float64) {
	for k, chance := range d.fair.Demand[line] {
		if k < brought {
			sum += chance
		}
	}
	return sum
}
