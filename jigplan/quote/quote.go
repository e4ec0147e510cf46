// Package quote prices an order: Make plans every quantity of every option,
// CostOf turns each plan into cost lines, Of turns those into a price, and the
// week gives the date. It also knows what a box weighs and which carton takes
// it. It leaves planning to plan, dates to week, and the papers to reports.
package quote

import (
	"cmp"
	"errors"
	"fmt"
	"slices"
	"strings"
	"time"

	"batchwright/jigplan"
	"batchwright/jigplan/check"
	"batchwright/jigplan/plan"
	"batchwright/jigplan/week"
	"batchwright/orders"
	"batchwright/orders/measure"
)

// Request is what is quoted, to whom, from when.
type Request struct {
	Order    *orders.Order
	Options  plan.Options
	Number   string
	Customer string      // whose rows are quoted; empty: everybody's, there being one
	From     time.Time   // no work is before it
	Open     []week.Open // jobs on the clock already
	Latest   int         // the revision kept before this one; 0: none
	Before   *jigplan.QuoteBefore
}

// Make plans every quantity of every option for itself and prices it. An order
// with errors, unless Partial, comes back with its problems and no article;
// where the rates alone are wrong there are costs and dates, and no price but
// the order's own. An error means that a check found fault with a plan.
func Make(r Request) (*jigplan.Quote, error) {
	o := r.Order
	q := &jigplan.Quote{Number: r.Number, Revision: r.Latest + 1, Date: week.Midnight(r.From), Customer: r.Customer, Order: o, Seed: r.Options.Limits.Seed,
		Others: len(r.Open), Before: r.Before}
	q.Valid = q.Date.AddDate(0, 0, int(o.Settings.Rates.ValidDays))
	unread := plan.Findings(o)
	q.Findings = append(Faults(&o.Settings), unread...)
	if orders.HasError(unread) && !r.Options.Partial {
		return q, nil
	}
	q.Articles = articles(o, r.Customer)
	work := &quoting{Request: r, quote: q}
	work.share()
	for a := range q.Articles {
		for k := range q.Articles[a].Options {
			if err := work.option(&q.Articles[a].Options[k]); err != nil {
				return q, err
			}
		}
		differences(&q.Articles[a])
	}
	return q, work.together()
}

// Customers are the customers an order names, each once, in order.
func Customers(o *orders.Order) (names []string) {
	for i := range o.Boxes {
		if name := o.Boxes[i].Customer; name != "" && !slices.ContainsFunc(names, func(n string) bool { return strings.EqualFold(n, name) }) {
			names = append(names, name)
		}
	}
	return names
}

// articles groups the customer's rows: those of one name are options of one
// article. Loose parts are an article of their own.
func articles(o *orders.Order, customer string) (out []jigplan.Article) {
	for i := range o.Boxes {
		b := &o.Boxes[i]
		if b.Customer != "" && customer != "" && !strings.EqualFold(b.Customer, customer) {
			continue
		}
		at := slices.IndexFunc(out, func(a jigplan.Article) bool { return strings.EqualFold(a.Name, b.Name) })
		if at < 0 {
			at = len(out)
			out = append(out, jigplan.Article{Name: b.Name})
		}
		out[at].Options = append(out[at].Options, jigplan.Option{Line: i, Box: *b})
	}
	for i := range out {
		if len(out[i].Options) < 2 {
			continue
		}
		for k := range out[i].Options {
			out[i].Options[k].Letter = letters(k)
		}
	}
	if len(o.Loose) > 0 && len(Customers(o)) < 2 { // whose they are is not said
		out = append(out, jigplan.Article{Name: "Loose parts", Options: []jigplan.Option{{Line: -1}}})
	}
	return out
}

// letters is A to Z, then AA.
func letters(n int) string {
	if n >= 26 {
		return letters(n/26-1) + letters(n%26)
	}
	return string(rune('A' + n))
}

// quantities are how many of an option are asked for, rising, each once.
func quantities(o *jigplan.Option) []int {
	if o.Line < 0 {
		return []int{1}
	}
	list := slices.Clone(o.Box.Quantities)
	if len(list) == 0 {
		list = []int{o.Box.Count - o.Box.Spare}
	}
	slices.Sort(list)
	return slices.Compact(list)
}

type quoting struct {
	Request
	quote *jigplan.Quote
}

// share gives every plan an equal part of the search.
func (w *quoting) share() {
	plans := 0
	for _, a := range w.quote.Articles {
		for k := range a.Options {
			plans += len(quantities(&a.Options[k]))
		}
	}
	if len(w.quote.Articles) > 1 {
		plans++
	}
	w.Options.Limits.Think = max(w.Options.Limits.Think/time.Duration(max(1, plans)), time.Millisecond)
}

func (w *quoting) option(o *jigplan.Option) error {
	for _, n := range quantities(o) {
		sub := w.only(o, n)
		offer := jigplan.Offer{Quantity: n, Spares: o.Box.Spare}
		if err := w.plan(&offer, sub, o.Box.Price); err != nil {
			return err
		}
		if o.Line >= 0 {
			describe(o, &offer)
			w.checkPrice(o, &offer)
		}
		o.Offers = append(o.Offers, offer)
	}
	return nil
}

// only is the order with nothing in it but so many boxes of an option.
func (w *quoting) only(o *jigplan.Option, n int) *orders.Order {
	sub := *w.Order
	sub.Boxes, sub.Candidates, sub.Findings = nil, nil, nil
	if o.Line >= 0 {
		box := o.Box
		box.Count = n + box.Spare
		sub.Boxes, sub.Loose = []orders.Box{box}, nil
	}
	return &sub
}

// plan plans, costs, prices and dates one offer.
func (w *quoting) plan(offer *jigplan.Offer, sub *orders.Order, fixed measure.Money) error {
	p, err := plan.Plan(sub, plan.Options{Partial: true, Limits: w.Options.Limits})
	if err != nil {
		return err
	}
	offer.Plan = p
	w.note(p.Findings)
	if why := plan.WhyNot(p); why != "" {
		offer.Cannot = why
		return nil
	}
	offer.Cost = CostOf(p)
	offer.Price = Of(&offer.Cost, offer.Quantity, fixed, &w.Order.Settings)
	rates := &w.Order.Settings.Rates
	if faults := append(check.Cost(p, &offer.Cost), check.Price(offer, rates.Tax, rates.CardFee, rates.TaxInside())...); len(faults) > 0 {
		return fmt.Errorf("%w: %w", jigplan.ErrFault, errors.Join(faults...))
	}
	chances(offer, &w.Order.Settings)
	offer.Movers = Movers(&offer.Cost, offer.Quantity, &w.Order.Settings)
	return w.date(offer)
}

// note keeps what planning an offer found, each finding once.
func (w *quoting) note(found []orders.Finding) {
	for _, p := range found {
		if p.Level != orders.Note && !slices.Contains(w.quote.Findings, p) {
			w.quote.Findings = append(w.quote.Findings, p)
		}
	}
}

// date puts an offer on the clock behind the work that is there already.
func (w *quoting) date(offer *jigplan.Offer) error {
	const id = "this quote"
	open := append(slices.Clone(w.Open), week.Open{ID: id, Name: w.Number, Plan: offer.Plan})
	schedule, err := week.Plan(week.Request{Open: open, From: w.From, Days: 1, Settings: &w.Order.Settings,
		Limits: week.Limits{Work: week.DateWork, Stop: w.Options.Limits.Stop}})
	if err != nil {
		return err
	}
	for _, j := range schedule.Jobs {
		if j.ID == id {
			offer.Arrives, offer.MillFrom = j.Arrives, j.MillFrom
		}
	}
	for _, f := range schedule.Schedule.Finishes {
		if f.Job == id {
			offer.Done = f.Done
		}
	}
	if !offer.Done.IsZero() {
		offer.Delivery = week.OpenDay(offer.Done, int(w.Order.Settings.Rates.DeliveryDays), w.Order.Settings.Week)
	}
	return nil
}

// describe takes from an offer's plan what holds for every quantity.
func describe(o *jigplan.Option, offer *jigplan.Offer) {
	p := offer.Plan
	if len(p.Builds) > 0 {
		o.Build = p.Builds[0]
	}
	if len(p.Programs) > 0 {
		o.Finger, o.Pattern = p.Programs[0].Finger, p.Programs[0].Pattern
		if off := p.Programs[0].OffAsked(); len(off) > 0 {
			o.Asked = off[0]
		}
	}
	var one []orders.Part
	for _, part := range p.Parts {
		if part.Unit == 1 && !part.IsLoose() {
			one = append(one, part)
		}
	}
	kg, unknown := Weight(one)
	offer.Packed = Packed(o.Build.Overall, kg, offer.Quantity, &p.Order.Settings)
	offer.Packed.Heaviest = unknown
}

// checkPrice warns of a price in the order that is below what the boxes cost.
func (w *quoting) checkPrice(o *jigplan.Option, offer *jigplan.Offer) {
	p := &offer.Price
	if p.By != jigplan.ByOrder || p.Left >= 0 {
		return
	}
	w.note([]orders.Finding{{Level: orders.Warning, Source: o.Box.Source, Read: p.Each.String(),
		Did: fmt.Sprintf("at %d the price of %s is below what the boxes cost: %s each", offer.Quantity, o.Box.Name, offer.Cost.Total.Per(float64(offer.Quantity))),
		Fix: "raise the Price, or clear it to use margin or markup"}})
}

// together plans the first option of every article at its count as one batch.
func (w *quoting) together() error {
	q := w.quote
	if len(q.Articles) < 2 {
		return nil
	}
	sub := *w.Order
	sub.Boxes, sub.Loose, sub.Candidates, sub.Findings = nil, nil, nil, nil
	offer := &jigplan.Offer{Quantity: 1} // a lot: it has one price
	fixed, all := measure.Money(0), true
	for _, a := range q.Articles {
		if a.Options[0].Line < 0 {
			sub.Loose, all = w.Order.Loose, false
			continue
		}
		box := a.Options[0].Box
		sub.Boxes = append(sub.Boxes, box)
		offer.Spares += box.Spare
		fixed += box.Price * measure.Money(box.Count-box.Spare)
		all = all && box.Price > 0
	}
	if !all {
		fixed = 0
	}
	q.Together = offer
	return w.plan(offer, &sub, fixed)
}

// differences says what but the wood sets each option apart from the first.
func differences(a *jigplan.Article) {
	first := &a.Options[0]
	for k := range a.Options {
		o := &a.Options[k]
		add := func(differs bool, text string) {
			if differs {
				o.Differ = append(o.Differ, text)
			}
		}
		b, f := &o.Box, &first.Box
		add(o.Finger != first.Finger, "other fingers")
		add(b.Lid != f.Lid, cmp.Or(string(b.Lid.Kind), "none")+" lid")
		add(b.Bottom != f.Bottom, cmp.Or(string(b.Bottom.Kind), "none")+" bottom")
		add(b.Dividers != f.Dividers, "dividers")
		add(b.Finish != f.Finish, cmp.Or(b.Finish, "no finish"))
		add(o.Build.Outside != first.Build.Outside && o.Build.Inside != first.Build.Inside, "another size")
		add(b.Matched != f.Matched || b.Opened != f.Opened, "grain")
	}
}
