package reports

import (
	"testing"

	"batchwright/jigplan"
	"batchwright/orders"
	"batchwright/orders/measure"
)

func TestMatchingSaysNoMoreThanIsKnown(t *testing.T) {
	foot := 12 * measure.Inch
	for _, c := range []struct {
		why   string
		m     jigplan.Matching
		units measure.Unit
		want  string
	}{
		{"a search that was ended tells nothing", jigplan.Matching{Runs: 2}, measure.Inches,
			"2 runs; the search ended before their cost in wood was calculated"},
		{"an estimate and what is proven", jigplan.Matching{Runs: 12, Compared: true, InMoney: true, Saves: 600, MostSaves: 3750}, measure.Inches,
			"12 runs; it costs about 6.00 GBP, and at most 37.50 GBP"},
		{"nothing found is not nothing proven", jigplan.Matching{Runs: 1, Compared: true, InMoney: true, MostSaves: 3750}, measure.Inches,
			"1 run; it costs no wood as far as a quick search can tell, and at most 37.50 GBP"},
		{"nothing proven", jigplan.Matching{Runs: 1, Compared: true, InMoney: true}, measure.Inches,
			"1 run; it costs no wood"},
		{"the estimate is the bound", jigplan.Matching{Runs: 1, Compared: true, InMoney: true, Saves: 600, MostSaves: 600}, measure.Inches,
			"1 run; it costs 6.00 GBP (proven)"},
		{"areas in feet", jigplan.Matching{Runs: 1, Compared: true, Area: foot.Times(foot), MostArea: foot.Times(2 * foot)}, measure.Inches,
			"1 run; it costs about 1.00 sq ft of wood, and at most 2.00 sq ft of wood"},
		{"areas in metres", jigplan.Matching{Runs: 1, Compared: true, MostArea: (1000 * measure.Millimetre).Times(500 * measure.Millimetre)}, measure.Millimetres,
			"1 run; it costs no wood as far as a quick search can tell, and at most 0.50 m2 of wood"},
	} {
		p := &jigplan.Plan{Order: &orders.Order{}, Matching: c.m}
		p.Order.Settings.Currency, p.Order.Settings.Units = "GBP", c.units
		if got := matching(p); got != c.want {
			t.Errorf("%s: %q, want %q", c.why, got, c.want)
		}
	}
}
