package week

import (
	"slices"
	"time"
)

// score is how bad a timetable is, the gravest thing first: pins not kept (a
// task would start before what it comes after), tasks without room, days late by weight, clamps for so many boxes idle over
// night, changes of the saw, and the least slack of a job below a year, in
// minutes; at last when all is done, in minutes.
type score [7]int

// lateDays is the place of the days late by weight.
const lateDays = 2

func (s score) compare(t score) int { return slices.Compare(s[:], t[:]) }

const aYear = 366 * 24 * 60

func (w *week) countDays() {
	for u := range w.axis.units() {
		if d := w.axis.start(u); len(w.days) == 0 || !sameDate(w.days[len(w.days)-1], d) {
			w.days = append(w.days, d)
		}
		w.day = append(w.day, len(w.days)-1)
	}
}

func (w *week) rate(t timetable) score {
	var s score
	for i, u := range t.start {
		if u < 0 {
			s[1]++
		} else if p := w.tasks[i].pin; p >= 0 && (u != p || w.ready(t, i) > p) {
			s[0]++
		}
	}
	slack := aYear
	for k, done := range w.doneAt(t) {
		if done.IsZero() {
			continue
		}
		s[6] += int(done.Sub(w.in.Halves[0].From).Minutes())
		d := &w.dates[k]
		if d.due.IsZero() {
			continue
		}
		s[lateDays] += d.weight * daysLate(d.due, done)
		slack = min(slack, int(d.end.Sub(done).Minutes()))
	}
	_, s[3] = w.evenings(t)
	s[4] = w.sawChanges(t)
	s[5] = -slack
	return s
}

// doneAt is when the last wait for each date is over; zero: it has no room, or
// no tasks.
func (w *week) doneAt(t timetable) []time.Time {
	done := make([]time.Time, len(w.dates))
	missing := make([]bool, len(w.dates))
	for i, u := range t.start {
		k := w.dated[i]
		if u < 0 {
			missing[k] = true
			continue
		}
		if end := w.readyAt(i, u); end.After(done[k]) {
			done[k] = end
		}
	}
	for k, m := range missing {
		if m {
			done[k] = time.Time{}
		}
	}
	return done
}

// readyAt is when the wait after task i is over, when it starts at unit u.
func (w *week) readyAt(i, u int) time.Time {
	return w.axis.end(u + w.tasks[i].units).Add(time.Duration(w.tasks[i].Wait) * time.Minute)
}

func endOfDay(t time.Time) time.Time {
	year, month, day := t.Date()
	return time.Date(year, month, day+1, 0, 0, 0, 0, t.Location())
}

// daysLate counts midnights from the end of the due day to the time done.
func daysLate(due, done time.Time) int {
	days := 0
	for end := endOfDay(due); done.After(end); end = endOfDay(end) {
		days++
	}
	return days
}

// evenings counts the clamps in use over each night up to that after the last
// glue-up, and for how many boxes clamps are idle in all those nights.
func (w *week) evenings(t timetable) (used []int, idle int) {
	last := -1
	used = make([]int, len(w.days))
	for i, u := range t.start {
		task := &w.tasks[i]
		if u < 0 || task.Clamps == 0 {
			continue
		}
		end := u + task.units
		from, to := w.day[end-1], w.day[w.axis.over(end, task.Hold)-1]
		if held := w.axis.over(end, task.Hold); held < w.axis.units() && task.Hold > 0 {
			to = w.day[held]
		}
		last = max(last, from)
		for d := w.day[u]; d < to; d++ {
			used[d] += task.Clamps
		}
	}
	used = used[:last+1]
	for _, n := range used {
		idle += (w.in.Week.Clamps - n) / max(1, w.in.Week.ClampsBox)
	}
	return used, idle
}

// sawChanges counts how often the saw's state changes.
func (w *week) sawChanges(t timetable) int {
	type run struct {
		start int
		state string
	}
	var runs []run
	for i, u := range t.start {
		if u >= 0 && w.tasks[i].Setup != "" {
			runs = append(runs, run{u, w.tasks[i].Setup})
		}
	}
	slices.SortFunc(runs, func(a, b run) int { return a.start - b.start })
	changes, state := 0, ""
	for _, r := range runs {
		if r.state != state {
			changes++
			state = r.state
		}
	}
	return changes
}
