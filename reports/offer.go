package reports

import (
	"cmp"
	"fmt"
	"maps"
	"slices"
	"strings"
	"time"

	"batchwright/jigplan"
	"batchwright/orders/measure"
)

// What the customer is told. Nothing here is taken from a cost, a rate or a
// margin.

// QuoteName is a quote's number with its revision.
func QuoteName(q *jigplan.Quote) string { return fmt.Sprintf("%s, revision %d", q.Number, q.Revision) }

// DayText is a date as the shop writes it; empty for none.
func DayText(t time.Time, unit measure.Unit) string {
	if t.IsZero() {
		return ""
	}
	return unit.Date(t)
}

// QuoteFacts head a quote.
func QuoteFacts(q *jigplan.Quote) []Pair {
	var out []Pair
	if q.Customer != "" {
		out = append(out, Pair{"For", q.Customer})
	}
	return append(out, Pair{"Date", DayText(q.Date, q.Order.Settings.Units)}, Pair{"Valid until", DayText(q.Valid, q.Order.Settings.Units)})
}

// ReadyText is the day the customer can have it.
func ReadyText(o *jigplan.Offer, unit measure.Unit) string {
	if o.Delivery.IsZero() {
		return "to be agreed"
	}
	return unit.Date(o.Delivery)
}

// QuoteTerms are the terms of a quote.
func QuoteTerms(q *jigplan.Quote) (out []Pair) {
	r := &q.Order.Settings.Rates
	add := func(name, text string) { out = append(out, Pair{name, text}) }
	add("Payment", depositTerm(q))
	if r.TaxInside() {
		add("Tax", fmt.Sprintf("Prices include %s %s, as shown.", q.Order.Settings.Units.Percent(r.Tax, -1), r.TaxName))
	} else if r.Tax > 0 {
		add("Tax", fmt.Sprintf("%s %s is added, as shown.", q.Order.Settings.Units.Percent(r.Tax, -1), r.TaxName))
	}
	validity := "This offer holds until " + DayText(q.Valid, q.Order.Settings.Units) + "."
	if q.Revision > 1 {
		validity += " It replaces every earlier revision."
	}
	add("Validity", validity)
	add("Dates", "The days shown are for an order placed on "+DayText(q.Date, q.Order.Settings.Units)+". They include time to buy wood, let it rest, and let glue and finish dry. We confirm them when you order.")
	add("Changes", "A change after acceptance is priced as the difference and confirmed by you before work goes on.")
	add("Wood", "Color and figure differ from board to board. Sizes are those of the box when made; wood moves a little with the seasons.")
	add("Not included", "Shipping, and anything not written here.")
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
		return "Full payment on delivery."
	case low == high && high == 100:
		return "Full payment on acceptance."
	case low == high:
		return fmt.Sprintf("%s of the total on acceptance, the balance on delivery.", q.Order.Settings.Units.Percent(high, -1))
	}
	return fmt.Sprintf("A deposit of %s to %s of the total on acceptance, as on its invoice; the balance on delivery.", q.Order.Settings.Units.Percent(low, -1), q.Order.Settings.Units.Percent(high, -1))
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
	last := measure.Size{}
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

// Change is one thing that a revision offers, beside what it was before.
type Change struct {
	Name               string
	CountBefore, Count int
	Before, Now        measure.Money
	HadPrice, HasPrice bool
	What               string // what is different about it; empty: nothing but count or price
	Offer              *jigplan.Offer
}

// Difference is what the change adds to the total.
func (c *Change) Difference() measure.Money { return c.Now - c.Before }

// Changes compares a revision with the one before. Where the customer has
// accepted something, only that counts as before: options that were not taken
// are no part of the change. What belongs together is found by what it is: its
// name, its description, its option letter, and only then its count.
func Changes(q *jigplan.Quote) (out []Change) {
	if q.Before == nil {
		return nil
	}
	accepted := slices.ContainsFunc(q.Before.Prices, func(b jigplan.PriceBefore) bool { return b.Taken })
	now := offersNow(q)
	pairs := pairUp(q, now, accepted)
	for i := range now {
		n := &now[i]
		b, had := pairs[i]
		if !had && accepted && wasOffered(q.Before, n.article) {
			continue
		}
		c := Change{Name: n.name, Count: n.offer.Quantity, Now: n.offer.Price.Total, HasPrice: true, Offer: n.offer}
		if had {
			was := &q.Before.Prices[b]
			c.HadPrice, c.Before, c.CountBefore, c.What = true, was.Total, was.Quantity, changedWords(was.Said, n.said)
		}
		out = append(out, c)
	}
	for b := range q.Before.Prices {
		was := &q.Before.Prices[b]
		if !slices.Contains(slices.Collect(maps.Values(pairs)), b) && (was.Taken || !accepted) {
			name := was.Article
			if was.Option != "" {
				name += ", option " + was.Option
			}
			out = append(out, Change{Name: name, CountBefore: was.Quantity, Before: was.Total, HadPrice: true})
		}
	}
	return out
}

// offerNow is an offer with what tells it from the others.
type offerNow struct {
	name, article, letter, said string
	offer                       *jigplan.Offer
}

func offersNow(q *jigplan.Quote) (out []offerNow) {
	EachOffer(q, func(a *jigplan.Article, o *jigplan.Option, f *jigplan.Offer) {
		if Offered(f) {
			out = append(out, offerNow{OptionName(a, o), a.Name, o.Letter, Said(q, o), f})
		}
	})
	if q.Together != nil && Offered(q.Together) &&
		slices.ContainsFunc(q.Before.Prices, func(b jigplan.PriceBefore) bool { return b.Taken && b.Article == allTogether }) {
		return []offerNow{{name: allTogether, article: allTogether, offer: q.Together}}
	}
	return out
}

// allTogether names the whole order, taken as one batch.
const allTogether = "all together"

// pairUp finds for offers of today, by index, the price before that is of the
// same thing: the best matches first.
func pairUp(q *jigplan.Quote, now []offerNow, accepted bool) map[int]int {
	type match struct{ now, before, score int }
	var matches []match
	for i := range now {
		for b := range q.Before.Prices {
			was := &q.Before.Prices[b]
			if accepted && !was.Taken || !strings.EqualFold(was.Article, now[i].article) {
				continue
			}
			score := 0
			for weight, same := range map[int]bool{4: was.Said == now[i].said, 2: was.Option == now[i].letter,
				1: was.Quantity == now[i].offer.Quantity} {
				if same {
					score += weight
				}
			}
			matches = append(matches, match{i, b, score})
		}
	}
	slices.SortStableFunc(matches, func(a, b match) int { return cmp.Compare(b.score, a.score) })
	pairs, used := map[int]int{}, map[int]bool{}
	for _, m := range matches {
		if _, paired := pairs[m.now]; !paired && !used[m.before] {
			pairs[m.now], used[m.before] = m.before, true
		}
	}
	return pairs
}

func wasOffered(b *jigplan.QuoteBefore, article string) bool {
	return slices.ContainsFunc(b.Prices, func(p jigplan.PriceBefore) bool { return strings.EqualFold(p.Article, article) })
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

// InvoiceSummary is an account: invoices, payments and what is open.
func InvoiceSummary(a *jigplan.Account, u measure.Unit) []Table {
	t := Table{Title: fmt.Sprintf("Quotation %s, revision %d, accepted", a.Quote, a.Revision), Head: []string{"", "Date", "Due", "Amount"}, Numbers: []int{3}}
	currency := ""
	for i := range a.Invoices {
		v := &a.Invoices[i]
		_, _, total := v.Sums()
		currency = v.Currency
		t.Add(InvoiceName(v), u.Date(v.Date), u.Date(v.Due), InUnit(total, currency, u))
	}
	for _, p := range a.Payments {
		t.Add(joined(", ", "Paid", p.Note), u.Date(p.Day), "", InUnit(-p.Amount, currency, u))
	}
	asked, _, open := a.Sums()
	name := "To be paid"
	if open < 0 {
		name = "Owed to the customer"
	}
	t.Add(name, "", "", InUnit(max(open, -open), currency, u))
	if a.Accepted > 0 && a.Accepted != a.Revision {
		t.Note(fmt.Sprintf("The change since revision %d: %s.", a.Accepted, signed(asked-a.Before, u)))
	}
	return []Table{t}
}

// InvoiceName is "Deposit invoice 17"; without a number before it is given.
func InvoiceName(v *jigplan.Invoice) string {
	if v.Number == 0 {
		return v.Title() + ", draft"
	}
	return fmt.Sprintf("%s %d", v.Title(), v.Number)
}

// InUnit is money as the shop writes numbers.
func InUnit(m measure.Money, currency string, u measure.Unit) string {
	return joined(" ", u.Mark(m.String()), currency)
}
