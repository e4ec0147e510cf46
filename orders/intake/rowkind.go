package intake

import (
	"fmt"
	"slices"
	"strings"

	"batchwright/orders"
	"batchwright/orders/settings"
)

// rowKind is what a row beneath the headings is.
type rowKind int

const (
	dataRow rowKind = iota
	blankRow
	noteRow
	headingRow
	totalRow
	remarkRow
	otherHeadingRow // headings that are not those of the table
	beneathRow      // beneath such headings
)

// setAside says what a row is that is neither data nor a total.
func (l *line) setAside(kind rowKind) {
	switch kind {
	case otherHeadingRow:
		l.aside = "other headings; skipped"
		l.skip(orders.Error, fmt.Sprintf("these headings differ from row %d; the rows below were skipped", l.t.top), "put the second list on a sheet of its own, or under the same headings")
	case beneathRow:
		l.aside = "beneath other headings; skipped"
	case remarkRow:
		l.aside = "a remark; not used"
		l.skip(orders.Warning, "a remark (no sizes, no count); skipped", "OK as a note; to plan it, fill in its columns")
	case noteRow:
		l.aside = "a note; not used"
		l.skip(orders.Note, "a note (text only); skipped", "OK as a note; to plan it, fill in its columns")
	case headingRow:
		l.aside = "headings again"
		l.skip(orders.Note, "headings repeated; skipped", "nothing to do")
	}
}

// kind tells data from the rows between it.
func (l *line) kind() rowKind {
	filled, texts := 0, 0
	for i := range l.row.cells {
		c := &l.row.cells[i]
		if isBlank(c.text) && c.kind == textCell {
			continue
		}
		if c.kind == textCell && isTotalWord(c.text) && l.nameOf(c.col) != "Notes" && !l.hasSizes() {
			return totalRow
		}
		if filled++; c.kind == textCell {
			texts++
		}
	}
	switch {
	case filled == 0:
		return blankRow
	case l.repeatsHeadings() && l.addsHeadings():
		return otherHeadingRow
	case l.repeatsHeadings():
		return headingRow
	case filled == 1 && texts == 1 && l.onlyNote() && !l.namesSetting():
		return noteRow
	case filled == texts && l.saysNothing():
		return remarkRow
	case filled == texts && filled > 3 && l.headsAnew():
		return otherHeadingRow
	}
	return dataRow
}

// hasSizes reports whether the row names both a size and a wood: then it is a
// line, even of a box that is called Total.
func (l *line) hasSizes() bool {
	filled := func(name string) bool {
		h := l.t.columns[name]
		c := (*cell)(nil)
		if h != nil {
			c = l.row.at(h.col)
		}
		return c != nil && !isBlank(c.text)
	}
	return filled("Length") && (filled("Wood") || filled("Woods"))
}

// saysNothing reports whether a row has neither sizes nor a number in its
// count nor a known word: a remark that runs over several cells.
func (l *line) saysNothing() bool {
	if l.t.layout == &shopLayout {
		return false
	}
	for i := range l.row.cells {
		c := &l.row.cells[i]
		switch name := l.nameOf(c.col); name {
		case "", "Box", "Part", "Board", "Notes", "Customer":
			if isDitto(c.text) {
				return false
			}
		case "Count":
			if strings.ContainsAny(c.text, "0123456789") || isDitto(c.text) {
				return false
			}
		default:
			return false
		}
	}
	return true
}

// isBareSum reports whether the row holds nothing but a count that is the sum
// of those above it.
func (l *line) isBareSum(sum int) bool {
	h := l.t.columns["Count"]
	if h == nil || sum == 0 || len(l.row.cells) != 1 || l.row.cells[0].col != h.col {
		return false
	}
	n, err := parseCount(l.row.cells[0].text, false)
	return err == nil && n.total() == sum
}

// onlyNote reports whether the one filled cell of the row is no number.
func (l *line) onlyNote() bool {
	for i := range l.row.cells {
		c := &l.row.cells[i]
		if isBlank(c.text) {
			continue
		}
		switch l.nameOf(c.col) {
		case "", "Box", "Part", "Board", "Setting", "Notes":
			return !isDitto(c.text)
		}
	}
	return false
}

// headsAnew reports whether most of the row are headings, but not those of the
// table.
func (l *line) headsAnew() bool {
	if h := l.t.columns["Length"]; h == nil || l.row.at(h.col) == nil || strings.ContainsAny(l.row.at(h.col).text, "0123456789") {
		return false
	}
	_, n := readHeadings(l.row, l.t.layout)
	return n > 3 && 2*n > len(l.row.cells)
}

// namesSetting reports whether the row begins with a setting of the shop: then
// its value is missing.
func (l *line) namesSetting() bool {
	_, known := settings.Find(strings.TrimSpace(l.first().text))
	return known && l.t.layout == &shopLayout && l.nameOf(l.first().col) == "Setting"
}

func (l *line) repeatsHeadings() bool {
	same := 0
	for i := range l.t.headings {
		h := &l.t.headings[i]
		if c := l.row.at(h.col); c != nil && c.kind == textCell && foldHeading(c.text) == foldHeading(h.text) {
			same++
		}
	}
	return same >= 2 && same*2 > len(l.t.headings)
}

// addsHeadings reports whether the row heads a column that had no heading.
func (l *line) addsHeadings() bool {
	for i := range l.row.cells {
		c := &l.row.cells[i]
		if !slices.ContainsFunc(l.t.headings, func(h heading) bool { return h.col == c.col }) && l.t.layout.read(c.col, c.text).name != "" {
			return true
		}
	}
	return false
}

func isBlank(text string) bool {
	switch strings.TrimSpace(text) {
	case "", "-", "–", "—", "--", "---", "n/a", "N/A":
		return true
	}
	return false
}

func isTotalWord(text string) bool {
	plain := foldHeading(text)
	switch plain {
	case "total", "totals", "sum", "subtotal", "sub total", "subtotals", "grand total", "total boxes", "total qty", "total quantity", "total count", "total pieces", "sum total", "order total", "overall total", "total parts", "total units":
		return true
	}
	return strings.HasPrefix(plain, "total ") && len(plain) < 25 || strings.HasPrefix(plain, "subtotal ") && len(plain) < 30
}

func isDitto(text string) bool {
	switch strings.ToLower(strings.TrimSpace(text)) {
	case `"`, "ditto", "do.", "do", "''", "〃", "″", "”", "“", "same as above", "same", "as above", "dto", "dto.", "idem", `" "`, `""`, `-"-`, "-”-":
		return true
	}
	return false
}
