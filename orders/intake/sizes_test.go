package intake

import (
	"strings"
	"testing"

	"batchwright/orders"
	"batchwright/orders/measure"
)

// A combined column is read as three sizes, whatever the cross between them,
// and what it does not say is asked for.
func TestSizesInOneCell(t *testing.T) {
	for _, c := range []struct{ why, heading, cell, length, width, height, says string }{
		{"the order is named", "Size (L x W x H)", "12 x 8 x 3-1/2", "12", "8", "3-1/2", ""},
		{"no spaces", "LxWxH", "12x8x3.5", "12", "8", "3.5", ""},
		{"the multiplication sign", "Dimensions L × W × H", "12×8×3½", "12", "8", "3-1/2", ""},
		{"words", "Length by Width by Height", "12 by 8 by 3 1/2", "12", "8", "3-1/2", ""},
		{"another order", "Size (H x W x L)", "3 x 8 x 12", "12", "8", "3", ""},
		{"depth is the size not named", "L x W x D", "12 x 8 x 3", "12", "8", "3", ""},
		{"a unit behind the last is for all", "Size (L x W x H)", "300 x 200 x 90 mm", "300 mm", "200 mm", "90 mm", ""},
		{"a unit each", "Size (L x W x H)", `12" x 20 cm x 90mm`, "12", "200 mm", "90 mm", ""},
		{"the heading's unit", "Size (L x W x H) in mm", "300 x 200 x 90", "300 mm", "200 mm", "90 mm", ""},
		{"an order taken as usual is said", "Size", "12 x 8 x 3", "12", "8", "3", "in that order"},
		{"so are dimensions", "Dimensions (in)", "12 x 8 x 3", "12", "8", "3", "in that order"},
		{"a letter behind each", "Size", `12"L x 8"W x 4"H`, "12", "8", "4", ""},
		{"letters and blanks", "Size (L x W x H)", `12 L x 8 W x 4 H`, "12", "8", "4", ""},
		{"letters in another order than the heading", "Size (L x W x H)", `4"H x 12"L x 8"W`, "12", "8", "4", ""},
		{"names in full, with fractions", "Size", `12" long x 8½" wide x 4" high`, "12", "8-1/2", "4", ""},
		{"depth is the height here", "Size", `12"L x 8"W x 4"D`, "12", "8", "4", ""},
		{"a unit before the last letter is for all", "Size (L x W x H)", `300L x 200W x 90 mm H`, "300 mm", "200 mm", "90 mm", ""},
		{"two lengths", "Size", `12"L x 8"L x 4"H`, "", "", "", "not a length"},
		{"two sizes where three should stand", "Size (L x W x H)", "12 x 8", "", "", "", "not read as length x width x height"},
		{"a number where three should stand", "Size", "12", "", "", "", "not read as length x width x height"},
		{"one unit that may not be for all", "Size (L x W x H)", `12" x 8 x 3`, "", "", "", "has no unit"},
		{"a size that is no length", "Size (L x W x H)", "12 x about 8 x 3", "", "", "", "not a length"},
	} {
		o := one("Boxes", []any{"Box", "Count", c.heading, "Measured", "Thickness", "Wood"}, []any{"Tea box", 6, c.cell, "outside", "1/2", "cherry"}).read(t)
		if c.says != "" && !said(o, "C", c.says) {
			t.Errorf("%s: %q under %q: problems %+v, want one in column C that says %q", c.why, c.cell, c.heading, o.Findings, c.says)
		}
		if c.length == "" {
			if len(o.Boxes) > 0 || !o.HasErrors() {
				t.Errorf("%s: %q was planned: %+v", c.why, c.cell, o.Boxes)
			}
			continue
		}
		if len(o.Boxes) != 1 || o.HasErrors() {
			t.Errorf("%s: %q under %q: %+v", c.why, c.cell, c.heading, o.Findings)
			continue
		}
		for i, got := range []measure.Length{o.Boxes[0].Length, o.Boxes[0].Width, o.Boxes[0].Height} {
			text := []string{c.length, c.width, c.height}[i]
			if want, err := measure.Parse(text, measure.Reading{}); err != nil || got != want {
				t.Errorf("%s: %q under %q: size %d is %v, want %s", c.why, c.cell, c.heading, i, got, text)
			}
		}
	}
}

// A size may have its column's letter behind it; another column's is refused.
func TestLettersBehindSizes(t *testing.T) {
	for _, c := range []struct {
		length, width string
		ok            bool
	}{
		{`12"L`, `8"W`, true},
		{"12 in long", "8 wide", true},
		{"12½ L", "8 1/2 w", true},
		{`12"W`, `8"L`, false},
		{"L", "8", false},
	} {
		o := one("Boxes", []any{"Box", "Count", "Length", "Width", "Height", "Measured", "Thickness", "Wood"}, []any{"Tea box", 6, c.length, c.width, `4"H`, "outside", "1/2", "cherry"}).read(t)
		if o.HasErrors() == c.ok {
			t.Errorf("%q by %q: %+v", c.length, c.width, o.Findings)
		}
	}
}

func said(o *orders.Order, column, text string) bool {
	for _, p := range o.Findings {
		if strings.HasPrefix(p.Cell, column) && strings.Contains(p.Did, text) {
			return true
		}
	}
	return false
}

// Loose parts and boards are told thickness first or last: the heading says.
func TestSizesOfPartsAndBoards(t *testing.T) {
	o := one("Parts", []any{"Part", "Count", "T x W x L", "Wood"}, []any{"Shelf", 2, "1/2 x 6 x 20", "oak"}, []any{"Rail", 1, "ditto", "oak"}).read(t)
	if len(o.Loose) != 2 || o.Loose[1].Length != 20*measure.Inch || o.Loose[0].Thickness != measure.Inch/2 || o.HasErrors() {
		t.Errorf("parts %+v, problems %#v", o.Loose, o.Findings)
	}
	o = one("Parts", []any{"Part", "Count", "Size", "Wood"}, []any{"Shelf", 2, "1/2 x 6 x 20", "oak"}).read(t)
	if !said(o, "C", "which size is which") {
		t.Errorf("a bare Size of parts: %+v", o.Findings)
	}
	o = one("Rack", []any{"Board", "Count", "Wood", "Class", "Size (W x L)"}, []any{"R1", 2, "oak", "4/4", `6" x 8'`}).read(t)
	if len(o.Rack) != 1 || o.Rack[0].Length != 96*measure.Inch || o.Rack[0].Width != 6*measure.Inch {
		t.Errorf("boards %+v, problems %+v", o.Rack, o.Findings)
	}
	o = one("Boxes", append([]any{"Size"}, heads...), append([]any{"small"}, sound...)).read(t)
	if len(o.Boxes) != 1 || o.HasErrors() {
		t.Errorf("a column Size beside the sizes is no error: %+v", o.Findings)
	}
}

// The thickness of a bottom or lid is never dropped, however it is written.
func TestPanelsAreReadWhole(t *testing.T) {
	for text, want := range map[string]measure.Length{
		"lift-off": 0, "lift-off 1/4": measure.Inch / 4, `lift-off, ¼"`: measure.Inch / 4, "lift off ¼": measure.Inch / 4, "liftoff: 1/4 in cherry": measure.Inch / 4,
		"lift-off ½ inch thick": measure.Inch / 2, "lift-off, 6 mm, birch ply": 6 * measure.Millimetre, "lift-off 6mm": 6 * measure.Millimetre, "Lift-Off .25": measure.Inch / 4,
	} {
		o := one("Boxes", append([]any{"Lid"}, heads...), append([]any{text}, sound...)).read(t)
		if len(o.Boxes) != 1 || o.Boxes[0].Lid.Kind != orders.LiftOffLid || o.Boxes[0].Lid.Thickness != want {
			t.Errorf("%q: %+v, %+v; want a lift-off lid of %v", text, o.Boxes, o.Findings, want)
		}
	}
}
