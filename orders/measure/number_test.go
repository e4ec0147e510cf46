package measure_test

import (
	"errors"
	"testing"
	"time"

	"batchwright/orders/measure"
)

// A shop's decimal mark is read everywhere; among commas a point is read where
// it cannot part thousands.
func TestNumbersOfBothMarks(t *testing.T) {
	point, comma := measure.Reading{Bare: measure.Millimetres}, measure.Reading{Bare: measure.Millimetres, DecimalComma: true}
	tests := []struct {
		text string
		how  measure.Reading
		want float64 // -1: refused
		why  string
	}{
		{"2.83", point, 2.83, "the shop's own mark"},
		{"2,83", comma, 2.83, "the shop's own mark"},
		{"2.83", comma, 2.83, "a point that can only be decimal"},
		{"0.125", comma, 0.125, "nothing is written 0 thousand"},
		{"2.500", comma, -1, "2,5 or 2500"},
		{"2,83", point, -1, "a shop of points may mean two numbers"},
		{"1.250,00", comma, -1, "a length or a number has no marks for thousands"},
		{"37,5", comma, 37.5, "minutes"},
		{"1e3", point, -1, "nobody writes that in a cell"},
		{"NaN", point, -1, "no number"},
		{"-0.5", point, -0.5, "a tight fit"},
		{"−0,5", comma, -0.5, "with a printed minus sign"},
		{"", point, -1, "blank"},
		{"3,1,4", comma, -1, "two marks"},
	}
	for _, tt := range tests {
		got, err := tt.how.Number(tt.text)
		if (err != nil) != (tt.want == -1) || err == nil && got != tt.want {
			t.Errorf("Number(%q, comma %t) = %v, %v, want %v: %s", tt.text, tt.how.DecimalComma, got, err, tt.want, tt.why)
		}
		if tt.want <= 0 {
			continue
		}
		l, err := measure.Parse(tt.text, tt.how)
		if err != nil || l.Millimetres() != tt.want {
			t.Errorf("Parse(%q, comma %t) = %v, %v, want %v: %s", tt.text, tt.how.DecimalComma, l, err, tt.want, tt.why)
		}
	}
	if l, err := measure.Parse("2.500", comma); err == nil {
		t.Errorf("2.500 among commas was read as %v", l)
	}
}

// What is printed with a comma reads back with a comma.
func TestPrintedNumbersReadBack(t *testing.T) {
	unit := measure.Millimetres.Written(true, measure.DayFirst)
	how := measure.Reading{Bare: unit, DecimalComma: unit.Comma()}
	for _, mm := range []measure.Length{87_500, 2_830, 3_175, 10, 1_500_000, 999} {
		l := mm * measure.Micrometre
		back, err := measure.Parse(l.ShowUnit(unit), how)
		if err != nil || back != l {
			t.Errorf("%s read back as %s: %v", l.ShowUnit(unit), back.ShowUnit(unit), err)
		}
	}
	if got := (measure.Millimetre * 175 / 2).ShowUnit(unit); got != "87,5 mm" {
		t.Errorf("87.5 mm is printed %q", got)
	}
	if got := unit.Percent(8.5, -1) + " " + measure.Inches.Percent(78, 0); got != "8,5 % 78%" {
		t.Errorf("percentages are printed %q", got)
	}
	if unit.String() != "mm" || unit.Ticks() != measure.Millimetre || !unit.Metric() || unit.In(measure.Inches).Metric() {
		t.Error("the unit is lost in how it is written")
	}
}

// Dates in the local forms and in ISO 8601.
func TestDatesOfThreeShops(t *testing.T) {
	day := func(y int, m time.Month, d int) time.Time { return time.Date(y, m, d, 0, 0, 0, 0, time.UTC) }
	tests := []struct {
		text  string
		order measure.Dates
		want  time.Time // zero: refused
		why   string
	}{
		{"18.12.2026", measure.AnyDates, day(2026, 12, 18), "no month 18"},
		{"3.4.2027", measure.MonthFirst, day(2027, 4, 3), "dots are day first wherever they are used"},
		{"3/4/2027", measure.MonthFirst, day(2027, 3, 4), "US"},
		{"3/4/2027", measure.DayFirst, day(2027, 4, 3), "day first"},
		{"3/4/2027", measure.AnyDates, time.Time{}, "two days"},
		{"3/4/27", measure.ISODates, time.Time{}, "an ISO shop writes the year first; this may be two days"},
		{"2027-04-03", measure.DayFirst, day(2027, 4, 3), "ISO 8601 is always read"},
		{"Mar 12, 2027", measure.DayFirst, day(2027, 3, 12), "named months"},
		{"31/12/2026", measure.MonthFirst, day(2026, 12, 31), "only one day is meant"},
		{"30.2.2027", measure.DayFirst, time.Time{}, "no such day"},
	}
	for _, tt := range tests {
		got, err := measure.ParseDate(tt.text, tt.order)
		if !got.Equal(tt.want) || (err != nil) != tt.want.IsZero() {
			t.Errorf("ParseDate(%q, %v) = %v, %v, want %v: %s", tt.text, tt.order, got, err, tt.want, tt.why)
		}
	}
	var two *measure.TwoDatesError
	if _, err := measure.ParseDate("3/4/2027", 0); !errors.As(err, &two) || !two.MonthFirst.Equal(day(2027, 3, 4)) {
		t.Errorf("3/4/2027: %v", err)
	}
	d := day(2027, 3, 12)
	for _, c := range [][2]string{
		{measure.Inches.LongDate(d), "Fri Mar 12, 2027"},
		{measure.Millimetres.LongDate(d), "Fri 12 Mar 2027"},
		{measure.Inches.Written(false, measure.ISODates).LongDate(d), "Fri 2027-03-12"},
		{measure.Millimetres.Written(true, measure.DayFirst).NumericDate(d), "12.3.2027"},
		{measure.Inches.Clock(d.Add(15*time.Hour + 4*time.Minute)), "3:04 PM"},
		{measure.Millimetres.Clock(d.Add(15*time.Hour + 4*time.Minute)), "15:04"},
	} {
		if c[0] != c[1] {
			t.Errorf("printed %q, want %q", c[0], c[1])
		}
	}
}

func TestMomentsAndTimes(t *testing.T) {
	for text, want := range map[string]int{"8": 480, "8:30": 510, "15:04": 904, "3:04 pm": 904, "12 am": 0, "12:15 PM": 735, "24:00": 1440, "8.30": -1, "25": -1, "13 pm": -1, "8:5": -1} {
		got, err := measure.ParseClock(text)
		if err != nil {
			got = -1
		}
		if got != want {
			t.Errorf("ParseClock(%q) = %d, %v, want %d", text, got, err, want)
		}
	}
	for _, text := range []string{"18.12.2026 7:30", "Dec 18, 2026 7:30 am", "2026-12-18T07:30"} {
		at, timed, err := measure.ParseMoment(text, measure.DayFirst)
		if err != nil || !timed || !at.Equal(time.Date(2026, 12, 18, 7, 30, 0, 0, time.UTC)) {
			t.Errorf("ParseMoment(%q) = %v, %t, %v", text, at, timed, err)
		}
	}
	if at, timed, err := measure.ParseMoment("18.12.2026", 0); err != nil || timed || at.Day() != 18 {
		t.Errorf("a day alone: %v, %t, %v", at, timed, err)
	}
	today := time.Date(2026, 11, 29, 0, 0, 0, 0, time.UTC)
	if d, ok := measure.ParseDay("Jan 15", today); !ok || d.Year() != 2027 || d.Day() != 15 {
		t.Errorf("Jan 15 is %v", d)
	}
	if _, ok := measure.ParseDay("soon", today); ok {
		t.Error("soon is a day")
	}
}
