package reports

import (
	"fmt"
	"strings"
	"time"

	"batchwright/jigplan"
	"batchwright/orders"
)

// What the customer is told. Nothing here is taken from a cost, a rate or a
// margin.

// QuoteName is a quote's number with its revision.
func QuoteName(q *jigplan.Quote) string { return fmt.Sprintf("%s, revision %d", q.Number, q.Revision) }

// DayText is a date in full; empty for none.
func DayText(t time.Time) string {
	if t.IsZero() {
		return ""
	}
	return t.Format("2 January 2006")
}

// QuoteFacts head a quote.
func QuoteFacts(q *jigplan.Quote) []Pair {
	var out []Pair
	if q.Customer != "" {
		out = append(out, Pair{"For", q.Customer})
	}
	return append(out, Pair{"Date", DayText(q.Date)}, Pair{"Valid until", DayText(q.Valid)})
}

// ReadyText is the day the customer can have it.
func ReadyText(o *jigplan.Offer) string {
	if o.Delivery.IsZero() {
		return "to be agreed"
	}
	return o.Delivery.Format("2 Jan 2006")
}

// QuoteTerms are the terms of a quote.
func QuoteTerms(q *jigplan.Quote) (out []Pair) {
	r := &q.Order.Settings.Rates
	add := func(name, text string) { out = append(out, Pair{name, text}) }
	add("Payment", depositTerm(q))
	if r.Tax > 0 {
		add("Tax", fmt.Sprintf("%s of %s is added, as shown.", r.TaxName, orders.Percent(r.Tax)))
	}
	validity := "This offer holds until " + DayText(q.Valid) + "."
	if q.Revision > 1 {
		validity += " It takes the place of every earlier revision."
	}
	add("Validity", validity)
	add("Dates", "Glue has to cure and finish to dry: the days shown hold for an order placed on "+DayText(q.Date)+", and are confirmed when you order.")
	add("Changes", "A change after acceptance is priced as the difference and confirmed by you before work goes on.")
	add("Wood", "Colour and figure differ from board to board. Sizes are those of the box when made; wood moves a little with the seasons.")
	add("Not included", "Carriage, and whatever is not written here.")
	if r.Terms != "" {
		add("Also", r.Terms)
	}
	return out
}

// depositTerm says what is paid when, offer by offer where that differs.
func depositTerm(q *jigplan.Quote) string {
	var percents []float64
	EachOffer(q, func(_ *jigplan.Article, _ *jigplan.Option, o *jigplan.Offer) {
		if Offered(o) {
			percents = append(percents, o.Price.Percent)
		}
	})
	if len(percents) == 0 {
		return ""
	}
	low, high := percents[0], percents[0]
	for _, p := range percents {
		low, high = min(low, p), max(high, p)
	}
	switch {
	case high == 0:
		return "The whole on delivery."
	case low == high && high == 100:
		return "The whole on acceptance."
	case low == high:
		return fmt.Sprintf("%s of the total on acceptance, the balance on delivery.", orders.Percent(high))
	}
	return fmt.Sprintf("A deposit of %s to %s of the total on acceptance, as the invoice for it says; the balance on delivery.", orders.Percent(low), orders.Percent(high))
}

// EachOffer visits every offer of a quote.
func EachOffer(q *jigplan.Quote, visit func(*jigplan.Article, *jigplan.Option, *jigplan.Offer)) {
	for a := range q.Articles {
		for k := range q.Articles[a].Options {
			o := &q.Articles[a].Options[k]
			for i := range o.Offers {
				visit(&q.Articles[a], o, &o.Offers[i])
			}
		}
	}
}

// Cartons says how the counts of an option arrive, a carton size a part.
func Cartons(o *jigplan.Option, w Words) string {
	var parts []string
	last := orders.Size{}
	for i := range o.Offers {
		f, p := &o.Offers[i], &o.Offers[i].Packed
		if !Offered(f) || p.Kilograms == 0 || p.Each == 0 {
			continue
		}
		text := fmt.Sprintf("%d in %s", f.Quantity, Counted(p.Cartons, "carton", "cartons"))
		if len(o.Offers) == 1 && p.Cartons == 1 {
			text = "one carton"
		}
		if p.Carton != last {
			text += fmt.Sprintf(" of %s inside, %s when full", sizeText(p.Carton, w), w.Weight(p.CartonKg))
		}
		last = p.Carton
		parts = append(parts, text)
	}
	return strings.Join(parts, "; ")
}

// Change is one price of a revision beside the one before.
type Change struct {
	Name               string
	Quantity           int
	Before, Now, Each  orders.Money
	HadPrice, HasPrice bool
	Standing           string // "new", "no longer offered"
	What               string // what is different; empty: nothing but the price, or nothing
}

// Changes compares a revision with the one before, offer by offer; what is no
// longer offered stands at the end.
func Changes(q *jigplan.Quote) (out []Change) {
	if q.Before == nil {
		return nil
	}
	matched := map[int]bool{}
	EachOffer(q, func(a *jigplan.Article, o *jigplan.Option, f *jigplan.Offer) {
		if !Offered(f) {
			return
		}
		c := Change{Name: OptionName(a, o), Quantity: f.Quantity, Now: f.Price.Total, Each: f.Price.Each, HasPrice: true, Standing: "new"}
		for i, b := range q.Before.Prices {
			if strings.EqualFold(b.Article, a.Name) && b.Option == o.Letter && b.Quantity == f.Quantity {
				matched[i], c.HadPrice, c.Before, c.Standing = true, true, b.Total, ""
				c.What = changedWords(b.Said, Said(q, o))
			}
		}
		out = append(out, c)
	})
	for i, b := range q.Before.Prices {
		if !matched[i] {
			name := b.Article
			if b.Option != "" {
				name += ", option " + b.Option
			}
			out = append(out, Change{Name: name, Quantity: b.Quantity, Before: b.Total, HadPrice: true, Standing: "no longer offered"})
		}
	}
	return out
}

// changedWords lists the parts of a description that are not the same.
func changedWords(before, now string) string {
	was, is := strings.Split(before, "; "), strings.Split(now, "; ")
	var out []string
	for i := range max(len(was), len(is)) {
		a, b := "", ""
		if i < len(was) {
			a = was[i]
		}
		if i < len(is) {
			b = is[i]
		}
		if a != b {
			out = append(out, fmt.Sprintf("%q is now %q", a, b))
		}
	}
	return strings.Join(out, "; ")
}

// InvoiceSummary is what the two invoices come to.
func InvoiceSummary(v *jigplan.Invoice) []Table {
	_, _, total := v.Sums()
	t := Table{Title: fmt.Sprintf("Quotation %s, revision %d, taken", v.Quote, v.Revision), Head: []string{"", ""}}
	for _, l := range v.Lines {
		t.Add(fmt.Sprintf("%s, %d", l.What, l.Quantity), Amount(l.Total, v.Currency))
	}
	t.Add("Total", Amount(total, v.Currency))
	if v.Accepted > 0 {
		t.Add(fmt.Sprintf("of which changed since revision %d", v.Accepted), signed(total-v.Before))
	}
	t.Add("Deposit", Amount(v.Deposit, v.Currency))
	t.Add("Balance", Amount(total-v.Paid, v.Currency))
	return []Table{t}
}
