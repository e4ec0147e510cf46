package settings

import (
	"fmt"
	"strconv"
	"strings"
	"time"

	"batchwright/orders/spelling"
)

// Week is when and with what the shop works.
type Week struct {
	People             int
	Morning, Afternoon Hours
	Closed             [7]bool     // by time.Weekday
	Holidays           []time.Time // closed dates, midnight UTC
	Absences           []Absence
	Benches            int
	Clamps             int     // in the shop
	ClampsBox          int     // one box needs
	OpenMinutes        float64 // from spreading glue to closing the joint
	ClampMinutes       float64 // until clamps may come off
	CureHours          float64 // until a glued box may be worked
	DryHours           float64 // between coats
	AcclimatiseDays    float64 // bought wood in the shop before it is milled
	RestHours          float64 // milled wood before its final size
	DryingPlaces       int     // boxes that can stand and dry
	BufferPercent      float64 // of work time kept free
}

// Hours is a stretch of a day without a break, in minutes from midnight. An
// empty stretch is closed.
type Hours struct{ From, To int }

// String is "8:00-12:00", or "closed".
func (h Hours) String() string {
	if h.To <= h.From {
		return "closed"
	}
	return fmt.Sprintf("%d:%02d-%d:%02d", h.From/60, h.From%60, h.To/60, h.To%60)
}

// ParseHours reads "8:00-12:00", "8-12" or "closed".
func ParseHours(text string) (Hours, error) {
	plain := strings.ReplaceAll(strings.ToLower(text), " ", "")
	if plain == "closed" {
		return Hours{}, nil
	}
	from, to, ok := strings.Cut(strings.ReplaceAll(plain, "–", "-"), "-")
	h := Hours{minutesOfDay(from), minutesOfDay(to)}
	if !ok || h.From < 0 || h.To <= h.From {
		return Hours{}, fmt.Errorf("%q is not a stretch of hours such as 8:00-12:00, nor closed", text)
	}
	return h, nil
}

// minutesOfDay reads "8", "8:30" or "24:00"; -1: it is none.
func minutesOfDay(text string) int {
	hour, minute, _ := strings.Cut(text, ":")
	h, m := 0, 0
	if n, err := fmt.Sscanf(hour+" "+minute+"0", "%d %d", &h, &m); n != 2 || err != nil {
		return -1
	}
	m /= 10
	if h < 0 || m < 0 || m > 59 || h*60+m > 24*60 {
		return -1
	}
	return h*60 + m
}

// Weekdays by their first three letters, in time.Weekday order.
var weekdays = []string{"sun", "mon", "tue", "wed", "thu", "fri", "sat"}

// parseClosed reads days of the week ("Sat, Sun") or "none".
func parseClosed(text string) ([7]bool, error) {
	var closed [7]bool
	if spelling.Fold(text) == "none" || spelling.Fold(text) == "" {
		return closed, nil
	}
	for word := range strings.FieldsFuncSeq(strings.ToLower(text), func(r rune) bool { return strings.ContainsRune(", ;/", r) }) {
		day := -1
		for i, name := range weekdays {
			if strings.HasPrefix(word, name) {
				day = i
			}
		}
		if day < 0 {
			return closed, fmt.Errorf("%q is not a day of the week such as Sat", word)
		}
		closed[day] = true
	}
	if closed == [7]bool{true, true, true, true, true, true, true} {
		return closed, fmt.Errorf("%q closes every day of the week", text)
	}
	return closed, nil
}

func closedText(closed [7]bool) string {
	var days []string
	for i, c := range closed {
		if c {
			days = append(days, strings.ToUpper(weekdays[i][:1])+weekdays[i][1:])
		}
	}
	if len(days) == 0 {
		return "none"
	}
	return strings.Join(days, ", ")
}

// parseDates reads dates such as 2027-01-01, parted by commas or blanks.
func parseDates(text string) ([]time.Time, error) {
	var dates []time.Time
	for word := range strings.FieldsFuncSeq(text, func(r rune) bool { return strings.ContainsRune(",; ", r) }) {
		if spelling.Fold(word) == "none" {
			continue
		}
		d, err := time.Parse(time.DateOnly, word)
		if err != nil {
			return nil, fmt.Errorf("%q is not a date such as 2027-01-31", word)
		}
		dates = append(dates, d)
	}
	return dates, nil
}

func datesText(dates []time.Time) string {
	var texts []string
	for _, d := range dates {
		texts = append(texts, d.Format(time.DateOnly))
	}
	return strings.Join(texts, ", ")
}

// Absence is people who are away on one day or one half of it.
type Absence struct {
	Day    time.Time // midnight UTC
	Half   string    // "morning", "afternoon"; empty: all day
	People int
}

// Away is how many people are away in one half of a day, "morning" or
// "afternoon".
func (w *Week) Away(day time.Time, half string) (n int) {
	for _, a := range w.Absences {
		if (a.Half == "" || a.Half == half) && a.Day.Year() == day.Year() && a.Day.YearDay() == day.YearDay() {
			n += a.People
		}
	}
	return n
}

// ParseAbsences reads "2027-03-09; 2027-03-10 morning; 2027-03-11 2 people":
// without a number one person is away, without a half of the day all of it.
func ParseAbsences(text string) ([]Absence, error) {
	var out []Absence
	for item := range strings.FieldsFuncSeq(text, func(r rune) bool { return r == ';' || r == ',' }) {
		words := strings.Fields(strings.ToLower(item))
		if len(words) == 0 || len(words) == 1 && words[0] == "none" {
			continue
		}
		a := Absence{People: 1}
		var err error
		if a.Day, err = time.Parse(time.DateOnly, words[0]); err != nil {
			return nil, fmt.Errorf("%q is not a date such as 2027-01-31", words[0])
		}
		for _, word := range words[1:] {
			n, err := strconv.Atoi(word)
			switch {
			case word == "morning" || word == "afternoon":
				a.Half = word
			case err == nil && n > 0:
				a.People = n
			case word != "people" && word != "person":
				return nil, fmt.Errorf("%q is not an absence such as 2027-01-31 morning, or 2027-01-31 2 people", strings.TrimSpace(item))
			}
		}
		out = append(out, a)
	}
	return out, nil
}

func absencesText(absences []Absence) string {
	var texts []string
	for _, a := range absences {
		text := a.Day.Format(time.DateOnly)
		if a.Half != "" {
			text += " " + a.Half
		}
		if a.People != 1 {
			text += fmt.Sprintf(" %d people", a.People)
		}
		texts = append(texts, text)
	}
	return strings.Join(texts, "; ")
}

// week makes a definition whose text is read and written by two functions.
func week[T any](name, unit, def, help string, field func(*Week) *T, parse func(string) (T, error), show func(T) string) Definition {
	return Definition{Name: name, Group: "Week", Default: def, Unit: unit, Help: help, Origin: common,
		set: func(s *Shop, value string, _ Entry) error {
			v, err := parse(value)
			if err == nil {
				*field(&s.Week) = v
			}
			return err
		},
		value: func(s *Shop) any { return show(*field(&s.Week)) }}
}

// WeekDifferences names the settings of the week that differ.
func WeekDifferences(a, b *Shop) (names []string) {
	for _, d := range weekDefinitions() {
		if d.value(a) != d.value(b) {
			names = append(names, d.Name)
		}
	}
	return names
}

// weekDefinitions are the settings of people, hours, clamps and waits.
func weekDefinitions() []Definition {
	self := func(s *Shop) *Week { return &s.Week }
	return []Definition{
		count("People", "Week", "1", "who work at the same time", func(s *Shop) *int { return &self(s).People }),
		week("Morning", "", "8:00-12:00", "hours before the break", func(w *Week) *Hours { return &w.Morning }, ParseHours, Hours.String),
		week("Afternoon", "", "13:00-17:00", "hours after the break", func(w *Week) *Hours { return &w.Afternoon }, ParseHours, Hours.String),
		week("Closed days", "", "Sat, Sun", "days of the week without work", func(w *Week) *[7]bool { return &w.Closed }, parseClosed, closedText),
		week("Holidays", "", "", "dates without work: 2027-01-01, 2027-12-24", func(w *Week) *[]time.Time { return &w.Holidays }, parseDates, datesText),
		week("Absences", "", "", "when somebody is away: 2027-03-09; 2027-03-10 morning; 2027-03-11 2 people", func(w *Week) *[]Absence { return &w.Absences }, ParseAbsences, absencesText),
		count("Benches", "Week", "1", "places where one person can assemble, sand or coat", func(s *Shop) *int { return &self(s).Benches }),
		wholeFrom(0, "Clamps", "Week", "16", "clamps in the shop; 0: none is free, nothing is glued", func(s *Shop) *int { return &self(s).Clamps }),
		count("Clamps a box", "Week", "4", "clamps one box needs", func(s *Shop) *int { return &self(s).ClampsBox }),
		figure("Glue open time", "Week", "min", "20", "from spreading glue to closing the joint: what is glued as one group", 1440, func(s *Shop) *float64 { return &self(s).OpenMinutes }),
		figure("Clamp time", "Week", "min", "60", "until clamps may come off", 14400, func(s *Shop) *float64 { return &self(s).ClampMinutes }),
		figure("Cure", "Week", "h", "12", "until a glued box may be sanded", 1000, func(s *Shop) *float64 { return &self(s).CureHours }),
		figure("Drying", "Week", "h", "8", "after each coat of finish", 1000, func(s *Shop) *float64 { return &self(s).DryHours }),
		figure("Acclimatise", "Week", "d", "7", "wood that arrives on a date stands in the shop before it is milled (one to two weeks)", 365, func(s *Shop) *float64 { return &self(s).AcclimatiseDays }),
		figure("Rest after milling", "Week", "h", "12", "before wood is cut to its final size", 1000, func(s *Shop) *float64 { return &self(s).RestHours }),
		wholeFrom(0, "Drying places", "Week", "24", "boxes that can stand and dry at once; 0: nothing is coated", func(s *Shop) *int { return &self(s).DryingPlaces }),
		figure("Buffer", "Week", "%", "15", "of every stretch of hours kept free for what goes wrong", 90, func(s *Shop) *float64 { return &self(s).BufferPercent }),
	}
}
