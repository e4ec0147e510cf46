package workbook

import (
	"fmt"
	"slices"
	"strings"

	"batchwright/jigplan"
	"batchwright/orders/measure"
	"batchwright/orders/settings"
	"batchwright/reports"
	"batchwright/reports/draw"
)

// Quote is the customer's workbook: what is offered, for how much, by when, on
// which terms; and a sheet to approve and sign. Nothing in the file says what
// anything costs the shop. The same quote gives the same bytes.
func Quote(q *jigplan.Quote) ([]byte, error) {
	b, err := newBook(q.Order.Settings.Units, reports.QuoteName(q), "")
	if err != nil {
		return nil, err
	}
	w := &offerBook{book: b, quote: q, set: &q.Order.Settings, rows: map[*jigplan.Offer]int{}}
	offer, err := w.offer()
	if err != nil {
		return nil, err
	}
	approval, err := w.approval()
	if err != nil {
		return nil, err
	}
	sheets := []*sheet{offer, approval}
	if q.Before != nil {
		sheets = append(sheets, w.changes())
	}
	for _, s := range sheets {
		if err := b.emit(s); err != nil {
			return nil, fmt.Errorf("write the quote: %w", err)
		}
	}
	return b.bytes()
}

type offerBook struct {
	*book
	quote *jigplan.Quote
	set   *settings.Shop
	rows  map[*jigplan.Offer]int // the row of each offer on the sheet Quote
}

// onQuote is a figure of an offer on the sheet Quote, for the other sheets.
func (w *offerBook) onQuote(o *jigplan.Offer, column int, value float64) formula {
	return formula{refOn("Quote", column, w.rows[o]), value}
}

// The columns of an offer on the sheet Quote.
func (w *offerBook) countColumn() int { return w.offerGrid()[0] }
func (w *offerBook) eachColumn() int  { return w.countColumn() + 1 }
func (w *offerBook) totalColumn() int {
	switch {
	case w.set.Rates.TaxInside():
		return 3
	case w.set.Rates.Tax > 0:
		return 5
	}
	return 4
}

// letterhead is the shop's name and address, then what the paper is.
func (b *book) letterhead(s *sheet, r *settings.Rates, title string) {
	all := len(s.widths)
	if r.ShopName != "" {
		s.add(cell{0, all, r.ShopName, style{bold: true, size: 14, single: true}})
	}
	if r.Address != "" {
		s.add(cell{0, all, r.Address, style{size: 9}})
	}
	s.gap(3)
	s.add(cell{0, all, title, style{bold: true, size: 16, single: true}})
}

// The columns of the customer's sheets.
var offerWidths = []float64{14, 7, 11, 11, 10, 12, 11}

func (w *offerBook) offer() (*sheet, error) {
	q := w.quote
	s := &sheet{name: "Quote", widths: offerWidths}
	w.letterhead(s, &w.set.Rates, "Quotation "+reports.QuoteName(q))
	s.pairs(reports.QuoteFacts(q), 2)
	for a := range q.Articles {
		if err := w.article(s, &q.Articles[a]); err != nil {
			return nil, err
		}
	}
	if q.Together != nil && q.Together.Cannot == "" {
		s.heading("All of the above together")
		s.paragraph("One of each line above in its first option, at the ordered count, made as one batch:")
		w.priceHead(s, "")
		w.priceRow(s, "all together", q.Together)
	}
	s.heading("Terms")
	s.pairs(reports.QuoteTerms(q), 2)
	return s, nil
}

// article is what one thing is, its options side by side, and its prices.
func (w *offerBook) article(s *sheet, a *jigplan.Article) error {
	s.heading(a.Name)
	if err := w.drawings(s, a, 56); err != nil {
		return err
	}
	s.together(func() { w.described(s, a) })
	s.gap(2)
	s.together(func() {
		w.priceHead(s, optionHead(a))
		for k := range a.Options {
			o := &a.Options[k]
			for i := range o.Offers {
				label := ""
				if i == 0 {
					label = optionLabel(o)
				}
				w.priceRow(s, label, &o.Offers[i])
			}
		}
	})
	w.packed(s, a)
	return nil
}

// packed says how each option arrives; options that arrive alike are told once.
func (w *offerBook) packed(s *sheet, a *jigplan.Article) {
	letters, texts := map[string]string{}, []string{}
	for k := range a.Options {
		text := reports.Cartons(&a.Options[k], reports.Words{Unit: w.set.Units})
		if text == "" {
			continue
		}
		if _, told := letters[text]; !told {
			texts = append(texts, text)
		}
		letters[text] = joined(", ", letters[text], a.Options[k].Letter)
	}
	s.gap(1)
	s.together(func() {
		for _, text := range texts {
			if letters[text] == "" {
				s.paragraph("Packed: " + text + ".")
			} else {
				s.paragraph("Packed, option " + letters[text] + ": " + text + ".")
			}
		}
	})
}

func optionHead(a *jigplan.Article) string {
	if len(a.Options) > 1 {
		return "Option"
	}
	return ""
}

func optionLabel(o *jigplan.Option) string {
	if o.Letter == "" {
		return ""
	}
	return joined(": ", o.Letter, joined(", ", o.Box.Wood, joined(", ", o.Differ...)))
}

// drawings draws each option whose shape is not drawn yet, under the letters
// of all that have it.
func (w *offerBook) drawings(s *sheet, a *jigplan.Article, tall float64) error {
	views, letters, keys := map[string]reports.BoxViews{}, map[string]string{}, []string{}
	for k := range a.Options {
		v, ok := reports.Views(w.quote, &a.Options[k])
		if !ok {
			continue
		}
		key := fmt.Sprint(v)
		if _, drawn := views[key]; !drawn {
			keys = append(keys, key)
		}
		views[key], letters[key] = v, joined(", ", letters[key], a.Options[k].Letter)
	}
	if len(keys) > 1 {
		tall *= 0.75
	}
	for _, key := range keys {
		v := views[key]
		p, err := draw.Box(v, 157, tall)
		if err != nil {
			return err
		}
		if len(keys) > 1 {
			s.paragraph("Option " + letters[key])
			s.hold()
		}
		s.picture(p, fmt.Sprintf("%s from the front, the end and above, %s long, %s wide, %s high outside", joined(", option ", a.Name, letters[key]), v.LengthText, v.WidthText, v.HeightText))
		s.hold()
	}
	return nil
}

// described lists what the customer gets: up to three options side by side,
// more one after the other.
func (w *offerBook) described(s *sheet, a *jigplan.Article) {
	const beside = 3
	for from := 0; from < len(a.Options); from += beside {
		group := a.Options[from:min(from+beside, len(a.Options))]
		g := grid{1, 6}
		if len(group) > 1 {
			g = map[int]grid{2: {1, 3, 3}, 3: {1, 2, 2, 2}}[len(group)]
			head := []string{""}
			for k := range group {
				head = append(head, "Option "+group[k].Letter)
			}
			s.head(head, g)
		}
		w.describedRows(s, group, g)
	}
}

func (w *offerBook) describedRows(s *sheet, group []jigplan.Option, g grid) {
	said := make([]map[string]string, len(group))
	var names []string
	for k := range group {
		said[k] = map[string]string{}
		at := 0
		for _, p := range reports.Described(w.quote, &group[k]) {
			said[k][p.Name] = p.Text
			if found := slices.Index(names, p.Name); found >= 0 {
				at = found + 1
				continue
			}
			names = slices.Insert(names, at, p.Name)
			at++
		}
	}
	for _, name := range names {
		cells := []cell{{0, g[0], name, style{bold: true, rim: thin}}}
		col := g[0]
		for k := range group {
			cells = append(cells, cell{col, g[k+1], said[k][name], style{rim: thin, bold: said[k][name] != said[0][name]}})
			col += g[k+1]
		}
		s.add(cells...)
	}
}

// offerGrid is how the columns of a price table lie: without tax nothing is
// said twice.
func (w *offerBook) offerGrid() grid {
	if w.set.Rates.Tax > 0 {
		return ones(7)
	}
	return grid{2, 1, 1, 2, 1}
}

func (w *offerBook) priceHead(s *sheet, first string) {
	total := joined(", ", "Total", w.set.Currency)
	head, numbers := []string{first, "Count", "Price each", total, "Ready by"}, []int{1, 2, 3}
	if w.set.Rates.Tax > 0 {
		numbers = []int{1, 2, 3, 4, 5}
		head = []string{first, "Count", "Price each", "Together", taxHead(w.set.Rates.TaxName, w.set.Rates.Tax, w.set.Units), total, "Ready by"}
	}
	if w.set.Rates.TaxInside() {
		head[3], head[4], head[5] = total, head[4]+" in it", "Without it"
	}
	s.head(head, w.offerGrid(), numbers...)
}

// taxHead is a tax with its percentage, which stays in one piece.
func taxHead(name string, percent float64, u measure.Unit) string {
	const hard = "\u00a0"
	return name + " " + strings.ReplaceAll(u.Percent(percent, -1), " ", hard)
}

// priceRow is one count and its price. The totals follow the price, which is
// outlined: it may be changed, and where there is none it is filled in by hand.
func (w *offerBook) priceRow(s *sheet, label string, o *jigplan.Offer) {
	text, number := style{rim: thin}, style{rim: thin, across: right, single: true, format: "0", bold: true}
	g := w.offerGrid()
	if o.Cannot != "" {
		s.add(cell{0, g[0], label, text}, cell{g[0], 1, o.Quantity, number}, cell{g[0] + 1, 6 - g[0], "not offered at this count", text})
		return
	}
	row, p, at := s.next(), &o.Price, g[0]
	w.rows[o] = row
	strong, entered, each := moneyStyle, moneyStyle, any(money(p.Each))
	strong.bold, entered.bold, entered.rim = true, true, thick
	if p.By == jigplan.NoPrice {
		each = nil
	}
	amount, strong := blankZero(moneyStyle), blankZero(strong)
	cells := []cell{{0, g[0], label, text}, {at, 1, o.Quantity, number}, {at + 1, 1, each, entered}}
	together := formula{ref(at, row) + "*" + ref(at+1, row), money(p.Net)}
	switch {
	case w.set.Rates.TaxInside():
		together.value = money(p.Total)
		tax := formula{taxInside(ref(3, row), &w.set.Rates), money(p.Tax)}
		cells = append(cells, cell{3, 1, together, strong}, cell{4, 1, tax, amount}, cell{5, 1, formula{ref(3, row) + "-" + ref(4, row), money(p.Net)}, amount})
	case w.set.Rates.Tax > 0:
		tax := formula{toCents(ref(3, row) + "*" + figureText(w.set.Rates.Tax)), money(p.Tax)}
		cells = append(cells, cell{3, 1, together, amount}, cell{4, 1, tax, amount}, cell{5, 1, formula{ref(3, row) + "+" + ref(4, row), money(p.Total)}, strong})
	default:
		cells = append(cells, cell{4, 2, together, strong})
	}
	s.add(append(cells, cell{6, 1, reports.ReadyText(o, w.quote.Order.Settings.Units), style{rim: thin, indent: true, single: true}})...)
}

// blankZero shows nothing for zero: a total whose price is not filled in yet.
func blankZero(s style) style {
	s.format = "#,##0.00;-#,##0.00;"
	return s
}
