package orders

import (
	"math/big"
	"testing"

	"batchwright/orders/measure"
)

// Published worked examples; the source stands beside each.
func TestBoardFeet(t *testing.T) {
	board := func(thickness, width, length string) Board {
		read := func(s string) measure.Length {
			l, err := measure.Parse(s, measure.Reading{})
			if err != nil {
				t.Fatal(err)
			}
			return l
		}
		b := Board{Width: read(width), Length: read(length)}
		if c, ok := FindClass(thickness); ok {
			b.Class = c.Name
		} else {
			b.Thickness = read(thickness)
		}
		return b
	}
	cases := []struct {
		thickness, width, length string
		num, den                 int64
		source                   string
	}{
		{"1 in", "9 in", "96 in", 6, 1, "woodworkingtips.com, tip 4"},
		{"1.5 in", "9 in", "96 in", 9, 1, "woodworkingtips.com, tip 4"},
		{"2 in", "8 in", "72 in", 8, 1, "ask.com, how to measure board feet"},
		{"3 in", "8 in", "10 ft", 20, 1, "westcoastlands.net, sawmill board foot"},
		{"1 in", "3 in", "8 ft", 2, 1, "furnituremaking.us, ordering lumber by the board foot"},
		{"4/4", "8 in", "8 ft", 16, 3, "scottprussingpublishing.com, printed as 5.33"},
		{"3/4 in", "9 in", "96 in", 6, 1, "woodworkingtips.com, tip 4: stock under 1 in is tallied as 1 in"},
	}
	for _, c := range cases {
		if got := board(c.thickness, c.width, c.length).BoardFeet(); got.Cmp(big.NewRat(c.num, c.den)) != 0 {
			t.Errorf("%s x %s x %s = %v bf, want %d/%d (%s)", c.thickness, c.width, c.length, got, c.num, c.den, c.source)
		}
	}
}

// The first three: NHLA examples of a lumber guide; the last from
// ncwoodworker.net, where 7-3/4 in x 8 ft 3 in is graded as 5.
func TestSurfaceMeasure(t *testing.T) {
	cases := []struct {
		width, length measure.Length
		want          int64
	}{
		{6*measure.Inch + measure.Inch/2, 8 * measure.Foot, 4},
		{8 * measure.Inch, 12 * measure.Foot, 8},
		{10 * measure.Inch, 13 * measure.Foot, 11},
		{7*measure.Inch + 3*measure.Inch/4, 8*measure.Foot + 3*measure.Inch, 5},
	}
	for _, c := range cases {
		if got := SurfaceMeasure(c.length, c.width); got != c.want {
			t.Errorf("%s x %s ft: %d, want %d", c.width.Fraction(), (c.length / 12).Fraction(), got, c.want)
		}
	}
}

// The worked examples above, now as a yard tallies them. A bundle: surface
// measures of one thickness are added, then times the thickness (hardwood
// dealers' rule); a board under 4 ft has no standard length and is exact.
func TestTally(t *testing.T) {
	quarter := measure.Inch / 4
	board := func(class string, w, l measure.Length) Board { return Board{Class: class, Width: w, Length: l} }
	ft, in := measure.Foot, measure.Inch
	cases := []struct {
		why     string
		board   Board
		n       int
		surface int64
		feet    *big.Rat
	}{
		{"NHLA example, 6-1/2 in x 8 ft: SM 4", board("4/4", 26*quarter, 8*ft), 1, 4, big.NewRat(4, 1)},
		{"NHLA example, 8 in x 12 ft: SM 8, in 8/4", board("8/4", 8*in, 12*ft), 1, 8, big.NewRat(16, 1)},
		{"NHLA example, 10 in x 13 ft: SM 11, in 5/4", board("5/4", 10*in, 13*ft), 3, 33, big.NewRat(165, 4)},
		{"7-3/4 in x 8 ft 3 in: the odd inches are dropped", board("4/4", 31*quarter, 8*ft+3*in), 2, 10, big.NewRat(10, 1)},
		{"stock under 1 in is tallied as 1 in", board("3/4", 9*in, 8*ft), 1, 6, big.NewRat(6, 1)},
		{"under 4 ft: 36 x 6 x 1 in over 144", board("4/4", 6*in, 36*in), 1, 0, big.NewRat(3, 2)},
	}
	for _, c := range cases {
		got := TallyOf(c.board, c.n)
		if got.Boards != c.n || got.Surface != c.surface || got.Feet.Cmp(c.feet) != 0 {
			t.Errorf("%s: %d boards, SM %d, %v bf, want SM %d, %v bf", c.why, got.Boards, got.Surface, got.Feet, c.surface, c.feet)
		}
	}
}

// A board foot is 2.35973722 litres (dunagroup.com glossary, printed as 2.36),
// and a sheet of 1220 x 2440 mm is 2.9768 m2 and no board feet.
func TestTallyInMetres(t *testing.T) {
	foot := TallyOf(Board{Class: "4/4", Width: 12 * measure.Inch, Length: measure.Foot}, 1)
	if got := foot.Volume.FloatString(11); got != "0.00235973722" {
		t.Errorf("a board foot is %s m3", got)
	}
	sheet := TallyOf(Board{Sheet: true, Thickness: 6 * measure.Millimetre, Width: 1220 * measure.Millimetre, Length: 2440 * measure.Millimetre}, 2)
	if got := sheet.Area.FloatString(4); got != "5.9536" || sheet.Feet != nil {
		t.Errorf("two sheets are %s m2 and %v board feet", got, sheet.Feet)
	}
	if both := foot.Plus(sheet); both.Boards != 3 || both.Feet.Cmp(foot.Feet) != 0 {
		t.Errorf("boards and sheets together: %d, %v board feet", both.Boards, both.Feet)
	}
}
