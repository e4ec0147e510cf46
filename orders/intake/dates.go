package intake

import (
	"errors"
	"fmt"
	"math"
	"strconv"
	"strings"
	"time"
)

// dateOfSerial is the day a spreadsheet's day number stands for. Numbers below
// 61 count the 29 February 1900 that never was.
func dateOfSerial(f float64, from1904 bool) time.Time {
	days := math.Floor(max(-1e6, min(f, 1e7)))
	switch {
	case from1904:
		days += 1462
	case days < 61:
		days++
	}
	return time.Date(1899, 12, 30, 0, 0, 0, 0, time.UTC).AddDate(0, 0, int(days))
}

// dateLayouts are the ways of writing a date that can be read only one way.
var dateLayouts = []string{
	"2006-01-02", "2006-1-2", "2006/1/2", "2006.1.2", "20060102",
	"2 Jan 2006", "2 January 2006", "2-Jan-2006", "2-January-2006", "2-Jan-06", "2 Jan 06",
	"Jan 2 2006", "January 2 2006", "Jan-2-2006",
	"Mon 2 Jan 2006", "Mon Jan 2 2006", "Monday 2 January 2006", "Monday January 2 2006",
	"2006-01-02T15:04:05", "2006-01-02T15:04:05Z", "2006-01-02 15:04:05", "2006-01-02 15:04",
	"2.1.2006", "2. 1. 2006", "2. January 2006",
}

// parseDate reads a date. What can be read as two days is refused with both.
func parseDate(text string) (time.Time, error) {
	plain := strings.Join(strings.Fields(strings.NewReplacer(",", " ", "1st", "1", "2nd", "2", "3rd", "3", "Sept ", "Sep ").Replace(text)), " ")
	plain = withoutTh(plain)
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
			return dayAndMonth(a, b, year)
		}
	}
	return time.Time{}, errors.New("it names no day, month and year")
}

func dayAndMonth(a, b, year int) (time.Time, error) {
	monthFirst, ok1 := realDate(year, a, b)
	dayFirst, ok2 := realDate(year, b, a)
	switch {
	case ok1 && ok2 && !monthFirst.Equal(dayFirst):
		return time.Time{}, fmt.Errorf("it may be %s or %s", monthFirst.Format("2 January 2006"), dayFirst.Format("2 January 2006"))
	case ok1:
		return plausible(monthFirst)
	case ok2:
		return plausible(dayFirst)
	}
	return time.Time{}, errors.New("no month has such a day")
}

func realDate(year, month, day int) (time.Time, bool) {
	d := time.Date(year, time.Month(month), day, 0, 0, 0, 0, time.UTC)
	return d, d.Month() == time.Month(month) && d.Day() == day
}

func plausible(d time.Time) (time.Time, error) {
	if d.Year() < 2000 || d.Year() > 2100 {
		return time.Time{}, fmt.Errorf("it is in the year %d", d.Year())
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
