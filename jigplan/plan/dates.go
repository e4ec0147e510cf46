package plan

import (
	"time"

	"batchwright/orders"
)

// PastDates warns of the boxes that are due before a day.
func PastDates(o *orders.Order, today time.Time) (out []orders.Finding) {
	for i := range o.Boxes {
		b := &o.Boxes[i]
		if b.Due.IsZero() || !b.Due.Before(today) {
			continue
		}
		out = append(out, orders.Finding{Level: orders.Warning, Source: b.Source, Read: b.Due.Format("Mon Jan 2, 2006"),
			Did: b.Name + " is due on a day already past", Fix: "correct the Due date"})
	}
	return out
}
