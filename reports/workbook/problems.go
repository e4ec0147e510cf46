package workbook

import (
	"fmt"

	"batchwright/orders"
	"batchwright/reports"
)

// Problems is the workbook that goes back to whoever wrote the order: what is
// wrong, cell by cell, and how every cell was read.
func Problems(o *orders.Order) ([]byte, error) {
	b, err := newBook(o.Settings.Units, o.File, "")
	if err != nil {
		return nil, err
	}
	read := asReadSheet()
	b.title(read, "The order as it was read")
	read.readings(o)
	for _, s := range []*sheet{b.problemSheet(o), read} {
		if err := b.emit(s); err != nil {
			return nil, fmt.Errorf("write the problems: %w", err)
		}
	}
	return b.bytes()
}

func (b *book) problemSheet(o *orders.Order) *sheet {
	errors := 0
	for _, p := range o.Findings {
		if p.Level == orders.Error {
			errors++
		}
	}
	s := &sheet{name: "Problems", landscape: true, fit: true, widths: []float64{9, 14, 21, 30, 30}}
	b.title(s, "Problems in "+o.File)
	switch errors {
	case 0:
		s.paragraph("No errors: the order can be planned. Please read the notes below.")
	default:
		s.paragraph(reports.Counted(errors, "error stops", "errors stop") + " the plan. Correct the cells in the order and plan again, or plan only the good lines with --partial.")
	}
	s.repeatNext()
	t := reports.FindingTable(o.Findings)
	t.Head = []string{"Level", "Where", "As it stands", "What was done", "What to do"}
	s.table(t, ones(5))
	return s
}
