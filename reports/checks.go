package reports

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"batchwright/jigplan"
	"batchwright/orders"
	"batchwright/orders/measure"
	"batchwright/orders/settings"
)

// CheckFirst is what a careful maker looks at before the first board is cut.
func CheckFirst(p *jigplan.Plan) Table {
	t := Table{Title: "What to check first", Head: []string{"", "Check", "Why"}}
	add := func(check, why string) { t.Add(len(t.Rows)+1, check, why) }
	for _, problem := range Findings(p) {
		if problem.Level == orders.Error {
			add(problem.Source.String()+": "+problem.Did, problem.Fix)
		}
	}
	if rod := assumedRod(p); rod != "" {
		add("See that the jig's rod is "+rod, "no Rod is set, and the cards count its turns; for another, write its name on the Shop sheet (3/8-16, M8x1.25) and plan again")
	}
	if unmeasured(p) {
		wider := "0.001 in wider makes every slot 0.002 in looser"
		if WordsOf(p).Unit.Metric() {
			wider = "0.02 mm wider makes every slot 0.04 mm looser"
		}
		add("Measure the blade's kerf in a test corner", "the fit of every joint depends on it: a blade "+wider)
	}
	if typical(p) {
		add(buyTheBoards, "planned on standard-size boards; if yours differ, enter them and plan again")
	}
	if !p.Layout.CostKnown && len(p.Layout.Boards) > 0 {
		add(giveACost, "without a cost, layouts are compared by area, not by money")
	}
	warnings := warned(p)
	if len(warnings) > fewWarnings {
		add(fmt.Sprintf("Read %s on the sheet As read", Counted(len(warnings), "warning", "warnings")), "the first: "+FindingText(warnings[0]))
	} else {
		for _, problem := range warnings {
			add("Warning", FindingText(problem))
		}
	}
	if len(p.Programs) > 0 {
		add("Mill a test piece from the same batch, and measure its thickness", "the blade height and the inside size follow from it")
	}
	return t
}

// assumedRod is the rod of the cards where nobody said which it is; else empty.
func assumedRod(p *jigplan.Plan) string {
	s := &p.Order.Settings
	if len(p.Programs) == 0 || s.Given("Rod") || s.Given("Lead") {
		return ""
	}
	return fmt.Sprintf("%s (%s a turn)", p.Programs[0].Rod, WordsOf(p).Fine(p.Programs[0].Lead))
}

func unmeasured(p *jigplan.Plan) bool {
	for i := range p.Programs {
		if !p.Programs[i].KerfMeasured {
			return true
		}
	}
	return false
}

func typical(p *jigplan.Plan) bool {
	for i := range p.Layout.Boards {
		if p.Layout.Boards[i].Stock.Origin == orders.FromTypical {
			return true
		}
	}
	return false
}

// Checks that the first page says elsewhere.
const (
	buyTheBoards = "Buy the boards of the buying list"
	giveACost    = "Give the boards a cost"
)

// fewWarnings is how many warnings the first page has room for.
const fewWarnings = 3

// warned lists the warnings, without those of joints that are refused: what
// cannot be made is said before all else.
func warned(p *jigplan.Plan) (out []orders.Finding) {
	for _, problem := range Findings(p) {
		said := slices.ContainsFunc(p.Refusals, func(r jigplan.Refusal) bool { return problem == r.Finding(problem.Read) })
		if problem.Level == orders.Warning && !said {
			out = append(out, problem)
		}
	}
	return out
}

// OnFirstPage reports whether the first page has all errors and warnings.
func OnFirstPage(p *jigplan.Plan) bool { return len(warned(p)) <= fewWarnings }

// FindingText is a finding in one line: where, what was read, what was done,
// how to mend it.
func FindingText(p orders.Finding) string {
	text := p.Did
	if p.Read != "" {
		text = fmt.Sprintf("%q %s", p.Read, p.Did)
	}
	if at := p.Source.String(); at != "" {
		text = at + ": " + text
	}
	if p.Fix != "" {
		text += "; " + p.Fix
	}
	return text
}

// Readings lists every cell of the order as it was understood.
func Readings(o *orders.Order) Table {
	t := Table{Title: "Every cell as it was read", Head: []string{"Cell", "Column", "As it stands", "Understood as"}}
	for _, r := range o.Readings {
		t.Add(r.Source.String(), r.Heading, r.Text, r.Meaning)
	}
	return t
}

// Elements is where the time goes.
func Elements(p *jigplan.Plan) Table {
	t := Table{Title: "Where the time goes", Head: []string{"Work", "How often", "Seconds each", "Minutes", "Where the figure comes from"}, Numbers: []int{1, 2, 3}}
	unit := p.Order.Settings.Units
	for _, e := range p.Time.Elements {
		if d, ok := settings.Find(e.Name); ok && unit.Metric() && d.MetricName != "" {
			e.Source = strings.ReplaceAll(e.Source, e.Name, d.MetricName)
			e.Name, e.Count, e.Each = d.MetricName, e.Count*d.Metres, e.Each/d.Metres
		}
		t.Add(e.Name, unlessZero(e.Count), unlessZero(e.Each), e.Minutes, e.Source)
	}
	t.Add("All of it", "", "", p.Time.Minutes, "the sum of the lines above (P50, the median)")
	t.Add("Allow for a promise", "", "", p.Time.P80Minutes, "80% chance of this or less (P80)")
	t.Note("Use P50 for the shop's own week. Promise P80 to a customer.")
	t.Note("The figures are defaults until your own times are logged; waiting for glue and finish is not work; it is in the week's schedule.")
	return t
}

func unlessZero(f float64) any {
	if f == 0 {
		return ""
	}
	return f
}

// SettingsUsed is every setting under the headings of Readings: where it is
// from, its name, its value, what it means.
func SettingsUsed(o *orders.Order) Table {
	t := Table{Title: "Settings as used", Head: []string{"Cell", "Setting", "As used", "What it is"}}
	for _, u := range o.Settings.Used() {
		from := "default"
		if u.Given {
			from = "given"
			at := o.Settings.Source(u.Name)
			if at.Sheet == settings.ShopFileSheet {
				at.Cell = u.Definition.Named(o.Settings.Units)
			}
			if text := at.String(); text != "" {
				from = text
			}
		}
		t.Add(from, u.Definition.Named(o.Settings.Units), settingText(o, u), u.Definition.HelpIn(o.Settings.Units))
	}
	t.Note("Defaults are common practice unless the text says otherwise; a row of the Shop sheet changes each.")
	return t
}

// exact is a length with nothing rounded off where its decimal ends.
func exact(l measure.Length, unit measure.Unit) string {
	if unit.Metric() {
		return unit.Mark(l.Decimal()) + " mm"
	}
	return Words{unit}.Len(l)
}

// sizesText is sizes in the document's millimetres, "304.8 x 50.8" and several
// with semicolons, in the shop's unit.
func sizesText(text string, unit measure.Unit) string {
	if text == "" {
		return ""
	}
	var out []string
	for size := range strings.SplitSeq(text, "; ") {
		var sides []measure.Length
		for side := range strings.SplitSeq(size, " x ") {
			l, err := measure.Parse(side, measure.Reading{Bare: measure.Millimetres})
			if err != nil {
				return text + " mm"
			}
			sides = append(sides, l)
		}
		out = append(out, Words{unit}.Sizes(sides...))
	}
	return strings.Join(out, "; ")
}

func settingText(o *orders.Order, u settings.Used) string {
	switch v := u.Value.(type) {
	case measure.Length:
		return exact(v, o.Settings.Units)
	case string:
		if u.Definition.Unit == "in" {
			return sizesText(v, o.Settings.Units)
		}
		return u.Definition.Shown(v, o.Settings.Units)
	}
	if u.Definition.Unit == "C" && o.Settings.Units.Plain() == measure.Inches {
		return fmt.Sprintf("%.4g F", o.Settings.Making.Celsius*9/5+32)
	}
	text := o.Settings.Units.Mark(fmt.Sprint(u.Value))
	if v, ok := u.Value.(float64); ok {
		if o.Settings.Units.Metric() && u.Definition.MetricName != "" {
			v /= u.Definition.Metres
			text = strconv.FormatFloat(v, 'g', 4, 64)
		}
		text = o.Settings.Units.Mark(text)
	}
	if u.Definition.Unit != "" {
		text += " " + u.Definition.Unit
	}
	return text
}
