package intake

import (
	"strconv"
	"strings"
)

// book is a workbook or list, read to its end, before any of it is understood.
type book struct {
	sheets []*sheet
	notes  []string // what was left aside: macros, charts
	csv    bool
}

// isBatch knows a workbook that holds a plan: its Parts sheet is no order.
func (b *book) isBatch() bool {
	found := 0
	for _, s := range b.sheets {
		switch s.name {
		case "Summary", "Setups", "Boards", "Cautions", "As read":
			found++
		}
	}
	return found == 5
}

type sheet struct {
	name       string
	hidden     bool
	rows       []row // with at least one filled cell, ascending
	hiddenCols []span
	merges     []area
	comma      bool // decimal commas, seen in a list without settings
}

type span struct{ from, to int }

type area struct{ left, top, right, bottom int }

type row struct {
	num    int
	hidden bool
	cells  []cell // filled ones, ascending
}

type cellKind uint8

const (
	textCell cellKind = iota
	numberCell
	dateCell    // a number shown as a date or time
	boolCell    // text is TRUE or FALSE
	errorCell   // text is #REF! and the like
	formulaCell // a formula without a stored value
)

type cell struct {
	col       int
	kind      cellKind
	computed  bool   // the value of a formula, as it was saved
	evaluated bool   // of a formula that was saved without its value
	text      string // as it stands; a number in plain digits, at most 15 of them significant
}

func (r *row) at(col int) *cell {
	for i := range r.cells {
		if r.cells[i].col == col {
			return &r.cells[i]
		}
	}
	return nil
}

func (s *sheet) colHidden(col int) bool {
	for _, h := range s.hiddenCols {
		if h.from <= col && col <= h.to {
			return true
		}
	}
	return false
}

// columnName is "A" for 1, "AA" for 27.
func columnName(col int) string {
	var out []byte
	for ; col > 0; col = (col - 1) / 26 {
		out = append([]byte{byte('A' + (col-1)%26)}, out...)
	}
	return string(out)
}

func cellName(col, row int) string { return columnName(col) + strconv.Itoa(row) }

// Bounds of a sheet, as the file format has them.
const (
	maxColumns  = 16_384
	maxRowIndex = 1_048_576
)

// parseRef reads "B7"; ok is false for anything out of a sheet's bounds.
func parseRef(ref string) (col, row int, ok bool) {
	i := 0
	for i < len(ref) && i < 4 && ref[i] >= 'A' && ref[i] <= 'Z' {
		col = col*26 + int(ref[i]-'A'+1)
		i++
	}
	digits := ref[i:]
	if i == 0 || len(digits) == 0 || len(digits) > 7 || strings.Trim(digits, "0123456789") != "" {
		return 0, 0, false
	}
	row, _ = strconv.Atoi(digits)
	return col, row, col <= maxColumns && row >= 1 && row <= maxRowIndex
}

// parseArea reads "B7:D9" or "B7".
func parseArea(ref string) (area, bool) {
	from, to, two := strings.Cut(strings.ReplaceAll(ref, "$", ""), ":")
	if !two {
		to = from
	}
	left, top, ok1 := parseRef(from)
	right, bottom, ok2 := parseRef(to)
	return area{left, top, right, bottom}, ok1 && ok2 && left <= right && top <= bottom
}
