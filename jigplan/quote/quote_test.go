package quote

import (
	"fmt"
	"math/big"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"batchwright/jigplan"
	"batchwright/jigplan/check"
	"batchwright/jigplan/plan"
	"batchwright/jigplan/shop"
	"batchwright/nesting"
	"batchwright/orders"
	"batchwright/orders/intake"
	"batchwright/orders/measure"
	"batchwright/orders/settings"
)

// demoQuote quotes one of the demo shop's orders.
func demoQuote(t *testing.T, name string) *jigplan.Quote {
	t.Helper()
	data, err := os.ReadFile(filepath.Join("../../testdata/orders", name))
	if err != nil {
		t.Fatal(err)
	}
	o, err := intake.Read(name, data, settings.Default())
	if err != nil {
		t.Fatal(err)
	}
	q, err := Make(Request{Order: o, Customer: Customers(o)[0], Number: "Q", From: time.Date(2027, 3, 8, 0, 0, 0, 0, time.UTC),
		Options: plan.Options{Limits: nesting.Limits{Seed: 1, Think: 50 * time.Millisecond}}})
	if err != nil {
		t.Fatal(err)
	}
	return q
}

func eachOffer(q *jigplan.Quote, visit func(name string, o *jigplan.Option, f *jigplan.Offer)) {
	for a := range q.Articles {
		for k := range q.Articles[a].Options {
			o := &q.Articles[a].Options[k]
			for i := range o.Offers {
				visit(fmt.Sprintf("%s %s, %d", q.Articles[a].Name, o.Letter, o.Offers[i].Quantity), o, &o.Offers[i])
			}
		}
	}
}

// halfEven is a number of cents as one would round it on paper: by its text
// with ten decimals.
func halfEven(r *big.Rat) int64 {
	whole, part, _ := strings.Cut(new(big.Rat).Abs(r).FloatString(10), ".")
	n, _ := new(big.Int).SetString(whole, 10)
	const tie = "5000000000"
	if part > tie || part == tie && n.Bit(0) == 1 {
		n.Add(n, big.NewInt(1))
	}
	return n.Int64() * int64(r.Sign())
}

func rat(t *testing.T, text string) *big.Rat {
	t.Helper()
	r, ok := new(big.Rat).SetString(text)
	if !ok {
		t.Fatalf("%q is no number", text)
	}
	return r
}

// Both demo quotes redone as on paper: every line from its printed figures,
// each kept offcut from the sizes the layout prints, net, tax, total, the
// deposit as the greater of the percentage and the wood to be bought (common
// practice), raised in steps of five percent so that it tells no customer what
// the wood costs, the balance, and what is left.
func TestDemoQuotesByHand(t *testing.T) {
	for _, name := range []string{"quote-one.xlsx", "quote-forty.xlsx"} {
		q := demoQuote(t, name)
		r := &q.Order.Settings.Rates
		eachOffer(q, func(what string, _ *jigplan.Option, f *jigplan.Offer) {
			total, bought, kept := int64(0), int64(0), int64(0)
			for _, l := range f.Cost.Lines {
				exact := rat(t, fmt.Sprintf("%.3f", l.Quantity))
				exact.Mul(exact, big.NewRat(int64(l.Rate), 1))
				exact.Mul(exact, rat(t, fmt.Sprintf("%.4f", l.Share)))
				amount := halfEven(exact.Quo(exact, rat(t, fmt.Sprintf("%.3f", l.For))))
				if amount != int64(l.Amount) {
					t.Errorf("%s: %s is %s, by hand %d cents", what, l.What, l.Amount, amount)
				}
				total += amount
				switch l.Kind {
				case jigplan.BoughtCost:
					bought += amount
				case jigplan.OffcutsKept:
					kept -= amount
				}
			}
			if total != int64(f.Cost.Total) {
				t.Errorf("%s: costs %s, by hand %d cents", what, f.Cost.Total, total)
			}
			if want := keptByHand(f.Plan, r.OffcutWorth); kept != want {
				t.Errorf("%s: offcuts kept come to %d cents, from the layout %d", what, kept, want)
			}
			priceByHand(t, what, f, r, bought)
		})
	}
}

// keptByHand is what the offcuts of a layout take off, in cents: each its share
// of the board's cost by area, in square millimetres.
func keptByHand(p *jigplan.Plan, percent float64) (sum int64) {
	for i := range p.Layout.Boards {
		b := &p.Layout.Boards[i]
		for _, o := range b.Offcuts {
			if !o.Keep {
				continue
			}
			area := func(l, w interface{ Millimetres() float64 }) float64 { return l.Millimetres() * w.Millimetres() }
			share := new(big.Rat).SetFloat64(area(o.Length, o.Width) / area(b.Length, b.Width) * percent / 100)
			sum += halfEven(share.Mul(share, big.NewRat(int64(b.Cost), 1)))
		}
	}
	return sum
}

// priceByHand redoes what follows from the price of one box.
func priceByHand(t *testing.T, what string, f *jigplan.Offer, r *settings.Rates, bought int64) {
	t.Helper()
	p := &f.Price
	part := func(of int64, percent float64) int64 {
		share := rat(t, fmt.Sprintf("%.4f", percent))
		return halfEven(share.Mul(share, big.NewRat(of, 100)))
	}
	net := int64(p.Each) * int64(f.Quantity)
	tax := part(net, r.Tax)
	fee := part(net+tax, r.CardFee)
	percent := r.Deposit
	for percent < 100 && float64(bought)*100 > percent*float64(net+tax) {
		percent += 5
	}
	deposit := part(net+tax, percent)
	for name, pair := range map[string][2]int64{"net": {int64(p.Net), net}, "tax": {int64(p.Tax), tax}, "total": {int64(p.Total), net + tax}, "deposit": {int64(p.Deposit), deposit},
		"card fee": {int64(p.Fee), fee}, "left": {int64(p.Left), net - fee - int64(f.Cost.Total)}} {
		if pair[0] != pair[1] {
			t.Errorf("%s: %s is %d cents, by hand %d", what, name, pair[0], pair[1])
		}
	}
	if deposit < bought && deposit < net+tax {
		t.Errorf("%s: a deposit of %d cents leaves wood of %d to the shop", what, deposit, bought)
	}
}

// The check finds an offcut left out, one counted twice, and one worth more than
// its share.
func TestTheCheckFindsWrongOffcuts(t *testing.T) {
	q := demoQuote(t, "quote-one.xlsx")
	f := &q.Articles[0].Options[0].Offers[0]
	if faults := check.Cost(f.Plan, &f.Cost); len(faults) > 0 {
		t.Fatalf("as it is: %v", faults)
	}
	at := -1
	for i, l := range f.Cost.Lines {
		if l.Kind == jigplan.OffcutsKept {
			at = i
		}
	}
	for name, spoil := range map[string]func(lines []jigplan.CostLine) []jigplan.CostLine{
		"left out": func(l []jigplan.CostLine) []jigplan.CostLine { return append(l[:at], l[at+1:]...) },
		"twice":    func(l []jigplan.CostLine) []jigplan.CostLine { return append(l, l[at]) },
		"too much": func(l []jigplan.CostLine) []jigplan.CostLine {
			l[at].Quantity *= 1.1
			l[at].Amount = measure.Money(float64(l[at].Amount) * 1.1)
			return l
		},
	} {
		c := f.Cost
		c.Lines = spoil(append([]jigplan.CostLine{}, c.Lines...))
		c.Total = 0
		for _, l := range c.Lines {
			c.Total += l.Amount
		}
		if len(check.Cost(f.Plan, &c)) == 0 {
			t.Errorf("%s: not found", name)
		}
	}
}

// A quoted plan is the job's while nothing has moved, also after it was frozen;
// a setting or a board that moved is named, and rates are none of it.
func TestAsQuoted(t *testing.T) {
	q := demoQuote(t, "quote-one.xlsx")
	o := &q.Articles[0].Options[1]
	taken := func() (*jigplan.Plan, *orders.Order) {
		data, err := shop.FreezeOffer(o.Offers[0].Plan)
		if err != nil {
			t.Fatal(err)
		}
		p, err := shop.Thaw(data)
		if err != nil {
			t.Fatal(err)
		}
		order := *q.Order
		order.Settings, order.Rack = order.Settings.Clone(), append([]orders.Board{}, order.Rack...)
		order.Boxes = append([]orders.Box{}, order.Boxes...)
		Narrow(&order, []Taking{{Line: o.Box.Source.String(), Count: 1, Each: 223_40}})
		return p, &order
	}
	set := func(o *orders.Order, name, value string) {
		if err := o.Settings.Set(name, value, settings.Entry{}); err != nil {
			t.Fatal(err)
		}
	}
	for _, c := range []struct {
		why   string
		move  func(*orders.Order)
		moved string // empty: the plan is kept
	}{
		{"nothing has moved", func(*orders.Order) {}, ""},
		{"rates, the week and terms are not what a plan hangs on", func(o *orders.Order) { set(o, "Labor rate", "99"); set(o, "People", "2"); set(o, "Deposit", "70") }, ""},
		{"a saw cut is", func(o *orders.Order) { set(o, "Rip kerf", "3/32") }, "Rip kerf is 3/32 in, was 1/8 in"},
		{"and what a wood costs", func(o *orders.Order) { set(o, "Cost of cherry", "7") }, "Cost of cherry is 7"},
		{"another job has the boards", func(o *orders.Order) { o.Rack = nil }, "is not free any more"},
		{"a board was cut back", func(o *orders.Order) {
			for i := range o.Rack {
				o.Rack[i].Length -= measure.Inch
			}
		}, "is not what it was"},
	} {
		p, order := taken()
		c.move(order)
		kept, moved := shop.AsQuoted(p, order)
		said := strings.Join(moved, "; ")
		switch {
		case c.moved == "" && (kept == nil || len(moved) > 0):
			t.Errorf("%s: %s", c.why, said)
		case c.moved == "" && (kept.Time.Minutes != o.Offers[0].Plan.Time.Minutes || kept.Order.Boxes[0].Price != 223_40):
			t.Errorf("%s: %v minutes at %s", c.why, kept.Time.Minutes, kept.Order.Boxes[0].Price)
		case c.moved != "" && (kept != nil || !strings.Contains(said, c.moved)):
			t.Errorf("%s: said %q", c.why, said)
		}
	}
}
