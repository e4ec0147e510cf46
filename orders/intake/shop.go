package intake

import (
	"errors"
	"fmt"
	"slices"
	"strings"

	"batchwright/orders"
	"batchwright/orders/measure"
	"batchwright/orders/settings"
)

// readShop reads settings: the units and the decimal mark first, because the
// others are read by them. A row overrides that one setting; all others keep
// what the shop file or the defaults say.
func (r *reader) readShop(t *table) {
	r.order.HasShop = true
	for _, first := range []bool{true, false} {
		if first {
			r.quietly(func() { r.eachSetting(t, true) })
		} else {
			r.eachSetting(t, false)
		}
	}
	for _, c := range r.order.Settings.Conflicts() {
		at := r.order.Settings.Source(c.Setting)
		if at == (orders.Source{}) {
			at = orders.Source{Sheet: t.name}
		}
		r.problem(orders.Error, at, c.Setting, c.Why, "change "+c.Setting)
	}
}

// quietly runs a pass whose problems and readings will be said by a later one.
func (r *reader) quietly(pass func()) {
	problems, readings := len(r.order.Findings), len(r.order.Readings)
	pass()
	r.order.Findings, r.order.Readings = r.order.Findings[:problems], r.order.Readings[:readings]
}

func (r *reader) eachSetting(t *table, unitsOnly bool) {
	seen := r.settingAt
	if unitsOnly || seen == nil {
		seen = map[string]orders.Source{}
	}
	if !unitsOnly {
		r.settingAt = seen // of all sheets of settings
	}
	r.eachLine(t, func(l *line) int {
		name, ok := l.get("Setting")
		if !ok {
			if !l.bad {
				l.skip(orders.Warning, "a value without the name of a setting; not used", "write the setting's name before it")
			}
			return 0
		}
		folded := foldHeading(name.text)
		if unitsOnly && folded != "units" && folded != "decimal mark" && folded != "dates" {
			return 0
		}
		if first, twice := seen[folded]; twice {
			l.warn("Setting", name.text, "the setting appears twice; this row is used, not "+first.String(), "remove one of the two")
		}
		seen[folded] = l.cellOf("Setting")
		l.setting(name.text)
		return 0
	})
}

func (l *line) setting(name string) {
	at := l.cellOf("Value")
	value, ok := l.get("Value")
	if !ok {
		if !l.bad {
			l.warn("Value", "", "the setting "+name+" has no value; its default is used", "write a value or remove the row")
		}
		return
	}
	if value.kind == dateCell && !settings.TakesDates(name) {
		l.fault("Value", value.text, "the spreadsheet turned this into a date"+dateGuess(value.text), "format the cell as text and type the value again")
		return
	}
	l.understood("Setting", name, name)
	entry := l.order.Settings.Entry(at)
	entry.Bare, entry.DecimalComma = measure.NoUnit, l.reading("Value", value).DecimalComma
	text, ok := l.settingUnit(name, value.text, &entry)
	if !ok {
		return
	}
	err := l.order.Settings.Set(name, text, entry)
	switch {
	case errors.Is(err, settings.ErrUnknown):
		l.problem(orders.Warning, l.cellOf("Setting"), name, "not used: "+err.Error(), "correct the name; the help page of batchwright new lists all of them")
	case err != nil:
		l.fault("Value", value.text, fmt.Sprintf("not %s: %v", name, err), "correct the value, or remove the row to use the default")
	default:
		l.understood("Value", value.text, name+" = "+text)
	}
}

// settingUnit reads the Unit column: the unit of a length, or a remark that
// must agree with what the setting is always in.
func (l *line) settingUnit(name, value string, entry *settings.Entry) (text string, ok bool) {
	u, given := l.get("Unit")
	d, known := settings.Find(name)
	if !given || !known {
		return value, !l.bad
	}
	l.understood("Unit", u.text, u.text)
	if per, ok := settings.MeasureOf(u.text[strings.LastIndex(u.text, "/")+1:]); ok && d.Name == settings.CostOfWood {
		return value + " per " + string(per), true
	}
	word := strings.ToLower(strings.Trim(u.text, ". °"))
	unit, length := headingUnits[word]
	switch {
	case d.Unit == "in" && length:
		entry.Bare = unit
	case d.Unit == "C" && (word == "c" || word == "f"):
		value += " " + strings.ToUpper(word)
	case d.Unit == "" || word == strings.ToLower(d.Unit) || slices.Contains(sameUnits[d.Unit], word):
	case d.Unit == "in":
		l.fault("Unit", u.text, "not a unit of length", "write in, mm, cm or ft, or leave it blank")
		return value, false
	default:
		l.fault("Unit", u.text, d.Name+" is always in "+d.Unit, "write the value in "+d.Unit)
		return value, false
	}
	return value, true
}

// sameUnits are other ways to write the units of settings that are no lengths.
var sameUnits = map[string][]string{
	"s":     {"sec", "secs", "second", "seconds"},
	"turns": {"turn", "revolutions", "rev"},
	"%":     {"percent", "per cent", "pct"},
	"g/m2":  {"g/m²", "gsm"},
	"m2/L":  {"m²/l"},
	"a box": {"sheets", "each", "per box", "sheets a box"},

	"an hour":   {"h", "hour", "per hour", "/h", "a hour"},
	"a kg":      {"kg", "per kg", "kilogram", "a kilogram", "/kg"},
	"a litre":   {"l", "litre", "liter", "per litre", "per liter", "a liter", "/l"},
	"a sheet":   {"sheet", "per sheet"},
	"a hundred": {"per 100", "100", "/100", "hundred"},
	"each":      {"piece", "a piece", "per piece"},
	"days":      {"day", "d"},
	"h":         {"hours", "hour", "hrs"},
	"kg":        {"kilograms", "kilogram"},
	"litres":    {"l", "litre", "liters", "liter"},
	"boxes":     {"box"},
}
