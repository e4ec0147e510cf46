package jigplan

import (
	"cmp"
	"fmt"
	"math/big"
	"strings"
	"time"

	"batchwright/orders/measure"
)

// InvoiceKind is what an invoice asks for.
type InvoiceKind string

// The kinds of invoice.
const (
	DepositInvoice InvoiceKind = "deposit"
	BalanceInvoice InvoiceKind = "balance" // the whole, less the deposit
	WholeInvoice   InvoiceKind = "whole"   // no deposit
	ChangeInvoice  InvoiceKind = "change"  // what a change adds to invoices that were given
	CreditNote     InvoiceKind = "credit"  // what a change takes off them
)

// Invoice is what is asked for of a quote that was taken. Once it has a number
// it does not change.
type Invoice struct {
	Number            int // 0: not issued
	Kind              InvoiceKind
	Quote             string
	Revision          int
	Date, Due         time.Time
	Customer, To      string // name and address
	Shop, Address     string
	TaxID, Pay        string // the shop's tax number, and how to pay
	Currency, TaxName string
	Tax               float64 // percent
	TaxInside         bool    // the price of one includes it
	Lines             []InvoiceLine
	Less              []InvoiceLess
}

// InvoiceLine is one offer taken, or a deposit on all of them.
type InvoiceLine struct {
	What, Said            string
	Quantity              int
	Each, Net, Tax, Total measure.Money
}

// InvoiceLess is an earlier invoice of the same, taken off.
type InvoiceLess struct {
	Number          int
	What            string
	Net, Tax, Total measure.Money
}

// Whole is what the lines come to.
func (v *Invoice) Whole() (net, tax, total measure.Money) {
	for _, l := range v.Lines {
		net, tax, total = net+l.Net, tax+l.Tax, total+l.Total
	}
	return net, tax, total
}

// Sums are what is to be paid: the lines less the invoices taken off; below
// zero: a credit.
func (v *Invoice) Sums() (net, tax, total measure.Money) {
	net, tax, total = v.Whole()
	for _, l := range v.Less {
		net, tax, total = net-l.Net, tax-l.Tax, total-l.Total
	}
	return net, tax, total
}

// Title names the paper.
func (v *Invoice) Title() string {
	switch v.Kind {
	case DepositInvoice:
		return "Deposit invoice"
	case BalanceInvoice:
		return "Balance invoice"
	case CreditNote:
		return "Credit note"
	}
	return "Invoice"
}

// ToIssue are the invoices that are not given yet for what was taken: at first
// one for the deposit and one for the balance; after a change one for what it
// adds to those given, or a credit note for what it takes off. The tax of the
// deposit is its share, rounded half to even to the cent, and the balance holds
// the rest of the tax, so that it is charged once.
func ToIssue(whole Invoice, deposit measure.Money, given []Invoice) (out []Invoice) {
	_, tax, total := whole.Whole()
	if len(given) > 0 {
		whole.Kind = ChangeInvoice
		for i := range given {
			whole.Less = append(whole.Less, given[i].less())
		}
		whole.takeFrom(&given[0])
		_, _, difference := whole.Sums()
		switch {
		case difference == 0:
			return nil
		case difference < 0:
			whole.Kind = CreditNote
		}
		whole.Due = whole.Date
		return []Invoice{whole}
	}
	if deposit <= 0 || deposit >= total {
		if deposit >= total {
			whole.Due = whole.Date
		}
		return []Invoice{whole}
	}
	first := whole
	first.Kind, first.Due = DepositInvoice, whole.Date
	part := measure.Money(0)
	if total != 0 {
		part = tax.At(big.NewRat(int64(deposit), int64(total)))
	}
	var said []string
	for _, l := range whole.Lines {
		said = append(said, fmt.Sprintf("%d %s", l.Quantity, l.What))
	}
	line := InvoiceLine{What: "Deposit", Said: strings.Join(said, "; "), Quantity: 1, Each: deposit - part, Net: deposit - part, Tax: part, Total: deposit}
	if whole.TaxInside {
		line.Each = deposit
	}
	first.Lines = []InvoiceLine{line}
	whole.Kind, whole.Less = BalanceInvoice, []InvoiceLess{first.less()}
	return []Invoice{first, whole}
}

// takeFrom fills in from an earlier invoice what this one does not say.
func (v *Invoice) takeFrom(first *Invoice) {
	v.Shop, v.Address = cmp.Or(v.Shop, first.Shop), cmp.Or(v.Address, first.Address)
	v.Customer, v.To = cmp.Or(v.Customer, first.Customer), cmp.Or(v.To, first.To)
	v.Currency, v.TaxName = cmp.Or(v.Currency, first.Currency), cmp.Or(v.TaxName, first.TaxName)
}

// HasTax reports whether tax is in any of its amounts.
func (v *Invoice) HasTax() bool {
	has := v.Tax > 0
	for _, l := range v.Less {
		has = has || l.Tax != 0
	}
	return has
}

// less is an invoice as it is taken off a later one.
func (v *Invoice) less() InvoiceLess {
	l := InvoiceLess{Number: v.Number, What: v.Title()}
	l.Net, l.Tax, l.Total = v.Sums()
	return l
}

// Account is what was asked for and paid of what one job took of a quote.
type Account struct {
	Quote    string
	Revision int
	Accepted int           // the revision accepted first
	Before   measure.Money // the total then
	Invoices []Invoice     // by number; the numbers of those not given yet are 0
	Payments []Payment
}

// Payment is money that came in; below zero: paid back.
type Payment struct {
	Day    time.Time
	Amount measure.Money
	Note   string
}

// Sums are what was asked for, what was paid, and what is open.
func (a *Account) Sums() (asked, paid, open measure.Money) {
	for i := range a.Invoices {
		_, _, total := a.Invoices[i].Sums()
		asked += total
	}
	for _, p := range a.Payments {
		paid += p.Amount
	}
	return asked, paid, asked - paid
}
