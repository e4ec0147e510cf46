package document

import (
	"encoding/json"
	"regexp"
	"slices"
	"time"

	"batchwright/jigplan"
	"batchwright/orders/measure"
	"batchwright/reports"
)

// QuoteKind tells a quote's record from others.
const QuoteKind = "quote"

// Quote is a quote as the shop keeps it, version 1: it holds costs and is not
// for the customer. Dates are "2027-03-08"; an empty text is no date.
type Quote struct {
	Version  int            `json:"version"`
	Kind     string         `json:"kind"`
	Number   string         `json:"number"`
	Revision int            `json:"revision"`
	Date     string         `json:"date"`
	Valid    string         `json:"valid_until"`
	Customer string         `json:"customer"`
	Shop     string         `json:"shop"`
	Address  string         `json:"address"`
	To       string         `json:"customer_address"`
	Order    Order          `json:"order"`
	Whole    bool           `json:"whole"` // every row of the order is quoted
	Units    string         `json:"units"`
	Currency string         `json:"currency"`
	TaxName  string         `json:"tax_name"`
	Tax      json.Number    `json:"tax_percent"`
	Inside   bool           `json:"tax_included"` // each includes the tax
	Seed     int64          `json:"seed"`
	Settings Named          `json:"settings"`
	Articles []QuoteArticle `json:"articles"`
	Together *QuoteOffer    `json:"together"` // all articles as one batch; null: there is one article
	Revises  *QuoteRevised  `json:"revises"`  // the revision it is compared with; null: none
	Problems []Finding      `json:"problems"`
}

// QuoteArticle is what was asked for under one name.
type QuoteArticle struct {
	Name    string        `json:"name"`
	Options []QuoteOption `json:"options"`
}

// QuoteOption is one way to make it.
type QuoteOption struct {
	Letter  string       `json:"letter"` // empty: the only way
	Line    string       `json:"line"`
	Count   int          `json:"count"` // as ordered, without spares
	Said    string       `json:"said"`  // size, wood, joint, finish in a line
	Wood    string       `json:"wood"`
	Outside QuoteSize    `json:"outside"`
	Inside  QuoteSize    `json:"inside"`
	Offers  []QuoteOffer `json:"offers"`
}

// QuoteSize is a box's length, width and height.
type QuoteSize struct {
	Length json.Number `json:"length_mm"`
	Width  json.Number `json:"width_mm"`
	Height json.Number `json:"height_mm"`
}

// QuoteOffer is one quantity, planned for itself.
type QuoteOffer struct {
	Quantity  int         `json:"quantity"`
	Spares    int         `json:"spares"`
	Cannot    string      `json:"cannot"` // why it cannot be made; empty: it can
	By        string      `json:"price_by"`
	NoPrice   string      `json:"no_price"` // why; empty: there is one
	Each      json.Number `json:"each"`
	Net       json.Number `json:"net"`
	Tax       json.Number `json:"tax"`
	Total     json.Number `json:"total"`
	Deposit   json.Number `json:"deposit"`
	Cost      json.Number `json:"cost"`
	Bought    json.Number `json:"wood_to_buy"`
	Fee       json.Number `json:"card_fee"`
	Margin    json.Number `json:"margin_percent"`
	Wanted    json.Number `json:"wanted_percent"`
	Chance    json.Number `json:"chance_of_wanted"`
	Even      json.Number `json:"chance_not_below_cost"`
	Minutes   json.Number `json:"minutes"`
	P80       json.Number `json:"p80_minutes"`
	Boards    int         `json:"boards"`
	Done      string      `json:"done"`
	Delivery  string      `json:"delivery"`
	Arrives   string      `json:"wood_arrives"` // empty: the work waits for no wood
	MillFrom  string      `json:"milling_from"`
	Lines     []QuoteLine `json:"lines"`
	Kilograms json.Number `json:"box_kg"`
	Cartons   int         `json:"cartons"`
	Carton    QuoteSize   `json:"carton"`
	CartonKg  json.Number `json:"carton_kg"`
}

// QuoteLine is one line of the cost.
type QuoteLine struct {
	Kind     string      `json:"kind"`
	What     string      `json:"what"`
	Quantity json.Number `json:"quantity"`
	Unit     string      `json:"unit"`
	Rate     json.Number `json:"rate"`
	For      json.Number `json:"for"`
	Share    json.Number `json:"share"`
	Amount   json.Number `json:"amount"`
	Missing  bool        `json:"missing"`
	From     string      `json:"from"`
}

// QuoteRevised is the revision a quote comes after.
type QuoteRevised struct {
	Revision int           `json:"revision"`
	Date     string        `json:"date"`
	Prices   []QuoteBefore `json:"prices"`
}

// QuoteBefore is one of its prices.
type QuoteBefore struct {
	Article  string      `json:"article"`
	Option   string      `json:"option"`
	Quantity int         `json:"quantity"`
	Said     string      `json:"said"`
	Each     json.Number `json:"each"`
	Total    json.Number `json:"total"`
	Taken    bool        `json:"taken"` // the customer accepted it
}

// OfQuote is a quote as a document.
func OfQuote(q *jigplan.Quote) Quote {
	s := &q.Order.Settings
	doc := Quote{
		Version: 1, Kind: QuoteKind, Number: q.Number, Revision: q.Revision, Date: date(q.Date), Valid: date(q.Valid), Customer: q.Customer,
		Shop: s.Rates.ShopName, Address: s.Rates.Address, To: s.Rates.CustomerAddress, Order: Order{q.Order.File, q.Order.SHA256}, Units: s.Units.String(), Currency: s.Currency,
		TaxName: s.Rates.TaxName, Tax: float(s.Rates.Tax), Inside: s.Rates.TaxInside(), Seed: q.Seed, Settings: usedSettings(s.Used()), Problems: Findings(q.Findings), Whole: whole(q),
	}
	doc.Articles = each(q.Articles, func(a *jigplan.Article) QuoteArticle {
		return QuoteArticle{a.Name, each(a.Options, func(o *jigplan.Option) QuoteOption { return quoteOption(q, o) })}
	})
	if q.Together != nil {
		offer := quoteOffer(q.Together)
		doc.Together = &offer
	}
	if b := q.Before; b != nil {
		doc.Revises = &QuoteRevised{b.Revision, b.Date, each(b.Prices, func(p *jigplan.PriceBefore) QuoteBefore {
			return QuoteBefore{p.Article, p.Option, p.Quantity, p.Said, money(p.Each), money(p.Total), p.Taken}
		})}
	}
	return doc
}

func whole(q *jigplan.Quote) bool {
	rows, loose := 0, len(q.Order.Loose) == 0
	for _, a := range q.Articles {
		for _, o := range a.Options {
			if o.Line < 0 {
				loose = true
			} else {
				rows++
			}
		}
	}
	return loose && rows == len(q.Order.Boxes)
}

// Priced reports whether anything can be taken.
func (q *Quote) Priced() bool {
	for _, a := range q.Articles {
		for _, o := range a.Options {
			for i := range o.Offers {
				if o.Offers[i].offered() {
					return true
				}
			}
		}
	}
	return false
}

func quoteOption(q *jigplan.Quote, o *jigplan.Option) QuoteOption {
	return QuoteOption{Letter: o.Letter, Line: o.Box.Source.String(), Count: o.Box.Count - o.Box.Spare, Said: reports.Said(q, o), Wood: o.Box.Wood,
		Outside: quoteSize(o.Build.Outside), Inside: quoteSize(o.Build.Inside), Offers: each(o.Offers, quoteOffer)}
}

func quoteSize(s measure.Size) QuoteSize {
	return QuoteSize{length(s.Length), length(s.Width), length(s.Height)}
}

func quoteOffer(o *jigplan.Offer) QuoteOffer {
	p := &o.Price
	out := QuoteOffer{
		Quantity: o.Quantity, Spares: o.Spares, Cannot: o.Cannot, By: string(p.By), NoPrice: p.Why,
		Each: money(p.Each), Net: money(p.Net), Tax: money(p.Tax), Total: money(p.Total), Deposit: money(p.Deposit),
		Cost: money(o.Cost.Total), Bought: money(o.Cost.Bought), Fee: money(p.Fee), Margin: float(p.Margin), Wanted: float(p.Wanted),
		Chance: float(p.Chance), Even: float(p.Even), Done: moment(o.Done), Delivery: date(o.Delivery), Arrives: date(o.Arrives), MillFrom: date(o.MillFrom),
		Lines: each(o.Cost.Lines, quoteLine), Kilograms: float(o.Packed.Kilograms), Cartons: o.Packed.Cartons,
		Carton: quoteSize(o.Packed.Carton), CartonKg: float(o.Packed.CartonKg), Minutes: "0", P80: "0",
	}
	if o.Plan != nil {
		out.Minutes, out.P80, out.Boards = float(o.Plan.Time.Minutes), float(o.Plan.Time.P80Minutes), len(o.Plan.Layout.Boards)
	}
	return out
}

func quoteLine(l *jigplan.CostLine) QuoteLine {
	return QuoteLine{string(l.Kind), l.What, float(l.Quantity), l.Unit, money(l.Rate), float(l.For), float(l.Share), money(l.Amount), l.Missing, l.From}
}

func moment(t time.Time) string {
	if t.IsZero() {
		return ""
	}
	return clock(t)
}

// Same reports whether two revisions tell the same and cost the same, whatever
// their numbers, their notes and the hour of day.
func (q Quote) Same(other Quote) bool {
	plain := func(doc Quote) string {
		doc.Revision, doc.Revises = 0, nil
		doc.Problems = slices.DeleteFunc(slices.Clone(doc.Problems), func(p Finding) bool { return p.Level == "note" })
		text, err := json.Marshal(doc)
		if err != nil {
			return ""
		}
		return string(doneAt.ReplaceAll(text, nil))
	}
	a, b := plain(q), plain(other)
	return a == b && a != ""
}

// doneAt is the moment an offer's work ends, which moves with the hour of the
// quote; the day of delivery is what was told.
var doneAt = regexp.MustCompile(`"done":"[^"]*",`)

// Before is what a later revision compares itself with. taken are the texts of
// the offers that the customer accepted.
func (q *Quote) Before(taken []string) jigplan.QuoteBefore {
	b := jigplan.QuoteBefore{Number: q.Number, Revision: q.Revision, Date: q.Date}
	accepted := map[string]bool{}
	if takes, err := q.Take(taken); err == nil && len(taken) > 0 {
		for _, t := range takes {
			accepted[t.Text] = true
		}
	}
	for _, t := range q.Offered() {
		p := jigplan.PriceBefore{Article: allTogether, Quantity: t.Offer.Quantity, Said: t.Said, Each: t.Each(),
			Total: amountOf(t.Offer.Total), Taken: accepted[t.Text]}
		if !t.All {
			p.Article, p.Option = t.article, t.option
		}
		if !t.All || p.Taken {
			b.Prices = append(b.Prices, p)
		}
	}
	return b
}

// amountOf reads back what money wrote.
func amountOf(n json.Number) measure.Money {
	negative := len(n) > 0 && n[0] == '-'
	text := string(n)
	if negative {
		text = text[1:]
	}
	m, err := measure.ParseMoney(text, false)
	if err != nil {
		return 0
	}
	if negative {
		return -m
	}
	return m
}
