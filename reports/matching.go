package reports

import (
	"fmt"

	"batchwright/jigplan"
	"batchwright/orders/measure"
)

// matching is what matched grain costs in wood: what a quick layout with the
// grain free saves, and what is proven that none can save more of.
func matching(p *jigplan.Plan) string {
	m := &p.Matching
	runs := Counted(m.Runs, "run", "runs")
	if !m.Compared {
		return runs + "; the search ended before their cost in wood was calculated"
	}
	var saves, most string
	if m.InMoney {
		saves, most = inMoney(p, m.Saves), inMoney(p, m.MostSaves)
	} else {
		saves, most = inArea(p, m.Area), inArea(p, m.MostArea)
	}
	switch {
	case most == "":
		return runs + "; it costs no wood"
	case saves == "":
		return fmt.Sprintf("%s; it costs no wood as far as a quick search can tell, and at most %s", runs, most)
	case saves == most:
		return fmt.Sprintf("%s; it costs %s (proven)", runs, saves)
	}
	return fmt.Sprintf("%s; it costs about %s, and at most %s", runs, saves, most)
}

// inMoney is an amount with the shop's currency, empty for none.
func inMoney(p *jigplan.Plan, m measure.Money) string {
	if m <= 0 {
		return ""
	}
	return Money(&p.Order.Settings, m)
}

// inArea is an area as the shop reads it, empty where it is next to nothing.
func inArea(p *jigplan.Plan, a measure.Area) string {
	unit, name := 304.8*304.8, "sq ft"
	if p.Order.Settings.Units.Metric() {
		unit, name = 1e6, "m2"
	}
	if n := a.SquareMillimetres() / unit; n >= 0.005 {
		return p.Order.Settings.Units.Number(n, 2) + " " + name + " of wood"
	}
	return ""
}
