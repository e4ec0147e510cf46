package workbook

import (
	"fmt"

	"batchwright/jigplan"
	"batchwright/orders/measure"
	"batchwright/orders/settings"
	"batchwright/reports"
)

// Invoices is the customer's workbook of an account: each invoice on a page of
// its own, as it was given, and what was paid. Nothing in it says what anything
// costs the shop.
func Invoices(a *jigplan.Account, units measure.Unit) ([]byte, error) {
	b, err := newBook(units, fmt.Sprintf("Invoices to quotation %s", a.Quote), "")
	if err != nil {
		return nil, err
	}
	for i := range a.Invoices {
		if err := b.emit(b.invoice(&a.Invoices[i], units)); err != nil {
			return nil, fmt.Errorf("write the invoices: %w", err)
		}
	}
	if err := b.emit(b.account(a, units)); err != nil {
		return nil, fmt.Errorf("write the account: %w", err)
	}
	return b.bytes()
}

// The columns of an invoice: what, count, price each, net, tax, total.
var invoiceWidths = []float64{24, 7, 11, 12, 11, 12}

func (b *book) invoice(v *jigplan.Invoice, u measure.Unit) *sheet {
	s := &sheet{name: v.Title(), widths: invoiceWidths}
	if v.Kind == jigplan.ChangeInvoice || v.Kind == jigplan.CreditNote {
		s.name = reports.InvoiceName(v)
	}
	title := v.Title()
	if v.Number == 0 {
		title += " (draft)"
	}
	b.letterhead(s, &settings.Rates{ShopName: v.Shop, Address: v.Address}, title)
	var pairs []reports.Pair
	add := func(name, text string) {
		if text != "" {
			pairs = append(pairs, reports.Pair{Name: name, Text: text})
		}
	}
	if v.Number > 0 {
		add("Number", fmt.Sprint(v.Number))
	}
	add("Date", u.Date(v.Date))
	if v.Kind != jigplan.CreditNote {
		add("Due", u.Date(v.Due))
	}
	add("To", joined("\n", v.Customer, v.To))
	add("For", fmt.Sprintf("quotation %s, revision %d", v.Quote, v.Revision))
	add("Tax number", v.TaxID)
	s.pairs(pairs, 1)
	s.gap(4)
	b.invoiceLines(s, v, u)
	s.gap(4)
	if v.Pay != "" && v.Kind != jigplan.CreditNote {
		s.pairs([]reports.Pair{{Name: "Please pay to", Text: v.Pay}}, 1)
	}
	switch v.Kind {
	case jigplan.DepositInvoice:
		s.paragraph("We reserve the boards and schedule the work once the deposit arrives. The balance is invoiced minus this deposit.")
	case jigplan.CreditNote:
		s.paragraph("We take this amount off what you owe, or pay it back.")
	}
	return s
}

// invoiceLines are the lines, their sums, the invoices taken off and what is
// left: net, tax and total each in its column.
func (b *book) invoiceLines(s *sheet, v *jigplan.Invoice, u measure.Unit) {
	taxed := v.HasTax()
	tax := ""
	if taxed {
		tax = taxHead(v.TaxName, v.Tax, u)
	}
	s.head([]string{"What", "Count", "Price each", "Net", tax, joined(", ", "Total", v.Currency)}, ones(6), 1, 2, 3, 4, 5)
	first := s.next()
	amounts := func(row int, net, taxOf, total any, st style) []cell {
		if !taxed {
			taxOf = ""
		}
		return []cell{{3, 1, net, st}, {4, 1, taxOf, st}, {5, 1, total, st}}
	}
	both := func(row int, total measure.Money) formula {
		return formula{ref(3, row) + "+" + ref(4, row), money(total)}
	}
	if !taxed {
		both = func(row int, total measure.Money) formula { return formula{ref(3, row), money(total)} }
	}
	for _, l := range v.Lines {
		row := s.next()
		net, taxOf := any(money(l.Net)), any(money(l.Tax))
		if v.Kind != jigplan.DepositInvoice && l.Each*measure.Money(l.Quantity) == l.Net {
			net = formula{ref(1, row) + "*" + ref(2, row), money(l.Net)}
		}
		if v.Kind != jigplan.DepositInvoice {
			taxOf = formula{toCents(ref(3, row) + "*" + figureText(v.Tax)), money(l.Tax)}
		}
		total := both(row, l.Total)
		if v.TaxInside {
			net, taxOf, total = b.insideAmounts(v, &l, row)
		}
		s.add(append([]cell{{0, 1, l.What, style{rim: thin, bold: true}}, {1, 1, l.Quantity, style{rim: thin, across: right, format: "0"}},
			{2, 1, money(l.Each), moneyStyle}}, amounts(row, net, taxOf, total, moneyStyle)...)...)
	}
	last := s.next() - 1
	sums := func(name string, net, tax, total measure.Money, of func(col int) string, st style) int {
		row := s.next()
		cells := []cell{{0, 3, name, style{rim: st.rim, bold: true, across: right}}}
		s.add(append(cells, amounts(row, formula{of(3), money(net)}, formula{of(4), money(tax)}, formula{of(5), money(total)}, st)...)...)
		return row
	}
	sum := func(col int) string { return fmt.Sprintf("SUM(%s:%s)", ref(col, first), ref(col, last)) }
	net, taxOf, total := v.Whole()
	strong := moneyStyle
	strong.bold, strong.rim = true, thick
	due := joined(", ", dueName(v), v.Currency)
	if len(v.Less) == 0 {
		sums(due, net, taxOf, total, sum, strong)
	} else {
		whole := sums("Together", net, taxOf, total, sum, moneyStyle)
		for _, l := range v.Less {
			s.add(append([]cell{{0, 3, lessName(&l), style{rim: thin, across: right}}},
				amounts(s.next(), -money(l.Net), -money(l.Tax), -money(l.Total), moneyStyle)...)...)
		}
		net, taxOf, total = v.Sums()
		end := s.next() - 1
		sums(due, net, taxOf, total, func(col int) string { return fmt.Sprintf("SUM(%s:%s)", ref(col, whole), ref(col, end)) }, strong)
	}
	s.gap(1)
	for _, l := range v.Lines {
		if l.Said != "" {
			s.add(cell{0, 6, l.What + ": " + l.Said, style{size: 9}})
		}
	}
}

// insideAmounts are net, tax and total of a line whose price includes the tax.
func (b *book) insideAmounts(v *jigplan.Invoice, l *jigplan.InvoiceLine, row int) (net, tax any, total formula) {
	total = formula{ref(1, row) + "*" + ref(2, row), money(l.Total)}
	tax = money(l.Tax)
	if v.Kind != jigplan.DepositInvoice {
		tax = formula{toCents(ref(5, row) + "*100*" + insideShare(figureText(v.Tax))), money(l.Tax)}
	}
	return formula{ref(5, row) + "-" + ref(4, row), money(l.Net)}, tax, total
}

func lessName(l *jigplan.InvoiceLess) string {
	if l.Number == 0 {
		return "Less " + l.What
	}
	return fmt.Sprintf("Less %s %d", l.What, l.Number)
}

func dueName(v *jigplan.Invoice) string {
	switch v.Kind {
	case jigplan.DepositInvoice:
		return "Deposit to pay"
	case jigplan.BalanceInvoice:
		return "Balance to pay"
	case jigplan.CreditNote:
		return "Credited to you"
	}
	return "To pay"
}

// account is every invoice and payment, and what is open.
func (b *book) account(a *jigplan.Account, u measure.Unit) *sheet {
	s := &sheet{name: "Account", widths: []float64{32, 15, 15, 15}}
	head, currency := &settings.Rates{}, ""
	for i := range a.Invoices {
		head.ShopName, head.Address, currency = a.Invoices[i].Shop, a.Invoices[i].Address, a.Invoices[i].Currency
	}
	b.letterhead(s, head, "Account of quotation "+a.Quote)
	s.gap(3)
	s.head([]string{"", "Date", "Due", joined(", ", "Amount", currency)}, ones(4), 3)
	text := style{rim: thin}
	first := s.next()
	for i := range a.Invoices {
		v := &a.Invoices[i]
		_, _, total := v.Sums()
		s.add(cell{0, 1, reports.InvoiceName(v), text}, cell{1, 1, u.Date(v.Date), text}, cell{2, 1, u.Date(v.Due), text}, cell{3, 1, money(total), moneyStyle})
	}
	for _, p := range a.Payments {
		name := "Paid"
		if p.Note != "" {
			name += ", " + p.Note
		}
		s.add(cell{0, 1, name, text}, cell{1, 1, u.Date(p.Day), text}, cell{2, 1, "", text}, cell{3, 1, -money(p.Amount), moneyStyle})
	}
	last := s.next() - 1
	_, _, open := a.Sums()
	strong := moneyStyle
	strong.bold, strong.rim = true, thick
	s.add(cell{0, 3, "Still to pay (below zero: owed to you)", style{rim: thick, bold: true, across: right}},
		cell{3, 1, formula{fmt.Sprintf("SUM(%s:%s)", ref(3, first), ref(3, last)), money(open)}, strong})
	return s
}
