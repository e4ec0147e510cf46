package intake

import (
	"slices"
	"strconv"
	"strings"
	"unicode"

	"batchwright/orders"
	"batchwright/orders/measure"
)

// table is a sheet whose headings are found.
type table struct {
	*sheet
	layout   *layout
	top      int // row number of the headings
	headings []heading
	columns  map[string]*heading
	names    map[int]string // of the columns, by their place
	rows     []row          // beneath the headings
	titles   []title        // above them

	first      int  // row number of the upper row of headings, where they stand in two; else top
	orderTaken bool // sizes of a cell were taken in the usual order, for nothing says it
}

func (t *table) placeOf(h *heading) orders.Source {
	return orders.Source{Sheet: t.name, Cell: cellName(h.col, h.row)}
}

type title struct {
	at   orders.Source
	text string
}

// headRows is how far down headings are looked for.
const headRows = 200

// findTable looks for the row that reads best as headings of this kind, the
// first that names all that is needed before any other; score is how many
// columns it names, 0 when it is none.
func findTable(s *sheet, l *layout) (t *table, score int) {
	for i := range min(len(s.rows), headRows) {
		found, n := tableAt(s, l, i)
		if n <= score {
			continue
		}
		score, t = n, found
		if n >= len(l.neededNames()) && n > 2 && len(found.settled().missing()) == 0 {
			return t, score
		}
	}
	if score < 2 {
		return nil, 0
	}
	return t.settled(), score
}

// tableAt reads a row as headings, together with the one beneath it when that
// one parts the headings above it, as Length, Width and Height part Size.
func tableAt(s *sheet, l *layout, i int) (t *table, n int) {
	headings, n := readHeadings(&s.rows[i], l)
	t = &table{sheet: s, layout: l, first: s.rows[i].num, top: s.rows[i].num, headings: headings, rows: s.rows[i+1:]}
	if n < 2 || i+1 == len(s.rows) || s.rows[i+1].num != t.top+1 {
		return t, n
	}
	beneath, m := readHeadings(&s.rows[i+1], l)
	if m < 2 || m < len(s.rows[i+1].cells) || !partsAbove(headings, beneath) {
		return t, n
	}
	t.headings, t.top, t.rows = joined(headings, beneath), t.top+1, s.rows[i+2:]
	return t, countNames(t.headings)
}

// partsAbove reports whether no heading stands over one that it does not
// leave open, and some stand beside.
func partsAbove(above, beneath []heading) bool {
	for _, b := range beneath {
		for _, a := range above {
			if b.guessed || a.col == b.col && a.name != "" {
				return false
			}
		}
	}
	return true
}

// joined puts the lower headings in the place of those they part, with the unit
// and the inside or outside of what stands over them.
func joined(above, beneath []heading) []heading {
	var out []heading
	for _, a := range above {
		if !slices.ContainsFunc(beneath, func(b heading) bool { return b.col == a.col }) {
			out = append(out, a)
		}
	}
	for _, b := range beneath {
		for i := len(above) - 1; i >= 0; i-- {
			if a := above[i]; a.col <= b.col {
				if b.unit == measure.NoUnit && a.name == "" {
					b.unit = a.unit
				}
				if b.inside == "" && a.name == "" {
					b.inside = a.inside
				}
				break
			}
		}
		out = append(out, b)
	}
	return out
}

// readHeadings understands a row as headings; n is how many columns it names.
// A heading is a text: a number or two among many are left aside.
func readHeadings(r *row, l *layout) (headings []heading, n int) {
	numbers := 0
	for _, c := range r.cells {
		h := heading{col: c.col, text: strings.TrimSpace(c.text)}
		switch {
		case c.kind != textCell:
			numbers++
		case len(c.text) > 80:
			continue
		default:
			h = l.read(c.col, h.text)
		}
		h.row = r.num
		headings = append(headings, h)
	}
	if n = countNames(headings); numbers > 0 && n < 4*numbers {
		return nil, 0
	}
	return headings, n
}

func countNames(headings []heading) int {
	seen := map[string]bool{}
	for _, h := range headings {
		if h.name != "" {
			seen[h.name] = true
		}
		for _, name := range h.sizes {
			seen[name] = true
		}
	}
	return len(seen)
}

// settled is the table with its columns given to headings.
func (t *table) settled() *table {
	if t.columns == nil {
		t.takeUnitColumn()
		t.settle()
	}
	return t
}

// settle gives each column to one heading: unclear ones take a column only
// when it is the one still free.
func (t *table) settle() {
	t.headings = slices.Grow(t.headings, len(sizeNames)) // columns point into it while partSizes adds to it
	t.columns = map[string]*heading{}
	for i := range t.headings {
		h := &t.headings[i]
		if h.name == "" {
			continue
		}
		if first := t.columns[h.name]; first == nil || isOwnName(h) && !isOwnName(first) {
			t.columns[h.name] = h
		}
	}
	for i := range t.headings {
		h := &t.headings[i]
		var free []string
		for _, name := range h.maybe {
			if t.columns[name] == nil {
				free = append(free, name)
			}
		}
		h.maybe = free
		if h.name == "" && len(free) == 1 && free[0] == "Count" && t.numbersLines(h.col) {
			h.maybe, h.lines = nil, true
		}
		if h.name == "" && len(h.maybe) == 1 {
			h.name, h.maybe, h.guessed = free[0], nil, true
			t.columns[h.name] = h
		}
	}
	t.partSizes()
	t.names = map[int]string{}
	for name, h := range t.columns {
		if h.piece == 0 {
			t.names[h.col] = name
		}
	}
}

func isOwnName(h *heading) bool { return foldHeading(h.text) == foldHeading(h.name) }

// numbersLines reports whether a column holds 1, 2, 3 and so on.
func (t *table) numbersLines(col int) bool {
	n := 0
	for i := range t.rows {
		c := t.rows[i].at(col)
		if c == nil {
			continue
		}
		if n++; c.text != strconv.Itoa(n) {
			return false
		}
	}
	return n > 1
}

// unitColumn is what the column is called that says the unit of each row.
const unitColumn = "Unit"

// takeUnitColumn finds a column of nothing but units of length and dittos,
// under Unit, Measured in or the like.
func (t *table) takeUnitColumn() {
	if t.layout == &shopLayout {
		return
	}
	for i := range t.headings {
		h := &t.headings[i]
		switch foldHeading(h.text) {
		case "unit", "units", "uom", "unit of measure", "measured in", "measure in", "sizes in", "dimensions in":
			if t.holdsUnits(h.col) {
				*h = heading{col: h.col, row: h.row, text: h.text, name: unitColumn}
				return
			}
		}
	}
}

// holdsUnits reports whether the first filled cell of a column is a unit of
// length.
func (t *table) holdsUnits(col int) bool {
	for i := range t.rows {
		if c := t.rows[i].at(col); c != nil && !isBlank(c.text) {
			return unitOf(c.text) != measure.NoUnit
		}
	}
	return false
}

// unitOf is the unit of length that a text is; NoUnit when it is something
// else.
func unitOf(text string) measure.Unit {
	return headingUnits[strings.Trim(strings.ToLower(text), " ().[]")]
}

// missing lists the needed columns that no heading names; Woods names the wood
// too.
func (t *table) missing() []string {
	var out []string
	for _, c := range t.layout.columns {
		if c.needed && t.columns[c.name] == nil && !(c.name == "Wood" && t.columns["Woods"] != nil) {
			out = append(out, c.name)
		}
	}
	return out
}

// takeUnitRow reads a first row of nothing but units, such as (mm), into the
// headings above it.
func (t *table) takeUnitRow() {
	if len(t.rows) == 0 {
		return
	}
	units := map[int]measure.Unit{}
	for _, c := range t.rows[0].cells {
		word := strings.Trim(strings.ToLower(c.text), " ().[]")
		unit, ok := headingUnits[word]
		if !ok && word != "" && word != "-" && word != "pcs" && word != "no" {
			return
		}
		if ok {
			units[c.col] = unit
		}
	}
	if len(units) == 0 {
		return
	}
	for i := range t.headings {
		if u, ok := units[t.headings[i].col]; ok && t.headings[i].unit == measure.NoUnit {
			t.headings[i].unit = u
		}
	}
	t.rows = t.rows[1:]
}

// fillMerged copies the value of a merged block down its first column, so that
// a wood merged over five rows stands in all five.
func (t *table) fillMerged() (filled []area) {
	for _, m := range t.merges {
		if m.bottom == m.top || m.top <= t.top {
			continue
		}
		var value *cell
		for i := range t.rows {
			r := &t.rows[i]
			switch {
			case r.num == m.top:
				value = r.at(m.left)
			case r.num > m.top && r.num <= m.bottom && value != nil && r.at(m.left) == nil:
				copied := *value
				r.cells = append(r.cells, copied)
			}
		}
		if value != nil {
			filled = append(filled, m)
		}
	}
	return filled
}

// titleUnit is the unit a title such as "all sizes in mm" names, when it names
// exactly one.
func titleUnit(text string) measure.Unit {
	found := measure.NoUnit
	words := strings.FieldsFunc(strings.ToLower(text), func(r rune) bool { return !unicode.IsLetter(r) })
	for i, w := range words {
		unit, ok := headingUnits[w]
		if !ok || w == "in" || w == "ft" || w == "feet" || w == "foot" || i == 0 && len(words) > 1 {
			continue // "in" and the others are words of their own
		}
		if found != measure.NoUnit && found != unit {
			return measure.NoUnit
		}
		found = unit
	}
	return found
}
