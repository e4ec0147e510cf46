package week

import (
	"slices"
	"sort"
	"time"

	"batchwright/jigplan"
)

// date is one date of a job: when the boxes that hang on it are to be done.
type date struct {
	job    int
	weight int
	due    time.Time // zero: no date
	end    time.Time // of the day due
}

// listDates finds the dates of each job and which of them each task hangs on.
// A job without tasks has its own date alone.
func (w *week) listDates() {
	w.dated = make([]int, len(w.tasks))
	for k, job := range w.jobs {
		first := len(w.dates)
		for i := range w.tasks {
			if w.jobOf[i] == k {
				due := job.Due
				if !w.tasks[i].Due.IsZero() {
					due = w.tasks[i].Due
				}
				w.dated[i] = w.dateOf(k, due, first)
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
	w.dates = append(w.dates, date{job: job, weight: max(1, w.jobs[job].Weight), due: due, end: endOfDay(due)})
	return len(w.dates) - 1
}

// finishes says of each date of each job when its boxes are done, by date,
// those without one last.
func (w *week) finishes() []jigplan.Finish {
	done := w.doneAt(w.best)
	out := []jigplan.Finish{}
	for k, d := range w.dates {
		f := jigplan.Finish{Job: w.jobs[d.job].ID, Due: d.due, Done: done[k]}
		if !d.due.IsZero() && !done[k].IsZero() {
			f.DaysLate = daysLate(d.due, done[k])
			f.Slack = d.end.Sub(done[k])
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
		if w.jobOf[i] == w.dates[k].job && len(w.tasks[i].before) == 0 {
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
		if w.jobOf[i] != w.dates[k].job {
			continue
		}
		own, waited := w.dated[i] == k, false
		for _, j := range w.tasks[i].after {
			waited = waited || w.jobOf[j] == w.jobOf[i] && latest[j] < end
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
		if w.jobOf[j] == w.jobOf[i] && w.axis.over(u+w.tasks[i].units, w.tasks[i].Wait) > latest[j] {
			return true
		}
	}
	return false
}
