package intake

import (
	"slices"
	"strings"

	"batchwright/orders/measure"
)

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
