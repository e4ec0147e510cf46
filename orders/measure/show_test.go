package measure

import (
	"encoding/csv"
	"os"
	"testing"

	"pgregory.net/rapid"
)

func TestSixtyFourthsAgreeWithTheChart(t *testing.T) {
	file, err := os.Open("testdata/sixty_fourths.csv")
	if err != nil {
		t.Fatal(err)
	}
	defer file.Close()
	r := csv.NewReader(file)
	r.Comment = '#'
	rows, err := r.ReadAll()
	if err != nil || len(rows) != 65 {
		t.Fatalf("%d rows, %v, want a heading and 64", len(rows), err)
	}
	for i, row := range rows[1:] {
		l := in64(int64(i + 1))
		for _, text := range []string{row[0], row[1], row[2]} {
			if got, err := Parse(text, Reading{}); err != nil || got != l {
				t.Errorf("Parse(%q) = %d, %v, want %d", text, got, err, l)
			}
		}
		if got, err := Parse(row[3]+" mm", Reading{}); err != nil || got != l {
			t.Errorf("Parse(%q mm) = %d, %v, want %d", row[3], got, err, l)
		}
		if got := l.Fraction(); got != row[1] {
			t.Errorf("Fraction = %q, want %q", got, row[1])
		}
		if got := l.Ratio().Decimal(); got != row[3] {
			t.Errorf("%s: Decimal = %q, want %q", row[1], got, row[3])
		}
		if got := l.Ratio().Places(Millimetres, 3); got != row[4] {
			t.Errorf("%s: three places of mm = %q, want %q", row[1], got, row[4])
		}
		if got := l.DecimalInches(); got != trimZeros(row[2]) {
			t.Errorf("%s: DecimalInches = %q, want %q", row[1], got, row[2])
		}
	}
}

// Exact conversions: NIST Handbook 44, Appendix C, and NIST SP 811, Appendix B
// (1 in = 25.4 mm, 1 ft = 304.8 mm, 1 yd = 0.9144 m).
func TestUnitsAgreeWithTheHandbook(t *testing.T) {
	for inch, metric := range map[string]string{"1 in": "25.4 mm", "1 ft": "304.8 mm", "1 yd": "0.9144 m"} {
		a, err1 := Parse(inch, Reading{})
		b, err2 := Parse(metric, Reading{})
		if a != b || err1 != nil || err2 != nil {
			t.Errorf("%s = %d, %s = %d", inch, a, metric, b)
		}
	}
}

func TestShowAtEachRoundingEdge(t *testing.T) {
	half := Inch / 128 // half a 64th
	cases := []struct {
		l        Length
		in64ths  string
		in32nds  string
		in, mm   string
		whyShown string
	}{
		{0, "0", "0", "0", "0", "nothing"},
		{in64(1), "1/64", "~0", "1/64", "~0.397", "half a 32nd goes to the even one"},
		{in64(3), "3/64", "~1/16", "3/64", "~1.191", "half a 32nd goes to the even one"},
		{half, "~0", "~0", "~0", "~0.198", "half a 64th goes to the even one"},
		{half - 1, "~0", "~0", "~0", "~0.198", "a tick under the edge"},
		{half + 1, "~1/64", "~0", "~1/64", "~0.198", "a tick over the edge"},
		{in64(1) + half, "~1/32", "~1/32", "~1/32", "~0.595", "the odd 64th's upper edge"},
		{in64(1) + half - 1, "~1/64", "~1/32", "~1/64", "~0.595", "a tick under it"},
		{Inch - 1, "~1", "~1", "~1", "~25.4", "a tick under a whole inch"},
		{Inch + 1, "~1", "~1", "~1", "~25.4", "a tick over a whole inch"},
		{3*Inch + Inch/2, "3-1/2", "3-1/2", "3-1/2", "88.9", "three and a half"},
		{89 * Millimetre, "~3-1/2", "~3-1/2", "~3-1/2", "89", "a round size in the other unit"},
		{-in64(224), "-3-1/2", "-3-1/2", "-3-1/2", "-88.9", "below zero"},
		{-half, "~0", "~0", "~0", "~-0.198", "below zero, rounded away"},
		{500 * Tick, "~0", "~0", "~0", "~0.001", "half a micrometre and more"},
		{400 * Tick, "~0", "~0", "~0", "~0", "half a micrometre goes to the even one"},
		{1200 * Tick, "~0", "~0", "~0", "~0.002", "one and a half goes to the even one"},
	}
	for _, c := range cases {
		if got := c.l.NearestFraction(64); got != c.in64ths {
			t.Errorf("%s: in 64ths %q, want %q", c.whyShown, got, c.in64ths)
		}
		if got := c.l.NearestFraction(32); got != c.in32nds {
			t.Errorf("%s: in 32nds %q, want %q", c.whyShown, got, c.in32nds)
		}
		if got := c.l.Show(Inches); got != c.in {
			t.Errorf("%s: in inches %q, want %q", c.whyShown, got, c.in)
		}
		if got := c.l.Show(Millimetres); got != c.mm {
			t.Errorf("%s: in millimetres %q, want %q", c.whyShown, got, c.mm)
		}
	}
}

// Half to even as IEEE 754 has it; the integer cases are those of a published
// rounding policy (smtl.co.uk, rounding of test results): 127.5 to 128, 126.5
// to 126, 125.5 to 126.
func TestPlacesRoundHalfToEven(t *testing.T) {
	mm := func(num, den int64) Ratio { return Frac(num*int64(Millimetre), den) }
	cases := []struct {
		r      Ratio
		places int
		want   string
	}{
		{mm(255, 2), 0, "128"}, {mm(253, 2), 0, "126"}, {mm(251, 2), 0, "126"},
		{mm(3965, 1000), 2, "3.96"}, {mm(3955, 1000), 2, "3.96"}, {mm(215, 100), 1, "2.2"}, {mm(225, 100), 1, "2.2"},
		{mm(-255, 2), 0, "-128"}, {mm(-1, 4), 0, "0"}, {mm(1, 3), 4, "0.3333"}, {mm(2, 3), 4, "0.6667"}, {mm(10, 1), 3, "10.000"},
	}
	for _, c := range cases {
		if got := c.r.Places(Millimetres, c.places); got != c.want {
			t.Errorf("%v to %d places = %q, want %q", c.r, c.places, got, c.want)
		}
	}
	turn := Whole(int64(Inch)).Over(18)
	if got := turn.Show(Inches); got != "0.0556" {
		t.Errorf("a turn of 18 threads an inch = %q", got)
	}
	if got := turn.Show(Millimetres); got != "1.411" {
		t.Errorf("a turn of 18 threads an inch = %q mm", got)
	}
}

// A length's decimal is that of the same rational, by the library's arithmetic.
func TestDecimalIsTheRationals(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		l := Length(rapid.Int64().Draw(t, "ticks"))
		if got, want := l.Decimal(), l.Ratio().Decimal(); got != want {
			t.Fatalf("%d ticks = %q, want %q", int64(l), got, want)
		}
	})
}

// What is printed without the mark of rounding reads back as the same length;
// what has the mark is within half a step.
func TestShownLengthsReadBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		l := Length(rapid.Int64Range(0, int64(10_000*Millimetre)).Draw(t, "ticks"))
		if rapid.Bool().Draw(t, "whole 64ths") {
			l -= l % (Inch / 64)
		}
		for _, unit := range []Unit{Inches, Millimetres} {
			shown := l.ShowUnit(unit)
			about := shown[:1] == About
			if about {
				shown = shown[1:]
			}
			back, err := Parse(shown, Reading{})
			if err != nil {
				t.Fatalf("%q does not read back: %v", shown, err)
			}
			step := map[Unit]Length{Inches: Inch / 64, Millimetres: Micrometre}[unit]
			if off := max(back-l, l-back); !about && off != 0 || 2*off > step {
				t.Fatalf("%d shown as %q reads back as %d", l, shown, back)
			}
		}
	})
}

func TestParseRatio(t *testing.T) {
	for text, want := range map[string]Ratio{
		"6": Whole(6), "13/2": Frac(13, 2), "6.5": Frac(13, 2), "6 1/2": Frac(13, 2), "6-1/2": Frac(13, 2), "-1": Whole(-1), "−1": Whole(-1), "-3/16": Frac(-3, 16), "½": Frac(1, 2), "0": Whole(0),
	} {
		if got, err := ParseRatio(text); err != nil || got != want && got.Cmp(want) != 0 {
			t.Errorf("ParseRatio(%q) = %v, %v, want %v", text, got, err, want)
		}
	}
	for _, text := range []string{"", "one", "1e9", "1e999999999", "0x10", "1/0", "--1", "1 in", "3,5"} {
		if got, err := ParseRatio(text); err == nil {
			t.Errorf("ParseRatio(%q) = %v, want an error", text, got)
		}
	}
}

// At the bench a tenth of a millimetre is what a rule shows; what was written to
// the hundredth stays as it was written.
func TestLengthsOnARule(t *testing.T) {
	for _, tt := range []struct {
		l    Length
		unit Unit
		want string
	}{
		{10 * Millimetre, Millimetres, "10 mm"},
		{635 * Millimetre / 100, Millimetres, "6.35 mm"},
		{6502 * Micrometre, Millimetres, "6.5 mm"},
		{231912 * Micrometre, Millimetres, "231.9 mm"},
		{0, Millimetres, "0 mm"},
		{7 * Inch / 2, Inches, "3-1/2 in"},
	} {
		if got := tt.l.OnRule(tt.unit); got != tt.want {
			t.Errorf("%d ticks: %q, want %q", tt.l, got, tt.want)
		}
	}
}
