package workbook

import (
	"fmt"

	"batchwright/jigplan"
	"batchwright/orders/measure"
	"batchwright/orders/settings"
	"batchwright/reports"
)

// Invoices is the customer's workbook of two invoices: the deposit, and the
// balance with what was changed since. After a change the deposit has been asked
// for, and the balance stands alone. Nothing in it says what anything costs the
// shop.
func Invoices(v *jigplan.Invoice, units measure.Unit) ([]byte, error) {
	b, err := newBook(units, fmt.Sprintf("Invoices to quotation %s", v.Quote), "")
	if err != nil {
		return nil, err
	}
	sheets := []*sheet{b.balanceInvoice(v)}
	if v.Accepted == 0 {
		sheets = append([]*sheet{b.depositInvoice(v)}, sheets...)
	}
	for _, s := range sheets {
		if err := b.emit(s); err != nil {
			return nil, fmt.Errorf("write the invoices: %w", err)
		}
	}
	return b.bytes()
}

var invoiceWidths = []float64{33, 7, 11, 12, 13}

// opening is what both invoices begin with: heads, lines, totals. It gives the
// row of the total.
func (b *book) opening(s *sheet, v *jigplan.Invoice, title, number string) (total int) {
	b.letterhead(s, &settings.Rates{ShopName: v.Shop, Address: v.Address}, title)
	pairs := []reports.Pair{{Name: "Invoice", Text: number}, {Name: "Date", Text: reports.DayText(v.Date)}}
	if v.Customer != "" {
		pairs = append(pairs, reports.Pair{Name: "To", Text: v.Customer})
	}
	s.pairs(append(pairs, reports.Pair{Name: "For", Text: fmt.Sprintf("quotation %s, revision %d", v.Quote, v.Revision)}), 1)
	s.gap(4)
	tax := ""
	if v.Tax > 0 {
		tax = taxHead(v.TaxName, v.Tax)
	}
	s.head([]string{"What", "Count", "Price each", "Together", tax}, ones(5), 1, 2, 3, 4)
	first := s.next()
	for _, l := range v.Lines {
		row, taxed := s.next(), any("")
		if v.Tax > 0 {
			taxed = formula{toCents(ref(3, row) + "*" + figureText(v.Tax)), money(l.Tax)}
		}
		s.add(cell{0, 1, l.What, style{rim: thin, bold: true}}, cell{1, 1, l.Quantity, style{rim: thin, across: right, format: "0"}}, cell{2, 1, money(l.Each), moneyStyle},
			cell{3, 1, formula{ref(1, row) + "*" + ref(2, row), money(l.Net)}, moneyStyle}, cell{4, 1, taxed, moneyStyle})
	}
	last := s.next() - 1
	s.gap(1)
	for _, l := range v.Lines {
		if l.Said != "" {
			s.add(cell{0, 5, l.What + ": " + l.Said, style{size: 9}})
		}
	}
	_, _, sum := v.Sums()
	s.gap(2)
	total = s.next()
	s.sum("Total", formula{fmt.Sprintf("SUM(%s:%s)", ref(3, first), ref(4, last)), money(sum)}, v.Currency, false)
	return total
}

// sum is a line of totals at the right.
func (s *sheet) sum(name string, value any, currency string, strong bool) {
	st := moneyStyle
	st.bold = strong
	if strong {
		st.rim = thick
	}
	s.add(cell{0, 4, joined(", ", name, currency), style{rim: thin, bold: true, across: right}}, cell{4, 1, value, st})
}

func (b *book) depositInvoice(v *jigplan.Invoice) *sheet {
	s := &sheet{name: "Deposit invoice", widths: invoiceWidths}
	number := fmt.Sprintf("%s-D", v.Quote)
	b.opening(s, v, "Invoice for the deposit", number)
	s.sum("Deposit, due now", money(v.Deposit), v.Currency, true)
	s.gap(4)
	s.paragraph("The boards are reserved and the work is given its place when the deposit is here. The balance is due on delivery.")
	return s
}

func (b *book) balanceInvoice(v *jigplan.Invoice) *sheet {
	s := &sheet{name: "Balance invoice", widths: invoiceWidths}
	total := b.opening(s, v, "Invoice for the balance", fmt.Sprintf("%s-B", v.Quote))
	_, _, sum := v.Sums()
	if v.Accepted > 0 {
		row := s.next()
		s.sum(fmt.Sprintf("of which as accepted, revision %d", v.Accepted), money(v.Before), v.Currency, false)
		s.sum(fmt.Sprintf("and the change agreed since, revision %d", v.Revision), formula{ref(4, total) + "-" + ref(4, row), money(sum - v.Before)}, v.Currency, false)
	}
	paid := s.next()
	s.sum("Less the deposit paid", money(v.Paid), v.Currency, false)
	name, due := "Balance, due now", sum-v.Paid
	if due < 0 {
		name = "Balance, owed to you"
	}
	s.sum(name, formula{ref(4, total) + "-" + ref(4, paid), money(due)}, v.Currency, true)
	return s
}
