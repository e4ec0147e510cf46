package measure

import (
	"errors"
	"fmt"
	"strconv"
	"strings"
	"time"
)

// Dates is the order in which a shop writes day, month and year.
type Dates int

// The orders of dates. The zero value is not said: the unit decides how a date
// is printed, and one that can be read two ways is refused.
const (
	AnyDates Dates = iota
	MonthFirst
	DayFirst
	ISODates
)

// DateOrders are the orders by the name the Dates setting gives them.
var DateOrders = []string{"", "month first", "day first", "ISO"}

func (d Dates) String() string { return DateOrders[d] }

// Dates is the order of dates that was said; AnyDates when nobody did.
func (u Unit) Dates() Dates { return Dates(u & dateMask >> dateShift) }

// printed is the order dates are printed in: US shops write the month first.
func (u Unit) printed() Dates {
	switch d := u.Dates(); {
	case d != AnyDates:
		return d
	case u.Metric():
		return DayFirst
	}
	return MonthFirst
}

// Date is a day as the shop writes it: "Mar 12, 2027", "12 Mar 2027" or
// "2027-03-12".
func (u Unit) Date(t time.Time) string {
	return t.Format([...]string{"", "Jan 2, 2006", "2 Jan 2006", "2006-01-02"}[u.printed()])
}

// NumericDate is a date in figures, as the shop types it: "3/12/2027",
// "12.3.2027" or "2027-03-12".
func (u Unit) NumericDate(t time.Time) string {
	return t.Format([...]string{"", "1/2/2006", "2.1.2006", "2006-01-02"}[u.printed()])
}

// LongDate is Date with the day of the week: "Fri Mar 12, 2027".
func (u Unit) LongDate(t time.Time) string { return t.Format("Mon ") + u.Date(t) }

// Day is Date without the year, for pages that say it: "Mar 12", "12 Mar", "03-12".
func (u Unit) Day(t time.Time) string {
	return t.Format([...]string{"", "Jan 2", "2 Jan", "01-02"}[u.printed()])
}

// LongDay is Day with the day of the week: "Fri Mar 12".
func (u Unit) LongDay(t time.Time) string { return t.Format("Mon ") + u.Day(t) }

// Clock is a time of day: "3:04 PM" where the month comes first, else "15:04".
func (u Unit) Clock(t time.Time) string {
	if u.printed() == MonthFirst {
		return t.Format("3:04 PM")
	}
	return t.Format("15:04")
}

// TwoDatesError is a date that can be read as two days.
type TwoDatesError struct {
	Text                 string
	MonthFirst, DayFirst time.Time
}

func (e *TwoDatesError) Error() string {
	return fmt.Sprintf("%q is %s or %s", e.Text, e.MonthFirst.Format("Jan 2, 2006"), e.DayFirst.Format("2 Jan 2006"))
}

// dateLayouts are the ways of writing a date that can be read only one way
// (2006-01-02 is ISO 8601; a date with dots is day first wherever it is used).
var dateLayouts = []string{
	"2006-01-02", "2006-1-2", "2006/1/2", "2006.1.2", "20060102",
	"2 Jan 2006", "2 January 2006", "2-Jan-2006", "2-January-2006", "2-Jan-06", "2 Jan 06",
	"Jan 2 2006", "January 2 2006", "Jan-2-2006",
	"Mon 2 Jan 2006", "Mon Jan 2 2006", "Monday 2 January 2006", "Monday January 2 2006",
	"2006-01-02T15:04:05", "2006-01-02T15:04:05Z", "2006-01-02 15:04:05", "2006-01-02 15:04",
	"2.1.2006", "2. 1. 2006", "2. January 2006", "2. Jan 2006",
}

var dayLayouts = []string{"2 Jan", "2 January", "Jan 2", "January 2", "2. Jan", "2. January", "2.1."}

// ParseDate reads a date written in any usual way. What can be read as two days
// is a *TwoDatesError, unless the shop says in which order it writes dates.
func ParseDate(text string, order Dates) (time.Time, error) {
	plain := plainDate(text)
	for _, layout := range dateLayouts {
		d, err := time.Parse(layout, plain)
		switch {
		case err != nil:
		case strings.HasPrefix(layout, "Mon") && !strings.EqualFold(plain[:3], d.Format("Mon")):
			return time.Time{}, fmt.Errorf("%s is a %s", d.Format("2 January 2006"), d.Format("Monday"))
		default:
			return plausible(d)
		}
	}
	parts := strings.FieldsFunc(plain, func(r rune) bool { return r == '/' || r == '-' || r == '.' })
	if len(parts) == 3 {
		a, errA := strconv.Atoi(parts[0])
		b, errB := strconv.Atoi(parts[1])
		year, errY := strconv.Atoi(parts[2])
		if year < 100 {
			year += 2000
		}
		if errA == nil && errB == nil && errY == nil {
			return dayAndMonth(text, a, b, year, order)
		}
	}
	return time.Time{}, errors.New("it has no day, month and year")
}

// ParseDay reads a date without its year, such as "Jan 15", as the next such day
// after today.
func ParseDay(text string, today time.Time) (time.Time, bool) {
	for _, layout := range dayLayouts {
		d, err := time.Parse(layout, plainDate(text))
		if err != nil {
			continue
		}
		for year := today.Year(); year < today.Year()+9; year++ {
			if next, real := realDate(year, int(d.Month()), d.Day()); real && !next.Before(today) {
				return next, true
			}
		}
	}
	return time.Time{}, false
}

func plainDate(text string) string {
	text = strings.NewReplacer(",", " ", "1st", "1", "2nd", "2", "3rd", "3", "Sept ", "Sep ").Replace(text)
	return withoutTh(strings.Join(strings.Fields(text), " "))
}

func dayAndMonth(text string, a, b, year int, order Dates) (time.Time, error) {
	monthFirst, ok1 := realDate(year, a, b)
	dayFirst, ok2 := realDate(year, b, a)
	switch {
	case ok1 && ok2 && order == MonthFirst, ok1 && !ok2:
		return plausible(monthFirst)
	case ok1 && ok2 && order == DayFirst, ok2 && !ok1, ok1 && monthFirst.Equal(dayFirst):
		return plausible(dayFirst)
	case ok1:
		return time.Time{}, &TwoDatesError{strings.TrimSpace(text), monthFirst, dayFirst}
	}
	return time.Time{}, errors.New("the month has no such day")
}

func realDate(year, month, day int) (time.Time, bool) {
	d := time.Date(year, time.Month(month), day, 0, 0, 0, 0, time.UTC)
	return d, d.Month() == time.Month(month) && d.Day() == day
}

func plausible(d time.Time) (time.Time, error) {
	if d.Year() < 2000 || d.Year() > 2100 {
		return time.Time{}, fmt.Errorf("its year is %d", d.Year())
	}
	return d, nil
}

// withoutTh drops the ending of 4th and the like.
func withoutTh(s string) string {
	for i := 1; i+2 <= len(s); i++ {
		if strings.EqualFold(s[i:i+2], "th") && s[i-1] >= '0' && s[i-1] <= '9' {
			return s[:i] + s[i+2:]
		}
	}
	return s
}

// ParseMoment reads a date with a time of day behind it, or none: then the time
// is midnight and timed is false.
func ParseMoment(text string, order Dates) (at time.Time, timed bool, err error) {
	text = strings.TrimSpace(strings.Replace(text, "T", " ", 1))
	if at, err = ParseDate(text, order); err == nil && at.Hour()+at.Minute() == 0 {
		return at, strings.Contains(text, ":"), nil
	}
	if day, clock, ok := cutClock(text); ok {
		d, errDay := ParseDate(day, order)
		minutes, errClock := ParseClock(clock)
		if errDay == nil && errClock == nil {
			return d.Add(time.Duration(minutes) * time.Minute), true, nil
		}
		err = errors.Join(errDay, errClock)
	}
	return at, false, err
}

// cutClock parts "18.12.2026 7:30 pm" before its time.
func cutClock(text string) (day, clock string, ok bool) {
	words := strings.Fields(text)
	for n := 1; n <= 2 && n < len(words); n++ {
		clock = strings.Join(words[len(words)-n:], " ")
		if _, err := ParseClock(clock); err == nil && strings.ContainsAny(clock, ":apAP") {
			return strings.Join(words[:len(words)-n], " "), clock, true
		}
	}
	return "", "", false
}

// ParseClock reads a time of day in minutes from midnight: "8", "8:30", "15:04",
// "3:04 pm", "24:00".
func ParseClock(text string) (minutes int, err error) {
	plain := strings.ToLower(strings.ReplaceAll(text, " ", ""))
	plain = strings.NewReplacer("a.m.", "am", "p.m.", "pm").Replace(plain)
	half := ""
	for _, mark := range []string{"am", "pm"} {
		if rest, ok := strings.CutSuffix(plain, mark); ok {
			plain, half = rest, mark
		}
	}
	hour, minute, has := strings.Cut(plain, ":")
	h, errH := strconv.Atoi(hour)
	m, errM := 0, error(nil)
	if has {
		m, errM = strconv.Atoi(minute)
	}
	bad := errH != nil || errM != nil || h < 0 || m < 0 || m > 59 || has && len(minute) != 2 || half != "" && (h < 1 || h > 12)
	if half != "" {
		h %= 12
	}
	if half == "pm" {
		h += 12
	}
	if bad || h*60+m > 24*60 {
		return 0, fmt.Errorf("%q is not a time such as 8:30 or 15:30", text)
	}
	return h*60 + m, nil
}
