package settings

import (
	"strconv"
	"strings"

	"batchwright/orders/measure"
)

// footInMetres is exact (NIST Handbook 44, Appendix C).
const footInMetres = 0.3048

// mm gives a setting its default in a metric shop: common practice, in round
// millimetres.
func (d Definition) mm(def string) Definition {
	d.Metric = def
	return d
}

// metre gives a time for a foot its name and default for a metre.
func (d Definition) metre(name, seconds string) Definition {
	d.MetricName, d.Metric = name, seconds
	return d
}

// also gives a setting other names that are read.
func (d Definition) also(names ...string) Definition {
	d.Also = names
	return d
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

// perMetre makes of seconds for a metre seconds for a foot.
func perMetre(value string, e Entry) string {
	f, err := e.reading().Number(value)
	if err != nil {
		return value
	}
	text := strconv.FormatFloat(f*footInMetres, 'f', -1, 64)
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
				text = perMetre(text, e)
			}
		}
		if err := d.set(s, text, e); err != nil {
			panic("settings: default of " + d.Name + ": " + err.Error())
		}
	}
}
