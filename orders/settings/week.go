package settings

import (
	"fmt"
	"strings"
	"time"

	"batchwright/orders/measure"
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
	BuyingDays         float64 // until wood that is bought arrives, where the yard does not say when
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
func ParseHours(text string, _ Entry) (Hours, error) {
	plain := strings.ReplaceAll(strings.ToLower(text), " ", "")
	if plain == "closed" {
		return Hours{}, nil
	}
	from, to, ok := strings.Cut(strings.ReplaceAll(plain, "–", "-"), "-")
	var h Hours
	var errs [2]error
	h.From, errs[0] = measure.ParseClock(from)
	h.To, errs[1] = measure.ParseClock(to)
	if !ok || errs != [2]error{} || h.To <= h.From {
		return Hours{}, fmt.Errorf("%q is not hours such as 8:00-12:00, nor closed", text)
	}
	return h, nil
}

// Weekdays by their first three letters, in time.Weekday order.
var weekdays = []string{"sun", "mon", "tue", "wed", "thu", "fri", "sat"}

// parseClosed reads days of the week ("Sat, Sun") or "none".
func parseClosed(text string, _ Entry) ([7]bool, error) {
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

func datesText(dates []time.Time) string {
	var texts []string
	for _, d := range dates {
		texts = append(texts, d.Format(time.DateOnly))
	}
	return strings.Join(texts, ", ")
}

// week makes a definition whose text is read and written by two functions.
func week[T any](name, def, help string, texts textKind, field func(*Week) *T, parse func(string, Entry) (T, error), show func(T) string) Definition {
	return Definition{Name: name, Group: "Week", Default: def, Help: help, Origin: common, dress: texts,
		set: func(s *Shop, value string, e Entry) error {
			v, err := parse(value, e)
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
		count("People", "Week", "1", "people who work at the same time", func(s *Shop) *int { return &self(s).People }),
		week("Morning", "8:00-12:00", "hours before the break", words, func(w *Week) *Hours { return &w.Morning }, ParseHours, Hours.String),
		week("Afternoon", "13:00-17:00", "hours after the break", words, func(w *Week) *Hours { return &w.Afternoon }, ParseHours, Hours.String),
		week("Closed days", "Sat, Sun", "days of the week without work", words, func(w *Week) *[7]bool { return &w.Closed }, parseClosed, closedText),
		week("Holidays", "", "dates without work: 2027-01-01; 2027-12-24 to 2027-12-31", days, func(w *Week) *[]time.Time { return &w.Holidays }, parseDates, datesText),
		week("Absences", "", "when people are away: 2027-03-09; 2027-03-10 morning; 2027-03-15 to 2027-03-19 2 people; every Mon afternoon", days, func(w *Week) *[]Absence { return &w.Absences }, ParseAbsences, absencesText),
		count("Benches", "Week", "1", "places where one person can assemble, sand or coat", func(s *Shop) *int { return &self(s).Benches }),
		wholeFrom(0, "Clamps", "Week", "16", "clamps in the shop; 0: nothing can be glued", func(s *Shop) *int { return &self(s).Clamps }),
		count("Clamps a box", "Week", "4", "clamps one box needs", func(s *Shop) *int { return &self(s).ClampsBox }),
		figure("Glue open time", "Week", "min", "20", "from spreading glue to closing the joint: what is glued as one group", 1440, func(s *Shop) *float64 { return &self(s).OpenMinutes }),
		figure("Clamp time", "Week", "min", "60", "until clamps may come off", 14400, func(s *Shop) *float64 { return &self(s).ClampMinutes }),
		figure("Cure", "Week", "h", "12", "until a glued box may be sanded", 1000, func(s *Shop) *float64 { return &self(s).CureHours }),
		figure("Drying", "Week", "h", "8", "after each coat of finish", 1000, func(s *Shop) *float64 { return &self(s).DryHours }),
		figure("Buying takes", "Week", "d", "3", "days until bought wood arrives, where the yard gives no Arrives date", 365, func(s *Shop) *float64 { return &self(s).BuyingDays }),
		figure("Acclimate", "Week", "d", "7", "days bought wood rests in the shop before it is milled (one to two weeks)", 365, func(s *Shop) *float64 { return &self(s).AcclimatiseDays }).also("Acclimatise", "Acclimatize"),
		figure("Rest after milling", "Week", "h", "12", "before wood is cut to its final size", 1000, func(s *Shop) *float64 { return &self(s).RestHours }),
		wholeFrom(0, "Drying places", "Week", "24", "boxes that can stand and dry at once; 0: nothing is coated", func(s *Shop) *int { return &self(s).DryingPlaces }),
		figure("Buffer", "Week", "%", "15", "of every morning and afternoon, kept free for what goes wrong", 90, func(s *Shop) *float64 { return &self(s).BufferPercent }),
	}
}
