package workbook

import (
	"fmt"
	"strings"

	"batchwright/jigplan"
	"batchwright/reports"
)

// Cost is the shop's own workbook of a quote: prices, rates, and a sheet an
// offer with every line of its cost. Rates, margin, counts and prices can be
// changed, and what follows from them follows. The same quote gives the same
// bytes.
func Cost(q *jigplan.Quote) ([]byte, error) {
	b, err := newBook(q.Order.Settings.Units, "Quote "+q.Number+": for the shop only", "NOT FOR THE CUSTOMER")
	if err != nil {
		return nil, err
	}
	w := &costBook{quote: q, rates: newRates(&q.Order.Settings)}
	w.gather()
	var details []*sheet
	for _, d := range w.details {
		b.title(d.sheet, d.title)
		w.detail(d)
		details = append(details, d.sheet)
	}
	sheets := append([]*sheet{w.prices(b), w.rates.sheet(b)}, details...)
	for _, s := range sheets {
		if err := b.emit(s); err != nil {
			return nil, fmt.Errorf("write the costs: %w", err)
		}
	}
	return b.bytes()
}

// costBook is the workbook while it is laid out.
type costBook struct {
	quote   *jigplan.Quote
	rates   *rateSheet
	details []*costDetail
}

// costDetail is one offer's sheet, and where its figures stand.
type costDetail struct {
	sheet  *sheet
	title  string
	name   string // of what is offered
	offer  *jigplan.Offer
	at     map[string]int                 // row of a figure in the last column but one
	groups map[jigplan.CostGroup][]string // the cells of each group's amounts
}

func (w *costBook) gather() {
	taken := map[string]bool{}
	add := func(name, short string, o *jigplan.Offer) {
		tab := clip(plainTab(fmt.Sprintf("%s %d", short, o.Quantity)), 31)
		for n := 2; taken[strings.ToLower(tab)]; n++ {
			tab = clip(plainTab(fmt.Sprintf("%s %d", short, o.Quantity)), 25) + fmt.Sprintf(" (%d)", n)
		}
		taken[strings.ToLower(tab)] = true
		s := &sheet{name: tab, landscape: true, fit: true, widths: []float64{14, 29, 11, 10, 10, 10, 8, 13, 12, 30}}
		w.details = append(w.details, &costDetail{sheet: s, title: fmt.Sprintf("%s, %d", name, o.Quantity), name: name, offer: o, at: map[string]int{}, groups: map[jigplan.CostGroup][]string{}})
	}
	for a := range w.quote.Articles {
		for k := range w.quote.Articles[a].Options {
			o := &w.quote.Articles[a].Options[k]
			for i := range o.Offers {
				add(reports.OptionName(&w.quote.Articles[a], o), strings.TrimSpace(clip(w.quote.Articles[a].Name, 20)+" "+o.Letter), &o.Offers[i])
			}
		}
	}
	if w.quote.Together != nil {
		add("All together, one batch", "All together", w.quote.Together)
	}
}

// plainTab takes out what a sheet's name may not hold.
func plainTab(name string) string {
	return strings.Map(func(r rune) rune {
		if strings.ContainsRune(`[]:*?/\'`, r) {
			return '-'
		}
		return r
	}, name)
}

// The columns of a detail sheet.
const (
	colKind = iota
	colWhat
	colQuantity
	colUnit
	colRate
	colFor
	colShare
	colExact
	colAmount
	colFrom
)

var moneyStyle = style{rim: thin, across: right, single: true, format: "#,##0.00"}

// detail is an offer's cost, line by line, and its price beneath.
func (w *costBook) detail(d *costDetail) {
	s, o := d.sheet, d.offer
	if o.Cannot != "" {
		s.paragraph("Cannot be made: " + o.Cannot)
		return
	}
	s.paragraph(spareText(o) + " Change the outlined count for a first look: costs by the box grow with it, setup does not. For exact costs quote that count.")
	d.at["count"] = s.next()
	s.add(cell{0, 2, "Boxes to sell", style{bold: true}}, cell{colQuantity, 1, o.Quantity, input("0")}, cell{colUnit, 6, "", style{}})
	s.gap(2)
	s.repeatNext()
	s.head([]string{"For", "What", "Quantity", "Unit", "Rate", "for", "Counts, %", "Whole, cents", "Amount", "Where in the plan"}, ones(10), colQuantity, colRate, colFor, colShare, colExact, colAmount)
	d.at["first"] = s.next()
	for _, l := range o.Cost.Lines {
		if l.Kind != jigplan.OverheadCost {
			w.line(d, l)
		}
	}
	for _, l := range o.Cost.Lines {
		if l.Kind == jigplan.OverheadCost {
			w.line(d, l)
		}
	}
	d.at["last"] = s.next() - 1
	w.totals(d)
	w.remarks(d)
}

func spareText(o *jigplan.Offer) string {
	if o.Spares == 0 {
		return ""
	}
	return fmt.Sprintf("%s more are made, and their cost is included.", reports.Counted(o.Spares, "spare is", "spares are"))
}

// input is the style of a cell that is meant to be changed.
func input(format string) style {
	return style{rim: thick, across: right, single: true, bold: true, middle: true, format: format}
}

// line is one line of the cost with its formula.
func (w *costBook) line(d *costDetail, l jigplan.CostLine) {
	s, row := d.sheet, d.sheet.next()
	d.groups[l.Group()] = append(d.groups[l.Group()], refOn(s.name, colAmount, row))
	grows := l.Kind != jigplan.SetupCost
	quantity := formula{figureText(l.Quantity), l.Quantity}
	if grows {
		quantity.text = fmt.Sprintf("ROUND(%s*%s/%d,3)", figureText(l.Quantity), ref(colQuantity, d.at["count"]), max(1, d.offer.Quantity))
	}
	if l.Kind == jigplan.OverheadCost {
		quantity.text = fmt.Sprintf("ROUND(SUMIF(%s:%s,\"min\",%s:%s)*%s/%s,3)", ref(colUnit, d.at["first"]), ref(colUnit, row-1),
			ref(colQuantity, d.at["first"]), ref(colQuantity, row-1), figureText(l.Quantity), figureText(d.offer.Cost.Minutes))
	}
	rate, rateStyle := any(float64(l.Rate)/100), moneyStyle
	if at := w.rates.rows[l.Setting]; at > 0 && l.Setting != "Offcut worth" {
		rate = formula{refOn(ratesName, rateCol, at), float64(l.Rate) / 100}
	} else if l.Missing {
		rateStyle = input("#,##0.00")
	}
	switch l.Kind {
	case jigplan.WoodCost, jigplan.BoughtCost:
		d.at["board"] = row
	case jigplan.OffcutsKept: // follows the board it is of
		rate = formula{ref(colRate, d.at["board"]), float64(l.Rate) / 100}
	}
	per, share := any(l.For), any(100*l.Share)
	if l.Kind == jigplan.BladeCost {
		per = formula{"MAX(1," + refOn(ratesName, rateCol, w.rates.rows["Cuts per sharpening"]) + ")", l.For}
	}
	if l.Setting == "Offcut worth" {
		share = formula{refOn(ratesName, rateCol, w.rates.rows["Offcut worth"]), 100 * l.Share}
	}
	exact := exactCents(l)
	number := style{rim: thin, across: right, single: true, format: "#,##0.###"}
	unit := l.Unit
	if l.Kind == jigplan.OverheadCost {
		unit = "minutes"
	}
	s.add(cell{colKind, 1, string(l.Kind), style{rim: thin}}, cell{colWhat, 1, l.What, style{rim: thin}}, cell{colQuantity, 1, quantity, number},
		cell{colUnit, 1, unit, style{rim: thin, indent: true}}, cell{colRate, 1, rate, rateStyle}, cell{colFor, 1, per, number}, cell{colShare, 1, share, number},
		cell{colExact, 1, formula{fmt.Sprintf("%s*%s*100/%s", ref(colQuantity, row), ref(colRate, row), ref(colFor, row)), exact}, style{rim: thin, across: right, single: true, format: "0.0000"}},
		cell{colAmount, 1, formula{toCents(ref(colExact, row) + "*" + ref(colShare, row) + "/100"), float64(l.Amount) / 100}, moneyStyle}, cell{colFrom, 1, missingText(l), style{rim: thin, indent: true}})
	if l.Missing && l.Setting == "" {
		d.at[fmt.Sprintf("unknown %d", row)] = row
	}
}

func missingText(l jigplan.CostLine) string {
	switch {
	case !l.Missing:
		return l.From
	case l.Setting == "":
		return "NO COST KNOWN; " + l.From
	}
	return "NOT CHARGED: " + l.Setting + " is not set; " + l.From
}

func exactCents(l jigplan.CostLine) float64 {
	return l.Quantity * float64(l.Rate) / l.For
}

// unknown is a condition that some wood's cost is still 0; empty: there is none.
func (d *costDetail) unknown() string {
	var cells []string
	for row := d.at["first"]; row <= d.at["last"]; row++ {
		if d.at[fmt.Sprintf("unknown %d", row)] > 0 {
			cells = append(cells, ref(colRate, row))
		}
	}
	if len(cells) == 0 {
		return ""
	}
	return "MIN(" + strings.Join(cells, ",") + ")=0"
}
