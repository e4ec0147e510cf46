package workbook

import (
	"batchwright/orders/measure"
	"batchwright/orders/settings"
)

// ratesName is the sheet every other one takes its rates from; rateCol is the
// column the figures stand in.
const (
	ratesName = "Rates"
	rateCol   = 1
)

// rateSheet is the sheet of rates, and in which row each stands.
type rateSheet struct {
	rows map[string]int
	body *sheet
}

// rateNames are the settings a price is made of, in order.
var rateNames = []string{"Labor rate", "Overhead rate", "Glue price", "Finish price", "Abrasive price", "Nail price", "Hinge price", "Catch price",
	"Sharpening price", "Cuts per sharpening", "Offcut worth", "Margin", "Markup", "Round prices to", "Card fee", "Tax", "Deposit"}

// newRates lays the rates out; the title takes the first two rows, see sheet.
func newRates(set *settings.Shop) *rateSheet {
	r := &rateSheet{rows: map[string]int{}, body: &sheet{name: ratesName, fit: true, widths: []float64{22, 12, 12, 12, 30}}}
	for i, name := range rateNames {
		r.rows[name] = ratesFirst + i
	}
	for _, name := range rateNames {
		d, _ := settings.Find(name)
		value, format := rateValue(name, set)
		r.body.add(cell{0, 1, name, style{rim: thin, bold: true}}, cell{1, 1, value, input(format)}, cell{2, 1, d.Unit, style{rim: thin, indent: true}},
			cell{3, 1, rateStanding(name, set), style{rim: thin}}, cell{4, 1, d.HelpIn(set.Units), style{rim: thin}})
	}
	return r
}

// ratesFirst is the row of the first rate: mark, title, text and heading stand
// above it.
const ratesFirst = 5

func (r *rateSheet) sheet(b *book) *sheet {
	s := &sheet{name: ratesName, fit: true, widths: r.body.widths}
	b.title(s, "Rates")
	s.paragraph("Change an outlined cell, and every cost and price of this workbook follows. To keep it, write it on the order's Shop sheet, or: batchwright shop set.")
	s.head([]string{"Setting", "Value", "Unit", "Standing", "What it is"}, ones(5), 1)
	s.rows = append(s.rows, r.body.rows...)
	return s
}

func rateValue(name string, set *settings.Shop) (value float64, format string) {
	rates := &set.Rates
	money := map[string]measure.Money{"Labor rate": rates.Labour, "Glue price": rates.Glue, "Finish price": rates.Finish, "Abrasive price": rates.Abrasive,
		"Nail price": rates.Nails, "Hinge price": rates.Hinge, "Catch price": rates.Catch, "Sharpening price": rates.Sharpening, "Round prices to": rates.RoundTo}
	money["Overhead rate"], _ = set.HourlyOverhead()
	if m, ok := money[name]; ok {
		return float64(m) / 100, "#,##0.00"
	}
	return map[string]float64{"Cuts per sharpening": rates.CutsPerSharpening, "Offcut worth": rates.OffcutWorth, "Margin": rates.Margin, "Markup": rates.Markup,
		"Card fee": rates.CardFee, "Tax": rates.Tax, "Deposit": rates.Deposit}[name], "0.##"
}

// rateStanding says where a rate is from.
func rateStanding(name string, set *settings.Shop) string {
	if set.Given(name) {
		if at := set.Source(name).String(); at != "" {
			return at
		}
		return "shop file"
	}
	if _, ok := set.HourlyOverhead(); ok && name == "Overhead rate" {
		return "year over hours"
	}
	if d, _ := settings.Find(name); d.Default != "" && d.Default != "0" {
		return "default"
	}
	return "not set"
}
