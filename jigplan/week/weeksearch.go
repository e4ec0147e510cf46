package week

import (
	"cmp"
	"math/rand/v2"
	"slices"
	"time"
)

// defaultWeekWork is enough for the jobs of some weeks.
const defaultWeekWork = 1500

// search tries a list by each rule of the trade and then changes the best: a
// task, or all tasks of a job, goes earlier or later, or a glue-up is kept for
// the evening. What is no worse is kept.
func (w *week) search(clock *clock) {
	for k, rule := range [...]func(a, b int) int{w.dueFirst, w.slackFirst, w.waitsFirst, w.jobsInTurn} {
		if t := w.carryOut(w.byRule(rule), make([]bool, len(w.tasks))); k == 0 || t.score.compare(w.best.score) < 0 {
			w.best = t
		}
	}
	if len(w.tasks) < 2 {
		return
	}
	rng := newRand(1)
	now := w.best
	late := w.lateTasks(now)
	for !clock.spent() {
		if clock.calls > clock.left/2 {
			late = nil // the rest of the search is for the evenings and all else
		}
		t := w.carryOut(w.changed(now, late, rng))
		if t.score.compare(now.score) <= 0 {
			now, late = t, w.lateTasks(t)
		}
		if t.score.compare(w.best.score) < 0 {
			w.best = t
		}
	}
}

// lateTasks are the tasks whose dates a timetable misses.
func (w *week) lateTasks(t timetable) (late []int) {
	if t.score[lateDays] == 0 {
		return nil
	}
	done := w.doneAt(t)
	for i, k := range w.dated {
		if d := &w.dates[k]; !d.due.IsZero() && done[k].After(d.end) {
			late = append(late, i)
		}
	}
	return late
}

// changed is a timetable's list and evenings with a small change; of a late
// one it is mostly late tasks that go earlier.
func (w *week) changed(t timetable, late []int, rng *rand.Rand) (list []int, night []bool) {
	list, night = slices.Clone(t.list), slices.Clone(t.night)
	switch rng.IntN(4) {
	case 0:
		w.moveJob(list, rng)
	case 1:
		job, on := rng.IntN(len(w.jobs)), rng.IntN(2) == 0
		for i := range w.tasks {
			if w.tasks[i].Clamps > 0 && w.jobOf[i] == job && rng.IntN(3) > 0 {
				night[i] = on
			}
		}
	default:
		for range 1 + rng.IntN(3) {
			if len(late) == 0 || rng.IntN(4) == 0 {
				w.moveTask(list, rng)
				continue
			}
			at := slices.Index(list, late[rng.IntN(len(late))])
			w.shift(list, at, -rng.IntN(at+1))
		}
	}
	return list, night
}

// byRule lists the tasks in an order that is possible; of those that may be
// next the one the rule puts first.
func (w *week) byRule(rule func(a, b int) int) []int {
	waits := make([]int, len(w.tasks))
	var ready, list []int
	for i, t := range w.tasks {
		if waits[i] = len(t.before); waits[i] == 0 {
			ready = append(ready, i)
		}
	}
	for len(ready) > 0 {
		at := 0
		for k := range ready {
			if rule(ready[k], ready[at]) < 0 {
				at = k
			}
		}
		i := ready[at]
		ready = slices.Delete(ready, at, at+1)
		list = append(list, i)
		for _, j := range w.tasks[i].after {
			if waits[j]--; waits[j] == 0 {
				ready = append(ready, j)
			}
		}
	}
	return list
}

// due is a task's due date; the far future when it has none.
func (w *week) due(i int) time.Time {
	if d := &w.dates[w.dated[i]]; !d.due.IsZero() {
		return d.end
	}
	return time.Date(9999, 1, 1, 0, 0, 0, 0, time.UTC)
}

// dueFirst: the earliest date first, then the longest chain.
func (w *week) dueFirst(a, b int) int {
	return cmp.Or(w.due(a).Compare(w.due(b)), w.waitsFirst(a, b))
}

// slackFirst: the date less all that must still happen.
func (w *week) slackFirst(a, b int) int {
	latest := func(i int) time.Time { return w.due(i).Add(-time.Duration(w.tasks[i].tail) * time.Minute) }
	return cmp.Or(latest(a).Compare(latest(b)), w.waitsFirst(a, b))
}

// waitsFirst: the longest chain of work and waits first.
func (w *week) waitsFirst(a, b int) int {
	return cmp.Or(cmp.Compare(w.tasks[b].tail, w.tasks[a].tail), a-b)
}

// jobsInTurn: one job after the other as they are listed.
func (w *week) jobsInTurn(a, b int) int {
	return cmp.Or(cmp.Compare(w.jobOf[a], w.jobOf[b]), w.waitsFirst(a, b))
}

// moveTask takes one task some way forward or back in the list.
func (w *week) moveTask(list []int, rng *rand.Rand) {
	w.shift(list, rng.IntN(len(list)), rng.IntN(len(list))-len(list)/2)
}

// moveJob takes all tasks of a job forward or back.
func (w *week) moveJob(list []int, rng *rand.Rand) {
	job := rng.IntN(len(w.jobs))
	by := rng.IntN(len(list)) - len(list)/2
	step := 1
	if by > 0 {
		step = -1
	}
	for k := range list {
		at := k
		if step < 0 {
			at = len(list) - 1 - k
		}
		if w.jobOf[list[at]] == job {
			w.shift(list, at, by)
		}
	}
}

// shift moves the task at a place by so many places, as far as the order
// allows.
func (w *week) shift(list []int, at, by int) {
	i := list[at]
	for ; by < 0 && at > 0 && !slices.Contains(w.tasks[i].before, list[at-1]); by++ {
		list[at], list[at-1] = list[at-1], i
		at--
	}
	for ; by > 0 && at < len(list)-1 && !slices.Contains(w.tasks[i].after, list[at+1]); by-- {
		list[at], list[at+1] = list[at+1], i
		at++
	}
}
