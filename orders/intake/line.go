package intake

import (
	"fmt"
	"slices"
	"strings"

	"batchwright/orders"
	"batchwright/orders/measure"
)

// line is one row of data while it is read.
type line struct {
	*reader
	t   *table
	row *row
	bad bool // an error was found: the line is not planned
	// above holds the cells of the line before, for ditto marks.
	above, own map[string]cell
	listed     map[int]bool // columns whose cell stands in the readings
	aside      string       // what the row is when it is no line of data
	class      string       // of a board, where it stands in the column of thicknesses
	unit       measure.Unit // of the row's own column of units
}

// eachLine shows every row of data to visit. Rows that are none (blank, notes,
// repeated headings, totals) are listed as problems of the fitting level.
func (r *reader) eachLine(t *table, visit func(*line) (count int)) {
	var above map[string]cell
	sum, sinceTotal, ended := 0, 0, false
	for i := range t.rows {
		l := &line{reader: r, t: t, row: &t.rows[i], above: above, own: map[string]cell{}, listed: map[int]bool{}}
		kind := l.kind()
		switch {
		case ended:
			kind = blankRow
			l.aside = "beneath other headings; not read"
		case kind == dataRow && l.isBareSum(sum):
			kind = totalRow
		}
		switch kind {
		case blankRow:
		case otherHeadingRow:
			ended, l.aside = true, "other headings; not read"
			l.skip(orders.Error, fmt.Sprintf("these are other headings than those in row %d; the rows beneath them were not read", t.top), "put the second list on a sheet of its own, or under the same headings")
		case remarkRow:
			l.aside = "a remark; not used"
			l.skip(orders.Warning, "read as a remark: it has neither sizes nor a count; not planned", "nothing to do, unless it should be a line of its own: then fill its columns")
		case noteRow:
			l.aside = "a note; not used"
			l.skip(orders.Note, "read as a note: it has a text and nothing else", "nothing to do, unless it should be a line of its own: then fill its columns")
		case headingRow:
			l.aside = "headings again"
			l.skip(orders.Note, "read as the headings again; not planned", "nothing to do")
		case totalRow:
			l.aside = "a total; not planned"
			l.compareTotal(sum, sinceTotal)
			sinceTotal = 0
		default:
			if l.row.hidden {
				l.skip(orders.Warning, "this row is hidden; it was read like any other", "unhide it and see whether it belongs to the order, or delete it")
			}
			l.readUnit()
			n := visit(l)
			sum, sinceTotal = sum+n, sinceTotal+n
			above = l.own
		}
		l.listRest()
	}
	r.reportOrderTaken(t)
	r.reportHiddenColumns(t)
}

func (r *reader) reportHiddenColumns(t *table) {
	for i := range t.headings {
		if h := &t.headings[i]; h.name != "" && t.colHidden(h.col) {
			r.problem(orders.Warning, orders.Source{Sheet: t.name, Cell: cellName(h.col, h.row)}, h.text, "this column is hidden; it was read like any other", "unhide it and see whether it is right, or delete it")
		}
	}
}

type rowKind int

const (
	dataRow rowKind = iota
	blankRow
	noteRow
	headingRow
	totalRow
	remarkRow
	otherHeadingRow
)

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
	_, known := orders.FindSetting(strings.TrimSpace(l.first().text))
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

func (l *line) nameOf(col int) string { return l.t.names[col] }

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

// first is the row's first filled cell.
func (l *line) first() *cell {
	for i := range l.row.cells {
		if !isBlank(l.row.cells[i].text) || l.row.cells[i].kind == formulaCell {
			return &l.row.cells[i]
		}
	}
	return &l.row.cells[0]
}

// source is where the line stands: the named column's cell, or the row's first
// filled one.
func (l *line) source(name string) orders.Source {
	if h := l.t.columns[name]; h != nil {
		if c := l.row.at(h.col); c != nil && !isBlank(c.text) {
			return l.at(h.col)
		}
	}
	return l.at(l.first().col)
}

func (l *line) at(col int) orders.Source {
	return orders.Source{Sheet: l.t.name, Cell: cellName(col, l.row.num)}
}

// cellOf is where the named column crosses this row, filled or not.
func (l *line) cellOf(name string) orders.Source {
	if h := l.t.columns[name]; h != nil {
		return l.at(h.col)
	}
	return l.at(l.first().col)
}

func (l *line) skip(level orders.Level, did, fix string) {
	c := l.first()
	l.problem(level, l.at(c.col), strings.TrimSpace(c.text), did, fix)
}

// fault is an error in the named column; the line is not planned.
func (l *line) fault(name, read, did, fix string) {
	l.bad = true
	l.problem(orders.Error, l.cellOf(name), read, did, fix)
}

func (l *line) warn(name, read, did, fix string) {
	l.problem(orders.Warning, l.cellOf(name), read, did, fix)
}

// listRest lists the cells of the row that were not understood or not used.
func (l *line) listRest() {
	for i := range l.row.cells {
		c := &l.row.cells[i]
		if l.listed[c.col] {
			continue
		}
		name, meaning := l.nameOf(c.col), "not used"
		switch {
		case l.aside != "":
			meaning = l.aside
		case name != "" && l.bad:
			meaning = "not read"
		}
		l.order.Readings = append(l.order.Readings, orders.Reading{Source: l.at(c.col), Heading: name, Text: c.text, Meaning: meaning})
	}
}

// readUnit reads the unit that the row has a column for.
func (l *line) readUnit() {
	if l.t.layout == &shopLayout {
		return
	}
	c, ok := l.get(unitColumn)
	if !ok {
		return
	}
	if l.unit = unitOf(c.text); l.unit == measure.NoUnit {
		l.fault(unitColumn, c.text, "this is no unit of length", "write in, mm, cm or ft")
		return
	}
	l.understood(unitColumn, c.text, l.unit.String())
}

// understood lists the cell as it was read.
func (l *line) understood(name, text, meaning string) {
	if h := l.t.columns[name]; h != nil {
		if l.listed[h.col] && h.piece == 0 {
			return
		}
		l.listed[h.col] = true
		if c := l.row.at(h.col); c != nil && isDitto(c.text) {
			text, meaning = c.text, meaning+" (as above)"
		}
	}
	l.order.Readings = append(l.order.Readings, orders.Reading{Source: l.cellOf(name), Heading: name, Text: text, Meaning: meaning})
}

// get is the named cell with ditto marks resolved; not ok when it is blank or
// cannot be read at all, which is then said.
func (l *line) get(name string) (c cell, ok bool) {
	h := l.t.columns[name]
	if h == nil {
		return cell{}, false
	}
	p := l.row.at(h.col)
	if p == nil || p.kind == textCell && isBlank(p.text) {
		return cell{}, false
	}
	c = *p
	c.text = strings.TrimSpace(c.text)
	if c.kind == textCell && isDitto(c.text) {
		from, has := l.above[name]
		if !has {
			l.fault(name, c.text, "there is nothing above it to repeat", "write the value itself")
			return cell{}, false
		}
		c = from
	}
	switch c.kind {
	case errorCell:
		l.fault(name, c.text, "the cell holds an error, not a value", "correct the formula, or write the value itself")
		return cell{}, false
	case formulaCell:
		l.fault(name, c.text, "the cell holds a formula whose value was not saved with the workbook", "open the workbook, let it calculate, and save it; or write the value itself")
		return cell{}, false
	}
	if h.pieces > 0 && !isDitto(p.text) {
		if c, ok = l.pieceOf(h, c); !ok {
			return cell{}, false
		}
	}
	c.text = withoutSizeName(name, c)
	if c.evaluated {
		l.problem(orders.Note, l.cellOf(name), c.text, "the formula was saved without its value; this program computed it", "open the workbook, let it calculate, and save it, to be sure")
	}
	l.own[name] = c
	return c, true
}

// countBehind is the count in a text such as Total: 8 boxes; none is 0.
func countBehind(text string) tally {
	for i, r := range text {
		if r >= '0' && r <= '9' {
			n, _ := parseCount(text[i:], false)
			return n
		}
	}
	return tally{}
}

// compareTotal checks a row of totals against what was read above it.
func (l *line) compareTotal(sum, sinceTotal int) {
	h := l.t.columns["Count"]
	var c *cell
	if h != nil {
		c = l.row.at(h.col)
	}
	var n tally
	var err error
	if c != nil {
		n, err = parseCount(c.text, l.order.Settings.Reading().DecimalComma)
	} else if c = l.first(); c != nil {
		n = countBehind(c.text)
	}
	at := l.at(c.col)
	switch {
	case n.total() == 0 && err == nil:
		l.skip(orders.Note, "read as a row of totals; not planned", "nothing to do")
	case err != nil || c.kind != numberCell && c.kind != textCell:
		l.problem(orders.Warning, at, c.text, "read as a row of totals, but its count cannot be read; not planned", "correct the total or remove the row")
	case n.total() == sum || n.total() == sinceTotal:
		l.problem(orders.Note, at, c.text, "read as a total, and it agrees; not planned", "nothing to do")
	default:
		l.problem(orders.Warning, at, c.text, fmt.Sprintf("read as a total, but the lines above add up to %d; not planned", sum), "correct the total, or see which line is missing or wrong")
	}
}
