package week

import (
	"time"

	"batchwright/orders/settings"
)

// maxDays is as far ahead as anything is planned.
const maxDays = 400

// DateWork is how many schedules are tried where only one date is wanted.
const DateWork = 300

// Midnight is the start of a day, in UTC.
func Midnight(t time.Time) time.Time {
	y, m, d := t.Date()
	return time.Date(y, m, d, 0, 0, 0, 0, time.UTC)
}

// OpenDay is the day so many open days after a moment; back in time when n is
// below zero.
func OpenDay(from time.Time, n int, shop settings.Week) time.Time {
	day, step := Midnight(from), 1
	if n < 0 {
		step, n = -1, -n
	}
	for tried := 0; n > 0 && tried < 3*maxDays; tried++ {
		day = day.AddDate(0, 0, step)
		if !Closed(day, shop) {
			n--
		}
	}
	return day
}
