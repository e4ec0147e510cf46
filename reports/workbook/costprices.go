package workbook

import (
	"fmt"

	"batchwright/reports"
)

// prices is the first sheet: every offer in a line, taken from its own sheet.
func (w *costBook) prices(b *book) *sheet {
	q := w.quote
	s := &sheet{name: "Prices", landscape: true, fit: true, widths: []float64{26, 8, 11, 11, 11, 12, 9, 11, 12, 11, 15}}
	b.title(s, fmt.Sprintf("Costs and prices of quote %s, revision %d", q.Number, q.Revision))
	s.paragraph(reports.QuoteHead(q))
	s.gap(2)
	s.repeatNext()
	s.head([]string{"Box", "Count", "Cost", "Cost, one box", "Price each", "Before tax", "Margin, %", "Chance of that margin", "Customer pays", "Hours, 80%", "Delivery"}, ones(11), 1, 2, 3, 4, 5, 6, 8)
	for _, d := range w.details {
		w.priceLine(s, d)
	}
	t := reports.PriceTable(q)
	for _, note := range t.Notes {
		s.paragraph(note)
	}
	if len(q.Findings) > 0 {
		s.heading("Problems")
		problems := reports.FindingTable(q.Findings)
		problems.Head[0] = "Level"
		s.table(problems, grid{1, 2, 2, 4, 2})
	}
	return s
}

func (w *costBook) priceLine(s *sheet, d *costDetail) {
	o, p := d.offer, &d.offer.Price
	text, short := style{rim: thin, indent: true}, style{rim: thin, indent: true, single: true}
	if o.Cannot != "" {
		s.add(cell{0, 1, d.name, text}, cell{1, 1, o.Quantity, style{rim: thin, across: right}}, cell{2, 9, "cannot be made: " + o.Cannot, text})
		return
	}
	day := short
	if o.Delivery.IsZero() { // in words, which need lines
		day = text
	}
	from := func(key string, value float64) formula {
		return formula{refOn(d.sheet.name, colAmount, d.at[key]), value}
	}
	count := formula{refOn(d.sheet.name, colQuantity, d.at["count"]), float64(o.Quantity)}
	s.add(cell{0, 1, d.name, style{rim: thin, bold: true}}, cell{1, 1, count, style{rim: thin, across: right, format: "0"}},
		cell{2, 1, from("cost", money(o.Cost.Total)), moneyStyle}, cell{3, 1, from("each cost", money(o.Cost.Total)/float64(max(1, o.Quantity))), moneyStyle},
		cell{4, 1, from("each", money(p.Each)), moneyStyle}, cell{5, 1, from("net", money(p.Net)), moneyStyle},
		cell{6, 1, from("margin", p.Margin), style{rim: thin, across: right, single: true, format: "0.0"}}, cell{7, 1, reports.ChanceText(o), text},
		cell{8, 1, from("total", money(p.Total)), moneyStyle}, cell{9, 1, reports.Hours(o.Cost.Minutes), short}, cell{10, 1, reports.DeliveryText(o, w.quote.Order.Settings.Units), day})
}
