package quote

import (
	"batchwright/jigplan"
	"batchwright/jigplan/times"
	"batchwright/orders/settings"
)

// chances says how likely the margin aimed at is made, and how likely the boxes
// are not sold below cost. What is uncertain is the hours: labour and overhead
// follow them, all else stays.
func chances(offer *jigplan.Offer, s *settings.Shop) {
	p, c := &offer.Price, &offer.Cost
	if p.By == jigplan.NoPrice || c.Minutes <= 0 || !s.Given("Labor rate") {
		return
	}
	hourly := float64(c.Of(jigplan.LabourCost, jigplan.SetupCost, jigplan.OverheadCost))
	fixed := float64(c.Total) - hourly
	left := float64(p.Net-p.Fee) - fixed // for the hours
	within := func(money float64) float64 {
		if hourly <= 0 {
			if money >= 0 {
				return 1
			}
			return 0
		}
		return times.Probability(offer.Plan.Time, money/hourly*c.Minutes)
	}
	p.Even = within(left)
	if p.Wanted > 0 {
		p.Chance = within(left - p.Wanted/100*float64(p.Net))
	}
}
