package week

import (
	"slices"
	"sort"
	"time"

	"batchwright/jigplan"
)

// date is one date of a job: when its boxes are to be done.
type date struct {
	job       int
	weight    int
	due       time.Time // zero: no date
	end       time.Time // of the day due
	endMinute int       // end, in minutes from the first half-day
}

// lateAt is how many days late the date is when it is done at a minute.
func (d *date) lateAt(done int) int {
	const day = 24 * 60
	if d.due.IsZero() || done <= d.endMinute {
		return 0
	}
	return ceilDiv(done-d.endMinute, day)
}

// listDates finds the dates of each job and the date of each task. A job
// without tasks has its own date alone.
func (w *week) listDates() {
	for k, job := range w.jobs {
		first := len(w.dates)
		for i := range w.tasks {
			if t := &w.tasks[i]; t.job == k {
				due := job.Due
				if !t.Due.IsZero() {
					due = t.Due
				}
				t.date = w.dateOf(k, due, first)
			}
		}
		if len(w.dates) == first {
			w.dateOf(k, job.Due, first)
		}
	}
}

func (w *week) dateOf(job int, due time.Time, first int) int {
	for k := first; k < len(w.dates); k++ {
		if w.dates[k].due.Equal(due) {
			return k
		}
	}
	d := date{job: job, weight: max(1, w.jobs[job].Weight), due: due, end: endOfDay(due)}
	if len(w.in.Halves) > 0 {
		d.endMinute = int(d.end.Sub(w.in.Halves[0].From).Minutes())
	}
	w.dates = append(w.dates, d)
	return len(w.dates) - 1
}

func endOfDay(t time.Time) time.Time {
	year, month, day := t.Date()
	return time.Date(year, month, day+1, 0, 0, 0, 0, t.Location())
}

// finishes says of each date of each job when its boxes are done, by date,
// those without one last.
func (w *week) finishes() []jigplan.Finish {
	done := w.doneMinutes(&w.best)
	out := []jigplan.Finish{}
	for k, d := range w.dates {
		f := jigplan.Finish{Job: w.jobs[d.job].ID, Due: d.due}
		if done[k] >= 0 {
			f.Done = w.in.Halves[0].From.Add(time.Duration(done[k]) * time.Minute)
			f.DaysLate = d.lateAt(done[k])
		}
		if !d.due.IsZero() && done[k] >= 0 {
			f.Slack = d.end.Sub(f.Done)
		}
		f.Decide = w.decide(k)
		out = append(out, f)
	}
	slices.SortStableFunc(out, func(a, b jigplan.Finish) int {
		if a.Due.IsZero() || b.Due.IsZero() {
			return boolOrder(a.Due.IsZero(), b.Due.IsZero())
		}
		return a.Due.Compare(b.Due)
	})
	return out
}

func boolOrder(a, b bool) int {
	switch {
	case a == b:
		return 0
	case a:
		return 1
	}
	return -1
}

// decide is the last moment the work for a date can begin with the date kept;
// zero when there is no date, or none keeps it.
func (w *week) decide(k int) time.Time {
	if w.dates[k].due.IsZero() {
		return time.Time{}
	}
	first, latest := w.axis.units(), w.latest(k)
	for i := range w.tasks {
		if w.tasks[i].job == w.dates[k].job && len(w.tasks[i].before) == 0 {
			first = min(first, latest[i])
		}
	}
	if first < 0 || first == w.axis.units() {
		return time.Time{}
	}
	return w.axis.start(first)
}

// allLatest is the last unit each task can start with every date kept that
// hangs on it; the number of units: none does; -1: too late.
func (w *week) allLatest() []int {
	all := slices.Repeat([]int{w.axis.units()}, len(w.tasks))
	for k, d := range w.dates {
		if d.due.IsZero() {
			continue
		}
		for i, u := range w.latest(k) {
			all[i] = min(all[i], u)
		}
	}
	return all
}

// latest is the last unit each task can start with one date kept, if nothing
// else stood in the way; the number of units: the date does not hang on it;
// -1: too late.
func (w *week) latest(k int) []int {
	end := w.axis.units()
	latest := slices.Repeat([]int{end}, len(w.tasks))
	for _, i := range slices.Backward(w.topological()) {
		if w.tasks[i].job != w.dates[k].job {
			continue
		}
		own, waited := w.tasks[i].date == k, false
		for _, j := range w.tasks[i].after {
			waited = waited || w.tasks[j].job == w.tasks[i].job && latest[j] < end
		}
		if !own && !waited {
			continue
		}
		latest[i] = sort.Search(max(0, end-w.tasks[i].units+1), func(u int) bool {
			return own && w.readyAt(i, u).After(w.dates[k].end) || w.keepsWaiting(i, u, latest)
		}) - 1
	}
	return latest
}

// keepsWaiting reports whether something after task i could no longer start
// in time when i starts at unit u.
func (w *week) keepsWaiting(i, u int, latest []int) bool {
	for _, j := range w.tasks[i].after {
		if w.tasks[j].job == w.tasks[i].job && int(w.tasks[i].ready[u+w.tasks[i].units]) > latest[j] {
			return true
		}
	}
	return false
}
