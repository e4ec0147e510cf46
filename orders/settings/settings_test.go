package settings

import (
	"errors"
	"strings"
	"testing"

	"batchwright/orders/measure"
	"batchwright/orders/spelling"
)

// The defaults that other programs rely on, as the manual documents them.
func TestDefault(t *testing.T) {
	s := Default()
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
		if seen[spelling.Fold(d.Name)] {
			t.Errorf("%s stands twice", d.Name)
		}
		seen[spelling.Fold(d.Name)] = true
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
		got         func(*Shop) any
		want        any
		why         string
	}{
		{"Blade kerf", "0.0955", Entry{}, func(s *Shop) any { return s.BladeKerf }, measure.Inch * 955 / 10_000, "a bare number takes the Units setting"},
		{"blade  KERF", "2.4", Entry{Bare: measure.Millimetres}, func(s *Shop) any { return s.BladeKerf }, measure.Micrometre * 2400, "the Unit column beats it; case and spaces do not matter"},
		{"Blade kerf", "2,4 mm", Entry{DecimalComma: true}, func(s *Shop) any { return s.BladeKerf }, measure.Micrometre * 2400, "a decimal comma"},
		{"Blade kerf", "0.0955", Entry{}, func(s *Shop) any { return s.KerfMeasured }, true, "a given kerf is a measured one"},
		{"Units", "mm", Entry{}, func(s *Shop) any { return s.Units }, measure.Millimetres, "units"},
		{"Edge origin", "-1", Entry{}, func(s *Shop) any { return s.EdgeOrigin }, measure.Whole(-1), "turns may be below zero"},
		{"Edge origin 1/2", "-1", Entry{}, func(s *Shop) any { return s.EdgeOrigins[measure.Inch/2] }, measure.Whole(-1), "for one finger"},
		{"Edge origin 6 mm", "1/2", Entry{}, func(s *Shop) any { return s.EdgeOrigins[6*measure.Millimetre] }, measure.Frac(1, 2), "for one finger in another unit"},
		{"Cost of Walnut", "12.50", Entry{}, func(s *Shop) any { return s.CostOf["walnut"].Each }, measure.Money(1250), "a wood's cost"},
		{"Cost of black walnut", "12.50", Entry{}, func(s *Shop) any { return s.CostOf["walnut"].Each }, measure.Money(1250), "under the name it goes by"},
		{"Keep offcuts from", "18 x 3", Entry{}, func(s *Shop) any { return s.KeepLength }, 18 * measure.Inch, "two lengths"},
		{"Stops per turn", "4", Entry{}, func(s *Shop) any { return s.StopsPerTurn }, 4, "a count"},
		{"Layout", "Centred", Entry{}, func(s *Shop) any { return s.Layout }, "centred", "a word in any case"},
		{"Crosscut kerf", "0", Entry{}, func(s *Shop) any { return s.CrosscutKerf }, measure.Length(0), "zero is legal"},
	}
	for _, c := range cases {
		s := Default()
		c.entry.Source = at
		if err := s.Set(c.name, c.value, c.entry); err != nil {
			t.Errorf("%s = %s: %v", c.name, c.value, err)
			continue
		}
		if got := c.got(&s); got != c.want {
			t.Errorf("%s = %s gives %v, want %v: %s", c.name, c.value, got, c.want, c.why)
		}
	}
	s := Default()
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
		{"Blade kerf", "wide", "not a unit"},
		{"Blade kerf", "1/3", "nearest values"},
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
		s := Default()
		err := s.Set(c.name, c.value, Entry{})
		if err == nil || !strings.Contains(err.Error(), c.says) {
			t.Errorf("%s = %s: %v, want it to say %q", c.name, c.value, err, c.says)
		}
		if unknown := errors.Is(err, ErrUnknown); unknown != strings.Contains(c.says, "did you mean") && !strings.Contains(c.says, "no setting") {
			t.Errorf("%s: unknown = %v", c.name, unknown)
		}
	}
}

func TestClonesShareNothing(t *testing.T) {
	a := Default()
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
