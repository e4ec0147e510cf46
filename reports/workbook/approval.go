package workbook

import (
	"fmt"

	"batchwright/jigplan"
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
	s.paragraph("Quotation " + reports.QuoteName(q) + " of " + reports.DayText(q.Date) + to + ". Please check every size against what it has to hold, and whether it is an inside or an outside size; then tick what you want, sign, and send it back. What is made is what stands here. Later changes are priced as the difference.")
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
		s.add(cell{0, 7, "On acceptance a deposit invoice is sent; the dates count from the order of that day.", style{size: 9}})
	})
	return s, nil
}

// ticks is every offer with a place to tick.
func (w *offerBook) ticks(s *sheet) {
	q := w.quote
	g := grid{1, 2, 1, 1, 1, 1}
	s.head([]string{"", "I order", "Count", "Price each", joined(", ", "Total", w.set.Currency), "Ready by"}, g, 2, 3, 4)
	tick := func(name string, o *jigplan.Offer) {
		number := style{rim: thin, across: right, single: true, format: "0"}
		s.add(cell{0, 1, "☐", style{size: 12, across: centre, rim: thin}}, cell{1, 2, name, style{rim: thin, middle: true}}, cell{3, 1, o.Quantity, number},
			cell{4, 1, money(o.Price.Each), moneyStyle}, cell{5, 1, money(o.Price.Total), moneyStyle}, cell{6, 1, reports.ReadyText(o), style{rim: thin, indent: true, single: true}})
		s.hold()
	}
	reports.EachOffer(q, func(a *jigplan.Article, o *jigplan.Option, f *jigplan.Offer) {
		if reports.Offered(f) {
			tick(reports.OptionName(a, o), f)
		}
	})
	if q.Together != nil && reports.Offered(q.Together) {
		tick("all of it together", q.Together)
	}
}

// changes is what a revision changes against the one before, and the
// difference in money.
func (w *offerBook) changes() *sheet {
	q := w.quote
	s := &sheet{name: "Changes", widths: []float64{22, 9, 12, 12, 12, 13}}
	w.letterhead(s, &w.set.Rates, fmt.Sprintf("Changes to revision %d of %s", q.Before.Revision, q.Before.Date))
	s.head([]string{"", "Count", "Total before", "Total now", "Difference", "Price each now"}, ones(6), 1, 2, 3, 4, 5)
	for _, c := range reports.Changes(q) {
		row := s.next()
		before, now := any(""), any("")
		if c.HadPrice {
			before = money(c.Before)
		}
		if c.HasPrice {
			now = money(c.Now)
		}
		cells := []cell{{0, 1, c.Name, style{rim: thin, bold: true}}, {1, 1, c.Quantity, style{rim: thin, across: right, format: "0"}}, {2, 1, before, moneyStyle}, {3, 1, now, moneyStyle}}
		difference, each := any(c.Standing), any("")
		if c.HadPrice && c.HasPrice {
			difference = formula{ref(3, row) + "-" + ref(2, row), money(c.Now - c.Before)}
		}
		if c.HasPrice {
			each = money(c.Each)
		}
		st := moneyStyle
		st.format = "+#,##0.00;-#,##0.00;0.00"
		s.add(append(cells, cell{4, 1, difference, st}, cell{5, 1, each, moneyStyle})...)
		if c.What != "" {
			s.add(cell{0, 1, "", style{rim: thin}}, cell{1, 5, c.What, style{rim: thin}})
		}
	}
	s.paragraph("The difference is added to the balance, or taken off it. The deposit already asked for stays as it was.")
	return s
}
