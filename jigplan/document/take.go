package document

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
	"time"

	"batchwright/jigplan"
	"batchwright/orders/measure"
)

// Take is one offer taken of a quote.
type Take struct {
	Name  string // "Tea box, option A"
	Text  string // "Tea box A=25", as it is asked for again
	Said  string // size, wood, joint, finish in a line
	Line  string // its row of the order; empty: the loose parts, or all together
	All   bool   // every article's first option at its count, as one batch
	Offer QuoteOffer

	article, option string
}

const allTogether = "all together"

// Take finds what is taken: each text is "BOX=COUNT" or "BOX OPTION=COUNT"
// ("Tea box A=25"); "all together" is the whole as one batch. Without a text it
// is every article at the order's own count, when that leaves no choice.
func (q *Quote) Take(texts []string) ([]Take, error) {
	if len(texts) == 0 {
		return q.only()
	}
	var out []Take
	for _, text := range texts {
		take, err := q.take(text)
		if err != nil {
			return nil, err
		}
		if slices.ContainsFunc(out, func(t Take) bool { return t.All || take.All || t.Name == take.Name }) {
			return nil, fmt.Errorf("%q is taken twice: name each box once", text)
		}
		out = append(out, take)
	}
	return out, nil
}

// only is what is taken when nothing has to be chosen.
func (q *Quote) only() (out []Take, err error) {
	if q.Together != nil && slices.ContainsFunc(q.Articles, func(a QuoteArticle) bool { return len(a.Options) > 1 }) {
		return nil, fmt.Errorf("it has to be said what was taken: %s", q.choices())
	}
	if q.Together != nil {
		return q.Take([]string{allTogether})
	}
	for i := range q.Articles {
		a := &q.Articles[i]
		o := &a.Options[0]
		offers := slices.DeleteFunc(slices.Clone(o.Offers), func(f QuoteOffer) bool { return !f.offered() })
		at := slices.IndexFunc(offers, func(f QuoteOffer) bool { return f.Quantity == o.Count || len(offers) == 1 })
		if len(a.Options) > 1 || at < 0 {
			return nil, fmt.Errorf("it has to be said what was taken: %s", q.choices())
		}
		out = append(out, taking(a, o, offers[at]))
	}
	return out, nil
}

func (f *QuoteOffer) offered() bool { return f.Cannot == "" && f.NoPrice == "" }

func taking(a *QuoteArticle, o *QuoteOption, f QuoteOffer) Take {
	return Take{Name: joinedName(a, o), Text: takeText(a, o, f.Quantity), Said: o.Said, Line: o.Line, Offer: f,
		article: a.Name, option: o.Letter}
}

// PlansOf are the plans behind the prices of a quote, each under the text that
// takes it.
func PlansOf(q *jigplan.Quote) map[string]*jigplan.Plan {
	out := map[string]*jigplan.Plan{}
	add := func(text string, f *jigplan.Offer) {
		if f.Cannot == "" && f.Price.By != jigplan.NoPrice {
			out[text] = f.Plan
		}
	}
	for i := range q.Articles {
		a := &q.Articles[i]
		for k := range a.Options {
			for n := range a.Options[k].Offers {
				f := &a.Options[k].Offers[n]
				add(offerText(a.Name, a.Options[k].Letter, f.Quantity), f)
			}
		}
	}
	if q.Together != nil {
		add(allTogether, q.Together)
	}
	return out
}

func takeText(a *QuoteArticle, o *QuoteOption, n int) string {
	return offerText(a.Name, o.Letter, n)
}

func offerText(name, letter string, n int) string {
	return strings.TrimSpace(name+" "+letter) + "=" + strconv.Itoa(n)
}

func joinedName(a *QuoteArticle, o *QuoteOption) string {
	if o.Letter == "" {
		return a.Name
	}
	return a.Name + ", option " + o.Letter
}

func (q *Quote) take(text string) (Take, error) {
	name, count, counted := strings.Cut(text, "=")
	name = strings.Join(strings.Fields(name), " ")
	if strings.EqualFold(name, allTogether) && q.Together != nil && q.Together.offered() {
		return Take{Name: "all together, as one batch", Text: allTogether, All: true, Offer: *q.Together}, nil
	}
	n, err := strconv.Atoi(strings.TrimSpace(count))
	if !counted || err != nil {
		return Take{}, fmt.Errorf("%q is not BOX=COUNT: %s", text, q.choices())
	}
	for i := range q.Articles {
		a := &q.Articles[i]
		for k := range a.Options {
			o := &a.Options[k]
			if !strings.EqualFold(name, strings.TrimSpace(a.Name+" "+o.Letter)) && !strings.EqualFold(name, joinedName(a, o)) {
				continue
			}
			for _, f := range o.Offers {
				if f.Quantity == n && f.offered() {
					return taking(a, o, f), nil
				}
			}
		}
	}
	return Take{}, fmt.Errorf("%q was not offered: %s", text, q.choices())
}

// choices lists what can be taken.
func (q *Quote) choices() string {
	var out []string
	for _, t := range q.Offered() {
		out = append(out, strconv.Quote(t.Text))
	}
	if len(out) == 0 {
		return "nothing has a price"
	}
	return "take one of " + strings.Join(out, ", ")
}

// Sums are what the offers taken come to.
func Sums(takes []Take) (net, tax, total, deposit measure.Money) {
	for i := range takes {
		f := &takes[i].Offer
		net, tax, total, deposit = net+amountOf(f.Net), tax+amountOf(f.Tax), total+amountOf(f.Total), deposit+amountOf(f.Deposit)
	}
	return net, tax, total, deposit
}

// Each is the price of one box.
func (t *Take) Each() measure.Money { return amountOf(t.Offer.Each) }

// Day is when the customer was promised it; zero: no day was.
func (t *Take) Day() time.Time {
	day, err := time.Parse(time.DateOnly, t.Offer.Delivery)
	if err != nil {
		return time.Time{}
	}
	return day
}

// Offered lists all that can be taken.
func (q *Quote) Offered() (out []Take) {
	for i := range q.Articles {
		a := &q.Articles[i]
		for k := range a.Options {
			for _, f := range a.Options[k].Offers {
				if f.offered() {
					out = append(out, taking(a, &a.Options[k], f))
				}
			}
		}
	}
	if q.Together != nil && q.Together.offered() {
		out = append(out, Take{Name: "all together, as one batch", Text: allTogether, All: true, Offer: *q.Together})
	}
	return out
}
