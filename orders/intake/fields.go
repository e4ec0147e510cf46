package intake

import (
	"errors"
	"fmt"
	"slices"
	"strconv"
	"strings"
	"time"

	"batchwright/orders"
	"batchwright/orders/measure"
)

// text reads a text as it stands.
func (l *line) text(name string) string {
	c, ok := l.get(name)
	if !ok {
		return ""
	}
	l.understood(name, c.text, c.text)
	return c.text
}

// notes reads every column of notes, one after the other.
func (l *line) notes() string {
	all := l.text("Notes")
	for i := range l.t.headings {
		h := &l.t.headings[i]
		c := l.row.at(h.col)
		if h.name != "Notes" || h == l.t.columns["Notes"] || c == nil || isBlank(c.text) {
			continue
		}
		l.listed[h.col] = true
		l.order.Readings = append(l.order.Readings, orders.Reading{Source: l.at(h.col), Heading: "Notes", Text: c.text, Meaning: c.text})
		all = strings.TrimPrefix(all+"; "+c.text, "; ")
	}
	return all
}

// reading is how a length in the named column is written.
func (l *line) reading(name string, c cell) measure.Reading {
	how := l.order.Settings.Reading()
	how.DecimalComma = (how.DecimalComma || l.t.comma) && c.kind == textCell
	if h := l.t.columns[name]; h != nil && h.unit != measure.NoUnit {
		how.Bare = h.unit
	} else if l.unit != measure.NoUnit {
		how.Bare = l.unit
	}
	return how
}

// length reads a length from the named column; not ok when it is blank or
// wrong, and only a wrong one makes the line bad.
func (l *line) length(name string) (measure.Length, bool) {
	c, ok := l.get(name)
	if !ok {
		return 0, false
	}
	switch c.kind {
	case dateCell:
		l.fault(name, c.text, "the spreadsheet turned this into a date"+dateGuess(c.text), "format the cell as text and type the length again")
		return 0, false
	case boolCell:
		l.fault(name, c.text, "this is yes or no, not a length", "write the length")
		return 0, false
	}
	if class := roughClass(c.text); class != "" && (name == "Thickness" || name == "End thickness") {
		l.takeClass(name, class)
		return 0, false
	}
	how := l.reading(name, c)
	value, err := measure.Parse(c.text, how)
	if err != nil {
		l.lengthFault(name, c.text, err)
		return 0, false
	}
	l.understood(name, c.text, both(value, l.order.Settings.Units))
	return value, true
}

// units is how this order's shop writes.
func (l *line) units() measure.Unit { return l.order.Settings.Units }

func (l *line) lengthFault(name, text string, err error) {
	var inexact *measure.InexactError
	var unreadable *measure.UnreadableError
	switch {
	case errors.As(err, &inexact):
		l.fault(name, text, "this size cannot be stored exactly",
			fmt.Sprintf("write %s mm or %s mm", l.units().Mark(inexact.Below.Decimal()), l.units().Mark(inexact.Above.Decimal()))+
				l.units().Either(fmt.Sprintf(", or the nearest fraction, %s in", strings.TrimPrefix(inexact.Below.Fraction(), measure.About)), ""))
	case errors.As(err, &unreadable) && unreadable.Guess != "":
		l.fault(name, text, "not read: "+unreadable.Why, fmt.Sprintf("write %s if you mean that", unreadable.Guess))
	case errors.As(err, &unreadable):
		if guess := typedDate(text); guess != "" {
			l.fault(name, text, "a spreadsheet probably turned this into a date "+guess, "format the cell as text and write "+guess+" if that is meant")
			return
		}
		why, _, _ := strings.Cut(unreadable.Why, ";")
		l.fault(name, text, "not a length: "+why, lengthFix(text, why, l.units()))
	default:
		l.fault(name, text, err.Error(), l.units().Either("write it like 3-1/2, 3.5 or 89 mm", "write it like 89, 87.5 or 8.9 cm"))
	}
}

// lengthFix is the next step with a text that is no length, by what is in it.
func lengthFix(text, why string, unit measure.Unit) string {
	words := " " + strings.Join(strings.FieldsFunc(strings.ToLower(text), func(r rune) bool { return r == ' ' || r == '.' || r >= '0' && r <= '9' }), " ") + " "
	has := func(any ...string) bool {
		return slices.ContainsFunc(any, func(w string) bool { return strings.Contains(words, w) })
	}
	switch {
	case strings.Contains(why, "decimal mark"):
		return "write it with that mark, or set Decimal mark on the Shop sheet"
	case strings.Contains(why, "below zero"):
		return "write the length without the sign"
	case has(" x ", " × ", " by "):
		return "write one length; for several in one cell use a heading such as Size (L x W x H)"
	case has(" about ", " ca ", " approx", "~", "ish ", " around ", " circa "):
		return "find out the length, and write it"
	case has(" to ", " or ", " max", " min", "<", ">", "+ ") || strings.Contains(why, "a dash stands"):
		return "write one length; write a fraction without spaces, as in 3-1/2"
	}
	return unit.Either("write it like 3-1/2, 3.5 or 89 mm", "write it like 89, 87.5 or 8.9 cm")
}

// both shows a length as it was understood: in inches and millimetres, or in the
// metric shop's millimetres alone.
func both(l measure.Length, unit measure.Unit) string {
	if unit.Metric() {
		return l.ShowUnit(unit)
	}
	return l.ShowUnit(measure.Inches) + " (" + l.ShowUnit(measure.Millimetres) + ")"
}

// dateGuess says which fraction a date probably was.
func dateGuess(iso string) string {
	d, err := time.Parse("2006-01-02", iso)
	if err != nil {
		return ""
	}
	return ", probably " + fractionOf(d)
}

// fractionOf is the fraction that became a date: 3/8 is 8 March, and 3/32, for
// want of such a day, the first of March 1932.
func fractionOf(d time.Time) string {
	under := d.Day()
	if under == 1 {
		under = d.Year() % 100
	}
	return fmt.Sprintf("%d/%d", int(d.Month()), under)
}

// typedDate gives the fraction behind a text such as 8-Mar or Mar-8.
func typedDate(text string) string {
	for _, layout := range []string{"2-Jan", "Jan-2", "2 Jan", "Jan 2", "2. Jan", "02.01."} {
		if d, err := time.Parse(layout, text); err == nil {
			return fmt.Sprintf("%d/%d", int(d.Month()), d.Day())
		}
	}
	return ""
}

// size reads a length that must be there and above zero.
func (l *line) size(name string) measure.Length {
	before := l.bad
	l.bad = false
	value, ok := l.length(name)
	switch {
	case ok && value <= 0:
		l.fault(name, "0", "a "+strings.ToLower(name)+" of 0 cannot be made", "write the "+strings.ToLower(name))
	case !ok && !l.bad:
		l.missing(name)
	}
	l.bad = l.bad || before
	return value
}

// missing says that a size is blank; of several in one cell it is said once.
func (l *line) missing(name string) {
	l.bad = true
	h := l.t.columns[name]
	if h == nil || h.piece > 0 {
		return
	}
	read := ""
	if c := l.row.at(h.col); c != nil {
		read = c.text
	}
	if h.pieces > 0 {
		l.fault(name, read, "the size is missing", "write "+strings.ToLower(strings.Join(h.sizes, " x ")))
		return
	}
	l.fault(name, read, "the "+strings.ToLower(name)+" is missing", "write the "+strings.ToLower(name))
}

// tally is a count as it was written: 6+1 spare is 6 and 1.
type tally struct{ make, spare int }

func (t tally) total() int { return t.make + t.spare }

// count reads a count; blank is left to the caller.
func (l *line) count(name string) (tally, bool) {
	c, ok := l.get(name)
	if !ok {
		return tally{}, false
	}
	if c.kind == dateCell || c.kind == boolCell {
		l.fault(name, c.text, "a count is needed here", "write a whole number, 1 doz, 2 pr or 6+1 spare")
		return tally{}, false
	}
	n, err := parseCount(c.text, l.reading(name, c).DecimalComma)
	if err != nil {
		if guess := countGuess(c.text); guess != "" {
			l.fault(name, c.text, "not a count: it has letters in place of digits", "write "+guess+" if that is meant")
		} else {
			l.fault(name, c.text, "not a count: "+err.Error(), "write a whole number, 1 doz, 2 pr or 6+1 spare")
		}
		return tally{}, false
	}
	meaning := strconv.Itoa(n.total())
	if n.spare > 0 {
		meaning = fmt.Sprintf("%d, and %d spare", n.make, n.spare)
	}
	l.understood(name, c.text, meaning)
	return n, true
}

// neededCount is a count that must be there.
func (l *line) neededCount(name string) tally {
	before := len(l.order.Findings)
	n, ok := l.count(name)
	if !ok && len(l.order.Findings) == before {
		if l.t.columns[name] != nil {
			l.fault(name, "", "the count is missing", "write how many")
		}
		l.bad = true
	}
	return n
}

// choice reads one of a column's words; words maps every spelling to its
// meaning.
func (l *line) choice(name, blank string, words map[string]string) string {
	c, ok := l.get(name)
	if !ok {
		return blank
	}
	meaning, known := words[foldHeading(c.text)]
	if !known {
		l.fault(name, c.text, "unknown word", "write one of: "+strings.Join(distinct(words), ", "))
		return blank
	}
	l.understood(name, c.text, meaning)
	return meaning
}

// money reads an amount.
func (l *line) money(name string) (measure.Money, bool) {
	m, ok := l.amount(name)
	if ok {
		l.understood(name, m.In(l.units()), m.In(l.units()))
	}
	return m, ok
}

// amount is money that the caller lists.
func (l *line) amount(name string) (measure.Money, bool) {
	c, ok := l.get(name)
	if !ok {
		return 0, false
	}
	m, err := measure.ParseMoney(c.text, l.reading(name, c).DecimalComma)
	if err != nil || c.kind == dateCell || c.kind == boolCell {
		l.fault(name, c.text, "not an amount of money with at most two decimals", "write it like 12.50, or leave it blank")
		return 0, false
	}
	return m, true
}

// date reads a day.
func (l *line) date(name string) time.Time {
	c, ok := l.get(name)
	if !ok {
		return time.Time{}
	}
	d, err := measure.ParseDate(c.text, l.order.Settings.Dates)
	if n, bad := strconv.Atoi(c.text); c.kind == numberCell && bad == nil && n > 36525 && n < 73051 {
		d, err = dateOfSerial(float64(n), false), nil
		l.warn(name, c.text, "read as the day number of "+l.order.Settings.Units.Date(d), "format the cell as a date, or write it as 2026-12-05")
	}
	if today := l.order.Settings.Today; err != nil && !today.IsZero() {
		if next, ok := measure.ParseDay(c.text, today); ok {
			l.warn(name, c.text, "read as the next such day, "+l.order.Settings.Units.Date(next), "write the year")
			return next
		}
	}
	if err != nil && name == "Due" && c.kind == textCell && !strings.ContainsAny(c.text, digits) {
		l.warn(name, c.text, "not a date: kept as a note; no due date", "write a date such as 2026-12-05 to have it scheduled")
		l.saidDate = c.text
		return time.Time{}
	}
	var two *measure.TwoDatesError
	if errors.As(err, &two) {
		l.twoDates = append(l.twoDates, unclearDate{l.cellOf(name), *two})
		l.bad = true
		return time.Time{}
	}
	if err != nil {
		l.fault(name, c.text, "not a date: "+err.Error(), "write it as 2026-12-05")
		return time.Time{}
	}
	l.understood(name, c.text, d.Format("2006-01-02"))
	return d
}
