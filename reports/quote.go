package reports

import (
	"fmt"
	"maps"
	"slices"
	"strings"
	"time"

	"batchwright/jigplan"
	"batchwright/orders"
	"batchwright/orders/measure"
)

// Offered reports whether an offer can be made to the customer.
func Offered(o *jigplan.Offer) bool { return o.Cannot == "" && o.Price.By != jigplan.NoPrice }

// OptionName is "Tea box", or "Tea box, option B, oak".
func OptionName(a *jigplan.Article, o *jigplan.Option) string {
	if o.Letter == "" {
		return a.Name
	}
	return joined(", ", a.Name+", option "+o.Letter, o.Box.Wood)
}

// optionRow names an option where there is little room.
func optionRow(a *jigplan.Article, o *jigplan.Option) string {
	if o.Letter == "" {
		return a.Name
	}
	return joined(", ", a.Name+" "+o.Letter, o.Box.Wood)
}

// Said is an option in a line: size, wood, joint, bottom, lid, finish.
func Said(q *jigplan.Quote, o *jigplan.Option) string {
	var texts []string
	for _, p := range Described(q, o) {
		texts = append(texts, p.Name+": "+p.Text)
	}
	return strings.Join(texts, "; ")
}

// Described is what the customer gets, in the customer's words.
func Described(q *jigplan.Quote, o *jigplan.Option) (out []Pair) {
	w := Words{q.Order.Settings.Units}
	if o.Line < 0 {
		return looseSaid(q, w)
	}
	b := &o.Box
	add := func(name, text string) {
		if text != "" {
			out = append(out, Pair{name, text})
		}
	}
	add("Outside", sizeText(o.Build.Outside, w))
	add("Inside", sizeText(o.Build.Inside, w))
	if o.Build.Overall != o.Build.Outside {
		add("Closed", sizeText(o.Build.Overall, w))
	}
	add("Wood", b.Wood+", walls "+wall(b, w))
	if o.Finger.Sign() > 0 {
		text := "finger joint, fingers " + plainly(w.Fine(o.Finger)) + " wide"
		if o.Asked > 0 {
			text += " (" + w.Len(o.Asked) + " asked: the closest our tools cut)"
		}
		if o.Pattern != "" {
			text = "finger joint, fingers in a pattern: " + o.Pattern
		}
		add("Joint", text)
	}
	add("Bottom", panelText(bottomWords[b.Bottom.Kind], b.Bottom.Wood, b.Wood))
	add("Lid", panelText(lidWords[b.Lid.Kind], b.Lid.Wood, b.Wood))
	if b.Dividers.Along > 1 || b.Dividers.Across > 1 {
		add("Dividers", fmt.Sprintf("%d compartments along the length by %d across", max(1, b.Dividers.Along), max(1, b.Dividers.Across)))
	}
	switch {
	case b.Opened:
		add("Grain", "runs around all four corners")
	case b.Matched:
		add("Grain", "runs around three corners")
	}
	finish := b.Finish
	if finish == "" {
		finish = "none, left as sanded"
	}
	add("Finish", finish)
	return out
}

// plainly is a length without the zeros that only say how exact it is.
func plainly(length string) string {
	number, unit, _ := strings.Cut(length, " ")
	return joined(" ", trimZeros(number), unit)
}

func looseSaid(q *jigplan.Quote, w Words) (out []Pair) {
	for i := range q.Order.Loose {
		l := &q.Order.Loose[i]
		out = append(out, Pair{l.Name, fmt.Sprintf("%s, %s x %s, %s", Counted(l.Count, "piece", "pieces"), w.Size(l.Length, l.Width), w.Len(l.Thickness), l.Wood)})
	}
	return out
}

func sizeText(s measure.Size, w Words) string {
	if s == (measure.Size{}) {
		return ""
	}
	return fmt.Sprintf("%s x %s x %s", w.Bare(s.Length), w.Bare(s.Width), w.Len(s.Height))
}

var bottomWords = map[orders.BottomKind]string{orders.GrooveBottom: "held in a groove", orders.RabbetBottom: "let into a rabbet", orders.NailedBottom: "nailed on"}

var lidWords = map[orders.LidKind]string{orders.LiftOffLid: "lifts off", orders.SlidingLid: "slides in a groove", orders.SawnOffLid: "sawn from the box", orders.HingedLid: "on two hinges"}

// panelText is a bottom or a lid: its wood, and how it is held.
func panelText(how, wood, boxWood string) string {
	if how == "" {
		return "none"
	}
	if wood == "" {
		wood = boxWood
	}
	return wood + ", " + how
}

// QuoteSummary is a quote for the shop's own screen.
func QuoteSummary(q *jigplan.Quote) []Table {
	var out []Table
	if found := NotNotes(q.Findings); len(found) > 0 {
		out = append(out, FindingTable(found))
	}
	out = append(out, PriceTable(q))
	if t := MoverTable(q); len(t.Rows) > 0 {
		out = append(out, t)
	}
	return out
}

// PriceTable is every offer with its cost, price, margin, hours and day.
func PriceTable(q *jigplan.Quote) Table {
	s := &q.Order.Settings
	t := Table{Title: fmt.Sprintf("Quote %s, revision %d, for %s", q.Number, q.Revision, Somebody(q.Customer)),
		Head: []string{"Box", "Count", "Cost", "Price each", "Total", "Margin", "Chance of that margin", "Hours, " + s.Units.Percent(80, 0), "Delivery"}, Numbers: []int{1}}
	row := func(name string, o *jigplan.Offer) {
		p := &o.Price
		switch {
		case o.Cannot != "":
			t.Add(name, o.Quantity, "cannot be made", "", "", "", "", "", "")
			t.Note(fmt.Sprintf("%s, %d: %s", name, o.Quantity, o.Cannot))
			return
		case p.By == jigplan.NoPrice:
			t.Add(name, o.Quantity, CostText(&o.Cost, s.Units), "no price", "", "", "", Hours(o.Cost.Minutes), shortDay(o.Delivery, s.Units))
			return
		}
		t.Add(name, o.Quantity, CostText(&o.Cost, s.Units), p.Each.In(s.Units), p.Total.In(s.Units), MarginText(o, s.Units), ChanceText(o, s.Units), Hours(o.Cost.Minutes), shortDay(o.Delivery, s.Units))
	}
	reasons := map[string]bool{}
	for a := range q.Articles {
		for k := range q.Articles[a].Options {
			o := &q.Articles[a].Options[k]
			for i := range o.Offers {
				row(optionRow(&q.Articles[a], o), &o.Offers[i])
				reasons[o.Offers[i].Price.Why] = true
			}
		}
	}
	if q.Together != nil {
		row("everything, one batch", q.Together)
	}
	for _, why := range sortedTexts(reasons) {
		t.Note("No price: " + why + ".")
	}
	if missing := missingOf(q); len(missing) > 0 {
		t.Note("Not in the costs, because no price is set: " + strings.Join(missing, ", ") + ".")
	}
	if text := offcutText(q); text != "" {
		t.Note(text)
	}
	if s.Rates.Tax > 0 {
		what := "Totals"
		if s.Rates.TaxInside() {
			what = "Prices and totals"
		}
		t.Note(stopped(fmt.Sprintf("%s include %s %s", what, s.Units.Percent(s.Rates.Tax, -1), s.Rates.TaxName)))
	}
	for _, note := range dayNotes(q) {
		t.Note(note)
	}
	return t
}

// offcutText is what each cost would be with the offcuts kept at nothing and at
// all that their wood cost.
func offcutText(q *jigplan.Quote) string {
	u := q.Order.Settings.Units
	var costs []string
	EachOffer(q, func(a *jigplan.Article, o *jigplan.Option, f *jigplan.Offer) {
		low, kept := f.Cost.WithOffcuts(1)
		if high, _ := f.Cost.WithOffcuts(0); kept {
			costs = append(costs, fmt.Sprintf("%d %s: %s and %s", f.Quantity, strings.TrimSpace(a.Name+" "+o.Letter), high.In(u), low.In(u)))
		}
	})
	if len(costs) == 0 {
		return ""
	}
	return fmt.Sprintf("Offcuts kept count at %s of what their wood cost (Offcut worth). The cost with them at %s and at %s: %s.",
		u.Percent(q.Order.Settings.Rates.OffcutWorth, -1), u.Percent(0, 0), u.Percent(100, 0), Listed(costs, 4))
}

// dayNotes say what the promised days depend on.
func dayNotes(q *jigplan.Quote) []string {
	shop, r := &q.Order.Settings.Week, &q.Order.Settings.Rates
	waits := map[string][]string{}
	EachOffer(q, func(a *jigplan.Article, o *jigplan.Option, f *jigplan.Offer) {
		if f.Cannot != "" {
			return
		}
		text := "No wood has to be bought, so work can start at once."
		if !f.MillFrom.IsZero() {
			text = fmt.Sprintf("Wood to buy arrives %s and rests until %s (Buying takes, Acclimate).", dayOf(f.Arrives, q.Order.Settings.Units), dayOf(f.MillFrom, q.Order.Settings.Units))
		}
		waits[text] = append(waits[text], fmt.Sprintf("%s, %d", strings.TrimSpace(a.Name+" "+o.Letter), f.Quantity))
	})
	var out []string
	for _, text := range slices.Sorted(maps.Keys(waits)) {
		if len(waits) > 1 {
			text = strings.Join(waits[text], "; ") + ": " + text
		}
		out = append(out, text)
	}
	text := fmt.Sprintf("Delivery also counts %v h of cure, %v h of drying a coat", shop.CureHours, shop.DryHours)
	if r.DeliveryDays > 0 {
		text += fmt.Sprintf(" and %s to deliver", openDays(r.DeliveryDays))
	}
	if q.Others > 0 {
		text += "; the work comes after " + Counted(q.Others, "job", "jobs") + " already accepted"
	}
	return append(out, text+".")
}

func openDays(n float64) string {
	if n == 1 {
		return "1 open day"
	}
	return fmt.Sprintf("%v open days", n)
}

// Somebody is a customer's name, or words for none.
func Somebody(customer string) string {
	if customer == "" {
		return "a customer without a name"
	}
	return customer
}

// CostText is a cost; one that leaves something out says so.
func CostText(c *jigplan.Cost, unit measure.Unit) string {
	if len(c.Missing()) > 0 {
		return c.Total.In(unit) + " and more"
	}
	return c.Total.In(unit)
}

// MarginText is an offer's margin; of a cost that leaves something out it is
// more than the true one.
func MarginText(o *jigplan.Offer, unit measure.Unit) string {
	if len(o.Cost.Missing()) > 0 {
		return "below " + unit.Percent(o.Price.Margin, 1)
	}
	return unit.Percent(o.Price.Margin, 1)
}

// ChanceText is the chance of the margin aimed at; where none is, that of not
// selling below cost; empty where the hours cost nothing that is known.
func ChanceText(o *jigplan.Offer, unit measure.Unit) string {
	p := &o.Price
	switch {
	case p.By == jigplan.NoPrice:
		return ""
	case slices.ContainsFunc(o.Cost.Lines, func(l jigplan.CostLine) bool { return l.Missing && l.Setting == "Labor rate" }):
		return "not known"
	case p.Wanted > 0:
		return unit.Percent(100*p.Chance, 0)
	}
	return unit.Percent(100*p.Even, 0) + " above cost"
}

func missingOf(q *jigplan.Quote) (out []string) {
	seen := map[string]bool{}
	for _, a := range q.Articles {
		for _, o := range a.Options {
			for i := range o.Offers {
				for _, l := range o.Offers[i].Cost.Lines {
					name := l.Setting
					if name == "" {
						name = "cost of " + l.What
					}
					if l.Missing && !seen[name] {
						seen[name] = true
						out = append(out, name)
					}
				}
			}
		}
	}
	return out
}

// MoverTable says what moves the price of one box most, for the first offer
// that has a price of its own making.
func MoverTable(q *jigplan.Quote) Table {
	t := Table{Head: []string{"What moves the price most", "Change", "One box"}}
	unit := q.Order.Settings.Units
	for a := range q.Articles {
		for k := range q.Articles[a].Options {
			o := &q.Articles[a].Options[k]
			for i := range o.Offers {
				f := &o.Offers[i]
				if len(f.Movers) == 0 {
					continue
				}
				t.Title = fmt.Sprintf("%s, %d at %s", OptionName(&q.Articles[a], o), f.Quantity, f.Price.Each.In(unit))
				for _, m := range f.Movers {
					t.Add(m.What, m.Change, signed(m.Each, unit))
				}
				return t
			}
		}
	}
	return t
}

func signed(m measure.Money, unit measure.Unit) string {
	if m > 0 {
		return "+" + m.In(unit)
	}
	return m.In(unit)
}

func dayOf(t time.Time, unit measure.Unit) string {
	if t.IsZero() {
		return "not within the days looked ahead"
	}
	return unit.LongDate(t)
}

// shortDay is a day where there is little room.
func shortDay(t time.Time, unit measure.Unit) string {
	if t.IsZero() {
		return dayOf(t, unit)
	}
	return unit.Date(t)
}

func sortedTexts(set map[string]bool) (out []string) {
	for text := range set {
		if text != "" {
			out = append(out, text)
		}
	}
	slices.Sort(out)
	return out
}

// QuoteHead says what was quoted, for whom and until when.
func QuoteHead(q *jigplan.Quote) string {
	text := fmt.Sprintf("For %s, from %s, of %s; valid until %s.", Somebody(q.Customer), q.Order.File, dayOf(q.Date, q.Order.Settings.Units), dayOf(q.Valid, q.Order.Settings.Units))
	if q.Before != nil {
		text += fmt.Sprintf(" It revises revision %d of %s.", q.Before.Revision, q.Before.Date)
	}
	return text
}

// DeliveryText is the day an offer can be with the customer.
func DeliveryText(o *jigplan.Offer, unit measure.Unit) string { return dayOf(o.Delivery, unit) }

// DoneText is when an offer is made, cured and dry.
func DoneText(o *jigplan.Offer, unit measure.Unit) string {
	if o.Done.IsZero() {
		return "no room within the days looked ahead"
	}
	return "made, cured and dry " + unit.LongDate(o.Done) + ", " + clockText(o.Done) + "; with the customer " + dayOf(o.Delivery, unit)
}

// PackedText says how an offer's boxes are packed.
func PackedText(o *jigplan.Offer, w Words) string {
	p := &o.Packed
	if p.Kilograms == 0 {
		return ""
	}
	text := "one box weighs " + w.Weight(p.Kilograms)
	switch {
	case p.Each == 0:
		text += "; none of the shop's cartons takes it"
	default:
		text += fmt.Sprintf("; %s, inside %s, a full one holds %d (%d x %d x %d), %s packed; %s in all", Counted(p.Cartons, "carton", "cartons"),
			sizeText(p.Carton, w), min(p.Each, o.Quantity), p.Across[0], p.Across[1], p.Across[2], w.Weight(p.CartonKg), w.Weight(p.Kg))
	}
	if p.TooHeavyKg {
		text += "; one box alone is heavier than Heaviest carton"
	}
	if len(p.Heaviest) > 0 {
		text += "; the weight of " + strings.Join(p.Heaviest, ", ") + " is not known; counted as the heaviest known wood"
	}
	return text
}

// Weight is kilograms; a shop that thinks in inches reads pounds before them.
func (w Words) Weight(kg float64) string {
	if w.Unit.Metric() {
		return w.Unit.Number(kg, 2) + " kg"
	}
	return fmt.Sprintf("%.1f lb (%.2f kg)", kg/poundKg, kg)
}

// poundKg is a pound in kilograms, exact by international agreement (1959).
const poundKg = 0.45359237

// NotNotes is the problems without those that only say what was done.
func NotNotes(problems []orders.Finding) (out []orders.Finding) {
	for _, p := range problems {
		if p.Level != orders.Note {
			out = append(out, p)
		}
	}
	return out
}
