package reports

import (
	"fmt"
	"strconv"

	"batchwright/orders"
)

// Table is rows of text under headings, for a screen or a sheet.
type Table struct {
	Title   string
	Head    []string
	Rows    [][]string
	Numbers []int    // the columns that hold numbers, counted from 0
	Notes   []string // remarks beneath
}

// Add appends one row: texts as they are, whole numbers as they are, other
// numbers with one decimal.
func (t *Table) Add(cells ...any) {
	row := make([]string, len(cells))
	for i, c := range cells {
		switch c := c.(type) {
		case string:
			row[i] = c
		case float64:
			row[i] = strconv.FormatFloat(c, 'f', 1, 64)
		default:
			row[i] = fmt.Sprint(c)
		}
	}
	t.Rows = append(t.Rows, row)
}

// Note appends one remark beneath the table.
func (t *Table) Note(text string) { t.Notes = append(t.Notes, text) }

// FindingTable lists findings as they are read: where, what, and what to do;
// errors first, then warnings, then notes.
func FindingTable(problems []orders.Finding) Table {
	t := Table{Head: []string{"", "Where", "Read", "What we did", "What to do"}}
	for _, level := range []orders.Level{orders.Error, orders.Warning, orders.Note} {
		for _, p := range problems {
			if p.Level == level {
				t.Add(string(p.Level), p.Source.String(), p.Read, p.Did, p.Fix)
			}
		}
	}
	return t
}
