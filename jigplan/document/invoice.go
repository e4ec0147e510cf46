package document

import (
	"encoding/json"
	"fmt"
	"time"

	"batchwright/jigplan"
	"batchwright/orders/measure"
)

// Invoice is an invoice as the shop keeps it. Dates are "2027-03-08".
type Invoice struct {
	Version  int           `json:"version"`
	Number   int           `json:"number"` // 0: not issued
	Kind     string        `json:"kind"`   // deposit, balance, whole, change, credit
	Quote    string        `json:"quote"`
	Revision int           `json:"revision"`
	Date     string        `json:"date"`
	Due      string        `json:"due"`
	Customer string        `json:"customer"`
	To       string        `json:"customer_address"`
	Shop     string        `json:"shop"`
	Address  string        `json:"address"`
	TaxID    string        `json:"tax_number"`
	Pay      string        `json:"payment_details"`
	Currency string        `json:"currency"`
	TaxName  string        `json:"tax_name"`
	Tax      json.Number   `json:"tax_percent"`
	Inside   bool          `json:"tax_included"` // each includes the tax
	Lines    []InvoiceLine `json:"lines"`
	Less     []InvoiceLess `json:"less"` // invoices taken off
	Net      json.Number   `json:"net"`
	TaxSum   json.Number   `json:"tax"`
	Total    json.Number   `json:"total"` // to pay; below zero: a credit
}

// InvoiceLine is one offer taken, or the share asked for as a deposit.
type InvoiceLine struct {
	What     string      `json:"what"`
	Said     string      `json:"said"`
	Quantity int         `json:"quantity"`
	Each     json.Number `json:"each"`
	Net      json.Number `json:"net"`
	Tax      json.Number `json:"tax"`
	Total    json.Number `json:"total"`
}

// InvoiceLess is an earlier invoice that is taken off.
type InvoiceLess struct {
	Number int         `json:"number"`
	What   string      `json:"what"`
	Net    json.Number `json:"net"`
	Tax    json.Number `json:"tax"`
	Total  json.Number `json:"total"`
}

// OfInvoice is an invoice as a document.
func OfInvoice(v *jigplan.Invoice) Invoice {
	net, tax, total := v.Sums()
	return Invoice{1, v.Number, string(v.Kind), v.Quote, v.Revision, date(v.Date), date(v.Due), v.Customer, v.To, v.Shop, v.Address, v.TaxID, v.Pay,
		v.Currency, v.TaxName, float(v.Tax), v.TaxInside,
		each(v.Lines, func(l *jigplan.InvoiceLine) InvoiceLine {
			return InvoiceLine{l.What, l.Said, l.Quantity, money(l.Each), money(l.Net), money(l.Tax), money(l.Total)}
		}),
		each(v.Less, func(l *jigplan.InvoiceLess) InvoiceLess {
			return InvoiceLess{l.Number, l.What, money(l.Net), money(l.Tax), money(l.Total)}
		}), money(net), money(tax), money(total)}
}

// Read gives the invoice back.
func (d *Invoice) Read() (v jigplan.Invoice, err error) {
	v = jigplan.Invoice{Number: d.Number, Kind: jigplan.InvoiceKind(d.Kind), Quote: d.Quote, Revision: d.Revision, Customer: d.Customer, To: d.To,
		Shop: d.Shop, Address: d.Address, TaxID: d.TaxID, Pay: d.Pay, Currency: d.Currency, TaxName: d.TaxName, TaxInside: d.Inside}
	v.Tax, _ = d.Tax.Float64()
	if v.Date, err = time.Parse(time.DateOnly, d.Date); err != nil {
		return v, fmt.Errorf("the date of invoice %d: %w", d.Number, err)
	}
	if v.Due, err = time.Parse(time.DateOnly, d.Due); err != nil {
		return v, fmt.Errorf("the due date of invoice %d: %w", d.Number, err)
	}
	for _, l := range d.Lines {
		v.Lines = append(v.Lines, jigplan.InvoiceLine{What: l.What, Said: l.Said, Quantity: l.Quantity, Each: amountOf(l.Each),
			Net: amountOf(l.Net), Tax: amountOf(l.Tax), Total: amountOf(l.Total)})
	}
	for _, l := range d.Less {
		v.Less = append(v.Less, jigplan.InvoiceLess{Number: l.Number, What: l.What, Net: amountOf(l.Net), Tax: amountOf(l.Tax), Total: amountOf(l.Total)})
	}
	return v, nil
}

// Invoice is the whole of what was taken of a quote, before anything of it was
// invoiced, due on the day promised.
func (q *Quote) Invoice(takes []Take) jigplan.Invoice {
	v := jigplan.Invoice{Kind: jigplan.WholeInvoice, Quote: q.Number, Revision: q.Revision, Customer: q.Customer, To: q.To, Shop: q.Shop,
		Address: q.Address, Currency: q.Currency, TaxName: q.TaxName, TaxInside: q.Inside}
	v.Tax, _ = q.Tax.Float64()
	for i := range takes {
		f := &takes[i].Offer
		v.Lines = append(v.Lines, jigplan.InvoiceLine{What: takes[i].Name, Said: takes[i].Said, Quantity: f.Quantity, Each: amountOf(f.Each),
			Net: amountOf(f.Net), Tax: amountOf(f.Tax), Total: amountOf(f.Total)})
		if day := takes[i].Day(); day.After(v.Due) {
			v.Due = day
		}
	}
	return v
}

// DepositOf is the deposit asked for what was taken.
func DepositOf(takes []Take) measure.Money {
	_, _, _, deposit := Sums(takes)
	return deposit
}
