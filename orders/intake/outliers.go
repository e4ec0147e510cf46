package intake

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"batchwright/orders"
	"batchwright/orders/measure"
)

// sizeAt is a size and where it stands.
type sizeAt struct {
	at    orders.Source
	unit  measure.Unit // in which it is said again
	value measure.Length
}

// auditOutliers warns of a size more than four times its column's median, the
// mark of millimetres among inches, and of one less than a tenth of it, the
// mark of inches among millimetres.
func (r *reader) auditOutliers(tables []*table) {
	for _, column := range []struct {
		name string
		of   func(*orders.Box) measure.Length
	}{
		{"Length", func(b *orders.Box) measure.Length { return b.Length }},
		{"Width", func(b *orders.Box) measure.Length { return b.Width }},
		{"Height", func(b *orders.Box) measure.Length { return b.Height }},
		{"Thickness", func(b *orders.Box) measure.Length { return b.Thickness }},
	} {
		var sizes []sizeAt
		for i := range r.order.Boxes {
			b := &r.order.Boxes[i]
			at, unit := columnOf(tables, b.Source, column.name, r.order.Settings.Units)
			sizes = append(sizes, sizeAt{at, unit, column.of(b)})
		}
		r.warnOfOutliers(strings.ToLower(column.name), sizes)
	}
}

func (r *reader) warnOfOutliers(what string, sizes []sizeAt) {
	if len(sizes) < 4 {
		return
	}
	sorted := slices.SortedFunc(slices.Values(sizes), func(a, b sizeAt) int { return cmp.Compare(a.value, b.value) })
	median := sorted[len(sorted)/2].value
	for _, s := range sizes {
		much, fix := "", ""
		switch {
		case s.value > 4*median:
			much, fix = "more than four times", "check the unit: is this in millimeters?"
		case s.value < median/10:
			much, fix = "less than a tenth of", "check the unit: is this in inches?"
		default:
			continue
		}
		r.problem(orders.Warning, s.at, s.value.ShowUnit(s.unit), fmt.Sprintf("%s the usual %s, %s; planned as written", much, what, median.ShowUnit(s.unit)), fix)
	}
}

// columnOf is the cell of another column in the same row of boxes, and the unit
// in which its size is said again.
func columnOf(tables []*table, at orders.Source, name string, usual measure.Unit) (orders.Source, measure.Unit) {
	_, row, _ := parseRef(at.Cell)
	for _, t := range tables {
		if h := t.columns[name]; t.layout == &boxesLayout && t.name == at.Sheet && h != nil {
			return orders.Source{Sheet: at.Sheet, Cell: cellName(h.col, row)}, t.shows(name, usual)
		}
	}
	return at, usual
}
