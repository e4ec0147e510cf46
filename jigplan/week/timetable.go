package week

import (
	"slices"
	"time"
)

// timetable is one way to do all tasks.
type timetable struct {
	list  []int32 // the tasks in the order in which they are placed
	night []bool  // task -> its clamps are to stay on overnight, however early it could start
	start []int   // unit; -1: no room
	late  int     // days late (weighted)
	none  int     // tasks without room
	score score
}

// decoder places the tasks of a list one by one, each as early as it can be.
type decoder struct {
	*week
	free  *free
	night []bool
	start []int
	done  []int // date -> minute at which it is done at the earliest, by the tasks placed so far
	late  int   // days late (weighted) of those
	none  int
}

func newDecoder(w *week) *decoder {
	return &decoder{week: w, free: newFree(w.axis.units()), start: make([]int, len(w.tasks)), done: make([]int, len(w.dates))}
}

func (d *decoder) reset(night []bool) {
	d.free.reset(d.week.start)
	d.night, d.late, d.none = night, 0, 0
	for i := range d.start {
		d.start[i] = -1
	}
	clear(d.done)
}

// decode does the tasks of a list, the pinned ones at their time.
func (d *decoder) decode(list []int32, night []bool) timetable {
	d.run(list, night, d.limit())
	return d.timetable(list, night)
}

// limit is lateness that no schedule reaches.
func (d *decoder) limit() bounds { return bounds{late: 1 << 60, none: len(d.tasks)} }

// bounds is how bad a timetable may be to be worth finishing.
type bounds struct{ none, late int }

func (b bounds) broken(none, late int) bool {
	return none > b.none || none == b.none && late > b.late
}

// run decodes a list, and gives up as soon as the bounds are broken.
func (d *decoder) run(list []int32, night []bool, most bounds) bool {
	d.reset(night)
	for _, i := range list {
		if p := d.tasks[i].pin; p >= 0 {
			d.put(int(i), d.earliest(int(i), p))
		}
	}
	return d.from(list, most)
}

// from places the tasks of a list that are not pinned, after those placed
// already.
func (d *decoder) from(list []int32, most bounds) bool {
	for _, i := range list {
		if d.tasks[i].pin < 0 {
			d.put(int(i), d.earliest(int(i), d.earliestStart(d.start, int(i))))
			if most.broken(d.none, d.late) {
				return false
			}
		}
	}
	return true
}

// rerun decodes a list that begins as a timetable does: so many of its tasks
// start where they did.
func (d *decoder) rerun(now *timetable, same int, list []int32, night []bool, most bounds) bool {
	if d.pinned {
		return d.run(list, night, most)
	}
	d.reset(night)
	for _, i := range list[:same] {
		d.put(int(i), now.start[i])
	}
	return d.from(list[same:], most)
}

func (d *decoder) timetable(list []int32, night []bool) timetable {
	t := timetable{list: slices.Clone(list), night: slices.Clone(night), start: slices.Clone(d.start), late: d.late, none: d.none}
	t.score = d.rate(&t)
	return t
}

// earliest is the first unit from which task i finds a person, its place and,
// until its hold is over, its clamps and drying places; -1: there is none.
func (d *decoder) earliest(i, from int) int {
	t := &d.tasks[i]
	units := d.axis.units()
	for u := from; u+t.units <= units; {
		if u = d.free.open[t.place].run(u, t.units); u < 0 {
			return -1
		}
		end := u + t.units
		if t.Whole && d.axis.half[u] != d.axis.half[end-1] {
			u = d.axis.first[d.axis.half[u]+1]
			continue
		}
		if t.clamps == 0 && t.space == 0 {
			return u
		}
		held := int(t.freed[end])
		if t.Hold > 0 && held == units {
			return -1
		}
		if d.night[i] && t.pin < 0 && t.clamps > 0 && d.day[held-1] == d.day[end-1] && (t.Hold == 0 || d.day[held] == d.day[end-1]) {
			u++
			continue
		}
		short := d.free.short(t.clamps, t.space, u, held)
		if short < 0 {
			return u
		}
		u = short + 1
	}
	return -1
}

// put books task i at unit u.
func (d *decoder) put(i, u int) {
	d.start[i] = u
	if u < 0 {
		d.none++
		return
	}
	t := &d.tasks[i]
	end := u + t.units
	d.free.attend(t.place, u, end)
	if t.clamps > 0 || t.space > 0 {
		d.free.hold(t.clamps, t.space, u, int(t.freed[end]))
	}
	done := d.axis.endMinute(end) + t.Wait + t.dateTail
	if done > d.done[t.date] {
		date := &d.dates[t.date]
		d.late += date.weight * (date.lateAt(done) - date.lateAt(d.done[t.date]))
		d.done[t.date] = done
	}
}

// score is how bad a timetable is, the gravest thing first: pins not kept (a
// task would start before what it comes after), tasks without room, days late
// by weight, clamps for so many boxes idle overnight, setup changes at the
// saw, and the least slack of a job below a year, in minutes; at last when all
// is done, in minutes.
type score [7]int

// lateDays is the place of the days late (weighted).
const lateDays = 2

func (s score) compare(t score) int { return slices.Compare(s[:], t[:]) }

const aYear = 366 * 24 * 60

func (w *week) rate(t *timetable) score {
	s := score{1: t.none}
	for i, u := range t.start {
		if p := w.tasks[i].pin; p >= 0 && u >= 0 && (u != p || w.earliestStart(t.start, i) > p) {
			s[0]++
		}
	}
	slack := aYear
	for k, done := range w.doneMinutes(t) {
		if done < 0 {
			continue
		}
		s[6] += done
		if d := &w.dates[k]; !d.due.IsZero() {
			s[lateDays] += d.weight * d.lateAt(done)
			slack = min(slack, d.endMinute-done)
		}
	}
	_, s[3] = w.evenings(t)
	s[4] = w.setupChanges(t)
	s[5] = -slack
	return s
}

// doneMinutes is when the last wait for each date is over, in minutes from the
// first half-day; -1: it has no room, or no tasks.
func (w *week) doneMinutes(t *timetable) []int {
	done := slices.Repeat([]int{-1}, len(w.dates))
	for i, u := range t.start {
		if u >= 0 {
			task := &w.tasks[i]
			done[task.date] = max(done[task.date], w.axis.endMinute(u+task.units)+task.Wait)
		}
	}
	for i, u := range t.start {
		if u < 0 {
			done[w.tasks[i].date] = -1
		}
	}
	return done
}

// readyAt is when the wait after task i is over, when it starts at unit u.
func (w *week) readyAt(i, u int) time.Time {
	return w.axis.end(u + w.tasks[i].units).Add(time.Duration(w.tasks[i].Wait) * time.Minute)
}

// evenings counts the clamps in use over each night up to that after the last
// glue-up, and for how many boxes clamps are idle in all those nights.
func (w *week) evenings(t *timetable) (used []int, idle int) {
	last := -1
	used = make([]int, len(w.days))
	for i, u := range t.start {
		task := &w.tasks[i]
		if u < 0 || task.Clamps == 0 {
			continue
		}
		end := u + task.units
		held := int(task.freed[end])
		from, to := w.day[end-1], w.day[held-1]
		if held < w.axis.units() && task.Hold > 0 {
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

// setupChanges counts how often the saw's setup changes.
func (w *week) setupChanges(t *timetable) int {
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
