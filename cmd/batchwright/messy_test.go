package main

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"batchwright/orders"
	"batchwright/orders/intake"
	"batchwright/orders/parts"
	"batchwright/orders/settings"
)

// messyOrders are lists as people send them, each with its own troubles, of
// invented customers and shops.
func messyOrders() []orderBook {
	return []orderBook{metricOrder(), titledOrder(), insideOrder(), mixedWallsOrder(), commission()}
}

// metricOrder is a metric shop's: decimal commas in text and in settings, units
// in the headings, one size in inches among them, prices with a comma.
func metricOrder() orderBook {
	return orderBook{file: "metric.xlsx", foreign: true, sheets: []orderSheet{
		{name: "Bestellung", widths: map[string]float64{"A": 18, "J": 26, "K": 26}, rows: [][]any{
			{"Box", "Pieces", "Length (mm)", "Width (mm)", "Height (mm)", "Inside/Outside", "Wall (mm)", "Timber", "Finger (mm)", "Bottom", "Lid", "Dividers", "Price", "Notes"},
			{"Werkzeugkiste", 4, 420, "262,5", 105, "outside", 12, "ash", 10, "groove 6 birch plywood", "none", "", "84,50", "handles are let in later"},
			{"Teekiste", "6+1 spare", "304,8", 210, "84", "outside", "12,0", "ash", 10, "groove 6 birch plywood", "sliding 6 birch plywood", "3 x 2", "61,00", ""},
			{"Kartei", 3, "8 in", "150,5", 105, "inside", 12, "beech", 10, "rabbet 6 birch plywood", "none", "", "48,00", ""},
			{"Total", 14},
		}},
		{name: "Shop", rows: [][]any{
			{"Setting", "Value", "Unit"},
			{"Units", "mm"},
			{"Decimal mark", ","},
			{"Rod", "M10x1.5"},
			{"Blade kerf", "3,05", "mm"},
			{"Fit at most", "0,25", "mm"},
			{"Carriage opening", "115", "mm"},
			{"Rod travel", "180", "mm"},
			{"Temperature", "20 C"},
		}},
		{name: "Yard", rows: [][]any{
			{"Board", "Count", "Wood", "True thickness (mm)", "Length (mm)", "Width (mm)", "Price per m3"},
			{"ash 26", nil, "ash", 26, 2500, 160, "1450,00"},
			{"beech 26", nil, "beech", 26, 2500, 150, "980,00"},
			{"ply 6", nil, "birch plywood", "6,0", 1525, 1525, "1250,00"},
		}},
	}}
}

// titledOrder has its headings in row 5 under merged titles, notes and
// subtotals between the lines, and its columns in an order of its own.
func titledOrder() orderBook {
	return orderBook{file: "titles.xlsx", foreign: true, sheets: []orderSheet{
		{name: "Order", merged: []string{"A1:J1", "A2:J2", "A3:E3", "F3:J3"}, widths: map[string]float64{"A": 20, "J": 30}, rows: [][]any{
			{"Fenwick Street Stationers"},
			{"Order for the autumn window"},
			{"Delivery at the back door", nil, nil, nil, nil, "Ask for the window dresser"},
			{},
			{"Species", "Description", "Height", "Width", "Length", "Number of boxes", "Thickness", "inside / outside", "Finger size", "Comments"},
			{nil, "for the left window"},
			{"walnut", "Ink box", "2 1/4", "5", "7", "4", "3/8", "outside", "1/8", "no knots!"},
			{"same as above", "Letter box", "3-3/8", "9 1/2", "12 1/4", "3", "1/2", "outside", "1/4", ""},
			{"", "Subtotal", nil, nil, nil, 7},
			{},
			{nil, "for the right window"},
			{"red oak", "Map box", "3 15/16", "11", "1' 6\"", "2", "1/2", "outside", "1/4", "rush"},
			{"red oak", "Stamp box", "1.6875", "4 1/8", "6", "1 doz", "3/8", "outside", "1/8", "-"},
			{"", "Total", nil, nil, nil, 21},
		}},
	}}
}

// insideOrder gives inside sizes, with every bottom and lid there is.
func insideOrder() orderBook {
	return orderBook{file: "inside.xlsx", sheets: []orderSheet{
		{name: "Boxes", widths: map[string]float64{"A": 14, "I": 24, "J": 24}, rows: [][]any{
			{"Box", "Count", "Inside length", "Inside width", "Inside height", "Measured", "Thickness", "Wood", "Bottom", "Lid", "Dividers", "Finger"},
			{"Tea", 2, 11, 7, 3, "inside", "1/2", "cherry", "groove, 1/4, birch ply", "lift-off, 1/2, cherry", "3 x 2", "1/4"},
			{"Slides", 2, 9, "2 1/4", "2 1/8", "in", "1/2", "cherry", "groove, 1/4, birch ply", "sliding, 1/4, birch ply", "12 x 1", "1/4"},
			{"Chest", 1, 14, 9, 6, "inside", "1/2", "cherry", "groove, 1/4, birch ply", "sawn-off, 1/4, birch ply", "none", "1/4"},
			{"Cards", 3, "8 1/8", "5 1/8", 4, "inside", "1/2", "cherry", "rabbet, 1/4, birch ply", "hinged, 1/2", "-", "1/4"},
			{"Tray", 4, 10, 6, 1, "inside", "1/2", "cherry", "nailed, 1/4, birch ply", "none", nil, "1/4"},
			{"Frame", 1, 10, 6, 3, "inside", "1/2", "cherry", "none", "none", nil, nil},
		}},
		{name: "Shop", rows: [][]any{{"Setting", "Value", "Unit"}, {"Blade kerf", "0.0955", "in"}}},
	}}
}

// mixedWallsOrder has ends thicker than the sides and woods by the line, with
// ditto marks and blanks where people leave them.
func mixedWallsOrder() orderBook {
	return orderBook{file: "mixed-walls.xlsx", sheets: []orderSheet{
		{name: "Boxes", widths: map[string]float64{"A": 16}, rows: [][]any{
			{"Box", "Count", "Length", "Width", "Height", "Measured", "Thickness", "End thickness", "Wood", "Finger", "Bottom", "Grain", "Notes"},
			{"Chisel case", 2, 15, 5, 3, "outside", "3/8", "1/2", "hard maple", "1/4", "groove 1/4 birch ply", "any", "ends carry the handles"},
			{"Chisel case", 1, 15, 5, 3, "outside", "3/8", "1/2", "walnut", "ditto", "ditto", "matched", "same size, other wood"},
			{"Plane box", 2, "16 1/2", "6 1/4", "5 1/16", "outside", "1/2", "3/4", "white oak", "1/2", "nailed 1/4 birch ply", "any", nil},
			{"Saw box", 1, 28, 7, "4 1/4", "outside", "1/2", nil, "\"", "1/4", "\"", "any", nil},
			{"Rule case", 6, 14, "4", "1 1/8", "outside", "1/4", "3/8", "cherry", "1/8", "none", "any", nil},
		}},
		{name: "Stock", rows: [][]any{
			{"Board", "Qty", "Species", "Quarters", "Thickness", "Length", "Width", "Cost", "Faults"},
			{"A", 3, "hard maple", "4/4", nil, 72, 6, 22, "30 to 31"},
			{"B", 2, "walnut", "4/4", nil, 60, 7, 34, nil},
			{"C", 3, "white oak", "4/4", nil, 84, 7, 29, "0 to 4; 50 to 52 across 0 to 2"},
			{"D", 2, "white oak", "5/4", nil, 48, 8, 27, nil},
			{"E", 2, "cherry", "4/4", nil, 70, "5 1/2", 26, nil},
			{"F", 1, "birch ply", nil, "1/4", 48, 48, 31, nil},
		}},
	}}
}

// commission is one box for one customer, without rack or yard.
func commission() orderBook {
	return orderBook{file: "commission.xlsx", sheets: []orderSheet{
		{name: "Boxes", rows: [][]any{
			{"Customer", "Box", "Count", "Length", "Width", "Height", "Measured", "Thickness", "Wood", "Finger", "Bottom", "Lid", "Grain", "Finish", "Due", "Quantities", "Notes"},
			{"a choir", "Music case", 1, `13 1/4"`, `10 1/2"`, `4"`, "inside", `1/2"`, "Walnut", nil, "groove 1/4 birch ply", "sawn-off 1/4 birch ply", "matched", "oil and wax", dueOn(2027, 5, 20), "1; 5; 10", "must take sheet music flat"},
		}},
	}}
}

// csvOrder is typed in a text editor: quotes, inch marks, a blank line.
const csvOrder = `Box,Qty,Length,Width,Height,Measured,Thickness,Wood,Finger,Bottom,Notes
"Nail box, small",6,"10""","6""","3-3/8""",outside,"1/2""",pine,1/4,"nailed, 1/4, plywood","for the market, no finish"
Nail box large,2 pr,"1' 2""",8 1/2,3-3/8,outside,1/2,"""",1/4,same as above,

Seed box,4,12,7½,2 1/4,outside,3/8,pine,1/8,none,"""rustic"" is fine"
TOTAL,14,,,,,,,,,
`

func TestCSVOrderStillSaysTheSame(t *testing.T) {
	at := filepath.Join(ordersFolder, "market.csv")
	if *updateOrders {
		if err := os.WriteFile(at, []byte(csvOrder), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	got, err := os.ReadFile(at)
	if err != nil || string(got) != csvOrder {
		t.Errorf("%s: %v", at, err)
	}
}

// TestOrdersAreReadWithoutErrors reads every order and makes its parts: what
// people do to such lists may be warned of, never refused.
func TestOrdersAreReadWithoutErrors(t *testing.T) {
	for _, c := range []struct {
		file                string
		boxes, lines, loose int
		warned              []string // cells that must be warned of
	}{
		{"demo.xlsx", 40, 9, 14, []string{"Boxes!I9", "Boxes!A12"}},
		{"metric.xlsx", 14, 3, 0, nil},
		{"titles.xlsx", 21, 4, 0, nil},
		{"inside.xlsx", 13, 6, 0, nil},
		{"mixed-walls.xlsx", 12, 5, 0, nil},
		{"commission.xlsx", 1, 1, 0, nil},
		{"market.csv", 14, 3, 0, nil},
	} {
		t.Run(c.file, func(t *testing.T) {
			o := readOrder(t, c.file)
			made := parts.Make(o)
			warned := map[string]bool{}
			for _, p := range append(o.Findings, made.Findings...) {
				if p.Level == orders.Error {
					t.Errorf("%s %q: %s; %s", p.Source, p.Read, p.Did, p.Fix)
				}
				warned[p.Source.String()] = warned[p.Source.String()] || p.Level == orders.Warning
			}
			for _, cell := range c.warned {
				if !warned[cell] {
					t.Errorf("nothing is said of %s", cell)
				}
			}
			boxes, loose := 0, 0
			for _, b := range o.Boxes {
				boxes += b.Count
			}
			for _, l := range o.Loose {
				loose += l.Count
			}
			if boxes != c.boxes || len(o.Boxes) != c.lines || loose != c.loose {
				t.Errorf("%d boxes in %d lines, %d loose parts; want %d in %d and %d", boxes, len(o.Boxes), loose, c.boxes, c.lines, c.loose)
			}
		})
	}
}

func readOrder(t *testing.T, file string) *orders.Order {
	t.Helper()
	data, err := os.ReadFile(filepath.Join(ordersFolder, file))
	if err != nil {
		t.Fatal(err)
	}
	o, err := intake.Read(file, data, settings.Default())
	if err != nil {
		t.Fatal(err)
	}
	return o
}

func TestDemoRackHolds25Boards(t *testing.T) {
	n := 0
	woods := map[string]bool{}
	for _, b := range readOrder(t, "demo.xlsx").Rack {
		n += b.Count
		woods[strings.ToLower(b.Wood)] = true
	}
	if n != 25 || len(woods) != 4 {
		t.Errorf("%d boards of %v", n, woods)
	}
}
