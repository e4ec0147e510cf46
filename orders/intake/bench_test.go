package intake

import (
	"bytes"
	"fmt"
	"testing"

	"batchwright/orders/settings"

	"github.com/xuri/excelize/v2"
)

// largeOrder is an order of this many box lines with every common column
// filled, and a tenth as many boards.
func largeOrder(tb testing.TB, lines int) []byte {
	tb.Helper()
	f := excelize.NewFile()
	defer f.Close()
	write := func(sheet string, head []any, n int, row func(int) []any) {
		if _, err := f.NewSheet(sheet); err != nil {
			tb.Fatal(err)
		}
		w, err := f.NewStreamWriter(sheet)
		if err != nil {
			tb.Fatal(err)
		}
		for i := range n + 1 {
			cells := head
			if i > 0 {
				cells = row(i)
			}
			if err := w.SetRow(fmt.Sprintf("A%d", i+1), cells); err != nil {
				tb.Fatal(err)
			}
		}
		if err := w.Flush(); err != nil {
			tb.Fatal(err)
		}
	}
	boxes := []any{"Box", "Count", "Length (in)", "Width", "Height", "Measured", "Thickness", "End thickness", "Wood", "Finger", "Bottom", "Lid", "Dividers", "Grain", "Finish", "Customer", "Due", "Price", "Quantities", "Notes"}
	write("Boxes", boxes, lines, func(i int) []any {
		return []any{fmt.Sprintf("Box %d", i), 1, fmt.Sprintf("%d-%d/16", 8+i%9, 1+2*(i%8)), 5 + float64(i%32)/16, 3.375, "outside", "1/2", "1/2", "cherry", "1/4",
			"groove 1/4 birch ply", "lift-off", "2 x 3", "any", "oil", fmt.Sprintf("Customer %d", i%50), "2027-03-05", 42.5, "10; 25", "mind the grain"}
	})
	write("Rack", []any{"Board", "Count", "Wood", "Class", "Length", "Width", "Cost", "Defects", "Place"}, lines/10, func(i int) []any {
		return []any{fmt.Sprintf("R%d", i), 1 + i%3, "cherry", "4/4", 72 + i%48, fmt.Sprintf("%d 1/2", 4+i%5), 18.25, "18 to 22; 40 to 43 across 0 to 1 1/2", "left wall"}
	})
	if err := f.DeleteSheet("Sheet1"); err != nil {
		tb.Fatal(err)
	}
	var buf bytes.Buffer
	if _, err := f.WriteTo(&buf); err != nil {
		tb.Fatal(err)
	}
	return buf.Bytes()
}

// BenchmarkRead reads an order of 10,000 lines with every check.
func BenchmarkRead(b *testing.B) {
	const lines = 10_000
	data := largeOrder(b, lines)
	b.ReportAllocs()
	b.SetBytes(int64(len(data)))
	for b.Loop() {
		order, err := Read("order.xlsx", data, settings.Default())
		if err != nil || len(order.Boxes) != lines || order.HasErrors() {
			b.Fatalf("read %d boxes, err %v, problems %v", len(order.Boxes), err, order.Findings[:min(3, len(order.Findings))])
		}
	}
}

// BenchmarkOpen is the part of Read that decodes the workbook.
func BenchmarkOpen(b *testing.B) {
	data := largeOrder(b, 10_000)
	b.ReportAllocs()
	for b.Loop() {
		if _, err := open("order.xlsx", data); err != nil {
			b.Fatal(err)
		}
	}
}
