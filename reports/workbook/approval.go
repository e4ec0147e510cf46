package workbook

import (
	"fmt"

	"batchwright/jigplan"
	"batchwright/orders/measure"
	"batchwright/reports"
)

// approval is the sheet the customer signs: what will be made, drawn and in
// words, with room for the option and the count that are wanted.
func (w *offerBook) approval() (*sheet, error) {
	q := w.quote
	s := &sheet{name: "Approval", widths: offerWidths}
	w.letterhead(s, &w.set.Rates, "To approve and sign")
	to := ""
	if q.Customer != "" {
		to = ", for " + q.Customer
	}
	s.paragraph("Quotation " + reports.QuoteName(q) + " of " + reports.DayText(q.Date, q.Order.Settings.Units) + to + ". Please check every size against what it has to hold, and whether it is an inside or an outside size; then tick what you want, sign, and send it back. We make what is written here. Later changes are priced as the difference.")
	for a := range q.Articles {
		art := &q.Articles[a]
		s.heading(art.Name)
		if err := w.drawings(s, art, 36); err != nil {
			return nil, err
		}
		s.together(func() { w.described(s, art) })
	}
	s.gap(3)
	s.together(func() {
		w.ticks(s)
		s.gap(4)
		for _, line := range []string{"Name", "Signature", "Date"} {
			s.addTall(20, cell{0, 1, line, style{bold: true}}, cell{1, 5, "", style{rim: below}})
			s.hold()
		}
		s.gap(2)
		text := "We send a deposit invoice on acceptance; the dates assume an order on that day."
		if r := &w.set.Rates; r.Tax > 0 {
			text = fmt.Sprintf("Totals include %s %s. ", w.set.Units.Percent(r.Tax, -1), r.TaxName) + text
		}
		s.add(cell{0, 7, text, style{size: 9}})
	})
	return s, nil
}

// ticks is every offer with a place to tick.
func (w *offerBook) ticks(s *sheet) {
	q := w.quote
	g := grid{1, 2, 1, 1, 1, 1}
	s.head([]string{"", "I order", "Count", "Price each", joined(", ", "Total", w.set.Currency), "Ready by"}, g, 2, 3, 4)
	amount, text := blankZero(moneyStyle), style{rim: thin, indent: true, single: true}
	tick := func(name string, o *jigplan.Offer) {
		number := style{rim: thin, across: right, single: true, format: "0"}
		s.add(cell{0, 1, "☐", style{size: 12, across: centre, rim: thin}}, cell{1, 2, name, style{rim: thin, middle: true}},
			cell{3, 1, w.onQuote(o, w.countColumn(), float64(o.Quantity)), number},
			cell{4, 1, w.onQuote(o, w.eachColumn(), money(o.Price.Each)), amount},
			cell{5, 1, w.onQuote(o, w.totalColumn(), money(o.Price.Total)), amount}, cell{6, 1, reports.ReadyText(o, w.quote.Order.Settings.Units), text})
		s.hold()
	}
	reports.EachOffer(q, func(a *jigplan.Article, o *jigplan.Option, f *jigplan.Offer) {
		if f.Cannot == "" {
			tick(reports.OptionName(a, o), f)
		}
	})
	if q.Together != nil && q.Together.Cannot == "" {
		tick("everything", q.Together)
	}
}

// changes is what a revision changes against the one before, line by line and
// in all. What is new follows the sheet Quote.
func (w *offerBook) changes() *sheet {
	q := w.quote
	s := &sheet{name: "Changes", widths: []float64{24, 8, 8, 12, 12, 12}}
	w.letterhead(s, &w.set.Rates, fmt.Sprintf("Changes to revision %d of %s", q.Before.Revision, q.Before.Date))
	s.head([]string{"", "Count before", "Count now", "Before", "Now", "Difference"}, ones(6), 1, 2, 3, 4, 5)
	count := style{rim: thin, across: right, format: "0"}
	difference := moneyStyle
	difference.format = "+#,##0.00;-#,##0.00;0.00"
	first, sum := s.next(), measure.Money(0)
	for _, c := range reports.Changes(q) {
		row := s.next()
		cells := []cell{{0, 1, c.Name, style{rim: thin, bold: true}}, {1, 1, "new", count}, {2, 1, "removed", count},
			{3, 1, 0.0, moneyStyle}, {4, 1, 0.0, moneyStyle}}
		if c.HadPrice {
			cells[1].value, cells[3].value = c.CountBefore, money(c.Before)
		}
		if c.HasPrice {
			cells[2].value, cells[4].value = w.onQuote(c.Offer, w.countColumn(), float64(c.Count)), w.onQuote(c.Offer, w.totalColumn(), money(c.Now))
		}
		s.add(append(cells, cell{5, 1, formula{ref(4, row) + "-" + ref(3, row), money(c.Difference())}, difference})...)
		sum += c.Difference()
		if c.What != "" {
			s.add(cell{0, 1, "", style{rim: thin}}, cell{1, 5, c.What, style{rim: thin}})
		}
	}
	if last := s.next() - 1; last >= first {
		total := difference
		total.bold, total.rim = true, thick
		s.add(cell{0, 5, joined(", ", "Added to (+) or taken off (-) the total", w.set.Currency), style{rim: thin, bold: true, across: right}},
			cell{5, 1, formula{fmt.Sprintf("SUM(%s:%s)", ref(5, first), ref(5, last)), money(sum)}, total})
	}
	s.paragraph("The difference is added to the balance or taken off it. The deposit does not change.")
	return s
}
