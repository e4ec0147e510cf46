package reports

import (
	"testing"

	"batchwright/orders/measure"
)

// The unit stands behind its number, and sizes in millimetres stay so.
func TestSizesInWords(t *testing.T) {
	mm, in := measure.Millimetre, measure.Inch
	inches := Words{measure.Inches}
	for _, c := range []struct{ why, got, want string }{
		{"an inch fraction", inches.Len(in * 7 / 2), "3-1/2 in"},
		{"millimetres among inches", inches.Len(90 * mm), "~3-35/64 in (90 mm)"},
		{"a box in inches", inches.Sizes(12*in, 8*in, in*7/2), "12 x 8 x 3-1/2 in"},
		{"a box in millimetres", inches.Sizes(300*mm, 200*mm, 90*mm), "300 x 200 x 90 mm"},
		{"a box in both", inches.Sizes(300*mm, in/64, 90*mm), "~11-13/16 (300 mm) x 1/64 x ~3-35/64 in (90 mm)"},
		{"a metric shop", Words{measure.Millimetres}.Sizes(300*mm, 8*in, 90*mm), "300 x 203.2 x 90 mm"},
	} {
		if c.got != c.want {
			t.Errorf("%s: %q, want %q", c.why, c.got, c.want)
		}
	}
}

// A setting of several lengths is read in the shop's unit, as it was written.
func TestSizesOfASettingStandInTheShopsUnit(t *testing.T) {
	for _, tt := range []struct {
		text string
		unit measure.Unit
		want string
	}{
		{"304.8 x 50.8", measure.Inches, "12 x 2 in"},
		{"304.8 x 50.8", measure.Millimetres, "304.8 x 50.8 mm"},
		{"304.8 x 228.6 x 101.6; 406.4 x 304.8 x 203.2", measure.Inches, "12 x 9 x 4 in; 16 x 12 x 8 in"},
		{"", measure.Inches, ""},
		{"as it was", measure.Inches, "as it was mm"},
	} {
		if got := sizesText(tt.text, tt.unit); got != tt.want {
			t.Errorf("%q: %q, want %q", tt.text, got, tt.want)
		}
	}
}

// What to do stands behind the last semicolon of a reason, and what no reason
// says is a board that holds the part.
func TestAReasonIsPartedFromItsRemedy(t *testing.T) {
	for why, want := range map[string][2]string{
		"not laid yet: ended; allow more time":        {"not laid yet: ended", "allow more time"},
		"too long: no suitable board is that long":    {"too long: no suitable board is that long", "a board that holds them: add one to Rack or Yard"},
		"no sheet: there are 6 mm; 8 mm; add a sheet": {"no sheet: there are 6 mm; 8 mm", "add a sheet"},
	} {
		if wrong, remedy := remedyIn(why); wrong != want[0] || remedy != want[1] {
			t.Errorf("%q: %q, %q", why, wrong, remedy)
		}
	}
}
