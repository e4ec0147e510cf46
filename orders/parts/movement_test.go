package parts_test

import (
	"math"
	"testing"

	"batchwright/orders/measure"
	"batchwright/orders/parts"
	"batchwright/orders/settings"
)

// Published answers, each recomputed from its inputs by the table the program
// carries.
func TestMovementAgreesWithPublishedAnswers(t *testing.T) {
	for _, c := range []struct {
		source         string
		wood           parts.Coefficient
		inches, points float64
		want, within   float64 // inches
	}{
		{"NWFA magazine, Feb/Mar 2017, p. 49: plainsawn red oak", parts.CoefficientOf("red oak"), 5, 4.8, 0.08856, 0.000005},
		{"NWFA magazine, Dec 2016: red oak, 6 to 9 %", parts.CoefficientOf("plainsawn red oak"), 5, 3, 0.055, 0.0005},
		// The chart rounds the coefficient 0.00256 to 0.0026.
		{"magazine chart, Sept 2021: flatsawn red alder", parts.Coefficient{PerPoint: 260}, 8, 6, 0.1248, 0.00005},
		// By shrinkage 8.6 % and fibre saturation at 28 %, not by coefficient.
		{"wood floor inspector's article: plainsawn red oak, 8 to 5 %", parts.CoefficientOf("northern red oak"), 2.25, 3, 0.021, 0.0005},
	} {
		got := parts.Movement(measure.Length(c.inches*float64(inch)), c.wood, int64(math.Round(c.points*10))).Inches()
		if math.Abs(got-c.want) > c.within {
			t.Errorf("%s: %.5f in, published %.5f", c.source, got, c.want)
		}
	}
}

func TestMoistureAgreesWithPublishedFigures(t *testing.T) {
	fahrenheit := func(f float64) float64 { return (f - 32) / 1.8 }
	for _, c := range []struct {
		source              string
		humidity, celsius   float64
		published, accuracy float64
	}{
		// Worked example: 140 F and 55 % give 8.4 by the formula.
		{"liquisearch, equilibrium moisture content", 55, fahrenheit(140), 8.4, 0.05},
		// Rule-of-thumb list by G. Wengert; the temperature is not stated.
		{"Wengert", 30, 21, 6, 0.5}, {"Wengert", 50, 21, 9, 0.5}, {"Wengert", 57, 21, 10, 0.5},
		{"Wengert", 65, 21, 12, 0.5}, {"Wengert", 74, 21, 14, 0.5}, {"Wengert", 80, 21, 16, 0.5}, {"Wengert", 91, 21, 21, 0.5},
		// Wood Handbook, Table 4-2, row of 70 F; from memory.
		{"Table 4-2", 5, fahrenheit(70), 1.3, 0.06}, {"Table 4-2", 30, fahrenheit(70), 6.2, 0.06},
		{"Table 4-2", 45, fahrenheit(70), 8.5, 0.06}, {"Table 4-2", 60, fahrenheit(70), 11.0, 0.06},
		{"Table 4-2", 75, fahrenheit(70), 14.4, 0.06}, {"Table 4-2", 95, fahrenheit(70), 23.9, 0.06},
	} {
		if got := parts.Moisture(c.humidity, c.celsius); math.Abs(got-c.published) > c.accuracy {
			t.Errorf("%s: %v %% at %.1f C: %.2f, published %.1f", c.source, c.humidity, c.celsius, got, c.published)
		}
	}
}

func TestWoodsAreFoundByTheirShopNames(t *testing.T) {
	for _, c := range []struct {
		name, row string
		perPoint  int64
	}{
		{"walnut", "walnut, black", 274},
		{"Black Walnut FAS", "walnut, black", 274},
		{"cherry", "cherry, black", 248},
		{"hard maple", "maple, sugar (hard)", 353},
		{"soft maple", "maple, red", 289},
		{"maple", "maple, black", 353},
		{"curly maple", "maple, black", 353},
		{"poplar", "yellow-poplar", 289},
		{"oak", "red oak, commercial", 369},
		{"white oak", "white oak, commercial", 365},
		{"quartersawn white oak", "white oak, commercial", 180},
		{"Khaya", "mahogany, African (Khaya)", 161},
		{"zebrano", "", 431},
		{"black", "", 431},
	} {
		got := parts.CoefficientOf(c.name)
		if got.Wood != c.row || got.PerPoint != c.perPoint {
			t.Errorf("%q: %q moves %d, want %q and %d", c.name, got.Wood, got.PerPoint, c.row, c.perPoint)
		}
	}
}

// 30 to 60 % at 70 F is 6.2 to 11.0 % moisture in the handbook's table.
func TestSwingOfTheDefaultHumidity(t *testing.T) {
	s := settings.Default()
	if got := parts.Swing(&s.Making); got < 47 || got > 49 {
		t.Errorf("swing %d tenths, want about 48", got)
	}
}
