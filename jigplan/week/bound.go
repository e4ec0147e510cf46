package week

import (
	"slices"
	"time"
)

const (
	byPeople = iota
	bySaw
	byBenches
)

// daysLate counts midnights from the end of the due day to the time done.
func daysLate(due, done time.Time) int {
	days := 0
	for end := endOfDay(due); done.After(end); end = endOfDay(end) {
		days++
	}
	return days
}

// lateBound is proven: no schedule is late by less. Each date alone, with a
// person and a place for every task at once, is late by so much; and people,
// saw and benches do the work of all dates up to some date one after the
// other. The second answer is which of them; none where each date alone is late.
func (w *week) lateBound(early []int) (int, []string) {
	b := &crowd{week: w, early: early, alone: w.lateAlone(early)}
	for k, d := range w.dates {
		if !d.due.IsZero() {
			b.byDue = append(b.byDue, k)
		}
	}
	slices.SortStableFunc(b.byDue, func(x, y int) int { return w.dates[x].due.Compare(w.dates[y].due) })
	best, why := 0, []string(nil)
	for _, late := range b.alone {
		best += late
	}
	for r, name := range [...]string{byPeople: "people", bySaw: "the saw", byBenches: "the benches"} {
		if crowded := b.bound(r); crowded > best {
			best, why = crowded, []string{name}
		}
	}
	return best, why
}

// earliestAlone is when each task could start with the shop to itself; false:
// one of them has no room.
func (w *week) earliestAlone() (early []int, ok bool) {
	early = make([]int, len(w.tasks))
	for _, i := range w.topological() {
		early[i] = w.tasks[i].from
		for _, b := range w.tasks[i].before {
			early[i] = max(early[i], int(w.tasks[b].ready[early[b]+w.tasks[b].units]))
		}
		if early[i]+w.tasks[i].units > w.axis.units() {
			return nil, false
		}
	}
	return early, true
}

// lateAlone is what each date costs at least, with the shop to itself.
func (w *week) lateAlone(early []int) []int {
	end := make([]time.Time, len(w.dates))
	for i, u := range early {
		if t := w.readyAt(i, u); t.After(end[w.tasks[i].date]) {
			end[w.tasks[i].date] = t
		}
	}
	late := make([]int, len(w.dates))
	for k, d := range w.dates {
		if !d.due.IsZero() && !end[k].IsZero() {
			late[k] = d.weight * daysLate(d.due, end[k])
		}
	}
	return late
}

// crowd bounds what dates cost that share a resource.
type crowd struct {
	*week
	early []int
	alone []int
	byDue []int
}

// maxCrowded is the most dates of which every group up to a date is tried.
const maxCrowded = 30

// bound is the best over the groups of dates up to each date.
func (b *crowd) bound(r int) int {
	best := 0
	for n := len(b.byDue); n > 0; n-- {
		rest := 0
		for _, k := range b.byDue[n:] {
			rest += b.alone[k]
		}
		best = max(best, b.group(r, b.byDue[:n])+rest)
		if len(b.byDue) > maxCrowded {
			break
		}
	}
	return best
}

// group: of the dates of a group, the one whose work at a resource is done in
// place k has waited for its own work there and that of the k with the least.
// What each costs at least in each place makes an assignment problem.
func (b *crowd) group(r int, group []int) int {
	tasks, work, head := b.share(r, group)
	room := b.room(r, head)
	cost := make([][]int, len(group))
	for g, k := range group {
		others := othersSorted(work, g)
		need := work[g]
		for place := range group {
			cost[g] = append(cost[g], max(b.alone[k], b.lateAfter(k, tasks[g], room, need)))
			if place < len(others) {
				need += others[place]
			}
		}
	}
	return assign(cost)
}

// share is each date's tasks and units at a resource, and the first unit at
// which any of them can start.
func (b *crowd) share(r int, group []int) (tasks [][]int, work []int, head int) {
	head = b.axis.units()
	for _, k := range group {
		var own []int
		sum := 0
		for i := range b.tasks {
			if b.tasks[i].date == k && (r == byPeople || b.tasks[i].place == r-1) {
				own = append(own, i)
				sum += b.tasks[i].units
				head = min(head, b.early[i])
			}
		}
		tasks, work = append(tasks, own), append(work, sum)
	}
	return tasks, work, head
}

// room is how much work a resource can have done by the end of each unit, when
// it starts at head.
func (b *crowd) room(r, head int) []int {
	room, sum := make([]int, b.axis.units()), 0
	for u := range room {
		amount := 1
		switch r {
		case byPeople:
			amount = b.in.Halves[b.axis.half[u]].People
		case byBenches:
			amount = b.in.Week.Benches
		}
		if u >= head {
			sum += amount
		}
		room[u] = sum
	}
	return room
}

// lateAfter is what date k costs when its last task at a resource ends no
// sooner than the resource has done so much work.
func (b *crowd) lateAfter(k int, tasks, room []int, work int) int {
	if len(tasks) == 0 || work == 0 {
		return 0
	}
	last, _ := slices.BinarySearch(room, work)
	done := time.Time{}
	for _, i := range tasks {
		if t := b.doneFrom(i, min(last+1, b.axis.units())); done.IsZero() || t.Before(done) {
			done = t
		}
	}
	return b.dates[k].weight * daysLate(b.dates[k].due, done)
}

// doneFrom is when all that comes after task i for its date is done at least,
// when it ends at unit end.
func (b *crowd) doneFrom(i, end int) time.Time {
	done := b.axis.end(end).Add(time.Duration(b.tasks[i].Wait) * time.Minute)
	for _, j := range b.tasks[i].after {
		if b.tasks[j].date != b.tasks[i].date {
			continue
		}
		if next := int(b.tasks[i].ready[end]) + b.tasks[j].units; next <= b.axis.units() {
			if t := b.doneFrom(int(j), next); t.After(done) {
				done = t
			}
		}
	}
	return done
}
