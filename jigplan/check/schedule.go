package check

import (
	"fmt"
	"slices"
	"time"

	"batchwright/jigplan"
	"batchwright/orders/settings"
)

// Schedule follows a schedule by the clock: every task booked once or named
// as unplaced; attended work within the hours and long enough; what a task
// comes after done, its wait included; no more people, saws, benches, clamps
// or drying places in use than there are; pins kept or named as moved; dates,
// evenings and changes of the saw as said.
func Schedule(jobs []jigplan.Job, w settings.Week, s jigplan.Schedule) []error {
	c := &clockCheck{week: w, jobs: jobs, s: s, booked: map[string]jigplan.Booking{}}
	for _, b := range s.Bookings {
		if _, twice := c.booked[b.ID]; twice {
			c.wrong("task %q is booked twice", b.ID)
		}
		c.booked[b.ID] = b
	}
	for _, job := range jobs {
		for _, t := range job.Tasks {
			c.task(t)
		}
		c.finish(job)
	}
	c.limits()
	c.sums(jobs)
	return c.found
}

type clockCheck struct {
	week   settings.Week
	jobs   []jigplan.Job
	s      jigplan.Schedule
	booked map[string]jigplan.Booking
	late   int
	found  []error
}

func (c *clockCheck) wrong(format string, a ...any) {
	c.found = append(c.found, fmt.Errorf(format, a...))
}

func minutes(n int) time.Duration { return time.Duration(n) * time.Minute }

func (c *clockCheck) task(t jigplan.Task) {
	b, booked := c.booked[t.ID]
	if booked == slices.Contains(c.s.Unplaced, t.ID) {
		c.wrong("task %q must be either booked or named as unplaced", t.ID)
	}
	if !booked {
		return
	}
	if worked := c.worked(b.Start, b.End); worked < minutes(t.Minutes) {
		c.wrong("task %q takes %d minutes, its booking leaves %s", t.ID, t.Minutes, worked)
	}
	first, last := c.halfAt(b.Start), c.halfAt(b.End.Add(-time.Second))
	if first < 0 || last < 0 || t.Whole && first != last {
		c.wrong("task %q runs from %s to %s, outside the hours or over a break", t.ID, b.Start, b.End)
	}
	if !b.Ready.Equal(b.End.Add(minutes(t.Wait))) {
		c.wrong("task %q ends at %s and waits %d minutes, but is ready at %s", t.ID, b.End, t.Wait, b.Ready)
	}
	if (t.Clamps > 0 || t.Space > 0) && b.Free.Before(b.End.Add(minutes(t.Hold))) {
		c.wrong("task %q gives its clamps back at %s, too early", t.ID, b.Free)
	}
	if t.Hold > 0 && (t.Clamps > 0 || t.Space > 0) && c.halfAt(b.Free) < 0 {
		c.wrong("nobody is there when task %q gives its clamps back at %s", t.ID, b.Free)
	}
	if !t.Pinned.IsZero() && !b.Start.Equal(t.Pinned) && !slices.Contains(c.s.Moved, t.ID) {
		c.wrong("task %q is pinned to %s but starts at %s", t.ID, t.Pinned, b.Start)
	}
	if b.Start.Before(t.Release) {
		c.wrong("task %q starts at %s, before its release at %s", t.ID, b.Start, t.Release)
	}
	for _, id := range t.After {
		before, ok := c.booked[id]
		if ok && b.Start.Before(before.End.Add(minutes(before.Wait))) || !ok && slices.Contains(c.s.Unplaced, id) {
			c.wrong("task %q starts before %q is ready", t.ID, id)
		}
	}
}

// worked is how long somebody is there between two times, the buffer at the
// end of each half-day left out.
func (c *clockCheck) worked(from, to time.Time) time.Duration {
	sum := time.Duration(0)
	for _, h := range c.s.Halves {
		start, end := h.From, h.From.Add(time.Duration(float64(h.To.Sub(h.From))*(1-c.week.BufferPercent/100)))
		if from.After(start) {
			start = from
		}
		if to.Before(end) {
			end = to
		}
		if h.People > 0 && end.After(start) {
			sum += end.Sub(start)
		}
	}
	return sum
}

// halfAt is the half-day that holds a time; -1: none.
func (c *clockCheck) halfAt(t time.Time) int {
	return slices.IndexFunc(c.s.Halves, func(h jigplan.HalfDay) bool { return h.People > 0 && !t.Before(h.From) && t.Before(h.To) })
}

// finish parts a job's tasks by the date they are for: each date has its own
// finish.
func (c *clockCheck) finish(job jigplan.Job) {
	of := map[time.Time][]jigplan.Task{}
	for _, t := range job.Tasks {
		due := job.Due
		if !t.Due.IsZero() {
			due = t.Due
		}
		of[due] = append(of[due], t)
	}
	if len(of) == 0 {
		of[job.Due] = nil
	}
	said := 0
	for _, f := range c.s.Finishes {
		if f.Job == job.ID {
			said++
		}
	}
	if said != len(of) {
		c.wrong("job %q has %d dates and %d finishes", job.ID, len(of), said)
	}
	for due, tasks := range of {
		c.date(job, due, tasks)
	}
}

func (c *clockCheck) date(job jigplan.Job, due time.Time, tasks []jigplan.Task) {
	at := slices.IndexFunc(c.s.Finishes, func(f jigplan.Finish) bool { return f.Job == job.ID && f.Due.Equal(due) })
	if at < 0 {
		c.wrong("job %q has no finish for %s", job.ID, due)
		return
	}
	f := c.s.Finishes[at]
	done, whole := time.Time{}, len(tasks) > 0
	for _, t := range tasks {
		b, booked := c.booked[t.ID]
		whole = whole && booked
		if end := b.End.Add(minutes(t.Wait)); booked && end.After(done) {
			done = end
		}
	}
	if !whole {
		done = time.Time{}
	}
	days := 0
	if !due.IsZero() && whole {
		year, month, day := due.Date()
		for done.After(time.Date(year, month, day+1+days, 0, 0, 0, 0, due.Location())) {
			days++
		}
	}
	if !f.Done.Equal(done) || f.DaysLate != days {
		c.wrong("job %q is done at %s, %d days late; recomputed %s, %d", job.ID, f.Done, f.DaysLate, done, days)
	}
	c.late += days * max(1, job.Weight)
}

// limits looks, at each start of a task or a half-day, at all that is in use
// then.
func (c *clockCheck) limits() {
	var moments []time.Time
	for _, b := range c.s.Bookings {
		moments = append(moments, b.Start)
	}
	for _, h := range c.s.Halves {
		if h.People > 0 { // work pauses where nobody is there
			moments = append(moments, h.From)
		}
	}
	for _, at := range moments {
		people, saw, bench := 0, 0, 0
		clamps, places := c.heldAt(at)
		for _, b := range c.s.Bookings {
			if !b.Start.After(at) && b.End.After(at) {
				people++
				if b.Place == jigplan.AtSaw {
					saw++
				} else {
					bench++
				}
			}
			if !b.Start.After(at) && b.Free.After(at) {
				clamps += b.Clamps
				places += b.Space
			}
		}
		there := 0
		if h := c.halfAt(at); h >= 0 {
			there = c.s.Halves[h].People
		}
		if people > there || saw > 1 || bench > c.week.Benches || clamps > c.week.Clamps || places > c.week.DryingPlaces {
			c.wrong("at %s: %d people of %d, %d saws of 1, %d benches of %d, %d clamps of %d, %d drying places of %d", at,
				people, there, saw, bench, c.week.Benches, clamps, c.week.Clamps, places, c.week.DryingPlaces)
		}
	}
}

// heldAt is what work finished before the schedule still takes, never more
// than there is.
func (c *clockCheck) heldAt(at time.Time) (clamps, places int) {
	for _, job := range c.jobs {
		for _, h := range job.Held {
			if h.Until.After(at) {
				clamps, places = clamps+h.Clamps, places+h.Space
			}
		}
	}
	return min(clamps, c.week.Clamps), min(places, c.week.DryingPlaces)
}

// sums recomputes what the schedule says of itself as a whole.
func (c *clockCheck) sums(jobs []jigplan.Job) {
	if c.late != c.s.LateWeight || c.s.LateBound > c.late || c.s.Proven && c.s.LateBound != c.late {
		c.wrong("lateness %d, bound %d, proven %t; recomputed %d", c.s.LateWeight, c.s.LateBound, c.s.Proven, c.late)
	}
	full := 0
	for _, e := range c.s.Evenings {
		night, used := e.Day.AddDate(0, 0, 1), 0
		for _, b := range c.s.Bookings {
			if b.Clamps > 0 && b.Start.Before(night) && b.Free.After(night) {
				used += b.Clamps
			}
		}
		if used != e.Clamps {
			c.wrong("evening of %s: %d clamps in use, not %d", e.Day.Format(time.DateOnly), used, e.Clamps)
		}
		if c.week.Clamps-used < max(1, c.week.ClampsBox) {
			full++
		}
	}
	changes, state := 0, ""
	for _, b := range c.s.Bookings {
		if b.Setup != "" && b.Setup != state {
			changes, state = changes+1, b.Setup
		}
	}
	if full != c.s.FullEvenings || changes != c.s.Setups {
		c.wrong("%d full evenings and %d setups; recomputed %d and %d", c.s.FullEvenings, c.s.Setups, full, changes)
	}
}
