package week

import (
	"slices"
	"sort"
	"time"

	"batchwright/jigplan"
	"batchwright/orders/settings"
)

// Calendar lists the half-days of a shop on so many days from a date on; what
// lies before from is left out.
func Calendar(from time.Time, days int, w settings.Week) []jigplan.HalfDay {
	var out []jigplan.HalfDay
	year, month, date := from.Date()
	for k := range days {
		day := time.Date(year, month, date+k, 0, 0, 0, 0, from.Location())
		if w.Closed[day.Weekday()] || slices.ContainsFunc(w.Holidays, func(h time.Time) bool { return sameDate(h, day) }) {
			continue
		}
		for _, part := range [...]struct {
			name  string
			hours settings.Hours
		}{{"morning", w.Morning}, {"afternoon", w.Afternoon}} {
			half := jigplan.HalfDay{From: clockTime(day, part.hours.From), To: clockTime(day, part.hours.To),
				People: max(0, w.People-w.Away(day, part.name))}
			if half.From.Before(from) {
				half.From = from.Truncate(unit).Add(unit)
				if from.Truncate(unit).Equal(from) {
					half.From = from
				}
			}
			if half.To.After(half.From) {
				out = append(out, half)
			}
		}
	}
	return out
}

func sameDate(a, b time.Time) bool {
	return a.Year() == b.Year() && a.YearDay() == b.YearDay()
}

// clockTime is a time of day by the clock on the wall.
func clockTime(day time.Time, minutes int) time.Time {
	year, month, date := day.Date()
	return time.Date(year, month, date, minutes/60, minutes%60, 0, 0, day.Location())
}

// unit is the grain of a schedule.
const unit = 5 * time.Minute

// axis is the hours of work laid end to end in units, without breaks, nights
// and the buffer at the end of each half-day.
type axis struct {
	halves []jigplan.HalfDay
	first  []int // unit each half starts with, and the number of all units
	half   []int // unit -> its half
	minute []int // unit -> when it begins, in minutes from the first half
}

func newAxis(halves []jigplan.HalfDay, bufferPercent float64) *axis {
	a := &axis{halves: halves}
	for h, half := range halves {
		a.first = append(a.first, len(a.half))
		minutes := half.To.Sub(half.From).Minutes() * (1 - bufferPercent/100)
		if half.People < 1 {
			minutes = 0
		}
		for range int(minutes / unit.Minutes()) {
			a.half = append(a.half, h)
			a.minute = append(a.minute, int(a.start(len(a.half)-1).Sub(halves[0].From).Minutes()))
		}
	}
	a.first = append(a.first, len(a.half))
	return a
}

func (a *axis) units() int { return len(a.half) }

// start is when a unit begins.
func (a *axis) start(u int) time.Time {
	h := a.half[u]
	return a.halves[h].From.Add(time.Duration(u-a.first[h]) * unit)
}

// end is when the unit before u ends: the end of work that takes the units up
// to u.
func (a *axis) end(u int) time.Time { return a.start(u - 1).Add(unit) }

// endMinute is end in minutes from the first half-day.
func (a *axis) endMinute(u int) int { return a.minute[u-1] + int(unit.Minutes()) }

// over is the first unit that begins so many minutes after the end of work at
// unit end, or later; the number of units when there is none.
func (a *axis) over(end, minutes int) int {
	if minutes == 0 {
		return end
	}
	u, _ := slices.BinarySearch(a.minute, a.endMinute(end)+minutes)
	return u
}

// overTable tabulates over: of a number of minutes it gives the unit for each
// end of work.
func (a *axis) overTable() func(minutes int) []int32 {
	known := map[int][]int32{}
	return func(minutes int) []int32 {
		table, ok := known[minutes]
		if !ok {
			table = make([]int32, a.units()+1)
			for end := 1; end <= a.units(); end++ {
				table[end] = int32(a.over(end, minutes))
			}
			known[minutes] = table
		}
		return table
	}
}

// from is the first unit that begins at t or later; the number of units when
// there is none.
func (a *axis) from(t time.Time) int {
	return sort.Search(a.units(), func(u int) bool { return !a.start(u).Before(t) })
}
