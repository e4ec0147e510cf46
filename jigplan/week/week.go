package week

import (
	"slices"
	"time"

	"batchwright/jigplan"
	"batchwright/orders/settings"
)

// WeekInput is what is to be done, and when somebody is there.
type WeekInput struct {
	Jobs   []jigplan.Job
	Halves []jigplan.HalfDay // by time, without overlap
	Week   settings.Week     // clamps, benches, drying places, buffer
	Order  []string          // ids of all tasks in an order to begin with; nil: none
}

// Schedule places the tasks of all jobs. Attended work is inside the hours and
// pauses over breaks and nights, unless the task is whole; a wait runs on
// through nights and closed days, and what comes after it starts when somebody
// is there. Of the schedules tried it returns the one with the fewest days
// late by weight; among those the one with the fewest clamps idle overnight,
// the fewest setup changes at the saw, and the most slack. Where no more than
// DateWork is allowed, only a date is wanted, and the bound is a quick one.
func Schedule(in WeekInput, limits Limits) jigplan.Schedule {
	w, clock := searched(in, limits)
	s := w.schedule()
	s.LateBound, s.BoundBy = w.bound(limits.Work == 0 || limits.Work > DateWork)
	s.Proven = s.LateBound == s.LateWeight && len(s.Unplaced) == 0
	s.Stop = clock.why
	return s
}

// searched is a week with the best timetable that the limits allow.
func searched(in WeekInput, limits Limits) (*week, *clock) {
	w := newWeek(in)
	w.settlePins()
	if limits.Work == 0 {
		limits.Work = w.defaultWork(limits.Think)
	}
	clock := newClock(limits)
	w.search(clock)
	return w, clock
}

// week is what the search works on: tasks by number, time in units.
type week struct {
	in     WeekInput
	axis   *axis
	jobs   []jigplan.Job
	tasks  []weekTask
	dates  []date // the dates that jobs are to keep
	start  *free  // what is free before any task is placed
	best   timetable
	moved  []string
	pinned bool        // a task is held to a time
	days   []time.Time // of the axis
	day    []int       // unit -> its day
}

// The places of attended work.
const (
	atSaw = iota
	atBench
	places
)

// weekTask is a task in units.
type weekTask struct {
	jigplan.Task
	job, date     int
	place         int
	units         int
	clamps, space int16
	before, after []int32 // the tasks it comes after, and those that come after it
	ready         []int32 // end of the task -> first unit after its wait
	freed         []int32 // end of the task -> first unit after its hold
	pin           int     // unit; -1: none
	from          int     // the first unit after its release
	tail          int     // minutes of work and waits of the longest chain after it
	dateTail      int     // likewise, of the tasks for its date
}

func newWeek(in WeekInput) *week {
	w := &week{in: in, axis: newAxis(in.Halves, in.Week.BufferPercent), jobs: in.Jobs}
	over := w.axis.overTable()
	at := map[string]int{}
	for k, job := range in.Jobs {
		for _, t := range job.Tasks {
			at[t.ID] = len(w.tasks)
			wt := weekTask{Task: t, job: k, pin: -1, place: placeOf(t.Place), clamps: int16(min(t.Clamps, maxHeld)),
				space: int16(min(t.Space, maxHeld)), units: max(1, ceilDiv(t.Minutes, int(unit.Minutes()))),
				ready: over(t.Wait), freed: over(t.Hold)}
			if !t.Pinned.IsZero() {
				wt.pin = w.axis.from(t.Pinned)
			}
			if !t.Release.IsZero() {
				wt.from = w.axis.from(t.Release)
			}
			w.tasks = append(w.tasks, wt)
		}
	}
	for i := range w.tasks {
		for _, id := range w.tasks[i].After {
			if b, ok := at[id]; ok && b != i {
				w.tasks[i].before = append(w.tasks[i].before, int32(b))
				w.tasks[b].after = append(w.tasks[b].after, int32(i))
			}
		}
	}
	w.countDays()
	w.listDates()
	w.measureTails()
	w.start = w.freeAtStart()
	return w
}

// maxHeld is more clamps or drying places than a shop has.
const maxHeld = 30_000

func ceilDiv(a, b int) int { return (a + b - 1) / b }

func placeOf(p jigplan.Place) int {
	if p == jigplan.AtSaw {
		return atSaw
	}
	return atBench
}

func (w *week) countDays() {
	for u := range w.axis.units() {
		if d := w.axis.start(u); len(w.days) == 0 || !sameDate(w.days[len(w.days)-1], d) {
			w.days = append(w.days, d)
		}
		w.day = append(w.day, len(w.days)-1)
	}
}

func (w *week) measureTails() {
	for _, i := range slices.Backward(w.topological()) {
		t := &w.tasks[i]
		for _, j := range t.after {
			next := &w.tasks[j]
			t.tail = max(t.tail, t.Wait+next.Minutes+next.tail)
			if next.date == t.date {
				t.dateTail = max(t.dateTail, next.Minutes+next.Wait+next.dateTail)
			}
		}
	}
}

// topological lists the tasks so that each comes after what it waits for;
// tasks in a circle are left out, and so have no room in any schedule.
func (w *week) topological() []int {
	waits := make([]int, len(w.tasks))
	var list []int
	for i, t := range w.tasks {
		if waits[i] = len(t.before); waits[i] == 0 {
			list = append(list, i)
		}
	}
	for k := 0; k < len(list); k++ {
		for _, j := range w.tasks[list[k]].after {
			if waits[j]--; waits[j] == 0 {
				list = append(list, int(j))
			}
		}
	}
	return list
}

// freeAtStart is the shop before any task is placed, less what finished work
// still holds.
func (w *week) freeAtStart() *free {
	f := newFree(w.axis.units())
	shop := w.in.Week
	for u := range w.axis.units() {
		f.people[u] = int16(min(w.in.Halves[w.axis.half[u]].People, maxHeld))
		f.bench[u] = int16(min(shop.Benches, maxHeld))
		f.held[0][u] = int16(min(shop.Clamps, maxHeld))
		f.held[1][u] = int16(min(shop.DryingPlaces, maxHeld))
		if f.people[u] > 0 {
			f.open[atSaw].set(u)
			if f.bench[u] > 0 {
				f.open[atBench].set(u)
			}
		}
	}
	for _, job := range w.jobs {
		for _, h := range job.Held {
			for u := 0; u < w.axis.units() && w.axis.start(u).Before(h.Until); u++ {
				f.held[0][u] = max(0, f.held[0][u]-int16(min(h.Clamps, maxHeld)))
				f.held[1][u] = max(0, f.held[1][u]-int16(min(h.Space, maxHeld)))
			}
		}
	}
	return f
}

// settlePins gives up, one by one, the pins of tasks that come after
// something that cannot be done by then.
func (w *week) settlePins() {
	d := newDecoder(w)
	for {
		t := d.decode(w.byRule(w.dueFirst), make([]bool, len(w.tasks)))
		broken := w.brokenPin(t)
		if broken < 0 {
			break
		}
		w.moved = append(w.moved, w.tasks[broken].ID)
		w.tasks[broken].pin = -1
	}
	w.pinned = slices.ContainsFunc(w.tasks, func(t weekTask) bool { return t.pin >= 0 })
}

func (w *week) brokenPin(t timetable) int {
	for i := range w.tasks {
		p := w.tasks[i].pin
		if p < 0 {
			continue
		}
		exact := p < w.axis.units() && w.axis.start(p).Equal(w.tasks[i].Pinned) || p >= w.axis.units()
		if t.start[i] != p || !exact || w.earliestStart(t.start, i) > p {
			return i
		}
	}
	return -1
}

// earliestStart is the first unit at which task i is released and all that it
// comes after is done.
func (w *week) earliestStart(start []int, i int) int {
	t := &w.tasks[i]
	from := t.from
	for _, b := range t.before {
		before := &w.tasks[b]
		if start[b] < 0 {
			return w.axis.units()
		}
		from = max(from, int(before.ready[start[b]+before.units]))
	}
	return from
}
