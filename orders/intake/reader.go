package intake

import (
	"cmp"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"batchwright/orders"
	"batchwright/orders/measure"
)

// reader understands a book as an order.
type reader struct {
	order     *orders.Order
	book      *book
	only      string                   // the sheet of boxes or parts that was asked for
	settingAt map[string]orders.Source // where each setting of the shop stands
	twoDates  []unclearDate
}

// unclearDate is a date that may be two days.
type unclearDate struct {
	at   orders.Source
	date measure.TwoDatesError
}

// askDates asks once, for the whole order, in which order its dates are written.
func (r *reader) askDates() {
	if len(r.twoDates) == 0 {
		return
	}
	first := &r.twoDates[0]
	did := fmt.Sprintf("%d dates can be read two ways; this one is %s or %s", len(r.twoDates), first.date.MonthFirst.Format("Jan 2, 2006"), first.date.DayFirst.Format("2 Jan 2006"))
	if len(r.twoDates) == 1 {
		did = fmt.Sprintf("this date is %s or %s", first.date.MonthFirst.Format("Jan 2, 2006"), first.date.DayFirst.Format("2 Jan 2006"))
	}
	r.problem(orders.Error, first.at, first.date.Text, did, "set Dates on the Shop sheet to month first or day first, or use --dates")
}

func (r *reader) problem(level orders.Level, at orders.Source, read, did, fix string) {
	r.order.Findings = append(r.order.Findings, orders.Finding{Level: level, Source: at, Read: shortened(read), Did: shortened(did), Fix: fix})
}

// maxShown is how much of a cell a problem quotes.
const maxShown = 160

// shortened cuts a text that nobody would read to the end; the whole of it
// stands in the readings.
func shortened(text string) string {
	if len(text) <= maxShown {
		return text
	}
	if runes := []rune(text); len(runes) > maxShown {
		return string(runes[:maxShown]) + " ..."
	}
	return text
}

func (r *reader) readAll() {
	for _, n := range r.book.notes {
		r.problem(orders.Note, orders.Source{}, "", n, "OK if the order does not need it")
	}
	tables := r.findTables()
	for _, t := range tables {
		if t.layout == &shopLayout && len(t.rows) > 0 {
			r.readShop(t)
		}
	}
	for _, t := range tables { // boards before boxes: a board's own wood is no slip
		switch t.layout {
		case &rackLayout:
			r.order.HasRack = r.order.HasRack || len(t.rows) > 0
			r.order.Rack = append(r.order.Rack, r.readBoards(t, orders.FromRack)...)
		case &yardLayout:
			r.order.HasYard = r.order.HasYard || len(t.rows) > 0
			r.order.Yard = append(r.order.Yard, r.readBoards(t, orders.FromYard)...)
		}
	}
	for _, t := range tables {
		switch t.layout {
		case &boxesLayout:
			r.readBoxes(t)
		case &partsLayout:
			r.readParts(t)
		case &catalogLayout:
			r.readCatalog(t)
		}
	}
	r.order.TellApart()
	r.askDates()
	r.auditOrder(tables)
	r.inSheetOrder()
}

// inSheetOrder lists problems and readings as they stand in the workbook.
func (r *reader) inSheetOrder() {
	place := map[string]int{}
	for i, s := range r.book.sheets {
		place[s.name] = i + 1
	}
	compare := func(a, b orders.Source) int {
		if c := cmp.Compare(place[a.Sheet], place[b.Sheet]); c != 0 {
			return c
		}
		colA, rowA, _ := parseRef(firstCell(a.Cell))
		colB, rowB, _ := parseRef(firstCell(b.Cell))
		return cmp.Or(cmp.Compare(rowA, rowB), cmp.Compare(colA, colB))
	}
	slices.SortStableFunc(r.order.Findings, func(a, b orders.Finding) int { return compare(a.Source, b.Source) })
	slices.SortStableFunc(r.order.Readings, func(a, b orders.Reading) int { return compare(a.Source, b.Source) })
}

// firstCell is the first cell of a block such as "B2:B5".
func firstCell(ref string) string {
	first, _, _ := strings.Cut(ref, ":")
	return first
}

// findTables gives every sheet its kind: by its name, else by its headings
// when no sheet has that kind's name.
func (r *reader) findTables() []*table {
	var tables []*table
	named := map[*layout]string{}
	kindOf := make([]*layout, len(r.book.sheets))
	for i, s := range r.book.sheets {
		if kindOf[i] = layoutNamed(s.name, r.book.csv); kindOf[i] != nil {
			named[kindOf[i]] = s.name
		}
	}
	if r.only != "" {
		r.keepOnly(kindOf, named)
	}
	for i, s := range r.book.sheets {
		if kindOf[i] == nil && (isHelper(s.name) || r.leftOut(s)) {
			continue
		}
		t := r.tableOf(s, kindOf[i], named)
		if t == nil {
			continue
		}
		r.listTitles(t)
		t.takeUnitRow()
		r.reportHeadings(t)
		tables = append(tables, t)
	}
	return tables
}

// keepOnly makes the sheet that was asked for the only one of boxes or parts.
func (r *reader) keepOnly(kindOf []*layout, named map[*layout]string) {
	found := false
	for i, s := range r.book.sheets {
		asked := r.isAsked(s)
		found = found || asked
		if l := kindOf[i]; l != nil && l.ordersWork() && !asked {
			kindOf[i] = nil
			delete(named, l)
		}
	}
	if !found {
		var names []string
		for _, s := range r.book.sheets {
			names = append(names, strconv.Quote(s.name))
		}
		r.problem(orders.Error, orders.Source{}, r.only, "no sheet of this name", "after --sheet, write one of "+strings.Join(names, ", "))
	}
}

func (r *reader) isAsked(s *sheet) bool {
	return strings.EqualFold(strings.TrimSpace(r.only), strings.TrimSpace(s.name))
}

// leftOut reports whether a sheet has boxes or parts and another one was asked for.
func (r *reader) leftOut(s *sheet) bool {
	if r.only == "" || r.isAsked(s) {
		return false
	}
	for _, l := range layouts {
		if t, _ := findTable(s, l); l.ordersWork() && t != nil && len(t.missing()) == 0 && l.tells(t) {
			return true
		}
	}
	return layoutNamed(s.name, r.book.csv) != nil
}

// ordersWork reports whether a sheet of this kind asks for something to be made.
func (l *layout) ordersWork() bool {
	return l == &boxesLayout || l == &partsLayout || l == &catalogLayout
}

// isHelper knows the sheets of the blank order that hold no order.
func isHelper(name string) bool { return name == helpSheet || name == listsSheet }

func layoutNamed(name string, csv bool) *layout {
	if csv {
		return nil // a list's name is a file name
	}
	plain := foldHeading(name)
	for _, l := range layouts {
		if plain == foldHeading(l.name) {
			return l
		}
	}
	for _, l := range layouts {
		for other := range strings.SplitSeq(l.others, "|") {
			if plain == other {
				return l
			}
		}
	}
	return nil
}

func (r *reader) tableOf(s *sheet, kind *layout, named map[*layout]string) *table {
	at := orders.Source{Sheet: s.name, Cell: "A1"}
	if s.hidden && len(s.rows) > 0 {
		r.problem(orders.Warning, at, "", "this sheet is hidden but was read", "unhide it and check that it belongs to the order, or delete it")
	}
	if kind != nil {
		if len(s.rows) == 0 {
			return nil
		}
		t, _ := findTable(s, kind)
		if t == nil && kind == &shopLayout {
			t = bareSettings(s)
		}
		if t == nil {
			r.problem(orders.Error, at, firstText(s), "no heading row found; sheet skipped",
				headingsFix(s, kind))
		}
		if kind.has("Class") && t != nil && fitsWhole(s, &boxesLayout) {
			r.problem(orders.Error, orders.Source{Sheet: s.name, Cell: cellName(1, t.top)}, firstText(s), "the sheet's name says boards, but its headings are for boxes; sheet skipped", "name the sheet Boxes")
			return nil
		}
		return t
	}
	if s.comma {
		r.problem(orders.Note, at, "", "numbers such as 3,5 were read with a decimal comma, as in lists with semicolons between the cells", "OK if intended")
	}
	t, best := (*table)(nil), 0
	for _, l := range layouts {
		found, score := findTable(s, l)
		if found != nil && len(found.missing()) == 0 && l.tells(found) && score > best {
			t, best = found, score
		}
	}
	switch {
	case t == nil && r.book.csv:
		t = r.listOf(s)
	case t == nil:
		if len(s.rows) > 0 {
			r.problem(orders.Note, at, firstText(s), "unknown sheet name and headings; sheet skipped", "OK if it is not part of the order; otherwise name it Boxes, Parts, Rack, Yard or Shop")
		}
	case named[t.layout] != "":
		first := named[t.layout]
		if t.layout.ordersWork() && layoutNamed(first, r.book.csv) == nil {
			r.problem(orders.Error, at, "", fmt.Sprintf("%s and %s both have the headings of %s", first, s.name, t.layout.name), fmt.Sprintf("add --sheet %q or --sheet %q, or name the one to read %s", first, s.name, t.layout.name))
			return nil
		}
		r.problem(orders.Warning, at, firstText(s), "this sheet looks like "+t.layout.name+", but the sheet "+first+" was used for that; this one was skipped", "copy its rows to "+first+", or delete it")
		return nil
	default:
		named[t.layout] = s.name
		fix := "name the sheet " + t.layout.name + " to be sure"
		if r.book.csv {
			fix = "OK if intended"
		}
		r.problem(orders.Note, at, "", "read as "+t.layout.name+" by its headings", fix)
	}
	return t
}

// bareSettings reads a sheet of settings that has no headings: a name, its value
// and its unit in the first columns; nil when it is none.
func bareSettings(s *sheet) *table {
	for i := range s.rows {
		name, value := s.rows[i].at(1), s.rows[i].at(2)
		if name == nil || value == nil || name.kind != textCell || len(s.rows[i].cells) > 3 {
			return nil
		}
	}
	t := &table{sheet: s, layout: &shopLayout, rows: s.rows}
	for i, name := range []string{"Setting", "Value", "Unit"} {
		t.headings = append(t.headings, heading{col: i + 1, text: name, name: name})
	}
	t.settle()
	return t
}

// headingsFix is the next step with a sheet that has no row of headings.
func headingsFix(s *sheet, l *layout) string {
	names := strings.Join(l.neededNames(), ", ")
	down := 0
	for i := range min(len(s.rows), headRows) {
		if c := s.rows[i].at(1); c != nil && c.kind == textCell && l.named(foldHeading(c.text)) != "" {
			down++
		}
	}
	text := firstText(s)
	switch {
	case down > 3:
		return "turn the table, so that the headings " + names + " are in one row with the lines below"
	case len(s.rows) > 0 && len(s.rows[0].cells) == 1 && strings.Count(text, ",")+strings.Count(text, ";")+strings.Count(text, "  ") > 4:
		return "everything is in one column: split it into separate columns, with the headings " + names
	}
	return "write the headings " + names + " in one row above the data"
}

// fitsWhole reports whether a sheet has all headings that a layout needs.
func fitsWhole(s *sheet, l *layout) bool {
	t, _ := findTable(s, l)
	return t != nil && len(t.missing()) == 0
}

// listOf reads a list without clear headings as boxes, so that what is missing
// can be said.
func (r *reader) listOf(s *sheet) *table {
	t, best := (*table)(nil), 0
	for _, l := range layouts {
		if found, score := findTable(s, l); score > best {
			t, best = found, score
		}
	}
	if t == nil {
		r.problem(orders.Error, orders.Source{Sheet: s.name, Cell: "A1"}, firstText(s), "no heading row found; nothing in this list was read",
			headingsFix(s, &boxesLayout))
	}
	return t
}

// tells reports whether a table found by its headings alone can only be of
// this kind.
func (l *layout) tells(t *table) bool {
	has := func(names ...string) bool {
		for _, n := range names {
			if t.columns[n] != nil {
				return true
			}
		}
		return false
	}
	switch l {
	case &rackLayout:
		return has("Class", "Thickness") && has("Class", "Cost", "Defects", "Place", "Board") && !has("Height")
	case &yardLayout:
		return has("Class", "Thickness") && has("Price", "Arrives")
	case &catalogLayout:
		return has("Sells low", "Sells likely", "Sells high")
	}
	return true
}

func (l *layout) neededNames() []string {
	var out []string
	for _, c := range l.columns {
		if c.needed {
			out = append(out, c.name)
		}
	}
	return out
}

func firstText(s *sheet) string {
	if len(s.rows) == 0 {
		return ""
	}
	return strings.TrimSpace(s.rows[0].cells[0].text)
}

// listTitles lists what stands above the headings, and asks about a title that
// names another unit than the one sizes are read in.
func (r *reader) listTitles(t *table) {
	t.titles = append(t.titles, title{orders.Source{Sheet: t.name, Cell: cellName(1, t.top)}, t.name})
	for _, row := range t.sheet.rows {
		if row.num >= t.first {
			return
		}
		for _, c := range row.cells {
			at := orders.Source{Sheet: t.name, Cell: cellName(c.col, row.num)}
			r.order.Readings = append(r.order.Readings, orders.Reading{Source: at, Text: c.text, Meaning: "a title; not used"})
			t.titles = append(t.titles, title{at, c.text})
		}
	}
}

// reportHeadings lists how each heading was understood and asks about those
// that were not.
func (r *reader) reportHeadings(t *table) {
	for i := range t.headings {
		h := &t.headings[i]
		if h.row == 0 {
			continue // of settings without headings
		}
		at := t.placeOf(h)
		meaning := h.name
		if h.unit != measure.NoUnit {
			meaning += ", " + h.unit.String()
		}
		r.order.Readings = append(r.order.Readings, orders.Reading{Source: at, Heading: "heading", Text: h.text, Meaning: meaning})
		switch owner := t.columns[h.name]; {
		case h.name == "" && len(h.maybe) > 0:
			r.problem(orders.Error, at, h.text, "it may mean "+strings.Join(h.maybe, " or ")+"; column skipped", "write "+strings.Join(h.maybe, " or ")+" as the heading")
		case h.pieces > 0 || h.unordered:
			r.reportSizes(t, h, at)
		case h.lines:
			r.problem(orders.Note, at, h.text, "it numbers the lines 1, 2, 3; column skipped", "if they are counts, write Count as the heading")
		case h.name == "":
			r.problem(orders.Note, at, h.text, "unknown heading; column skipped", "OK if it does not matter; known headings: the help page of batchwright new")
		case owner != h && (h.name == "Notes" || t.otherPrice(h)): // read one after the other
		case owner != h && t.emptyUnder(h):
			r.problem(orders.Note, at, h.text, "this column is empty; the one in "+cellName(owner.col, t.top)+" was read", "nothing to do")
		case owner != h && slices.Contains([]string{"Box", "Part", "Board", "Customer", "Place"}, h.name):
			r.problem(orders.Warning, at, h.text, fmt.Sprintf("two headings mean %s; the one in %s was read", h.name, cellName(owner.col, t.top)), "write as the heading of the one to use: "+h.name)
		case owner != h:
			r.problem(orders.Error, at, h.text, fmt.Sprintf("two headings mean %s; the one in %s was read", h.name, cellName(owner.col, t.top)), "rename or remove one of the two")
		case h.guessed:
			r.problem(orders.Warning, at, h.text, "read as "+h.name, "write "+h.name+" as the heading")
		}
	}
	unclear := slices.ContainsFunc(t.headings, func(h heading) bool { return t.lacksOrder(&h) })
	for _, name := range t.missing() {
		if t.top > 0 && !(unclear && slices.Contains([]string{"Length", "Width", "Height", "Thickness"}, name)) {
			r.problem(orders.Error, orders.Source{Sheet: t.name, Cell: cellName(1, t.top)}, "", "there is no column "+name, "add a column headed "+name)
		}
	}
	for _, m := range t.fillMerged() {
		at := orders.Source{Sheet: t.name, Cell: cellName(m.left, m.top) + ":" + cellName(m.right, m.bottom)}
		if t.names[m.left] == "Count" {
			r.problem(orders.Warning, at, "", "the merged count is used for each of its rows, not as a total", "write the count of each row in its own cell")
		} else {
			r.problem(orders.Note, at, "", "the merged cell is used for each of its rows", "OK if intended; otherwise unmerge it")
		}
	}
}
