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
		sheets = append(sheets, tags)
	}
	for _, s := range sheets {
		if err := b.emit(s); err != nil {
			return nil, fmt.Errorf("write the fair: %w", err)
		}
	}
	return b.bytes()
}

func (b *book) fairSummary(f *jigplan.Fair) *sheet {
	s := &sheet{name: "Fair", landscape: true, fit: true, widths: []float64{18, 14, 8, 10, 9, 8, 11, 8, 34}}
	b.title(s, "What to bring to "+reports.FairName(f))
	if found := reports.NotNotes(f.Problems); len(found) > 0 {
		s.heading("Read first")
		t := reports.ProblemTable(found)
		t.Head[0] = "Level"
		s.table(t, grid{1, 1, 1, 5, 1})
	}
	for _, r := range reports.FairFacts(f).Rows {
		s.add(cell{0, 2, r[0], style{bold: true, rim: below}}, cell{2, 7, r[1], style{rim: below}})
	}
	s.heading("What to make")
	mix := reports.FairMix(f)
	s.table(mix, ones(9))
	s.heading("What limits, and what one more is worth")
	s.table(reports.FairLimits(f), grid{1, 2, 2, 1, 2, 1})
	s.paragraph("Worth is reckoned by choosing the mix again with one more of the limit. The batch workbook beside this one makes the new boxes; the week puts all of it on the clock. The demand for one box is taken not to hang on that for another: bad weather, which hits all of them, is not in the chance that it pays.")
	return s
}

// demandName is the sheet of what may be asked for.
const demandName = "Demand"

// demandSheet is, for each row of the catalogue, the chance that the kth box is
// asked for. Its rows are k, its columns the catalogue's rows.
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
	b.title(s, "The chance that a box is asked for")
	s.paragraph("Row k: how likely k or more are asked for. Reckoned from Sells low, likely and high: mean (low + 4 likely + high) / 6, standard deviation (high - low) / 6, whole boxes; from a likely number alone, Poisson's.")
	s.repeatNext()
	s.head(head, ones(len(head)))
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
