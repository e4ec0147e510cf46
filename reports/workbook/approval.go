package workbook

import (
	"fmt"

	"batchwright/reports"
)

// approval is the sheet the customer signs: what will be made, drawn and in
// words, with room for the option and the count that are wanted.
func (w *offerBook) approval() (*sheet, error) {
	q := w.quote
	s := &sheet{name: "Approval", widths: offerWidths}
	w.letterhead(s, &w.set.Rates, "To approve and sign")
	s.paragraph("Quotation " + reports.QuoteName(q) + " of " + reports.DayText(q.Date) + ". Please check every size against what it has to hold, and whether it is an inside or an outside size; then tick what you want, sign, and send it back. What is made is what stands here. Later changes are priced as the difference.")
	for a := range q.Articles {
		art := &q.Articles[a]
		s.heading(art.Name)
		if err := w.drawings(s, art, 55); err != nil {
			return nil, err
		}
		w.described(s, art)
		s.gap(1)
		for k := range art.Options {
			o := &art.Options[k]
			for i := range o.Offers {
				if f := &o.Offers[i]; reports.Offered(f) {
					s.add(cell{0, 1, "☐", style{size: 14, across: centre}}, cell{1, 6, joined(", ", prefixed("option ", o.Letter), fmt.Sprintf("%d at %s each, %s in all, ready by %s",
						f.Quantity, f.Price.Each, reports.Amount(f.Price.Total, w.set.Currency), reports.ReadyText(f))), style{rim: below, middle: true}})
				}
			}
		}
	}
	if q.Together != nil && reports.Offered(q.Together) {
		s.gap(2)
		s.add(cell{0, 1, "☐", style{size: 14, across: centre}}, cell{1, 6, fmt.Sprintf("all of it together, %s, ready by %s", reports.Amount(q.Together.Price.Total, w.set.Currency), reports.ReadyText(q.Together)), style{rim: below, middle: true}})
	}
	s.gap(6)
	s.together(func() {
		for _, line := range []string{"Name", "Signature", "Date"} {
			s.addTall(26, cell{0, 1, line, style{bold: true}}, cell{1, 5, "", style{rim: below}})
			s.hold()
		}
		s.add(cell{0, 7, "On acceptance a deposit invoice is sent; the dates count from the order of that day.", style{size: 9}})
	})
	return s, nil
}

// changes is what a revision changes against the one before, and the
// difference in money.
func (w *offerBook) changes() *sheet {
	q := w.quote
	s := &sheet{name: "Changes", widths: []float64{22, 9, 12, 12, 12, 13}}
	w.letterhead(s, &w.set.Rates, fmt.Sprintf("Changes to revision %d of %s", q.Before.Revision, q.Before.Date))
	s.head([]string{"", "Count", "Total before", "Total now", "Difference", "Price each now"}, ones(6))
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
