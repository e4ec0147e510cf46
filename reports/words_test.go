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
