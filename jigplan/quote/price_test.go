package quote_test

import (
	"math"
	"math/big"
	"testing"

	"pgregory.net/rapid"

	"batchwright/jigplan"
	"batchwright/jigplan/quote"
	"batchwright/orders"
	"batchwright/orders/measure"
	"batchwright/orders/settings"
)

// rates is a shop with settings as a Shop sheet would give them.
func rates(t interface{ Fatal(...any) }, rows ...[2]string) *settings.Shop {
	s := settings.Default()
	for _, r := range rows {
		if err := s.Set(r[0], r[1], settings.Entry{}); err != nil {
			t.Fatal(err)
		}
	}
	return &s
}

func cents(r *big.Rat) measure.Money { return measure.RoundTo(r, 1) }

// Published worked examples of markup and margin. Sources: algebra.com question
// 47041 (cost 12,000, price 15,000: markup 25 %, margin 20 %) and a thread of
// degreeforum.net, 23114 (cost 20 at a margin of 20 %: 25; cost 25 at 50 %: 50).
func TestMarkupAndMargin(t *testing.T) {
	if got := cents(quote.FromMarkup(12000_00, 25)); got != 15000_00 {
		t.Errorf("markup 25 %% on 12000: %s", got)
	}
	for _, c := range []struct {
		cost   measure.Money
		margin float64
		want   measure.Money
	}{{12000_00, 20, 15000_00}, {20_00, 20, 25_00}, {25_00, 50, 50_00}, {30_00, 40, 50_00}} {
		if got := cents(quote.FromMargin(c.cost, c.margin)); got != c.want {
			t.Errorf("margin %v %% on %s: %s, want %s", c.margin, c.cost, got, c.want)
		}
	}
	if quote.FromMargin(100, 100) != nil || quote.FromMargin(100, 130) != nil {
		t.Error("a margin of all of the price gives a price")
	}
}

// A set-up of 67.50 spread over the boxes, 31 a box, margin 35 %: worked by
// hand, (67.5 / q + 31) / 0.65.
func TestQuantityBreaks(t *testing.T) {
	s := rates(t, [2]string{"Labor rate", "1"}, [2]string{"Margin", "35"})
	for q, want := range map[int]measure.Money{1: 151_54, 2: 99_62, 5: 68_46, 10: 58_08, 20: 52_88} {
		c := jigplan.Cost{Total: 67_50 + 31_00*measure.Money(q)}
		if got := quote.Of(&c, q, 0, s); got.Each != want || got.By != jigplan.ByMargin {
			t.Errorf("%d boxes: %s by %q, want %s", q, got.Each, got.By, want)
		}
	}
}

// Published worked examples of break-even and target profit. Sources: exercise
// 6-13 of a managerial accounting textbook read on traloihay.net (price 50,
// variable 32, fixed 108,000: 6,000 units, 300,000 of revenue); Outback
// Outfitters, read on answer.ya.guru (140, 98, 176,400: 4,200; with both a tenth
// higher the page cuts 3,818.18 down to 3,818, and 3,819 whole units are
// needed); qammunity.org 11760089 (30, 14.50, 13,268: 856).
func TestBreakEven(t *testing.T) {
	for _, c := range []struct {
		price, variable, fixed float64
		want                   int
	}{{50, 32, 108000, 6000}, {140, 98, 176400, 4200}, {154, 107.8, 176400, 3819}, {30, 14.5, 13268, 856}} {
		if got := quote.UnitsFor(c.fixed, c.price-c.variable); got != c.want {
			t.Errorf("%+v: %d", c, got)
		}
	}
	if got := 50 * quote.UnitsFor(108000, 50-32); got != 300000 {
		t.Errorf("break-even revenue %d", got)
	}
	if quote.UnitsFor(100, 0) != 0 || quote.UnitsFor(100, -3) != 0 {
		t.Error("what contributes nothing breaks even")
	}
	if got := quote.UnitsFor(465, 26); got != 18 { // a stall's 465 over 26 a box: 17.9
		t.Errorf("stall: %d", got)
	}
}

// Published worked examples of overhead absorption. Sources: a coursework sheet
// on pdfcoke.com (23.40 an hour for 10,800 h absorb 252,720; 18.20 for 11,500 h
// absorb 209,300 of 215,000: 5,700 under) and the solutions to chapter 2 of a
// managerial accounting textbook, 17th edition (500,000 over 25,000 h; a job of
// materials 800, labour 1,200 and 100 h costs 4,000).
func TestOverheadAbsorption(t *testing.T) {
	absorbed := func(rate measure.Money, hours float64) measure.Money {
		return quote.Amount(jigplan.CostLine{Quantity: hours * 60, Rate: rate, For: 60, Share: 1})
	}
	if got := absorbed(23_40, 10800); got != 252720_00 {
		t.Errorf("absorbed %s", got)
	}
	if got := 215000_00 - absorbed(18_20, 11500); got != 5700_00 {
		t.Errorf("under-absorbed %s", got)
	}
	s := rates(t, [2]string{"Overhead a year", "500000"}, [2]string{"Hours a year", "25000"})
	rate, ok := s.HourlyOverhead()
	if job := 800_00 + 1200_00 + absorbed(rate, 100); !ok || job != 4000_00 {
		t.Errorf("rate %s, job %s", rate, job)
	}
}

// Amounts are rounded half to even, once a line.
func TestAmountsHalfToEven(t *testing.T) {
	for _, c := range []struct {
		quantity float64
		rate     measure.Money
		per      float64
		want     measure.Money
	}{{0.5, 5, 1, 2}, {0.5, 7, 1, 4}, {-0.5, 5, 1, -2}, {-0.5, 7, 1, -4}, {1.875, 32_00, 60, 100}, {0.1, 25, 1, 2}, {1, 1, 3, 0}, {2, 1, 3, 1}} {
		if got := quote.Amount(jigplan.CostLine{Quantity: c.quantity, Rate: c.rate, For: c.per, Share: 1}); got != c.want {
			t.Errorf("%v x %d / %v = %d, want %d", c.quantity, c.rate, c.per, got, c.want)
		}
	}
}

// Whatever the rates, the margin aimed at is met within what rounding moves: a
// price is off by half a step a box, tax and fee by half a cent.
func TestThePriceKeepsItsMargin(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := settings.Default()
		r := &s.Rates
		if err := s.Set("Labor rate", "1", settings.Entry{}); err != nil {
			t.Fatal(err)
		}
		r.Margin = float64(rapid.IntRange(1, 80).Draw(t, "margin"))
		r.CardFee = float64(rapid.IntRange(0, 50).Draw(t, "fee")) / 10
		r.Tax = float64(rapid.IntRange(0, 250).Draw(t, "tax")) / 10
		r.RoundTo = rapid.SampledFrom([]measure.Money{1, 5, 50, 100}).Draw(t, "step")
		boxes := rapid.IntRange(1, 200).Draw(t, "boxes")
		c := jigplan.Cost{Total: measure.Money(rapid.IntRange(100, 5_000_00).Draw(t, "cost")), Bought: measure.Money(rapid.IntRange(0, 100).Draw(t, "bought"))}
		p := quote.Of(&c, boxes, 0, &s)
		if p.By != jigplan.ByMargin {
			t.Fatalf("no price: %s", p.Why)
		}
		if p.Net != p.Each*measure.Money(boxes) || p.Total != p.Net+p.Tax || p.Left != p.Net-p.Fee-c.Total || p.Deposit > p.Total {
			t.Fatalf("the cents do not add up: %+v", p)
		}
		for what, share := range map[string]struct {
			of, got measure.Money
			percent float64
		}{"tax": {p.Net, p.Tax, r.Tax}, "fee": {p.Total, p.Fee, r.CardFee}, "deposit": {p.Total, p.Deposit, p.Percent}} {
			if off := math.Abs(float64(share.got) - float64(share.of)*share.percent/100); off > 0.5+1e-6 {
				t.Fatalf("%s of %s at %v %% is %s", what, share.of, share.percent, share.got)
			}
		}
		slack := float64(r.RoundTo)*float64(boxes)/2 + 1.5
		if missed := float64(p.Left) - r.Margin/100*float64(p.Net); math.Abs(missed) > slack {
			t.Fatalf("left %s of %s at %v %%: off by %.2f cents, rounding explains %.2f", p.Left, p.Net, r.Margin, missed, slack)
		}
		if p.Each%r.RoundTo != 0 {
			t.Fatalf("%s is no multiple of %s", p.Each, r.RoundTo)
		}
		if p.Deposit < min(c.Bought, p.Total) {
			t.Fatalf("a deposit of %s does not pay for wood of %s", p.Deposit, c.Bought)
		}
	})
}

// What no price can be made with is said, with where it stands and what to do.
func TestFaultsOfRates(t *testing.T) {
	for _, c := range []struct {
		rows [][2]string
		want int
		why  string
	}{
		{[][2]string{{"Margin", "35"}}, 0, "one of the two is right"},
		{[][2]string{{"Margin", "100"}}, 1, "nothing is left for the cost"},
		{[][2]string{{"Margin", "140"}}, 1, "less than nothing is left"},
		{[][2]string{{"Margin", "98"}, {"Card fee", "2"}}, 1, "the fee takes the rest"},
		{[][2]string{{"Margin", "30"}, {"Markup", "30"}}, 1, "two ways at once"},
		{[][2]string{{"Markup", "300"}}, 0, "a markup may be above 100"},
		{[][2]string{{"Round prices to", "0"}}, 1, "no step"},
	} {
		got := quote.Faults(rates(t, c.rows...))
		if len(got) != c.want {
			t.Errorf("%v: %d faults %v, want %d: %s", c.rows, len(got), got, c.want, c.why)
		}
		for _, p := range got {
			if p.Did == "" || p.Fix == "" || p.Level != orders.Error {
				t.Errorf("%v: a fault without words: %+v", c.rows, p)
			}
		}
	}
}

// A price needs an hour's rate and an aim; without them it says what is lacking.
func TestNoPriceIsInvented(t *testing.T) {
	c := jigplan.Cost{Total: 50_00}
	for _, rows := range [][][2]string{{}, {{"Margin", "40"}}, {{"Labor rate", "30"}}} {
		if p := quote.Of(&c, 1, 0, rates(t, rows...)); p.By != jigplan.NoPrice || p.Each != 0 || p.Why == "" {
			t.Errorf("%v: %+v", rows, p)
		}
	}
	if p := quote.Of(&c, 2, 40_00, rates(t)); p.By != jigplan.ByOrder || p.Net != 80_00 || p.Left != 30_00 {
		t.Errorf("the order's own price: %+v", p)
	}
}

// The deposit is the greater of the shop's percentage and the wood that has to
// be bought, never more than the total. Worked by hand; common practice, the
// steps of five percent ours.
func TestTheDepositPaysForTheWood(t *testing.T) {
	for _, c := range []struct {
		usual         string
		bought, total measure.Money
		want          measure.Money
		why           string
	}{
		{"50", 60_00, 216_00, 108_00, "half is more than the wood: tax is part of the total"},
		{"50", 0, 216_00, 108_00, "all wood is there"},
		{"30", 64_80, 216_00, 64_80, "30 % is just the wood"},
		{"30", 64_81, 216_00, 75_60, "a cent more: 35 %"},
		{"50", 150_00, 216_00, 151_20, "69.4 % of it is wood: 70 %"},
		{"50", 300_00, 216_00, 216_00, "sold below its wood: the whole"},
		{"0", 0, 216_00, 0, "none is asked"},
		{"0", 1, 216_00, 10_80, "none, but for a cent of wood"},
		{"100", 0, 216_00, 216_00, "all of it"},
		{"50", 0, 5, 2, "half a cent to even"},
		{"50", 0, 7, 4, "half a cent to even"},
	} {
		tax, net := "0", c.total
		if c.total == 216_00 {
			tax, net = "8", 200_00
		}
		s := rates(t, [2]string{"Deposit", c.usual}, [2]string{"Tax", tax})
		p := quote.Of(&jigplan.Cost{Total: 50_00, Bought: c.bought}, 1, net, s)
		if p.Deposit != c.want || p.Total != c.total {
			t.Errorf("%s: %s of %s, want %s", c.why, p.Deposit, p.Total, c.want)
		}
	}
}

// What part of a price is tax where it includes it, from memory of the guides of
// three tax offices: the United Kingdom's VAT fraction, 1/6 at 20 % and 1/21 at 5 %
// (HM Revenue and Customs, VAT Notice 700, "The VAT fraction"); Australia's
// eleventh at 10 % (Australian Taxation Office, "How GST works"); New Zealand's
// 3/23 at 15 % (Inland Revenue, IR375). What is left is the price before tax, and
// the tax on that is the tax again.
func TestTaxInAPrice(t *testing.T) {
	for _, c := range []struct {
		percent            string
		price, tax, before measure.Money
	}{
		{"20", 1_20, 20, 1_00}, {"20", 300_00, 50_00, 250_00}, {"5", 210_00, 10_00, 200_00},
		{"10", 220_00, 20_00, 200_00}, {"15", 230_00, 30_00, 200_00}, {"20", 100_00, 16_67, 83_33},
	} {
		inside := rates(t, [2]string{"Tax", c.percent}, [2]string{"Prices include tax", "yes"}, [2]string{"Labor rate", "1"})
		p := quote.Of(&jigplan.Cost{Total: 10}, 1, c.price, inside)
		if p.Tax != c.tax || p.Net != c.before || p.Total != c.price || p.Each != c.price {
			t.Errorf("%s with %s%% in it: tax %s, before it %s, in all %s", c.price, c.percent, p.Tax, p.Net, p.Total)
		}
		added := rates(t, [2]string{"Tax", c.percent})
		if got := added.Rates.TaxOf(c.before); got != c.tax {
			t.Errorf("%s%% on %s: %s, want %s", c.percent, c.before, got, c.tax)
		}
		if tax, left := inside.Rates.Takings(c.price); tax != c.tax || left != c.before {
			t.Errorf("a fair takes %s: tax %s, left %s", c.price, tax, left)
		}
		if tax, left := added.Rates.Takings(c.before); tax != 0 || left != c.before {
			t.Errorf("a fair takes %s and the tax on it: tax %s, left %s", c.before, tax, left)
		}
	}
}

// Whether prices include the tax or not, the customer pays the same for the same
// cost, to the cent that each price is rounded to, and the margin is the one
// wanted.
func TestTaxInsideOrAddedIsTheSameMoney(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		rows := [][2]string{{"Labor rate", "30"}, {"Tax", rapid.SampledFrom([]string{"5", "7.7", "8.25", "19", "20", "25"}).Draw(t, "tax")},
			{"Card fee", rapid.SampledFrom([]string{"0", "1.9", "3"}).Draw(t, "fee")}, rapid.SampledFrom([][2]string{{"Margin", "35"}, {"Markup", "60"}}).Draw(t, "aim")}
		c := jigplan.Cost{Total: measure.Money(rapid.Int64Range(200_00, 10_000_00).Draw(t, "cost"))}
		n := rapid.IntRange(1, 30).Draw(t, "boxes")
		added := quote.Of(&c, n, 0, rates(t, rows...))
		inside := quote.Of(&c, n, 0, rates(t, append(rows, [2]string{"Prices include tax", "yes"})...))
		// A price is rounded once for each box, before the tax of at most a quarter or
		// after it: half a cent each, and half a cent of the tax.
		rounding := 0.5 + float64(n)*(0.5*1.25+0.5)
		if math.Abs(float64(added.Total-inside.Total)) > rounding || math.Abs(added.Margin-inside.Margin) > 0.2 {
			t.Fatalf("added: %+v; included: %+v", added, inside)
		}
		if inside.Total != inside.Each*measure.Money(n) || inside.Net+inside.Tax != inside.Total {
			t.Fatalf("does not add up: %+v", inside)
		}
	})
}
