package intake

import (
	"slices"

	"batchwright/orders"
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
		first := t.columns[h.name]
		switch {
		case first == nil, t.emptyUnder(first) && !t.emptyUnder(h):
			t.columns[h.name] = h
		case isOwnName(h) && !isOwnName(first) && (!t.emptyUnder(h) || t.emptyUnder(first)):
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

// emptyUnder reports whether nothing stands under a heading.
func (t *table) emptyUnder(h *heading) bool {
	return !slices.ContainsFunc(t.rows, func(r row) bool {
		c := r.at(h.col)
		return c != nil && !isBlank(c.text)
	})
}

// otherPrice is the second column of prices, which is for another measure than
// the first: each row says which of the two it uses.
func (t *table) otherPrice(h *heading) bool {
	owner := t.columns[h.name]
	return owner != nil && owner != h && (h.name == "Price" || h.name == "Cost") && h.basis != owner.basis && t.takesBoards()
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
