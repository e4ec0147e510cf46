package document

import (
	"batchwright/jigplan"
)

// Invoice is what a quote comes to when some of it is taken. The deposit is
// that of the revision that was accepted first; nil: of this one.
func (q *Quote) Invoice(takes []Take, first *Quote, firstTakes []Take) jigplan.Invoice {
	v := jigplan.Invoice{Quote: q.Number, Revision: q.Revision, Customer: q.Customer, Shop: q.Shop, Address: q.Address, Currency: q.Currency, TaxName: q.TaxName}
	v.Tax, _ = q.Tax.Float64()
	for i := range takes {
		f := &takes[i].Offer
		v.Lines = append(v.Lines, jigplan.InvoiceLine{What: takes[i].Name, Said: takes[i].Said, Quantity: f.Quantity, Each: amountOf(f.Each),
			Net: amountOf(f.Net), Tax: amountOf(f.Tax), Total: amountOf(f.Total)})
	}
	_, _, _, v.Deposit = Sums(takes)
	if first != nil {
		v.Accepted = first.Revision
		_, _, v.Before, v.Deposit = Sums(firstTakes)
	}
	v.Paid = v.Deposit
	return v
}
