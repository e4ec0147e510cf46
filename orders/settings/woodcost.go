package settings

import (
	"fmt"
	"strings"

	"batchwright/orders/measure"
	"batchwright/orders/woods"
)

// WoodCost is what a wood costs by its measure.
type WoodCost struct {
	Each measure.Money
	Per  Measure
}

// Measure is what a price of wood is for.
type Measure string

// The measures wood is sold by.
const (
	BoardFoot   Measure = "board foot"
	CubicMetre  Measure = "m3"
	SquareMetre Measure = "m2"
	SquareFoot  Measure = "sq ft"
	Piece       Measure = "piece"
)

// measureWords are the measures as people write them.
var measureWords = map[string]Measure{
	"board foot": BoardFoot, "board feet": BoardFoot, "bf": BoardFoot, "bdft": BoardFoot, "bd ft": BoardFoot, "fbm": BoardFoot,
	"m3": CubicMetre, "m³": CubicMetre, "cubic metre": CubicMetre, "cubic meter": CubicMetre, "cbm": CubicMetre,
	"m2": SquareMetre, "m²": SquareMetre, "square metre": SquareMetre, "square meter": SquareMetre, "sqm": SquareMetre, "sq m": SquareMetre,
	"sq ft": SquareFoot, "ft2": SquareFoot, "ft²": SquareFoot, "square foot": SquareFoot, "sf": SquareFoot,
	"piece": Piece, "each": Piece, "board": Piece, "sheet": Piece, "pc": Piece, "ea": Piece,
}

// MeasureOf reads a measure such as m3, a board foot or /bf.
func MeasureOf(text string) (Measure, bool) {
	plain := strings.Trim(strings.ToLower(text), " ./")
	for _, word := range []string{"per ", "a ", "the "} {
		plain = strings.TrimPrefix(plain, word)
	}
	m, ok := measureWords[plain]
	return m, ok
}

// In is "9.50 per board foot" as the shop writes it.
func (c WoodCost) In(unit measure.Unit) string { return c.Each.In(unit) + " per " + string(c.Per) }

// String is the cost with its measure: "9.50 per board foot".
func (c WoodCost) String() string { return c.In(measure.Inches) }

// MarshalJSON writes an amount for a board foot as a number, as it always was,
// and any other as a text with its measure.
func (c WoodCost) MarshalJSON() ([]byte, error) {
	if c.Per == BoardFoot {
		return c.Each.MarshalJSON()
	}
	return []byte(`"` + c.In(measure.Inches) + `"`), nil
}

// parseWoodCost reads "9.50", "1450 per m3", "38/m2", "62 each". Without a
// measure a metric shop means a cubic meter, of sheets a square meter; any other,
// and a shop file of an earlier version, a board foot.
func parseWoodCost(wood, value string, metric bool, e Entry) (WoodCost, error) {
	c := WoodCost{Per: BoardFoot}
	switch {
	case metric && e.Source.Sheet != ShopFileSheet && woods.IsSheet(wood):
		c.Per = SquareMetre
	case metric && e.Source.Sheet != ShopFileSheet:
		c.Per = CubicMetre
	}
	amount := value
	if i := strings.IndexAny(value, "/abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ"); i > 0 && strings.ContainsAny(value[:i], "0123456789") {
		per, ok := MeasureOf(value[i:])
		if !ok && !isCurrency(value[i:]) {
			return c, fmt.Errorf("%q is not a price of wood such as 9.50 per board foot, 1450 per m3 or 38 per m2", value)
		}
		if ok {
			c.Per, amount = per, value[:i]
		}
	}
	var err error
	c.Each, err = measure.ParseMoney(amount, e.DecimalComma)
	return c, err
}

func isCurrency(text string) bool {
	_, err := measure.ParseMoney("1 "+strings.TrimSpace(text), false)
	return err == nil
}
