package settings

import (
	"fmt"
	"strings"
	"testing"

	"batchwright/orders/measure"
)

// The metric defaults are those of the contract, and a setting that a row gave
// keeps its value whichever row comes first.
func TestUnitsMillimetresIsAWholeSetOfDefaults(t *testing.T) {
	s := Default()
	if err := s.Set("End trim", "1-1/2 in", Entry{}); err != nil {
		t.Fatal(err)
	}
	if err := s.Set("Units", "mm", Entry{}); err != nil {
		t.Fatal(err)
	}
	mm := func(l measure.Length) string { return l.Ratio().Decimal() }
	for _, c := range [][3]string{
		{"Rod", s.Rod, "M10x1.5"}, {"Stops per turn", fmt.Sprint(s.StopsPerTurn), "3"}, {"Blade kerf", mm(s.BladeKerf), "2.8"},
		{"Fit at least", mm(s.FitAtLeast), "0.05"}, {"Fit at most", mm(s.FitAtMost), "0.2"}, {"Crosscut kerf", mm(s.CrosscutKerf), "3.2"},
		{"Rip kerf", mm(s.RipKerf), "3.2"}, {"End trim, as given", mm(s.EndTrim), "38.1"}, {"Edge trim", mm(s.EdgeTrim), "5"},
		{"Part length allowance", mm(s.PartLength), "2"}, {"Part width allowance", mm(s.PartWidth), "3"}, {"Planing allowance", mm(s.Planing), "2"},
		{"Carriage opening", mm(s.Opening), "115"}, {"Clamp takes", mm(s.ClampTakes), "12"}, {"Backing board", mm(s.Backing), "6.5"},
		{"Shortest board to clamp", mm(s.ShortestClamp), "100"}, {"Longest board upright", mm(s.LongestUp), "900"}, {"Rod travel", mm(s.RodTravel), "250"},
		{"Least overlap of passes", mm(s.LeastOverlap), "0.25"}, {"Proud", mm(s.Proud), "0.5"}, {"Shortest machine length", mm(s.ShortestMachine), "300"},
		{"Keep offcuts from", mm(s.KeepLength) + " x " + mm(s.KeepWidth), "300 x 50"}, {"Typical board", mm(s.TypicalLength) + " x " + mm(s.TypicalWidth), "2500 x 180"},
		{"Typical class", s.TypicalClass, "27"}, {"Typical sheet", mm(s.SheetLength) + " x " + mm(s.SheetWidth), "1525 x 1525"},
		{"Panel thickness", mm(s.Making.PanelThickness), "6.5"}, {"Divider thickness", mm(s.Making.DividerThickness), "6.5"}, {"Lid thickness", mm(s.Making.LidThickness), "12"},
		{"Groove depth", mm(s.Making.GrooveDepth), "5"}, {"Groove setback", mm(s.Making.GrooveSetback), "6"}, {"Lid play", mm(s.Making.LidPlay), "0.8"},
		{"Temperature", fmt.Sprint(s.Making.Celsius), "20"}, {"Packing around", mm(s.Rates.PackAround), "30"},
		{"Finger choices", fmt.Sprint(len(s.FingerChoices)) + " to " + mm(s.FingerChoices[4]), "5 to 12"},
		{"Other typical boards", mm(s.OtherTypical[0].Length) + " x " + mm(s.OtherTypical[0].Width), "3000 x 220"},
	} {
		if c[1] != c[2] {
			t.Errorf("%s is %s, want %s", c[0], c[1], c[2])
		}
	}
	if err := s.Set("Units", "in", Entry{}); err != nil || s.Rod != "3/8-16" || s.OtherTypical != nil {
		t.Errorf("back in inches the rod is %s, %v", s.Rod, err)
	}
}

// Every length has a metric default: an inch default never meets a metric order.
func TestEveryLengthHasAMetricDefault(t *testing.T) {
	for _, d := range Definitions {
		if d.Unit == "in" && d.Metric == "" && d.Default != "0" && d.Default != "" {
			t.Errorf("%s has no metric default", d.Name)
		}
	}
}

// Earlier names and what people say are read; a part of a name that only one
// setting has is enough, and otherwise the nearest are named.
func TestSettingsByOtherNames(t *testing.T) {
	for _, c := range [][2]string{
		{"kerf", "Blade kerf"}, {"labor", "Labor rate"}, {"Labour rate", "Labor rate"}, {"rod", "Rod"}, {"Acclimatise", "Acclimate"}, {"Stall cost", "Booth fee"},
		{"Stand hours", "Booth hours"}, {"Replaceable boards", "Largest stack"}, {"Guess weighs", "Weight of the demand estimate"}, {"carrying home", "Cost of an unsold box"},
		{"opening", "Carriage opening"}, {"crosscut k", "Crosscut kerf"}, {"VAT", "Tax"}, {"Rip a metre", "Rip a foot"}, {"Cost of Black Walnut", "Cost of walnut"},
	} {
		if got, near := Match(c[0]); got != c[1] {
			t.Errorf("%q is %q (%v), want %q", c[0], got, near, c[1])
		}
	}
	for written, want := range map[string]string{"groove": "Groove", "backing bord": "Backing board", "trim": "End trim"} {
		if name, near := Match(written); name == "" && !strings.Contains(strings.Join(near, ";"), want) || len(near) > 3 {
			t.Errorf("%q: %q, nearest %v, want %q among them", written, name, near, want)
		}
	}
}

// Metric classes yield what the shop says; a class in inches keeps its yield; a
// name that is no class is refused.
func TestThicknessClasses(t *testing.T) {
	s := Default()
	if err := s.Set("Planed yields", "27: 21; 45: 38; 4/4: 3/4", Entry{}); err != nil {
		t.Fatal(err)
	}
	for name, want := range map[string]string{"27": "21", "27 mm": "21", "45": "38", "40": "33", "52": "44", "4/4": "19.05", "8/4": "44.45"} {
		c, ok := s.FindClass(name)
		if got := c.Surfaced.Ratio().Decimal(); !ok || got != want {
			t.Errorf("class %s planes to %s mm, want %s", name, got, want)
		}
	}
	for _, name := range []string{"banana", "28", "9/4", ""} {
		if c, ok := s.FindClass(name); ok {
			t.Errorf("%q is class %v", name, c)
		}
	}
	if err := s.Set("Typical class", "banana", Entry{}); err == nil || !strings.Contains(err.Error(), "4/4") {
		t.Errorf("banana: %v", err)
	}
	if err := s.Set("Planed yields", "27: 28", Entry{}); err == nil {
		t.Error("a board planes to more than it is sawn to")
	}
}

// A wood's cost goes by its measure. The board-foot price of old shop files
// stays one.
func TestWoodCostByMeasure(t *testing.T) {
	comma := Entry{DecimalComma: true}
	tests := []struct {
		wood, value string
		metric      bool
		e           Entry
		want        string
	}{
		{"oak", "9.50", false, Entry{}, "9.50 per board foot"},
		{"oak", "1450", true, Entry{}, "1450.00 per m3"},
		{"oak", "1.450,50/m³", true, comma, "1450.50 per m3"},
		{"birch ply", "18,90", true, comma, "18.90 per m2"},
		{"birch ply", "62 each", false, Entry{}, "62.00 per piece"},
		{"oak", "9.50 a board foot", true, Entry{}, "9.50 per board foot"},
		{"oak", "9.50", true, Entry{Source: Source{Sheet: ShopFileSheet}}, "9.50 per board foot"},
		{"oak", "9.50 per banana", true, Entry{}, ""},
		{"oak", "$4.25 per sq ft", false, Entry{}, "4.25 per sq ft"},
	}
	for _, tt := range tests {
		c, err := parseWoodCost(tt.wood, tt.value, tt.metric, tt.e)
		if got := c.In(measure.Inches); (err != nil) != (tt.want == "") || err == nil && got != tt.want {
			t.Errorf("Cost of %s %q: %q, %v, want %q", tt.wood, tt.value, got, err, tt.want)
		}
	}
}

// The shop file keeps points and ISO dates; people see their own marks.
func TestStoredAndShown(t *testing.T) {
	s := Default()
	for _, row := range [][2]string{{"Units", "mm"}, {"Decimal mark", ","}, {"Dates", "day first"}} {
		if err := s.Set(row[0], row[1], Entry{}); err != nil {
			t.Fatal(err)
		}
	}
	for _, c := range [][4]string{
		{"Blade kerf", "2,83", "2.83", "2,83"}, {"Labor rate", "1.042,50", "1042.50", "1042,50"}, {"Holidays", "18.12.2026", "2026-12-18", "18.12.2026"},
		{"Keep offcuts from", "300 x 50,5", "300 x 50.5", "300 x 50,5"}, {"Rip a metre", "33", "10.0584", "33"}, {"Cost of oak", "1450", "1450.00 per m3", "1450,00 per m3"},
		{"Absences", "every Mon from 4.1.2027", "every Mon from 2027-01-04", "every Mon from 4.1.2027"}, {"Shop name", "Oak, Ash & Co.", "Oak, Ash & Co.", "Oak, Ash & Co."},
	} {
		stored := StoredValue(c[0], c[1], &s)
		if shown := ShownValue(c[0], stored, s.Units); stored != c[2] || shown != c[3] {
			t.Errorf("%s %q is stored as %q and shown as %q, want %q and %q", c[0], c[1], stored, shown, c[2], c[3])
		}
	}
}
