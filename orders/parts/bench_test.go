package parts_test

import (
	"fmt"
	"testing"

	"batchwright/orders"
	"batchwright/orders/parts"
	"batchwright/orders/settings"
)

// BenchmarkMake works through as many lines as an order may have parts for:
// each line another box with a solid bottom and a lid.
func BenchmarkMake(b *testing.B) {
	for _, lines := range []int{100, 10_000} {
		b.Run(fmt.Sprintf("lines=%d", lines), func(b *testing.B) {
			o := &orders.Order{Settings: settings.Default()}
			for i := range lines {
				box := plain()
				box.Source = orders.Source{Sheet: "Boxes", Cell: fmt.Sprintf("B%d", i+2)}
				box.Count, box.Bottom.Kind, box.Lid.Kind = 1, orders.GrooveBottom, orders.SlidingLid
				o.Boxes = append(o.Boxes, box)
			}
			for b.Loop() {
				if r := parts.Make(o); len(r.Parts) != 6*lines {
					b.Fatal(len(r.Parts))
				}
			}
		})
	}
}
