package jigplan

import (
	"batchwright/orders/measure"
)

// Matching is what runs of matched grain cost in wood: the plan beside a quick
// layout of the same parts of the same woods with the grain free.
type Matching struct {
	Runs     int  `json:"runs"`     // laid; 0: none, and nothing was compared
	Compared bool `json:"compared"` // false: the search was ended before the layouts could be compared
	InMoney  bool `json:"in_money"` // false: some board has no cost, and the areas tell

	// What the quick layout saves, and what none can save more of: the plan less
	// the proven bound of the layouts with the grain free. None is below 0.
	Saves     measure.Money `json:"saves"`
	MostSaves measure.Money `json:"most_saves"`
	Area      measure.Area  `json:"area_mm2"`
	MostArea  measure.Area  `json:"most_area_mm2"`
}
