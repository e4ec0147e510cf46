package settings

import (
	"fmt"
	"strconv"
	"strings"
	"time"

	"batchwright/orders/measure"
)

// textKind is what a setting's text is made of, and so how it is written in the
// shop file, where every number has a point and every date is ISO 8601, and how
// a person of the shop reads and writes it.
type textKind int

const (
	words   textKind = iota // as it is written
	numbers                 // numbers, lengths, money: the decimal mark is the shop's
	days                    // dates
)

// Stored is a setting's text as the shop file keeps it, from what a person of
// this shop wrote.
func (d Definition) Stored(value string, s *Shop) string {
	switch {
	case d.dress == numbers && s.DecimalMark == ",":
		return pointed(value)
	case d.dress == days:
		probe := s.Clone()
		if d.set(&probe, value, s.Entry(Source{})) == nil {
			return fmt.Sprint(d.value(&probe))
		}
	}
	return value
}

// StoredValue is the named setting's text as the shop file keeps it.
func StoredValue(name, value string, s *Shop) string {
	d, suffix, ok := find(name)
	if !ok {
		return value
	}
	if suffix != "" && d == &costOf {
		if cost, err := parseWoodCost(suffix, value, s.Units.Metric(), s.Entry(Source{})); err == nil {
			return cost.In(measure.Inches) // the shop file always says what it is for
		}
	}
	if suffix != "" {
		d = &Definition{dress: numbers} // turns of a finger, the cost of a wood
	}
	if d.PerMeter(name) {
		value = d.perFoot(value, s.Entry(Source{}))
	}
	return d.Stored(value, s)
}

// ShownValue is the named setting's stored text as a person of the shop reads it.
func ShownValue(name, stored string, unit measure.Unit) string {
	d, suffix, ok := find(name)
	if !ok {
		return stored
	}
	if suffix != "" {
		d = &Definition{dress: numbers}
	}
	return d.Shown(stored, unit)
}

// TakesDates reports whether the named setting is one date or several.
func TakesDates(name string) bool {
	d, _, ok := find(name)
	return ok && d.dress == days
}

// Shown is a setting's stored text as a person of this shop reads it.
func (d Definition) Shown(stored string, unit measure.Unit) string {
	if f, err := strconv.ParseFloat(stored, 64); err == nil && unit.Metric() && d.MetricName != "" {
		return unit.Mark(strconv.FormatFloat(f/d.Metres, 'g', 4, 64))
	}
	switch d.dress {
	case numbers:
		return unit.Mark(stored)
	case days:
		if unit.Dates() != measure.AnyDates {
			return eachDate(stored, unit.NumericDate)
		}
	}
	return stored
}

// pointed writes numbers of a shop with decimal commas with points: 12,5 x 9 is
// 12.5 x 9 and 1.250,00 is 1250.00.
func pointed(value string) string {
	words := strings.FieldsFunc(value, func(r rune) bool { return r == ' ' })
	for i, word := range words {
		if strings.Contains(strings.TrimRight(word, ","), ",") { // a comma behind a word parts a list
			bare := strings.TrimRight(word, ",")
			words[i] = strings.Replace(strings.ReplaceAll(bare, ".", ""), ",", ".", 1) + word[len(bare):]
		}
	}
	return strings.Join(words, " ")
}

// eachDate rewrites the ISO dates of a text and leaves its other words.
func eachDate(text string, write func(time.Time) string) string {
	var out strings.Builder
	for text != "" {
		end := strings.IndexAny(text, " ;,")
		if end < 0 {
			end = len(text)
		}
		word := text[:end]
		if t, err := time.Parse(time.DateOnly, word); err == nil {
			word = write(t)
		}
		out.WriteString(word)
		if end < len(text) {
			out.WriteByte(text[end])
			end++
		}
		text = text[end:]
	}
	return out.String()
}
