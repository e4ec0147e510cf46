package settings

import (
	"strconv"
	"strings"

	"batchwright/orders/measure"
	"batchwright/orders/spelling"
)

// footInMetres is exact (NIST Handbook 44, Appendix C).
const footInMetres = 0.3048

// mm gives a setting its default in a metric shop: common practice, in round
// millimetres.
func (d Definition) mm(def string) Definition {
	d.Metric = def
	return d
}

// meaning gives a setting its help in a metric shop.
func (d Definition) meaning(help string) Definition {
	d.MetricHelp = help
	return d
}

// metre gives a time for a foot its name, default and help for a meter; the
// British spelling of the name is read too.
func (d Definition) metre(name, seconds, help string) Definition {
	d.Also = append(d.Also, strings.Replace(name, "meter", "metre", 1))
	d.MetricName, d.Metric, d.Metres = name, seconds, footInMetres
	return d.meaning(help)
}

// squareMetre does the same for a time for a square foot.
func (d Definition) squareMetre(name, seconds, help string) Definition {
	d = d.metre(name, seconds, help)
	d.Metres *= footInMetres
	return d
}

// HelpIn is what the setting means, as a shop of these units reads it.
func (d *Definition) HelpIn(unit measure.Unit) string {
	if unit.Metric() && d.MetricHelp != "" {
		return unit.Mark(d.MetricHelp)
	}
	return unit.Mark(d.Help)
}

// written says what the setting's text is made of.
func (d Definition) written(as textKind) Definition {
	d.dress = as
	return d
}

// also gives a setting other names that are read.
func (d Definition) also(names ...string) Definition {
	d.Also = names
	return d
}

// PerMeter says whether a name is the setting's metric one, in either spelling.
func (d *Definition) PerMeter(name string) bool {
	return d.MetricName != "" && strings.ReplaceAll(spelling.Fold(name), "metre", "meter") == spelling.Fold(d.MetricName)
}

// Named is the setting's name as a shop of these units reads it.
func (d *Definition) Named(unit measure.Unit) string {
	if unit.Metric() && d.MetricName != "" {
		return d.MetricName
	}
	return d.Name
}

// UnitIn is the setting's unit as a shop of these units reads it.
func (d *Definition) UnitIn(unit measure.Unit) string {
	if unit.Metric() && d.Unit == "in" {
		return "mm"
	}
	return d.Unit
}

// DefaultIn is the default in a shop of these units, as that shop writes it and
// without its unit; blank where there is none.
func (d *Definition) DefaultIn(unit measure.Unit) string {
	text := d.Default
	if unit.Metric() && d.Metric != "" {
		text = d.Metric
	}
	if d.dress == numbers {
		text = unit.Mark(text)
	}
	return text
}

// perFoot makes of seconds for a metre seconds for a foot.
func (d *Definition) perFoot(value string, e Entry) string {
	f, err := e.reading().Number(value)
	if err != nil {
		return value
	}
	text := strconv.FormatFloat(f*d.Metres, 'f', -1, 64)
	if e.DecimalComma {
		text = strings.Replace(text, ".", ",", 1)
	}
	return text
}

// takeDefaults gives every setting that was not given its default in the shop's
// units.
func (s *Shop) takeDefaults() {
	for i := range Definitions {
		d := &Definitions[i]
		if d.Metric == "" || s.given[d.Name] {
			continue
		}
		text, e := d.Default, Entry{Bare: d.bare}
		if s.Units.Metric() {
			text, e.Bare = d.Metric, measure.Millimetres
			if d.MetricName != "" {
				text = d.perFoot(text, e)
			}
		}
		if err := d.set(s, text, e); err != nil {
			panic("settings: default of " + d.Name + ": " + err.Error())
		}
	}
}
