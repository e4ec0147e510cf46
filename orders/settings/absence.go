package settings

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
	"time"

	"batchwright/orders/spelling"
)

// Absence is people who are away on one day, on each day to another, or on some
// days of every week.
type Absence struct {
	Day    time.Time      // midnight UTC; of every week: the first day it holds for, zero: at once
	Until  time.Time      // the last day; zero: Day alone, or every week from then on
	Every  []time.Weekday // of every week; empty: every day from Day to Until
	Half   string         // "morning", "afternoon"; empty: all day
	People int
}

// On reports whether the absence holds on a day.
func (a *Absence) On(day time.Time) bool {
	y, m, d := day.Date()
	day = time.Date(y, m, d, 0, 0, 0, 0, time.UTC)
	until := a.Until
	if until.IsZero() {
		if until = a.Day; len(a.Every) > 0 {
			until = day
		}
	}
	return !day.Before(a.Day) && !day.After(until) && (len(a.Every) == 0 || slices.Contains(a.Every, day.Weekday()))
}

// Away is how many people are away in one half of a day, "morning" or
// "afternoon".
func (w *Week) Away(day time.Time, half string) (n int) {
	for i := range w.Absences {
		if a := &w.Absences[i]; (a.Half == "" || a.Half == half) && a.On(day) {
			n += a.People
		}
	}
	return n
}

const absenceExample = "2027-01-31 morning, 2027-02-01 to 2027-02-05 2 people, or every Mon"

// ParseAbsences reads "2027-03-09; 2027-03-10 morning; 2027-03-15 to 2027-03-19
// 2 people; every Mon afternoon": without a number one person is away, without a
// half of the day all of it.
func ParseAbsences(text string, e Entry) ([]Absence, error) {
	var out []Absence
	for item := range strings.SplitSeq(text, ";") {
		a, err := parseAbsence(item, e)
		if err == nil {
			out = append(out, a...)
			continue
		}
		for one := range strings.SplitSeq(item, ",") { // a list with commas
			a, errOne := parseAbsence(one, e)
			if errOne != nil {
				return nil, err
			}
			out = append(out, a...)
		}
	}
	return out, nil
}

// parseAbsence reads one item; none for a blank.
func parseAbsence(item string, e Entry) ([]Absence, error) {
	wrong := fmt.Errorf("%q is not an absence such as %s", strings.TrimSpace(item), absenceExample)
	a := Absence{People: 1}
	words := strings.Fields(strings.ToLower(item))
	if len(words) == 0 || len(words) == 1 && words[0] == "none" {
		return nil, nil
	}
	words, ok := a.takeTail(words)
	if !ok {
		return nil, wrong
	}
	if len(words) > 1 && words[0] == "every" {
		words = a.takeDays(words[1:])
		if len(a.Every) == 0 || len(words) > 0 && !strings.Contains("from until to", words[0]) {
			return nil, wrong
		}
	}
	from, until, ranged := cutRange(strings.Join(words, " "))
	var err error
	if from != "" {
		if a.Day, err = e.day(from); err != nil {
			return nil, fmt.Errorf("%w; %w", wrong, err)
		}
	}
	if ranged {
		if a.Until, err = e.day(until); err != nil || a.Until.Before(a.Day) {
			return nil, wrong
		}
	}
	if len(a.Every) == 0 && from == "" {
		return nil, wrong
	}
	return []Absence{a}, nil
}

// takeTail reads the half of the day and the number of people at the end.
func (a *Absence) takeTail(words []string) (rest []string, ok bool) {
	for len(words) > 0 {
		last := words[len(words)-1]
		switch n, err := strconv.Atoi(last); {
		case last == "morning" || last == "mornings":
			a.Half = "morning"
		case last == "afternoon" || last == "afternoons":
			a.Half = "afternoon"
		case last == "people" || last == "person":
			if len(words) < 2 {
				return nil, false
			}
			if n, err = strconv.Atoi(words[len(words)-2]); err != nil || n < 1 {
				return nil, false
			}
			a.People, words = n, words[:len(words)-1]
		case err == nil && n > 0 && n < 1000 && len(words) > 1 && last != words[0]:
			if _, err := strconv.Atoi(words[len(words)-2]); err == nil {
				return words, true
			}
			a.People = n
		default:
			return words, true
		}
		words = words[:len(words)-1]
	}
	return words, true
}

// takeDays reads days of the week and gives back what follows them.
func (a *Absence) takeDays(words []string) []string {
	for i, word := range words {
		day := weekdayOf(strings.Trim(word, ", "))
		if day < 0 && word != "and" {
			return words[i:]
		}
		if day >= 0 {
			a.Every = append(a.Every, time.Weekday(day))
		}
	}
	return nil
}

// weekdayOf is the day of the week that a word names; -1: none.
func weekdayOf(word string) int {
	full := []string{"sunday", "monday", "tuesday", "wednesday", "thursday", "friday", "saturday"}
	word = strings.TrimSuffix(word, "s")
	for i, name := range full {
		if len(word) >= 3 && (strings.HasPrefix(name, word) || strings.HasPrefix(name, word+"s")) {
			return i
		}
	}
	return -1
}

// cutRange parts "2027-03-09 to 2027-03-12" and "from X until Y".
func cutRange(text string) (from, until string, ranged bool) {
	text = " " + strings.TrimPrefix(strings.TrimSpace(text), "from ")
	for _, word := range []string{" to ", " until ", " through ", " – ", " - "} {
		if from, until, ranged = strings.Cut(text, word); ranged {
			return strings.TrimSpace(from), strings.TrimSpace(until), true
		}
	}
	return strings.TrimSpace(text), "", false
}

// parseDates reads dates such as 2027-01-01, parted by semicolons, commas or
// blanks; "2027-12-24 to 2027-12-31" is each day from one to the other.
func parseDates(text string, e Entry) ([]time.Time, error) {
	var dates []time.Time
	for item := range strings.FieldsFuncSeq(text, func(r rune) bool { return r == ';' || r == '\n' }) {
		some, err := datesOf(item, e)
		for _, part := range []string{",", " "} { // a list with commas or blanks
			if err != nil {
				some, err = nil, nil
				for one := range strings.SplitSeq(strings.ReplaceAll(item, ",", part), part) {
					more, errOne := datesOf(one, e)
					if some = append(some, more...); errOne != nil {
						err = errOne
						break
					}
				}
			}
		}
		if err != nil {
			return nil, err
		}
		dates = append(dates, some...)
	}
	return dates, nil
}

// maxHolidays bounds one stretch of closed days.
const maxHolidays = 400

func datesOf(item string, e Entry) (dates []time.Time, err error) {
	if spelling.Fold(item) == "" || spelling.Fold(item) == "none" {
		return nil, nil
	}
	from, until, ranged := cutRange(item)
	first, err := e.day(from)
	if err != nil || !ranged {
		return []time.Time{first}, err
	}
	last, err := e.day(until)
	if err != nil || last.Before(first) || last.After(first.AddDate(0, 0, maxHolidays)) {
		return nil, fmt.Errorf("%q is not a range of days such as 2027-12-24 to 2027-12-31", strings.TrimSpace(item))
	}
	for d := first; !d.After(last); d = d.AddDate(0, 0, 1) {
		dates = append(dates, d)
	}
	return dates, nil
}

func absencesText(absences []Absence) string {
	var texts []string
	for _, a := range absences {
		texts = append(texts, a.String())
	}
	return strings.Join(texts, "; ")
}

// String is the absence as ParseAbsences reads it.
func (a Absence) String() string {
	var words []string
	if len(a.Every) > 0 {
		words = append(words, "every")
		for _, day := range a.Every {
			words = append(words, day.String()[:3])
		}
	}
	switch {
	case !a.Day.IsZero() && len(a.Every) > 0:
		words = append(words, "from", a.Day.Format(time.DateOnly))
	case !a.Day.IsZero():
		words = append(words, a.Day.Format(time.DateOnly))
	}
	if !a.Until.IsZero() {
		words = append(words, "to", a.Until.Format(time.DateOnly))
	}
	if a.Half != "" {
		words = append(words, a.Half)
	}
	if a.People != 1 {
		words = append(words, fmt.Sprintf("%d people", a.People))
	}
	return strings.Join(words, " ")
}
