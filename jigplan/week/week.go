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
}

// Week puts the tasks of all jobs on the clock. Attended work lies inside the
// hours and pauses over breaks and nights, unless the task is whole; a wait
// runs on through nights and closed days, and what comes after it starts when
// somebody is there. Of the schedules tried it returns the one that is least
// late by weight; among those the one that leaves the fewest clamps idle over
// night, changes the saw over least often, and finishes with most slack.
func Week(in WeekInput, limits Limits) jigplan.Schedule {
	if limits.Work == 0 {
		limits.Work = defaultWeekWork
	}
	w := newWeek(in)
	w.settlePins()
	clock := newClock(limits)
	w.search(clock)
	s := w.schedule()
	s.Stop = clock.why
	return s
}

// week is what the search works on: tasks by number, time in units.
type week struct {
	in    WeekInput
	axis  *axis
	jobs  []jigplan.Job
	tasks []weekTask
	jobOf []int
	dates []date // the dates that jobs are to keep
	dated []int  // task -> its date
	free  [resources][]int
	night []bool // of the timetable being carried out
	best  timetable
	moved []string
	days  []time.Time // of the axis
	day   []int       // unit -> its day
}

// The limited things of a shop.
const (
	people = iota
	saw
	benches
	clamps
	places
	resources
)

// weekTask is a task in units.
type weekTask struct {
	jigplan.Task
	units  int
	before []int // what it comes after
	after  []int
	pin    int // unit; -1: none
	from   int // the first unit after its release
	tail   int // units and waits of the longest chain after it, in minutes
}

// timetable is one way to do all tasks.
type timetable struct {
	list  []int
	night []bool // task -> its clamps stay on over night, however early it could start
	start []int  // unit; -1: no room
	score score
}

func newWeek(in WeekInput) *week {
	w := &week{in: in, axis: newAxis(in.Halves, in.Week.BufferPercent), jobs: in.Jobs}
	at := map[string]int{}
	for k, job := range in.Jobs {
		for _, t := range job.Tasks {
			at[t.ID] = len(w.tasks)
			wt := weekTask{Task: t, pin: -1, units: max(1, ceilDiv(t.Minutes, int(unit.Minutes())))}
			if !t.Pinned.IsZero() {
				wt.pin = w.axis.from(t.Pinned)
			}
			if !t.Release.IsZero() {
				wt.from = w.axis.from(t.Release)
			}
			w.tasks = append(w.tasks, wt)
			w.jobOf = append(w.jobOf, k)
		}
	}
	for i := range w.tasks {
		for _, id := range w.tasks[i].After {
			if b, ok := at[id]; ok && b != i {
				w.tasks[i].before = append(w.tasks[i].before, b)
				w.tasks[b].after = append(w.tasks[b].after, i)
			}
		}
	}
	for _, i := range slices.Backward(w.topological()) {
		for _, j := range w.tasks[i].after {
			w.tasks[i].tail = max(w.tasks[i].tail, w.tasks[i].Wait+w.tasks[j].Minutes+w.tasks[j].tail)
		}
	}
	for r := range w.free {
		w.free[r] = make([]int, w.axis.units())
	}
	w.countDays()
	w.listDates()
	return w
}

func ceilDiv(a, b int) int { return (a + b - 1) / b }

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
				list = append(list, j)
			}
		}
	}
	return list
}

// reset makes everything free again.
func (w *week) reset() {
	amounts := [resources]int{saw: 1, benches: w.in.Week.Benches, clamps: w.in.Week.Clamps, places: w.in.Week.DryingPlaces}
	for r := range w.free {
		for u := range w.free[r] {
			w.free[r][u] = amounts[r]
			if r == people {
				w.free[r][u] = w.in.Halves[w.axis.half[u]].People
			}
		}
	}
}

// keepHeld takes what finished work still holds off the first units.
func (w *week) keepHeld() {
	for _, job := range w.jobs {
		for _, h := range job.Held {
			for u := 0; u < w.axis.units() && w.axis.start(u).Before(h.Until); u++ {
				w.free[clamps][u] = max(0, w.free[clamps][u]-h.Clamps)
				w.free[places][u] = max(0, w.free[places][u]-h.Space)
			}
		}
	}
}

// carryOut does the tasks of a list, each as early as it can be, the pinned
// ones at their time.
func (w *week) carryOut(list []int, night []bool) timetable {
	w.reset()
	w.keepHeld()
	w.night = night
	t := timetable{list: list, night: night, start: make([]int, len(w.tasks))}
	for i := range t.start {
		t.start[i] = -1
	}
	for _, i := range list {
		if p := w.tasks[i].pin; p >= 0 {
			t.start[i] = w.earliest(i, p)
			w.take(i, t.start[i])
		}
	}
	for _, i := range list {
		if w.tasks[i].pin < 0 {
			t.start[i] = w.earliest(i, w.ready(t, i))
			w.take(i, t.start[i])
		}
	}
	t.score = w.rate(t)
	return t
}

// ready is the first unit at which task i is released and all that it comes
// after is done.
func (w *week) ready(t timetable, i int) int {
	from := w.tasks[i].from
	for _, b := range w.tasks[i].before {
		if t.start[b] < 0 {
			return w.axis.units()
		}
		from = max(from, w.axis.over(t.start[b]+w.tasks[b].units, w.tasks[b].Wait))
	}
	return from
}

// earliest is the first unit from which task i finds a person, its place and,
// until its hold is over, its clamps and drying places; -1: there is none.
func (w *week) earliest(i, from int) int {
	for u := from; u+w.tasks[i].units <= w.axis.units(); {
		if next := w.blocked(i, u); next > u {
			u = next
			continue
		}
		return u
	}
	return -1
}

// blocked is the first unit worth trying when task i cannot start at u, or u.
func (w *week) blocked(i, u int) int {
	t := &w.tasks[i]
	end := u + t.units
	if t.Whole && w.axis.half[u] != w.axis.half[end-1] {
		return w.axis.first[w.axis.half[u]+1]
	}
	place := placeOf(t.Place)
	for k := end - 1; k >= u; k-- {
		if w.free[people][k] < 1 || w.free[place][k] < 1 {
			return k + 1
		}
	}
	if t.Clamps == 0 && t.Space == 0 {
		return u
	}
	held := w.axis.over(end, t.Hold)
	if held > w.axis.units() || t.Hold > 0 && held == w.axis.units() {
		return w.axis.units()
	}
	if w.night[i] && t.pin < 0 && t.Clamps > 0 && w.day[held-1] == w.day[end-1] && (t.Hold == 0 || w.day[held] == w.day[end-1]) {
		return u + 1
	}
	for k := held - 1; k >= u; k-- {
		if w.free[clamps][k] < t.Clamps || w.free[places][k] < t.Space {
			return k + 1
		}
	}
	return u
}

func placeOf(p jigplan.Place) int {
	if p == jigplan.AtSaw {
		return saw
	}
	return benches
}

// take books task i at unit u.
func (w *week) take(i, u int) {
	if u < 0 {
		return
	}
	t := &w.tasks[i]
	end := u + t.units
	place := placeOf(t.Place)
	for k := u; k < end; k++ {
		w.free[people][k]--
		w.free[place][k]--
	}
	if t.Clamps == 0 && t.Space == 0 {
		return
	}
	for k := u; k < w.axis.over(end, t.Hold); k++ {
		w.free[clamps][k] -= t.Clamps
		w.free[places][k] -= t.Space
	}
}

// settlePins gives up, one by one, the pins of tasks that come after
// something that cannot be done by then.
func (w *week) settlePins() {
	for {
		t := w.carryOut(w.byRule(w.dueFirst), make([]bool, len(w.tasks)))
		broken := w.brokenPin(t)
		if broken < 0 {
			return
		}
		w.moved = append(w.moved, w.tasks[broken].ID)
		w.tasks[broken].pin = -1
	}
}

func (w *week) brokenPin(t timetable) int {
	for i := range w.tasks {
		if p := w.tasks[i].pin; p >= 0 && (t.start[i] != p || p < w.axis.units() && !w.axis.start(p).Equal(w.tasks[i].Pinned) || w.ready(t, i) > p) {
			return i
		}
	}
	return -1
}
