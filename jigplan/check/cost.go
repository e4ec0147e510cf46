package check

import (
	"fmt"
	"math"

	"batchwright/jigplan"
)

// Cost goes over a cost against the plan it is of: every line is its quantity
// times its rate; every board stands on one line, with what it costs, and so
// does every offcut kept, at its share of that by area; the minutes add up to
// those that four batches in five keep; lines and kinds add up to the total, so
// that nothing is counted twice.
func Cost(p *jigplan.Plan, c *jigplan.Cost) []error {
	var found []error
	wrong := func(format string, a ...any) { found = append(found, fmt.Errorf("cost: "+format, a...)) }
	total, minutes, boards, bought, wood := int64(0), 0.0, 0, int64(0), int64(0)
	var kept []jigplan.CostLine
	for _, l := range c.Lines {
		exact := l.Quantity * float64(l.Rate) * l.Share / l.For
		if math.Abs(exact-float64(l.Amount)) > 0.5+1e-6 {
			wrong("%q is %d cents and calculated %.4f", l.What, l.Amount, exact)
		}
		total += int64(l.Amount)
		switch l.Kind {
		case jigplan.WoodCost, jigplan.BoughtCost:
			boards++
			wood += int64(l.Amount)
			if l.Kind == jigplan.BoughtCost {
				bought += int64(l.Amount)
			}
		case jigplan.OffcutsKept:
			kept = append(kept, l)
		case jigplan.LabourCost, jigplan.SetupCost:
			minutes += l.Quantity
		}
	}
	if total != int64(c.Total) || bought != int64(c.Bought) {
		wrong("lines add up to %d cents, bought wood to %d; said are %d and %d", total, bought, c.Total, c.Bought)
	}
	if boards != len(p.Layout.Boards) {
		wrong("%d lines of wood for %d boards", boards, len(p.Layout.Boards))
	}
	if p.Layout.CostKnown && wood != int64(p.Layout.Cost) {
		wrong("boards come to %d cents, the layout's to %d", wood, p.Layout.Cost)
	}
	if p.Layout.CostKnown {
		found = append(found, offcuts(p, kept)...)
	}
	if math.Abs(minutes-p.Time.P80Minutes) > 0.002 || math.Abs(minutes-c.Minutes) > 0.002 {
		wrong("the lines have %.3f minutes, the plan's 80%% time %.3f, said are %.3f", minutes, p.Time.P80Minutes, c.Minutes)
	}
	return found
}

// offcuts sets the lines of kept offcuts beside the layout's, board by board.
func offcuts(p *jigplan.Plan, lines []jigplan.CostLine) (found []error) {
	at := 0
	for i := range p.Layout.Boards {
		b := &p.Layout.Boards[i]
		for _, o := range b.Offcuts {
			if !o.Keep {
				continue
			}
			if at == len(lines) {
				return append(found, fmt.Errorf("cost: %d lines of kept offcuts, and the layout keeps more", at))
			}
			l := &lines[at]
			at++
			share := o.Length.Millimetres() / b.Length.Millimetres() * o.Width.Millimetres() / b.Width.Millimetres()
			if exact := -share * l.Share * float64(b.Cost); math.Abs(exact-float64(l.Amount)) > 0.5+1e-5*float64(b.Cost) {
				found = append(found, fmt.Errorf("cost: the offcut %q is %d cents, by area %.4f", l.What, l.Amount, exact))
			}
		}
	}
	if at != len(lines) {
		found = append(found, fmt.Errorf("cost: %d lines of kept offcuts, and the layout keeps %d", len(lines), at))
	}
	return found
}

// Price goes over a price: each times the count is the net, or the total where
// prices include the tax; tax, fee and deposit are their shares of what they are
// shares of, to half a cent; what is left is the net less fee and cost.
func Price(o *jigplan.Offer, tax, fee float64, inside bool) []error {
	p := &o.Price
	if p.By == jigplan.NoPrice {
		return nil
	}
	var found []error
	wrong := func(what string, got, want float64) {
		if math.Abs(got-want) > 0.5+1e-6 {
			found = append(found, fmt.Errorf("price: %s is %.0f cents, calculated %.3f", what, got, want))
		}
	}
	asked := float64(p.Each) * float64(o.Quantity)
	if inside {
		wrong("total", float64(p.Total), asked)
		wrong("net", float64(p.Net), asked/(1+tax/100))
	} else {
		wrong("net", float64(p.Net), asked)
		wrong("tax", float64(p.Tax), asked*tax/100)
	}
	wrong("total", float64(p.Total), float64(p.Net)+float64(p.Tax))
	wrong("fee", float64(p.Fee), float64(p.Total)*fee/100)
	wrong("deposit", float64(p.Deposit), float64(p.Total)*p.Percent/100)
	wrong("left", float64(p.Left), float64(p.Net)-float64(p.Fee)-float64(o.Cost.Total))
	if p.Deposit < min(o.Cost.Bought, p.Total) {
		found = append(found, fmt.Errorf("price: a deposit of %d cents does not pay for wood of %d", p.Deposit, o.Cost.Bought))
	}
	return found
}
