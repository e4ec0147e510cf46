package intake

import (
	"errors"
	"fmt"
	"strings"

	"batchwright/orders"
	"batchwright/orders/measure"
)

// readShop reads settings: the units and the decimal mark first, because the
// others are read by them. A Shop sheet starts from the defaults; only what a
// bare number means is taken over from outside, until a row says otherwise.
func (r *reader) readShop(t *table) {
	if !r.order.HasShop {
		units := r.order.Settings.Units
		r.order.Settings = orders.DefaultSettings()
		r.order.Settings.Units = units
	}
	r.order.HasShop = true
	for _, first := range []bool{true, false} {
		if first {
			r.quietly(func() { r.eachSetting(t, true) })
		} else {
			r.eachSetting(t, false)
		}
	}
}

// quietly runs a pass whose problems and readings will be said by a later one.
func (r *reader) quietly(pass func()) {
	problems, readings := len(r.order.Problems), len(r.order.Readings)
	pass()
	r.order.Problems, r.order.Readings = r.order.Problems[:problems], r.order.Readings[:readings]
}

func (r *reader) eachSetting(t *table, unitsOnly bool) {
	seen := map[string]string{}
	r.eachLine(t, func(l *line) int {
		name, ok := l.get("Setting")
		if !ok {
			if !l.bad {
				l.skip(orders.Warning, "a value without the name of a setting; not used", "write the setting's name before it")
			}
			return 0
		}
		folded := foldHeading(name.text)
		if unitsOnly && folded != "units" && folded != "decimal mark" {
			return 0
		}
		if first, twice := seen[folded]; twice {
			l.warn("Setting", name.text, "the setting stands twice; this row counts, not "+first, "remove one of the two")
		}
		seen[folded] = l.cellOf("Setting").Cell
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
	if value.kind == dateCell {
		l.fault("Value", value.text, "the spreadsheet turned what was typed into a date"+dateGuess(value.text), "format the cell as text and type the value again")
		return
	}
	l.understood("Setting", name, name)
	entry := orders.Entry{Source: at, DecimalComma: l.reading("Value", value).DecimalComma}
	if u, ok := l.get("Unit"); ok {
		entry.Bare = headingUnits[strings.ToLower(strings.Trim(u.text, ". "))]
		if entry.Bare == measure.NoUnit && !otherUnits[foldHeading(u.text)] {
			l.fault("Unit", u.text, "this unit is not known", "write in, mm, cm or ft, or leave it blank")
			return
		}
		l.understood("Unit", u.text, u.text)
	}
	err := l.order.Settings.Set(name, value.text, entry)
	switch {
	case errors.Is(err, orders.ErrUnknownSetting):
		l.problem(orders.Warning, l.cellOf("Setting"), name, "not used: "+err.Error(), "correct the name; batchwright shop lists all of them")
	case err != nil:
		l.fault("Value", value.text, fmt.Sprintf("not read as %s: %v", name, err), "correct the value, or remove the row to use the default")
	default:
		l.understood("Value", value.text, name+" = "+value.text)
	}
}

// otherUnits may stand beside settings that are no lengths.
var otherUnits = map[string]bool{
	"turns": true, "turn": true, "s": true, "sec": true, "seconds": true, "min": true, "minutes": true, "h": true, "hours": true,
	"": true, "per hour": true, "a board foot": true, "per board foot": true, "board foot": true, "bf": true, "per bf": true, "percent": true, "each": true, "days": true,
}
