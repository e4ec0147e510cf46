package joint

import (
	"strings"
	"testing"

	"batchwright/orders/measure"
)

// TestParseRod reads designations as they are written on shelves and in
// shops. Pitches: ASME B1.1, ASME B1.5, ISO 261, ISO 2904 (secondary charts).
func TestParseRod(t *testing.T) {
	mm := func(num, den int64) measure.Ratio { return measure.Frac(num*int64(measure.Millimetre), den) }
	in := func(num, den int64) measure.Ratio { return measure.Frac(num*int64(measure.Inch), den) }
	for _, c := range []struct {
		text, name string
		lead       measure.Ratio
		reason     string
	}{
		{"3/8-16", "3/8-16", in(1, 16), "inch coarse"},
		{" 3/8 - 16 UNC", "3/8-16", in(1, 16), "series named, spaces"},
		{"5/16-18", "5/16-18", in(1, 18), "a turn is no whole tick"},
		{"1-8", "1-8", in(1, 8), "whole diameter"},
		{"1-1/8-7", "1-1/8-7", in(1, 7), "mixed diameter"},
		{"#10-24", "#10-24", in(1, 24), "numbered size"},
		{"1/2-10 acme", "1/2-10 acme", in(1, 10), "acme"},
		{"1/2-10 2-start", "1/2-10 2-start", in(1, 5), "two starts double the lead"},
		{"1/2-10 ACME 2 start LH", "1/2-10 acme 2-start", in(1, 5), "left hand turns the other way, as far"},
		{"1/2-10 acme double start", "1/2-10 acme 2-start", in(1, 5), "starts in words"},
		{"M8", "M8", mm(5, 4), "bare metric is coarse"},
		{"m8x1.25", "M8x1.25", mm(5, 4), "pitch written out"},
		{"M8 × 1,25", "M8x1.25", mm(5, 4), "typographic times, decimal comma"},
		{"M10x1.5", "M10x1.5", mm(3, 2), "coarse written out"},
		{"Tr8x1.5", "Tr8x1.5", mm(3, 2), "trapezoidal"},
		{"Tr16x8(P4)", "Tr16x8(P4)", mm(8, 1), "lead before pitch: two starts"},
		{"tr16x8p4", "Tr16x8(P4)", mm(8, 1), "without brackets"},
		{"Tr60x18(P9) LH", "Tr60x18(P9)", mm(18, 1), "two starts, published example of ISO 2902"},
	} {
		r, err := ParseRod(c.text)
		if err != nil || r.Name != c.name || r.Lead().Cmp(c.lead) != 0 {
			t.Errorf("%s: %q is %q with lead %s (%v), want %q with %s", c.reason, c.text, r.Name, r.Lead(), err, c.name, c.lead)
		}
	}
	for _, c := range []struct{ text, hint string }{
		{"", "3/8-16"}, {"rod", "3/8-16"}, {"3/8-0", "threads"}, {"3/8-5000", "threads"}, {"M8x0", "more than zero"},
		{"M13", "pitch too"}, {"Tr16x8(P3)", "whole number"}, {"M8x0.00000001", "too long"}, {"1/2-10 0-start", "starts"},
		{"1/2-10 99-start", "starts"}, {"M8x400", "50 mm"}, {"Tr16x8(P0)", "whole number"},
	} {
		if _, err := ParseRod(c.text); err == nil || !strings.Contains(err.Error(), c.hint) {
			t.Errorf("%q: error %v, want a word about %q", c.text, err, c.hint)
		}
	}
}

// TestThreadTable checks tables against figures published beside them: pitch
// in millimetres of the inch sizes, and two starts of Tr60x18(P9).
func TestThreadTable(t *testing.T) {
	for name, want := range map[string]string{
		"1/4-20": "1.27", "3/8-16": "1.5875", "1/2-10 acme": "2.54", "1-8": "3.175", "3/4-10": "2.54",
		"M5": "0.8", "M12": "1.75", "M24": "3", "M20x1.5": "1.5", "Tr8x1.5": "1.5", "Tr24x8": "8",
	} {
		r, err := ParseRod(name)
		if err != nil || r.Pitch.Decimal() != want || r.Source == "" {
			t.Errorf("%s: pitch %s mm from %q (%v), want %s", name, r.Pitch.Decimal(), r.Source, err, want)
		}
	}
	seen := map[string]bool{}
	for _, r := range Rods() {
		again, err := ParseRod(r.Name)
		if err != nil || again.Pitch.Cmp(r.Pitch) != 0 || seen[r.Name] {
			t.Errorf("%s does not read back once: %v", r.Name, err)
		}
		seen[r.Name] = true
	}
	if len(seen) != 104 {
		t.Errorf("%d rods in the tables, want 40 inch, 39 metric and 25 trapezoidal", len(seen))
	}
}

// TestTurnsForAdvance compares turns with advance / lead in exact arithmetic
// for screws and advances of both systems (testdata/advances.csv).
func TestTurnsForAdvance(t *testing.T) {
	for _, row := range readTable(t, "advances.csv") {
		r, err := ParseRod(row["screw"])
		if err != nil {
			t.Error(err)
			continue
		}
		advance, err := measure.Parse(row["advance"], measure.Reading{})
		if err != nil {
			t.Error(err)
			continue
		}
		if got := advance.Ratio().Div(r.Lead()).String(); got != row["turns"] {
			t.Errorf("%s by %s: %s turns, want %s", row["screw"], row["advance"], got, row["turns"])
		}
	}
}

func FuzzParseRod(f *testing.F) {
	for _, seed := range []string{"3/8-16", "M8x1.25", "Tr16x8(P4)", "1/2-10 acme 2-start", "#10-24", "m8 x", "tr0x0p0", "999999999999-1"} {
		f.Add(seed)
	}
	f.Fuzz(func(t *testing.T, text string) {
		r, err := ParseRod(text)
		if err == nil && (r.Lead().Sign() <= 0 || r.Name == "" || r.Lead().Cmp(maxLead) > 0) {
			t.Errorf("%q was believed: %+v", text, r)
		}
	})
}
