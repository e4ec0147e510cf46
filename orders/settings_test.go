package orders

import (
	"errors"
	"math/big"
	"strings"
	"testing"

	"batchwright/orders/measure"
)

// The defaults that other programs rely on, as the manual documents them.
func TestDefaultSettings(t *testing.T) {
	s := DefaultSettings()
	inches := func(text string) string {
		l, err := measure.Parse(text, measure.Reading{Bare: measure.Inches})
		if err != nil {
			t.Fatal(err)
		}
		return l.Ratio().Decimal()
	}
	lengths := map[string]string{
		"Blade kerf": "3/32", "Fit at least": "0", "Fit at most": "0.010", "Carriage opening": "4-1/2", "Clamp takes": "1/2",
		"Backing board": "1/4", "Shortest board to clamp": "4", "Longest board upright": "36", "Rod travel": "7",
		"Least overlap of passes": "0.010", "Proud": "1/64", "Crosscut kerf": "1/8", "Rip kerf": "1/8", "End trim": "1",
		"Edge trim": "1/8", "Part length allowance": "1/16", "Part width allowance": "1/8", "Planing allowance": "1/16",
		"Shortest machine length": "12", "Lead": "0",
	}
	words := map[string]string{
		"Units": "in", "Decimal mark": ".", "Rod": "3/8-16", "Layout": "best", "Edge origin": "0", "Side starts with": "notch", "Cut first": "best",
	}
	used := map[string]any{}
	for _, u := range s.Used() {
		used[u.Name] = u.Value
		if u.Given {
			t.Errorf("%s counts as given", u.Name)
		}
	}
	for name, text := range lengths {
		l, ok := used[name].(measure.Length)
		if !ok || l.Ratio().Decimal() != inches(text) {
			t.Errorf("%s = %v, want %s in", name, used[name], text)
		}
	}
	for name, word := range words {
		if used[name] != word {
			t.Errorf("%s = %v, want %s", name, used[name], word)
		}
	}
	if used["Stops per turn"] != 1 {
		t.Errorf("Stops per turn = %v, want 1", used["Stops per turn"])
	}
	if s.KeepLength != 12*measure.Inch || s.KeepWidth != 2*measure.Inch {
		t.Errorf("Keep offcuts from %s x %s", s.KeepLength.Fraction(), s.KeepWidth.Fraction())
	}
	if s.KerfMeasured {
		t.Error("the default kerf counts as measured")
	}
}

func TestEverySettingSaysWhatItIs(t *testing.T) {
	seen := map[string]bool{}
	for _, d := range Definitions {
		if seen[fold(d.Name)] {
			t.Errorf("%s stands twice", d.Name)
		}
		seen[fold(d.Name)] = true
		if d.Help == "" || d.Group == "" || d.Origin == "" {
			t.Errorf("%s lacks help, group or origin: %+v", d.Name, d)
		}
	}
}

func TestSetReadsRows(t *testing.T) {
	at := Source{"Shop", "B7"}
	cases := []struct {
		name, value string
		entry       Entry
		got         func(*Settings) any
		want        any
		why         string
	}{
		{"Blade kerf", "0.0955", Entry{}, func(s *Settings) any { return s.BladeKerf }, measure.Inch * 955 / 10_000, "a bare number takes the Units setting"},
		{"blade  KERF", "2.4", Entry{Bare: measure.Millimetres}, func(s *Settings) any { return s.BladeKerf }, measure.Micrometre * 2400, "the Unit column beats it; case and spaces do not matter"},
		{"Blade kerf", "2,4 mm", Entry{DecimalComma: true}, func(s *Settings) any { return s.BladeKerf }, measure.Micrometre * 2400, "a decimal comma"},
		{"Blade kerf", "0.0955", Entry{}, func(s *Settings) any { return s.KerfMeasured }, true, "a given kerf is a measured one"},
		{"Units", "mm", Entry{}, func(s *Settings) any { return s.Units }, measure.Millimetres, "units"},
		{"Edge origin", "-1", Entry{}, func(s *Settings) any { return s.EdgeOrigin }, measure.Whole(-1), "turns may be below zero"},
		{"Edge origin 1/2", "-1", Entry{}, func(s *Settings) any { return s.EdgeOrigins[measure.Inch/2] }, measure.Whole(-1), "for one finger"},
		{"Edge origin 6 mm", "1/2", Entry{}, func(s *Settings) any { return s.EdgeOrigins[6*measure.Millimetre] }, measure.Frac(1, 2), "for one finger in another unit"},
		{"Cost of Walnut", "12.50", Entry{}, func(s *Settings) any { return s.CostOf["walnut"] }, Money(1250), "a wood's cost"},
		{"Cost of black walnut", "12.50", Entry{}, func(s *Settings) any { return s.CostOf["walnut"] }, Money(1250), "under the name it goes by"},
		{"Keep offcuts from", "18 x 3", Entry{}, func(s *Settings) any { return s.KeepLength }, 18 * measure.Inch, "two lengths"},
		{"Stops per turn", "4", Entry{}, func(s *Settings) any { return s.StopsPerTurn }, 4, "a count"},
		{"Layout", "Centred", Entry{}, func(s *Settings) any { return s.Layout }, "centred", "a word in any case"},
		{"Crosscut kerf", "0", Entry{}, func(s *Settings) any { return s.CrosscutKerf }, measure.Length(0), "zero is legal"},
	}
	for _, c := range cases {
		s := DefaultSettings()
		c.entry.Source = at
		if err := s.Set(c.name, c.value, c.entry); err != nil {
			t.Errorf("%s = %s: %v", c.name, c.value, err)
			continue
		}
		if got := c.got(&s); got != c.want {
			t.Errorf("%s = %s gives %v, want %v: %s", c.name, c.value, got, c.want, c.why)
		}
	}
	s := DefaultSettings()
	if err := s.Set("Blade kerf", "0.0955", Entry{Source: at}); err != nil || s.Source("Blade kerf") != at || !s.Given("Blade kerf") {
		t.Errorf("source = %v, given %v, err %v", s.Source("Blade kerf"), s.Given("Blade kerf"), err)
	}
}

func TestSetRefuses(t *testing.T) {
	cases := []struct{ name, value, says string }{
		{"Blad kerf", "1", `did you mean "Blade kerf"?`},
		{"Rip curf", "1", `did you mean "Rip kerf"?`},
		{"Colour of the sky", "blue", "no setting is called"},
		{"Blade kerf", "-1", "below zero"},
		{"Blade kerf", "wide", "no unit"},
		{"Blade kerf", "1/3", "neighbours"},
		{"Units", "yards", "in, mm"},
		{"Layout", "left", "best, edge, centred"},
		{"Stops per turn", "0", "from 1 up"},
		{"Stops per turn", "1.5", "from 1 up"},
		{"Edge origin", "once", "not a number"},
		{"Edge origin wide", "1", "the finger"},
		{"Keep offcuts from", "12", "12 in x 2 in"},
		{"Cost of walnut", "dear", "amount of money"},
		{"Cut pass", "-1", "from 0 up"},
		{"Cut pass", "NaN", "from 0 up"},
	}
	for _, c := range cases {
		s := DefaultSettings()
		err := s.Set(c.name, c.value, Entry{})
		if err == nil || !strings.Contains(err.Error(), c.says) {
			t.Errorf("%s = %s: %v, want it to say %q", c.name, c.value, err, c.says)
		}
		if unknown := errors.Is(err, ErrUnknownSetting); unknown != strings.Contains(c.says, "did you mean") && !strings.Contains(c.says, "no setting") {
			t.Errorf("%s: unknown = %v", c.name, unknown)
		}
	}
}

func TestClonesShareNothing(t *testing.T) {
	a := DefaultSettings()
	b := a.Clone()
	for name, value := range map[string]string{"Cost of oak": "9", "Edge origin 1/4": "1", "Rod": "1/2-10"} {
		if err := b.Set(name, value, Entry{}); err != nil {
			t.Fatal(err)
		}
	}
	if len(a.CostOf) != 0 || len(a.EdgeOrigins) != 0 || a.Rod != "3/8-16" || a.Given("Rod") {
		t.Errorf("setting the clone changed the original: %+v", a)
	}
}

func TestParseMoney(t *testing.T) {
	for text, want := range map[string]Money{"12.50": 1250, "12.5": 1250, "12": 1200, "$1,250": 125_000, "1,250.75": 125_075, ".50": 50, "0": 0, "€ 9.10": 910, "12.500": 1250} {
		if got, err := ParseMoney(text, false); err != nil || got != want {
			t.Errorf("ParseMoney(%q) = %v, %v, want %v", text, got, err, want)
		}
	}
	for text, want := range map[string]Money{"12,50": 1250, "1.250": 125_000, "1.250,75": 125_075} {
		if got, err := ParseMoney(text, true); err != nil || got != want {
			t.Errorf("with a decimal comma ParseMoney(%q) = %v, %v, want %v", text, got, err, want)
		}
	}
	for _, text := range []string{"", "12,50", "1,25", "12.505", "-0.50", "-3", "1.2.3", "12e3", "free", "1,2,3", "99999999999999999999"} {
		if got, err := ParseMoney(text, false); err == nil {
			t.Errorf("ParseMoney(%q) = %v, want an error", text, got)
		}
	}
}

func TestWoodsAreFoundByAnyName(t *testing.T) {
	for written, want := range map[string]string{"Walnut": "walnut", "black  WALNUT": "walnut", "Baltic birch plywood": "birch ply", "sugar maple": "hard maple", "Applewood": "applewood"} {
		if got := WoodName(written); got != want {
			t.Errorf("WoodName(%q) = %q, want %q", written, got, want)
		}
	}
	for written, want := range map[string]string{"wallnut": "walnut", "chery": "cherry", "mapel": "maple", "mahagony": "mahogany", "oka": "", "applewood": "", "sapelle": "sapele"} {
		if got := NearestWood(written); got != want {
			t.Errorf("NearestWood(%q) = %q, want %q", written, got, want)
		}
	}
	seen := map[string]string{}
	for _, w := range Woods {
		for _, name := range append([]string{w.Name}, w.Others...) {
			if seen[name] != "" || name != fold(name) {
				t.Errorf("%q stands for %s and %s, or is not folded", name, seen[name], w.Name)
			}
			seen[name] = w.Name
		}
	}
}

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

func TestMoneyAtRoundsHalfToEven(t *testing.T) {
	for _, c := range []struct {
		price    Money
		num, den int64
		want     Money
	}{{950, 13, 3, 4117}, {1, 1, 2, 0}, {3, 1, 2, 2}, {5, 1, 2, 2}, {100, 1, 3, 33}, {100, 2, 3, 67}} {
		if got := c.price.At(big.NewRat(c.num, c.den)); got != c.want {
			t.Errorf("%v at %d/%d = %v, want %v", c.price, c.num, c.den, got, c.want)
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
