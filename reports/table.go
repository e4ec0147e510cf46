package reports

import "batchwright/orders"

// Table is rows of text under headings, for a screen or a sheet.
type Table struct {
	Title string
	Head  []string
	Rows  [][]string
}

// ProblemTable lists findings as they are read: where, what, and what to do.
func ProblemTable(problems []orders.Problem) Table {
	t := Table{Head: []string{"", "Where", "Read", "Did", "Fix"}}
	for _, p := range problems {
		t.Rows = append(t.Rows, []string{string(p.Level), p.Source.String(), p.Read, p.Did, p.Fix})
	}
	return t
}
