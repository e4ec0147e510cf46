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
		did := "no boards have a price: layouts are compared by area"
		switch {
		case priced(p.Order) && stock.Origin != orders.FromRack && stock.Origin != orders.FromOffcut:
			did = "boards to buy have no price: they are bought only where the rack has none, and the wood cost does not include them"
		case priced(p.Order):
			did = "its boards have no price while others have: they count as free, and the wood cost does not include them"
		}
		p.Findings = append(p.Findings, orders.Finding{Level: orders.Note, Source: stock.Source, Read: stock.Wood,
			Did: did, Fix: "give the boards a Cost, or set Cost of " + stock.Wood + " on the Shop sheet"})
	}
}

// priced reports whether any board of an order has a price.
func priced(o *orders.Order) bool {
	has := func(b orders.Board) bool { return b.CostKnown }
	return len(o.Settings.CostOf) > 0 || slices.ContainsFunc(o.Rack, has) || slices.ContainsFunc(o.Yard, has)
}
