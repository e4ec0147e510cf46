package intake

import (
	"strconv"
	"strings"
	"unicode"

	"batchwright/orders/measure"
)

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
