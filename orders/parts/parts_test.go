package parts_test

import (
	"testing"

	"batchwright/orders"
	"batchwright/orders/measure"
	"batchwright/orders/parts"
)

const (
	inch = measure.Inch
	half = inch / 2
)

// order is one line in a default shop.
func order(b orders.Box) *orders.Order {
	if b.Source.Cell == "" {
		b.Source = orders.Source{Sheet: "Boxes", Cell: "B7"}
	}
	return &orders.Order{Boxes: []orders.Box{b}, Settings: orders.DefaultSettings()}
}

func plain() orders.Box {
	return orders.Box{Name: "Tea box", Count: 2, Length: 12 * inch, Width: 8 * inch, Height: 7 * half,
		Thickness: half, EndThickness: half, Wood: "walnut", Bottom: orders.Bottom{Kind: orders.NoBottom}, Lid: orders.Lid{Kind: orders.NoLid}}
}

func TestOutsideSizesAreThoseOfTheWalls(t *testing.T) {
	r := parts.Make(order(plain()))
	if len(r.Problems) > 0 || len(r.Parts) != 8 {
		t.Fatalf("parts %d, problems %v", len(r.Parts), r.Problems)
	}
	s1, e1 := r.Parts[0], r.Parts[1]
	if s1.ID != "B7-1-S1" || r.Parts[7].ID != "B7-2-E2" {
		t.Errorf("ids %s, %s", s1.ID, r.Parts[7].ID)
	}
	if s1.Length != 12*inch || s1.Width != 7*half || e1.Length != 8*inch || e1.Width != 7*half {
		t.Errorf("side %v x %v, end %v x %v", s1.Length, s1.Width, e1.Length, e1.Width)
	}
	// finished + twice Proud 1/64 + the part length allowance 1/16
	if want := 12*inch + inch/32 + inch/16; s1.CutLength != want {
		t.Errorf("cut length %v, want %v", s1.CutLength, want)
	}
	if s1.CutWidth != 7*half+inch/8 {
		t.Errorf("cut width %v", s1.CutWidth)
	}
}
