package workbook

import (
	"fmt"
	"strings"

	"batchwright/jigplan"
	"batchwright/orders/measure"
	"batchwright/reports"
)

// prices is the first sheet: every offer in a line, taken from its own sheet.
func (w *costBook) prices(b *book) *sheet {
	q := w.quote
	s := &sheet{name: "Prices", landscape: true, fit: true, widths: []float64{26, 11, 11, 11, 11, 12, 9, 11, 12, 11, 15}}
	b.title(s, fmt.Sprintf("Costs and prices of quote %s, revision %d", q.Number, q.Revision))
	s.paragraph(reports.QuoteHead(q))
	s.gap(2)
	w.tenLines(s)
	s.heading("Prices")
	s.repeatNext()
	s.head([]string{"Box", "Count", "Cost", "Cost, one box", "Price each", "Before tax", "Margin, %", "Chance of that margin", "Customer pays", "Hours, 80%", "Delivery"}, ones(11), 1, 2, 3, 4, 5, 6, 8)
	for _, d := range w.details {
		w.priceLine(s, d)
	}
	t := reports.PriceTable(q)
	for _, note := range t.Notes {
		s.paragraph(note)
	}
	if len(q.Findings) > 0 {
		s.heading("Problems")
		problems := reports.FindingTable(q.Findings)
		problems.Head[0] = "Level"
		s.table(problems, grid{1, 2, 2, 4, 2})
	}
	return s
}

// besides is how many offers the ten lines have side by side.
const besides = 9

// tenLines sums up what each offer costs, the first ones where there are many.
func (w *costBook) tenLines(s *sheet) {
	var made []*costDetail
	for _, d := range w.details {
		if d.offer.Cannot == "" {
			made = append(made, d)
		}
	}
	if len(made) == 0 {
		return
	}
	more := len(made) - besides
	made = made[:min(len(made), besides)]
	head, grid := []string{"Cost"}, ones(len(made)+1)
	for _, d := range made {
		head = append(head, fmt.Sprintf("%s, %d", d.name, d.offer.Quantity))
	}
	strong := moneyStyle
	strong.bold = true
	line := func(name string, bold bool, value func(*costDetail) any) {
		st := moneyStyle
		if bold {
			st = strong
		}
		cells := []cell{{0, 1, name, style{rim: thin, bold: bold}}}
		for i, d := range made {
			cells = append(cells, cell{i + 1, 1, value(d), st})
		}
		s.add(cells...)
	}
	s.together(func() {
		s.head(head, grid, numbersFrom(1, len(head))...)
		for _, g := range jigplan.CostGroups {
			line(string(g), false, func(d *costDetail) any {
				if len(d.groups[g]) == 0 {
					return 0.0
				}
				var sum measure.Money
				for i := range d.offer.Cost.Lines {
					if l := &d.offer.Cost.Lines[i]; l.Group() == g {
						sum += l.Amount
					}
				}
				return formula{"SUM(" + strings.Join(d.groups[g], ",") + ")", money(sum)}
			})
		}
		first, last := s.next()-len(jigplan.CostGroups), s.next()-1
		col := 0
		line("Together", true, func(d *costDetail) any {
			col++
			return formula{fmt.Sprintf("SUM(%s:%s)", ref(col, first), ref(col, last)), money(d.offer.Cost.Total)}
		})
		for _, at := range []struct {
			name, key string
			share     float64
		}{{"with offcuts at 0%", "at 0", 0}, {"with offcuts at 100%", "at 100", 1}} {
			line(at.name, false, func(d *costDetail) any {
				total, ok := d.offer.Cost.WithOffcuts(at.share)
				if !ok {
					return formula{refOn(d.sheet.name, colAmount, d.at["cost"]), money(d.offer.Cost.Total)}
				}
				return formula{refOn(d.sheet.name, colAmount, d.at[at.key]), money(total)}
			})
		}
	})
	if more > 0 {
		s.paragraph(fmt.Sprintf("%s more: each has its own sheet.", reports.Counted(more, "count", "counts")))
	}
	s.gap(2)
}

func (w *costBook) priceLine(s *sheet, d *costDetail) {
	o, p := d.offer, &d.offer.Price
	text, short := style{rim: thin, indent: true}, style{rim: thin, indent: true, single: true}
	if o.Cannot != "" {
		s.add(cell{0, 1, d.name, text}, cell{1, 1, o.Quantity, style{rim: thin, across: right}}, cell{2, 9, "cannot be made: " + o.Cannot, text})
		return
	}
	day := short
	if o.Delivery.IsZero() { // in words, which need lines
		day = text
	}
	from := func(key string, value float64) formula {
		return formula{refOn(d.sheet.name, colAmount, d.at[key]), value}
	}
	count := formula{refOn(d.sheet.name, colQuantity, d.at["count"]), float64(o.Quantity)}
	s.add(cell{0, 1, d.name, style{rim: thin, bold: true}}, cell{1, 1, count, style{rim: thin, across: right, format: "0"}},
		cell{2, 1, from("cost", money(o.Cost.Total)), moneyStyle}, cell{3, 1, from("each cost", money(o.Cost.Total)/float64(max(1, o.Quantity))), moneyStyle},
		cell{4, 1, from("each", money(p.Each)), moneyStyle}, cell{5, 1, from("net", money(p.Net)), moneyStyle},
		cell{6, 1, from("margin", p.Margin), style{rim: thin, across: right, single: true, format: "0.0"}}, cell{7, 1, reports.ChanceText(o, w.quote.Order.Settings.Units), text},
		cell{8, 1, from("total", money(p.Total)), moneyStyle}, cell{9, 1, reports.Hours(o.Cost.Minutes), short}, cell{10, 1, reports.DeliveryText(o, w.quote.Order.Settings.Units), day})
}
