package intake

import (
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
	saidDate   string       // what stands for a date and is none: asap
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
			kind = beneathRow
		case kind == dataRow && l.isBareSum(sum):
			kind = totalRow
		}
		switch kind {
		case totalRow:
			l.aside = "a total; not planned"
			l.compareTotal(sum, sinceTotal)
			sinceTotal = 0
		case dataRow:
			l.warnOfHidden()
			l.readUnit()
			n := visit(l)
			sum, sinceTotal = sum+n, sinceTotal+n
			above = l.own
		default:
			l.setAside(kind)
			ended = ended || kind == otherHeadingRow
		}
		l.listRest()
	}
	r.reportOrderTaken(t)
	r.reportHiddenColumns(t)
}

func (l *line) warnOfHidden() {
	if l.row.hidden {
		l.skip(orders.Warning, "this row is hidden but was read", "unhide it and check that it belongs to the order, or delete it")
	}
}

func (r *reader) reportHiddenColumns(t *table) {
	for i := range t.headings {
		if h := &t.headings[i]; h.name != "" && t.colHidden(h.col) {
			r.problem(orders.Warning, orders.Source{Sheet: t.name, Cell: cellName(h.col, h.row)}, h.text, "this column is hidden but was read", "unhide it and check it, or delete it")
		}
	}
}

func (l *line) nameOf(col int) string { return l.t.names[col] }

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
		l.fault(unitColumn, c.text, "not a unit of length", "write in, mm, cm or ft")
		return
	}
	l.understood(unitColumn, c.text, l.unit.String())
}

// understood lists the cell as it was read.
func (l *line) understood(name, text, meaning string) {
	ditto := false
	if h := l.t.columns[name]; h != nil {
		if l.listed[h.col] && h.piece == 0 {
			return
		}
		l.listed[h.col] = true
		if c := l.row.at(h.col); c != nil && isDitto(c.text) {
			text, meaning, ditto = c.text, meaning+" (as above)", true
		}
	}
	l.order.Readings = append(l.order.Readings,
		orders.Reading{Source: l.cellOf(name), Heading: name, Text: text, Meaning: meaning, Ditto: ditto})
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
			l.fault(name, c.text, "nothing above it to repeat", "write the value itself")
			return cell{}, false
		}
		c = from
	}
	switch c.kind {
	case errorCell:
		l.fault(name, c.text, "the cell has an error, not a value", "correct the formula, or write the value itself")
		return cell{}, false
	case formulaCell:
		l.fault(name, c.text, "the cell has a formula whose value was not saved", "open the workbook, let it calculate, and save it; or write the value itself")
		return cell{}, false
	}
	if h.pieces > 0 && !isDitto(p.text) {
		if c, ok = l.pieceOf(h, c); !ok {
			return cell{}, false
		}
	}
	c.text = withoutSizeName(name, c)
	if c.evaluated {
		l.problem(orders.Note, l.cellOf(name), c.text, "the formula's value was not saved; calculated here", "open the workbook, let it calculate, and save it, to be sure")
	}
	l.own[name] = c
	return c, true
}
