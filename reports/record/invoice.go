package record

import (
	"fmt"
	"strconv"
	"strings"

	"batchwright/jigplan"
)

// Invoice is what a quote's record comes to when some of it is taken. Each take
// is "BOX=COUNT" or "BOX OPTION=COUNT" ("Tea box A=25"); "all together" is the
// whole as one batch. The deposit is that of the revision that was accepted.
func (q *Quote) Invoice(takes []string) (jigplan.Invoice, error) {
	v := jigplan.Invoice{Quote: q.Number, Revision: q.Revision, Customer: q.Customer, Shop: q.Shop, Address: q.Address, Currency: q.Currency, TaxName: q.TaxName}
	v.Tax, _ = q.Tax.Float64()
	for _, take := range takes {
		line, err := q.take(take)
		if err != nil {
			return v, err
		}
		v.Lines = append(v.Lines, line)
	}
	if q.Revises != nil {
		for _, l := range v.Lines {
			if l.Changed {
				v.Accepted = q.Revises.Revision
			}
		}
	}
	_, _, _, v.Paid, _ = v.Sums()
	return v, nil
}

func (q *Quote) take(text string) (jigplan.InvoiceLine, error) {
	name, count, counted := strings.Cut(text, "=")
	name = strings.Join(strings.Fields(name), " ")
	if strings.EqualFold(name, "all together") && q.Together != nil {
		return invoiceLine("all together, as one batch", "", *q.Together), nil
	}
	n, err := strconv.Atoi(strings.TrimSpace(count))
	if !counted || err != nil {
		return jigplan.InvoiceLine{}, fmt.Errorf("%q is not BOX=COUNT: %s", text, q.choices())
	}
	for _, a := range q.Articles {
		for _, o := range a.Options {
			if !strings.EqualFold(name, a.Name) && !strings.EqualFold(name, a.Name+" "+o.Letter) && !strings.EqualFold(name, a.Name+", option "+o.Letter) || strings.EqualFold(name, a.Name) && len(a.Options) > 1 {
				continue
			}
			for _, f := range o.Offers {
				if f.Quantity == n && f.Cannot == "" && f.NoPrice == "" {
					return q.withBefore(invoiceLine(label(a, o), o.Said, f), a, o), nil
				}
			}
		}
	}
	return jigplan.InvoiceLine{}, fmt.Errorf("%q was not offered: %s", text, q.choices())
}

func label(a QuoteArticle, o QuoteOption) string {
	if o.Letter == "" {
		return a.Name
	}
	return a.Name + ", option " + o.Letter
}

func invoiceLine(what, said string, f QuoteOffer) jigplan.InvoiceLine {
	return jigplan.InvoiceLine{What: what, Said: said, Quantity: f.Quantity, Each: amountOf(f.Each), Net: amountOf(f.Net), Tax: amountOf(f.Tax),
		Total: amountOf(f.Total), Deposit: amountOf(f.Deposit)}
}

// withBefore adds what the same offer was in the revision that was accepted.
func (q *Quote) withBefore(l jigplan.InvoiceLine, a QuoteArticle, o QuoteOption) jigplan.InvoiceLine {
	if q.Revises == nil {
		return l
	}
	for _, b := range q.Revises.Prices {
		if strings.EqualFold(b.Article, a.Name) && b.Option == o.Letter && b.Quantity == l.Quantity {
			l.Changed, l.Before, l.Deposit = true, amountOf(b.Total), amountOf(b.Deposit)
		}
	}
	return l
}

// choices lists what can be taken.
func (q *Quote) choices() string {
	var out []string
	for _, a := range q.Articles {
		for _, o := range a.Options {
			for _, f := range o.Offers {
				if f.Cannot == "" && f.NoPrice == "" {
					out = append(out, fmt.Sprintf("%q", strings.TrimSpace(a.Name+" "+o.Letter)+"="+strconv.Itoa(f.Quantity)))
				}
			}
		}
	}
	if q.Together != nil {
		out = append(out, `"all together"`)
	}
	return "take one of " + strings.Join(out, ", ")
}
