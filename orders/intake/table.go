package intake

import (
	"fmt"
	"slices"
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
}

type title struct {
	at   orders.Source
	text string
}

// headRows is how far down headings are looked for.
const headRows = 200

// findTable looks for the row that reads best as headings of this kind; score
// is how many columns it names, 0 when it is none.
func findTable(s *sheet, l *layout) (t *table, score int) {
	for i := range min(len(s.rows), headRows) {
		headings, n := readHeadings(&s.rows[i], l)
		if n > score {
			score = n
			t = &table{sheet: s, layout: l, top: s.rows[i].num, headings: headings, rows: s.rows[i+1:]}
		}
	}
	if score < 2 {
		return nil, 0
	}
	t.settle()
	return t, score
}

// readHeadings understands a row as headings; n is how many columns it names.
func readHeadings(r *row, l *layout) (headings []heading, n int) {
	seen := map[string]bool{}
	for _, c := range r.cells {
		if c.kind != textCell || len(c.text) > 80 {
			if c.kind != textCell {
				return nil, 0 // a heading is a text
			}
			continue
		}
		h := l.read(c.col, strings.TrimSpace(c.text))
		headings = append(headings, h)
		if h.name != "" && !seen[h.name] {
			seen[h.name] = true
			n++
		}
		for _, name := range h.sizes {
			if !seen[name] {
				seen[name] = true
				n++
			}
		}
	}
	return headings, n
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
		if h.name == "" && len(free) == 1 {
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
func (t *table) fillMerged() (filled []string) {
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
			filled = append(filled, fmt.Sprintf("%s:%s", cellName(m.left, m.top), cellName(m.right, m.bottom)))
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
