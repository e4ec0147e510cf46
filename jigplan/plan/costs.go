package plan

import (
	"slices"

	"batchwright/jigplan"
	"batchwright/orders"
)

// sayCosts says once for each wood that what its boards cost is not known, so
// that nobody takes an area for money.
func sayCosts(p *jigplan.Plan) {
	var said []string
	for i := range p.Layout.Boards {
		stock := &p.Layout.Boards[i].Stock
		if _, known := stock.Worth(&p.Order.Settings); known || slices.Contains(said, stock.Wood) {
			continue
		}
		said = append(said, stock.Wood)
		p.Problems = append(p.Problems, orders.Problem{Level: orders.Note, Source: stock.Source, Read: stock.Wood,
			Did: "what its boards cost is not known: each counts with its area in square metres as money",
			Fix: "give the boards a Cost, or set Cost of " + stock.Wood + " on the Shop sheet"})
	}
}
