package week

import (
	"fmt"
	"slices"
	"time"

	"batchwright/jigplan"
	"batchwright/orders/settings"
)

// So many timetables a task are tried for each change that may help, and so
// many at most: they begin with the schedule that was found.
const (
	helpForTask = 4
	maxHelp     = 1200
)

// An evening that is tried.
const (
	eveningFrom = 18 * 60
	eveningTo   = 20 * 60
)

// whatHelps plans a late week again with a little more of one thing: clamps,
// drying places, people, or one evening of work. Of each it keeps the least
// change that keeps every date, else the one that saves the most days.
func whatHelps(w *jigplan.Week, in WeekInput, stop <-chan struct{}) (out []jigplan.Help) {
	for _, b := range w.Schedule.Bookings {
		in.Order = append(in.Order, b.ID)
	}
	try := func(change WeekInput, what string) (kept bool) {
		other, _ := searched(change, Limits{Stop: stop, Work: min(helpForTask*(len(in.Order)+1), maxHelp)})
		late := other.best.score[lateDays]
		if other.best.none > 0 || late >= w.Schedule.LateWeight {
			return false
		}
		out = append(out, jigplan.Help{What: what, Late: late})
		return late == 0
	}
	best := func(tries func()) {
		first := len(out)
		tries()
		if own := out[first:]; len(own) > 1 {
			at := 0
			for k := range own {
				if own[k].Late < own[at].Late {
					at = k
				}
			}
			own[0] = own[at]
			out = out[:first+1]
		}
	}
	shop := in.Week
	best(func() {
		for _, more := range []int{shop.ClampsBox, 2 * shop.ClampsBox, shop.Clamps} {
			change := in
			change.Week.Clamps += more
			if try(change, fmt.Sprintf("%d clamps", change.Week.Clamps)) {
				return
			}
		}
	})
	best(func() {
		for _, more := range []int{(shop.DryingPlaces + 2) / 4, (shop.DryingPlaces + 1) / 2, shop.DryingPlaces} {
			change := in
			change.Week.DryingPlaces += more
			if try(change, fmt.Sprintf("%d drying places", change.Week.DryingPlaces)) {
				return
			}
		}
	})
	best(func() {
		for _, day := range eveningDays(w, shop) {
			change := in
			change.Halves = withEvening(in.Halves, day, shop.People)
			if try(change, fmt.Sprintf("one evening on %s (%d:00-%d:00)", day.Format("Mon Jan 2"), eveningFrom/60, eveningTo/60)) {
				return
			}
		}
	})
	change := in
	change.Halves = slices.Clone(in.Halves)
	for k := range change.Halves {
		change.Halves[k].People++
	}
	try(change, "one more person")
	slices.SortStableFunc(out, func(a, b jigplan.Help) int { return a.Late - b.Late })
	return out
}

// eveningDays are the first five days of work up to the last date that is missed.
func eveningDays(w *jigplan.Week, shop settings.Week) (days []time.Time) {
	var last time.Time
	for _, f := range w.Schedule.Finishes {
		if f.DaysLate > 0 && f.Done.After(last) {
			last = f.Done
		}
	}
	for day := Midnight(w.From); day.Before(last) && len(days) < 5; day = day.AddDate(0, 0, 1) {
		if !Closed(day, shop) {
			days = append(days, day)
		}
	}
	return days
}

// withEvening is a calendar with hours after the day's work.
func withEvening(halves []jigplan.HalfDay, day time.Time, people int) (out []jigplan.HalfDay) {
	evening := jigplan.HalfDay{From: clockTime(day, eveningFrom), To: clockTime(day, eveningTo), People: people}
	for k, h := range halves {
		if !h.From.Before(evening.From) && (k == 0 || halves[k-1].From.Before(evening.From)) {
			if k > 0 && halves[k-1].To.After(evening.From) {
				return halves // the shop works in the evening anyway
			}
			out = append(out, evening)
		}
		out = append(out, h)
	}
	return out
}
