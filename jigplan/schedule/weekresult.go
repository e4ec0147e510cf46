package schedule

import (
	"slices"
	"sort"
	"time"

	"batchwright/jigplan"
)

// schedule writes the best timetable down.
func (w *week) schedule() jigplan.Schedule {
	s := jigplan.Schedule{Halves: w.in.Halves, Bookings: []jigplan.Booking{}, Moved: w.moved}
	latest := w.latest()
	for i, t := range w.tasks {
		u := -1
		if i < len(w.best.start) {
			u = w.best.start[i]
		}
		if u < 0 {
			s.Unplaced = append(s.Unplaced, t.ID)
			continue
		}
		s.Bookings = append(s.Bookings, w.booking(i, u, latest[i]))
	}
	slices.SortStableFunc(s.Bookings, func(a, b jigplan.Booking) int { return a.Start.Compare(b.Start) })
	s.Finishes = w.finishes(latest)
	for _, f := range s.Finishes {
		s.LateWeight += f.DaysLate * w.weightOf(f.Job)
	}
	w.writeEvenings(&s)
	s.Setups = w.sawChanges(w.best)
	s.LateBound = min(w.lateBound(), s.LateWeight)
	s.Proven = s.LateBound == s.LateWeight && len(s.Unplaced) == 0
	return s
}

func (w *week) booking(i, u, latest int) jigplan.Booking {
	t := w.tasks[i]
	end := u + t.units
	b := jigplan.Booking{Task: t.Task, Start: w.axis.start(u), End: w.axis.end(end), Ready: w.readyAt(i, u)}
	b.Free = b.End
	if held := w.axis.over(end, t.Hold); (t.Clamps > 0 || t.Space > 0) && t.Hold > 0 {
		b.Free = w.axis.start(held)
	}
	if latest >= u {
		b.Latest = w.axis.start(latest)
	}
	return b
}

func (w *week) weightOf(job string) int {
	for _, j := range w.jobs {
		if j.ID == job {
			return max(1, j.Weight)
		}
	}
	return 1
}

// finishes says of each job when it is done, by due date, those without one
// last.
func (w *week) finishes(latest []int) []jigplan.Finish {
	done := w.doneAt(w.best)
	out := []jigplan.Finish{}
	for k, job := range w.jobs {
		f := jigplan.Finish{Job: job.ID, Due: job.Due, Done: done[k]}
		if !job.Due.IsZero() && !done[k].IsZero() {
			f.DaysLate = daysLate(job.Due, done[k])
			f.Slack = endOfDay(job.Due).Sub(done[k])
		}
		f.Decide = w.decide(k, latest)
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

// decide is the last moment the first task of a job can start with the date
// kept; zero when it has no date, or none keeps it.
func (w *week) decide(job int, latest []int) time.Time {
	first, have := 0, false
	for i := range w.tasks {
		if w.jobOf[i] != job || len(w.tasks[i].before) > 0 {
			continue
		}
		if w.jobs[job].Due.IsZero() || latest[i] < 0 {
			return time.Time{}
		}
		if !have || latest[i] < first {
			first, have = latest[i], true
		}
	}
	if !have {
		return time.Time{}
	}
	return w.axis.start(first)
}

// latest is the last unit each task can start with its job's date kept, if
// nothing else stood in the way; -1: too late or no date.
func (w *week) latest() []int {
	latest := make([]int, len(w.tasks))
	for i := range latest {
		latest[i] = -1
	}
	for _, i := range slices.Backward(w.topological()) {
		due := w.jobs[w.jobOf[i]].Due
		if due.IsZero() {
			continue
		}
		units := w.tasks[i].units
		latest[i] = sort.Search(max(0, w.axis.units()-units+1), func(u int) bool {
			return w.readyAt(i, u).After(endOfDay(due)) || w.keepsWaiting(i, u, latest)
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

func (w *week) writeEvenings(s *jigplan.Schedule) {
	used, _ := w.evenings(w.best)
	s.Evenings = []jigplan.Evening{}
	for d, n := range used {
		year, month, day := w.days[d].Date()
		s.Evenings = append(s.Evenings, jigplan.Evening{Day: time.Date(year, month, day, 0, 0, 0, 0, w.days[d].Location()), Clamps: n})
		if w.in.Week.Clamps-n < max(1, w.in.Week.ClampsBox) {
			s.FullEvenings++
		}
	}
}

// lateBound is proven: each job alone, with a person and a place for every
// task at once, is late by so much.
func (w *week) lateBound() int {
	early := make([]int, len(w.tasks))
	end := make([]time.Time, len(w.jobs))
	for _, i := range w.topological() {
		for _, b := range w.tasks[i].before {
			early[i] = max(early[i], w.axis.over(early[b]+w.tasks[b].units, w.tasks[b].Wait))
		}
		if early[i]+w.tasks[i].units > w.axis.units() {
			early[i] = w.axis.units() - w.tasks[i].units
			if early[i] < 0 {
				return 0
			}
		}
		if t := w.readyAt(i, early[i]); t.After(end[w.jobOf[i]]) {
			end[w.jobOf[i]] = t
		}
	}
	sum := 0
	for k, job := range w.jobs {
		if !job.Due.IsZero() && !end[k].IsZero() {
			sum += max(1, job.Weight) * daysLate(job.Due, end[k])
		}
	}
	return sum
}
