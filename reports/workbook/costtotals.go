package workbook

import (
	"fmt"
	"strings"

	"batchwright/jigplan"
	"batchwright/orders/measure"
	"batchwright/orders/settings"
	"batchwright/reports"
)

// total is a line beneath the costs: a name and a figure in the column of the
// amounts, whose row is remembered.
func (d *costDetail) total(name, key string, f formula, st style, remark string) {
	d.at[key] = d.sheet.next()
	d.sheet.add(cell{colKind, 8, name, style{rim: thin, bold: true, across: right}}, cell{colAmount, 1, f, st}, cell{colFrom, 1, remark, style{rim: thin, indent: true}})
	d.sheet.hold()
}

// costGroups are the sums an owner looks for first.
var costGroups = []struct {
	name  string
	kinds []jigplan.CostKind
}{
	{"wood minus kept offcuts", []jigplan.CostKind{jigplan.WoodCost, jigplan.BoughtCost, jigplan.OffcutsKept}},
	{"supplies and blade", []jigplan.CostKind{jigplan.SupplyCost, jigplan.BladeCost}},
	{"labor", []jigplan.CostKind{jigplan.LabourCost}},
	{"overhead", []jigplan.CostKind{jigplan.OverheadCost}},
}

// amount is where a total stands.
func (d *costDetail) amount(key string) string { return ref(colAmount, d.at[key]) }

func money(m measure.Money) float64 { return float64(m) / 100 }

// totals turn the cost into a price and what follows from it.
func (w *costBook) totals(d *costDetail) {
	o, s := d.offer, d.sheet
	p, rate := &o.Price, func(name string) string { return refOn(ratesName, rateCol, w.rates.rows[name]) }
	kinds := fmt.Sprintf("%s:%s", ref(colKind, d.at["first"]), ref(colKind, d.at["last"]))
	amounts := fmt.Sprintf("%s:%s", ref(colAmount, d.at["first"]), ref(colAmount, d.at["last"]))
	count := ref(colQuantity, d.at["count"])
	s.gap(2)
	d.total("Cost of the batch", "cost", formula{"SUM(" + amounts + ")", money(o.Cost.Total)}, moneyStyle, leftOut(&o.Cost))
	for _, k := range costGroups {
		var sums []string
		for _, kind := range k.kinds {
			sums = append(sums, fmt.Sprintf("SUMIF(%s,\"%s\",%s)", kinds, kind, amounts))
		}
		d.total("of which "+k.name, k.name, formula{strings.Join(sums, "+"), money(o.Cost.Of(k.kinds...))}, moneyStyle, "")
	}
	if _, ok := o.Cost.WithOffcuts(0); ok {
		d.offcutShares(kinds, amounts)
	}
	bought := fmt.Sprintf("SUMIF(%s,\"%s\",%s)", kinds, jigplan.BoughtCost, amounts)
	setup := fmt.Sprintf("SUMIF(%s,\"%s\",%s)", kinds, jigplan.SetupCost, amounts)
	d.total("of which setting up, once a batch", "setup", formula{setup, money(o.Cost.Of(jigplan.SetupCost))}, moneyStyle, "labor only; its overhead is in the overhead")
	d.total("Setting up, one box", "setup each", formula{d.amount("setup") + "/" + count, money(o.Cost.Of(jigplan.SetupCost)) / float64(max(1, o.Quantity))}, moneyStyle, "")
	d.total("Cost of one box", "each cost", formula{d.amount("cost") + "/" + count, money(o.Cost.Total) / float64(max(1, o.Quantity))}, moneyStyle, "spares included")
	w.priceEach(d, rate, count)
	asked, taxName := d.amount("each")+"*"+count, w.quote.Order.Settings.Rates.TaxName
	if w.quote.Order.Settings.Rates.TaxInside() {
		d.total("The customer pays", "total", formula{asked, money(p.Total)}, moneyStyle, "")
		d.total(taxName, "tax", formula{toCents(d.amount("total") + "*100*" + insideShare(rate("Tax"))), money(p.Tax)}, moneyStyle, "in the price; half to even")
		d.total("Price of the batch, before tax", "net", formula{d.amount("total") + "-" + d.amount("tax"), money(p.Net)}, moneyStyle, "")
	} else {
		d.total("Price of the batch, before tax", "net", formula{asked, money(p.Net)}, moneyStyle, "")
		d.total(taxName, "tax", formula{toCents(d.amount("net") + "*" + rate("Tax")), money(p.Tax)}, moneyStyle, "half to even")
		d.total("The customer pays", "total", formula{d.amount("net") + "+" + d.amount("tax"), money(p.Total)}, moneyStyle, "")
	}
	d.total("Card fee", "fee", formula{toCents(d.amount("total") + "*" + rate("Card fee")), money(p.Fee)}, moneyStyle, "of what the customer pays")
	d.total("Left over", "left", formula{fmt.Sprintf("%s-%s-%s", d.amount("net"), d.amount("fee"), d.amount("cost")), money(p.Left)}, moneyStyle, "price minus card fee and cost")
	d.total("Margin, % of the price", "margin", formula{fmt.Sprintf("IF(%[1]s=0,0,100*%[2]s/%[1]s)", d.amount("net"), d.amount("left")), p.Margin},
		style{rim: thin, across: right, single: true, format: "0.0"}, marginRemark(o))
	percent := fmt.Sprintf("IF(%[1]s=0,%[2]s,MIN(100,MAX(%[2]s,5*ROUNDUP(%[3]s/%[1]s*20,0))))", d.amount("total"), rate("Deposit"), bought)
	d.total("Deposit, %", "percent", formula{percent, depositShown(p, &w.quote.Order.Settings)}, style{rim: thin, across: right, single: true, format: "0.##"}, "raised in steps of five until it covers the wood to buy")
	d.total("Deposit", "deposit", formula{toCents(d.amount("total") + "*" + d.amount("percent")), money(p.Deposit)}, moneyStyle, "")
}

func depositShown(p *jigplan.Price, s *settings.Shop) float64 {
	if p.By == jigplan.NoPrice {
		return s.Rates.Deposit
	}
	return p.Percent
}

// offcutShares are the cost with the offcuts kept at nothing, and at all that
// their wood cost.
func (d *costDetail) offcutShares(kinds, amounts string) {
	c := &d.offer.Cost
	at := func(share float64) float64 { total, _ := c.WithOffcuts(share); return money(total) }
	d.total("Cost with offcuts at 0%", "at 0", formula{fmt.Sprintf("%s-SUMIF(%s,\"%s\",%s)", d.amount("cost"), kinds, jigplan.OffcutsKept, amounts), at(0)}, moneyStyle,
		"Offcut worth on the Rates sheet says what the cost above has")
	worth := fmt.Sprintf("SUMIF(%s,\"%s\",%s:%s)", kinds, jigplan.OffcutsKept, ref(colExact, d.at["first"]), ref(colExact, d.at["last"]))
	d.total("Cost with offcuts at 100%", "at 100", formula{fmt.Sprintf("%s+ROUND(%s,0)/100", d.amount("at 0"), worth), at(1)}, moneyStyle, "")
}

func leftOut(c *jigplan.Cost) string {
	if what := c.Missing(); len(what) > 0 {
		return "INCOMPLETE: leaves out " + reports.Listed(what, 3)
	}
	return "every line once"
}

// priceEach is the price of one box: the order's, or made of the cost.
func (w *costBook) priceEach(d *costDetail, rate func(string) string, count string) {
	p := &d.offer.Price
	if p.By == jigplan.ByOrder {
		d.at["each"] = d.sheet.next()
		d.sheet.add(cell{colKind, 8, "Price of one box", style{rim: thin, bold: true, across: right}}, cell{colAmount, 1, money(p.Each), input("#,##0.00")},
			cell{colFrom, 1, "from the order; type another to see the effect", style{rim: thin}})
		return
	}
	lacks := rate("Margin") + "+" + rate("Markup") + "=0"
	if !w.quote.Order.Settings.Given("Labor rate") {
		lacks += "," + rate("Labor rate") + "=0"
	}
	if unknown := d.unknown(); unknown != "" {
		lacks += "," + unknown
	}
	keep := fmt.Sprintf("(1-%s/100-%s/100*(1+%s/100))", rate("Margin"), rate("Card fee"), rate("Tax"))
	exact := fmt.Sprintf("%s*(1+%s/100)/%s/%s", d.amount("cost"), rate("Markup"), keep, count)
	if w.quote.Order.Settings.Rates.TaxInside() {
		exact += "*(1+" + rate("Tax") + "/100)"
	}
	exact = fmt.Sprintf("IF(OR(%s,%s<=0),0,%s)", lacks, keep, exact)
	d.total("Price of one box, exact", "exact", formula{exact, w.exactEach(d.offer)}, style{rim: thin, across: right, single: true, format: "0.000000"}, exactText(p, &w.quote.Order.Settings.Rates))
	steps := fmt.Sprintf("(%s/%s)", d.amount("exact"), rate("Round prices to"))
	d.total("Price of one box", "each", formula{fmt.Sprintf("ROUND(%s*%s,2)", halfEven(steps), rate("Round prices to")), money(p.Each)}, input("#,##0.00"), "rounded half to even; type another price to see the effect")
}

func exactText(p *jigplan.Price, r *settings.Rates) string {
	tax := ""
	if r.TaxInside() {
		tax = " x (1 + " + r.TaxName + ")"
	}
	switch p.By {
	case jigplan.ByMargin:
		return "cost / (1 - margin - card fee)" + tax
	case jigplan.ByMarkup:
		return "cost x (1 + markup) / (1 - card fee)" + tax
	}
	return p.Why
}

// exactEach is the price of one box before rounding.
func (w *costBook) exactEach(o *jigplan.Offer) float64 {
	r := &w.quote.Order.Settings.Rates
	if o.Price.By == jigplan.NoPrice {
		return 0
	}
	keep := 1 - r.Margin/100 - r.CardFee/100*(1+r.Tax/100)
	exact := money(o.Cost.Total) * (1 + r.Markup/100) / keep / float64(max(1, o.Quantity))
	if r.TaxInside() {
		exact *= 1 + r.Tax/100
	}
	return exact
}

// remarks are what no formula tells: hours, chances, movers, packing.
func (w *costBook) remarks(d *costDetail) {
	o, s := d.offer, d.sheet
	s.heading("As planned")
	pair := func(name, text string) {
		if text != "" {
			s.add(cell{0, 2, name, style{bold: true, rim: below}}, cell{2, 8, text, style{rim: below}})
		}
	}
	pair("Hours", fmt.Sprintf("median %s; charged: %s (%s chance of that or less)", reports.Hours(o.Plan.Time.Minutes), reports.Hours(o.Cost.Minutes), w.quote.Order.Settings.Units.Percent(80, 0)))
	pair("Chance", chanceText(o, w.quote.Order.Settings.Units))
	pair("Done", reports.DoneText(o, o.Plan.Order.Settings.Units))
	pair("Packed", reports.PackedText(o, reports.Words{Unit: w.quote.Order.Settings.Units}))
	if len(o.Movers) == 0 {
		return
	}
	s.heading("What moves the price most")
	s.head([]string{"What", "Change", "One box"}, grid{2, 2, 1}, 2)
	for _, m := range o.Movers {
		s.add(cell{0, 2, m.What, style{rim: thin}}, cell{2, 2, m.Change, style{rim: thin}}, cell{4, 1, money(m.Each), style{rim: thin, across: right, single: true, format: "+0.00;-0.00;0.00"}})
	}
}

// marginRemark says when a margin is not what it seems.
func marginRemark(o *jigplan.Offer) string {
	if len(o.Cost.Missing()) > 0 {
		return "the real margin is lower: the cost is incomplete"
	}
	return ""
}

func chanceText(o *jigplan.Offer, unit measure.Unit) string {
	p := &o.Price
	switch chance := reports.ChanceText(o, unit); {
	case chance == "" || chance == "not known":
		return chance
	case p.Wanted > 0:
		return fmt.Sprintf("%s chance of a margin of %s or more; %s chance that it covers its cost; the hours are uncertain",
			unit.Percent(100*p.Chance, 0), unit.Percent(p.Wanted, 1), unit.Percent(100*p.Even, 0))
	}
	return fmt.Sprintf("%s chance that it covers its cost; the hours are uncertain", unit.Percent(100*p.Even, 0))
}
