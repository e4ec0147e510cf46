package quote

import (
	"slices"
	"time"

	"batchwright/orders"
	"batchwright/orders/measure"
)

// Taking is a row of an order of which some was taken, as quoted.
type Taking struct {
	Line  string // "Boxes!B7"; empty: the loose parts
	Count int    // without spares
	Each  measure.Money
	Day   time.Time // promised; zero: none
}

// Narrow leaves in an order only what was taken, at the count, the price and,
// where the row names no day, for the day that were quoted.
func Narrow(o *orders.Order, taken []Taking) {
	var boxes []orders.Box
	for _, b := range o.Boxes {
		at := slices.IndexFunc(taken, func(t Taking) bool { return t.Line != "" && t.Line == b.Source.String() })
		if at < 0 {
			continue
		}
		t := &taken[at]
		b.Count, b.Quantities = t.Count+b.Spare, nil
		if t.Each > 0 {
			b.Price = t.Each
		}
		if b.Due.IsZero() {
			b.Due = t.Day
		}
		boxes = append(boxes, b)
	}
	o.Boxes = boxes
	if !slices.ContainsFunc(taken, func(t Taking) bool { return t.Line == "" }) {
		o.Loose = nil
	}
}
