package intake

import (
	"fmt"

	"batchwright/orders"
)

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
		l.skip(orders.Note, "row of totals; skipped", "nothing to do")
	case err != nil || c.kind != numberCell && c.kind != textCell:
		l.problem(orders.Warning, at, c.text, "row of totals, but its count cannot be read; skipped", "correct the total or remove the row")
	case n.total() == sum || n.total() == sinceTotal:
		l.problem(orders.Note, at, c.text, "total row, matches; skipped", "nothing to do")
	default:
		l.problem(orders.Warning, at, c.text, fmt.Sprintf("total row, but the lines above add up to %d; skipped", sum), "correct the total, or the line that is missing or wrong")
	}
}
