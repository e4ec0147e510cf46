package jigplan

import (
	"batchwright/orders/measure"
)

// Matching is what runs of matched grain cost in wood: the plan beside a quick
// layout of the same parts of the same woods with the grain free.
type Matching struct {
	Runs     int  // laid; 0: none, and nothing was compared
	Compared bool // false: the search was ended before the layouts could be compared
	InMoney  bool // false: some board has no cost, and the areas tell

	// What the quick layout saves, and what none can save more of: the plan less
	// the proven bound of the layouts with the grain free. None is below 0.
	Saves     measure.Money
	MostSaves measure.Money
	Area      measure.Area
	MostArea  measure.Area
}
