package quote

import (
	"fmt"
	"math"
	"math/big"
	"slices"
	"strings"

	"batchwright/jigplan"
	"batchwright/orders"
	"batchwright/orders/measure"
	"batchwright/orders/settings"
)

// Faults are the settings no price can be made with.
func Faults(s *settings.Shop) (out []orders.Finding) {
	r := &s.Rates
	fault := func(name, read, did, fix string) {
		out = append(out, orders.Finding{Level: orders.Error, Source: s.Source(name), Read: read, Did: name + ": " + did, Fix: fix})
	}
	if r.Margin > 0 && r.Markup > 0 {
		fault("Markup", s.Units.Percent(r.Markup, -1), "a margin of "+s.Units.Percent(r.Margin, -1)+" is set too, and only one of the two can be used", "remove the row Margin or the row Markup")
	}
	if left := 100 - r.Margin - feeShare(s)*100; r.Margin > 0 && left <= 0 {
		fault("Margin", s.Units.Percent(r.Margin, -1), fmt.Sprintf("the price leaves nothing for the cost (%s remains, card fee included)", s.Units.Percent(math.Round(left*100)/100, -1)),
			"write a margin well below 100; to add a share of the cost use Markup")
	}
	if r.RoundTo <= 0 {
		fault("Round prices to", r.RoundTo.String(), "a price cannot be a multiple of 0", "write 0.01, 0.50 or 1")
	}
	return out
}

// feeShare is the card fee as a share of the price before tax: it is taken of
// what the customer pays.
func feeShare(s *settings.Shop) float64 {
	f, _ := feeOf(s).Float64()
	return f
}

func feeOf(s *settings.Shop) *big.Rat {
	tax := withTax(s)
	return tax.Mul(tax, percent(s.Rates.CardFee))
}

// withTax is what the customer pays for a price of 1 before tax.
func withTax(s *settings.Shop) *big.Rat {
	return new(big.Rat).Add(big.NewRat(1, 1), percent(s.Rates.Tax))
}

func percent(p float64) *big.Rat { return new(big.Rat).Quo(measure.Exact(p), big.NewRat(100, 1)) }

// FromMargin is the price whose margin is a share of itself, in percent:
// cost / (1 - margin). An exact number of cents; nil: there is none.
func FromMargin(cost measure.Money, margin float64) *big.Rat {
	left := new(big.Rat).Sub(big.NewRat(1, 1), percent(margin))
	if left.Sign() <= 0 {
		return nil
	}
	return left.Quo(cents(cost), left)
}

// FromMarkup is the price that is the cost and a share of it, in percent:
// cost x (1 + markup).
func FromMarkup(cost measure.Money, markup float64) *big.Rat {
	return new(big.Rat).Mul(cents(cost), new(big.Rat).Add(big.NewRat(1, 1), percent(markup)))
}

func cents(m measure.Money) *big.Rat { return new(big.Rat).SetInt64(int64(m)) }

// Of is what is asked for so many boxes that cost so much. A fixed price of one
// box, above zero, goes before margin and markup. Without either there is none,
// and Why says what is needed.
func Of(c *jigplan.Cost, boxes int, fixed measure.Money, s *settings.Shop) jigplan.Price {
	r := &s.Rates
	p := jigplan.Price{}
	switch whole := wanted(c, s); {
	case fixed > 0:
		p.By, p.Each = jigplan.ByOrder, fixed
	case boxes < 1:
		p.Why = "nothing is made"
	case whole == nil:
		p.Why = lacking(c, s)
	default:
		p.By = jigplan.ByMargin
		if r.Markup > 0 {
			p.By = jigplan.ByMarkup
		}
		p.Each = measure.RoundTo(whole.Quo(whole, big.NewRat(int64(boxes), 1)), r.RoundTo)
	}
	if p.By != jigplan.NoPrice {
		settle(&p, c, boxes, s)
	}
	return p
}

// wanted is the exact price of the whole batch by margin or markup, with the
// card fee on top and, where prices include it, the tax; nil: none can be made.
func wanted(c *jigplan.Cost, s *settings.Shop) *big.Rat {
	if !s.Given("Labor rate") || len(unknownWood(c)) > 0 || len(Faults(s)) > 0 {
		return nil
	}
	left, price := new(big.Rat).Sub(big.NewRat(1, 1), feeOf(s)), cents(c.Total)
	switch {
	case s.Rates.Margin > 0:
		left.Sub(left, percent(s.Rates.Margin))
	case s.Rates.Markup > 0:
		price = FromMarkup(c.Total, s.Rates.Markup)
	default:
		return nil
	}
	price.Quo(price, left)
	if s.Rates.TaxInside() {
		price.Mul(price, withTax(s))
	}
	return price
}

// lacking says what a price would need, all of it, with the commands that give
// it. The figures are examples.
func lacking(c *jigplan.Cost, s *settings.Shop) string {
	if faults := Faults(s); len(faults) > 0 {
		return faults[0].Did
	}
	var why, commands []string
	if !s.Given("Labor rate") {
		why, commands = append(why, "labor is not priced"), append(commands, `shop set "Labor rate" 30`)
	}
	for _, what := range unknownWood(c) {
		wood, _, _ := strings.Cut(what, ",")
		if set := fmt.Sprintf("shop set %q 9", "Cost of "+wood); !slices.Contains(commands, set) {
			why, commands = append(why, "the cost of "+wood+" is not known"), append(commands, set)
		}
	}
	if s.Rates.Margin == 0 && s.Rates.Markup == 0 {
		why, commands = append(why, "neither Margin nor Markup is set"), append(commands, "shop set Margin 35")
	}
	return strings.Join(why, "; ") + ". Type, with your figures: " + strings.Join(commands, " · ") + ", or write a Price in the row"
}

func unknownWood(c *jigplan.Cost) (what []string) {
	for _, l := range c.Lines {
		if l.Missing && (l.Kind == jigplan.WoodCost || l.Kind == jigplan.BoughtCost) {
			what = append(what, l.What)
		}
	}
	return what
}

// settle fills in what follows from the price of one box: totals, tax, fee,
// deposit, margin. Tax, fee and deposit are each rounded once, half to even.
func settle(p *jigplan.Price, c *jigplan.Cost, boxes int, s *settings.Shop) {
	r := &s.Rates
	p.Net = p.Each * measure.Money(boxes)
	p.Tax = r.TaxOf(p.Net)
	p.Total = p.Net + p.Tax
	if r.TaxInside() {
		p.Net, p.Total = p.Net-p.Tax, p.Net
	}
	p.Fee = p.Total.At(percent(r.CardFee))
	p.Left = p.Net - p.Fee - c.Total
	p.Percent = depositPercent(r.Deposit, c.Bought, p.Total)
	p.Deposit = p.Total.At(percent(p.Percent))
	if p.Net > 0 {
		p.Margin = 100 * float64(p.Left) / float64(p.Net)
		p.Wanted = Aim(s)
	}
}

// Aim is the margin a price is meant to have, in percent of it: a markup m on
// the cost is a margin of m / (1 + m) before the card fee.
func Aim(s *settings.Shop) float64 {
	if s.Rates.Margin > 0 {
		return s.Rates.Margin
	}
	m := s.Rates.Markup / 100
	return 100 * m / (1 + m) * (1 - feeShare(s))
}

// depositPercent is the shop's deposit, raised in steps of five percent until
// it pays for the wood to be bought.
func depositPercent(usual float64, bought, total measure.Money) float64 {
	if total <= 0 {
		return usual
	}
	needed := 5 * math.Ceil(float64(bought)/float64(total)*20)
	return math.Min(100, math.Max(usual, needed))
}

// UnitsFor is how many whole units must be sold until what each contributes
// makes up an amount: fixed costs, for the break-even, with the profit wanted
// for a target. 0: they never do, or nothing has to be made up.
func UnitsFor(amount, contribution float64) int {
	if contribution <= 0 || amount <= 0 {
		return 0
	}
	return int(math.Ceil(amount/contribution - 1e-9))
}
