package jigplan_test

import (
	"testing"
	"time"

	"batchwright/jigplan"
	"batchwright/orders/measure"
)

// The tax in a deposit is the VAT fraction of it: rate / (100 + rate), at 20 % one
// sixth (HM Revenue and Customs, VAT Notice 700, "The VAT fraction"). Deposit and
// balance together hold the tax of the whole, once: 600 with 100 of VAT in it,
// half on acceptance, is 250 and 50 twice.
func TestTheTaxOfADepositIsItsVATFraction(t *testing.T) {
	day := time.Date(2027, 3, 8, 0, 0, 0, 0, time.UTC)
	whole := jigplan.Invoice{Kind: jigplan.WholeInvoice, Date: day, Due: day.AddDate(0, 0, 30), Tax: 20,
		Lines: []jigplan.InvoiceLine{{What: "Box", Quantity: 1, Each: 50000, Net: 50000, Tax: 10000, Total: 60000}}}
	for _, c := range []struct{ deposit, net, tax int64 }{{30000, 25000, 5000}, {12000, 10000, 2000}, {600, 500, 100}} {
		both := jigplan.ToIssue(whole, 0, nil)
		if len(both) != 1 || both[0].Kind != jigplan.WholeInvoice {
			t.Fatalf("no deposit: %+v", both)
		}
		both = jigplan.ToIssue(whole, measure.Money(c.deposit), nil)
		if len(both) != 2 {
			t.Fatalf("deposit %d: %d invoices", c.deposit, len(both))
		}
		net, tax, total := both[0].Sums()
		restNet, restTax, rest := both[1].Sums()
		if net != measure.Money(c.net) || tax != measure.Money(c.tax) || total != measure.Money(c.deposit) {
			t.Errorf("deposit %d: %d and %d", c.deposit, net, tax)
		}
		if net+restNet != 50000 || tax+restTax != 10000 || total+rest != 60000 {
			t.Errorf("deposit %d: the balance is %d, %d, %d", c.deposit, restNet, restTax, rest)
		}
		if !both[0].Due.Equal(day) || !both[1].Due.Equal(whole.Due) {
			t.Errorf("due %s and %s", both[0].Due, both[1].Due)
		}
		if again := jigplan.ToIssue(whole, measure.Money(c.deposit), both); again != nil {
			t.Errorf("nothing changed, and %d invoices more", len(again))
		}
	}
}
