package week

import (
	"cmp"
	"math"
	"math/rand/v2"
	"slices"
	"time"
)

// A search of five seconds places so many tasks, and tries so many timetables
// a task at most.
const (
	placements   = 25_000_000
	triesForTask = 2000
)

// A round of annealing cools from a share of the usual loss to a share of that.
// The first round tries so many timetables a task.
const (
	hottest    = 0.1
	coolest    = 0.05
	firstRound = 50
)

// defaultWork is how many timetables are tried.
func (w *week) defaultWork(think time.Duration) int {
	const usual = 5 * time.Second
	n := float64(len(w.tasks) + 1)
	work := min(placements/n, triesForTask*n)
	if think > 0 {
		work *= think.Seconds() / usual.Seconds()
	}
	return max(1, int(work))
}

// search tries a list by each rule of the trade and then changes the best one.
// A change is kept when it is no worse. Most of the work goes into lateness
// alone: idle evenings and setup changes would forbid moves that lead to
// fewer days late. The rest improves everything else with the lateness held.
func (w *week) search(clock *clock) {
	s := &searcher{week: w, decoder: newDecoder(w), clock: clock, rng: newRand(1)}
	rules := []func(a, b int) int{w.dueFirst, w.slackFirst, w.waitsFirst, w.jobsInTurn}
	if len(w.in.Order) > 0 {
		rules = append(rules, w.asGiven())
	}
	for k, rule := range rules {
		t := s.decoder.decode(w.byRule(rule), make([]bool, len(w.tasks)))
		if k == 0 || t.score.compare(w.best.score) < 0 {
			w.best = t
		}
	}
	if len(w.best.list) < 2 {
		return
	}
	s.now = w.best
	s.prepare()
	s.lateness(clock.left - clock.left/4)
	s.theRest()
}

// searcher changes a timetable step by step.
type searcher struct {
	*week
	decoder *decoder
	clock   *clock
	rng     *rand.Rand
	now     timetable
	late    []int // dates that now misses

	list  []int32 // the change tried
	night []bool
	seen  []bool // task -> it is in the list that is being put in order
	raw   []int32
	glued [][]int // job -> its tasks that take clamps
}

func (s *searcher) prepare() {
	s.list, s.raw = slices.Clone(s.now.list), slices.Clone(s.now.list)
	s.night, s.seen = slices.Clone(s.now.night), make([]bool, len(s.tasks))
	s.glued = make([][]int, len(s.jobs))
	for i := range s.tasks {
		if s.tasks[i].clamps > 0 {
			s.glued[s.tasks[i].job] = append(s.glued[s.tasks[i].job], i)
		}
	}
	s.findLate()
}

// lateness looks for fewer days late and nothing else. It anneals in rounds,
// each twice as long as the one before.
func (s *searcher) lateness(work int) {
	for length := firstRound * len(s.now.list); s.clock.calls < work && s.best.late+s.best.none > 0; length *= 2 {
		if !s.anneal(min(length, work-s.clock.calls)) {
			return
		}
	}
}

// anneal is one round from the best timetable; false: the search must end.
func (s *searcher) anneal(length int) bool {
	s.now = s.best.clone()
	s.findLate()
	hot := hottest * s.usualLoss()
	for k := range length {
		if s.clock.spent() {
			return false
		}
		heat := hot * math.Pow(coolest, float64(k)/float64(length))
		slack := min(int(s.rng.ExpFloat64()*heat), s.now.late)
		if s.now.none > 0 {
			slack = 0
		}
		if !s.try(false, slack) {
			continue
		}
		changed := s.decoder.late != s.now.late || s.decoder.none != s.now.none
		s.accept()
		if !changed {
			continue
		}
		s.findLate()
		if s.now.none < s.best.none || s.now.none == s.best.none && s.now.late < s.best.late {
			s.best = s.now.clone()
			if s.best.late+s.best.none == 0 {
				return true
			}
		}
	}
	return true
}

// usualLoss is the lower quartile of what changes cost that are no gain.
func (s *searcher) usualLoss() float64 {
	var losses []int
	for range 60 {
		s.try(false, math.MaxInt/2)
		if d := s.decoder.late - s.now.late; d > 0 && s.decoder.none == s.now.none {
			losses = append(losses, d)
		}
	}
	if len(losses) == 0 {
		return 0
	}
	slices.Sort(losses)
	return float64(losses[len(losses)/4])
}

// theRest holds the lateness and improves evenings, setups and slack, as long
// as that succeeds now and then.
func (s *searcher) theRest() {
	s.best.score = s.rate(&s.best)
	s.now = s.best.clone()
	s.findLate()
	patience := 500 + 20*len(s.tasks)
	for last := s.clock.calls; s.clock.calls-last < patience && !s.clock.spent(); {
		if !s.try(true, 0) {
			continue
		}
		try := timetable{start: s.decoder.start, none: s.decoder.none}
		score := s.rate(&try)
		if score.compare(s.now.score) > 0 {
			continue
		}
		better := score.compare(s.now.score) < 0
		s.accept()
		s.now.score = score
		if better {
			s.findLate()
			s.best, last = s.now.clone(), s.clock.calls
		}
	}
}

// try decodes a change of the timetable now, which may be a little later; false:
// it is later still, or no change.
func (s *searcher) try(evenings bool, slack int) bool {
	s.change(evenings)
	same := 0
	for same < len(s.list) && s.list[same] == s.now.list[same] && s.night[s.list[same]] == s.now.night[s.list[same]] {
		same++
	}
	if same == len(s.list) {
		return false
	}
	return s.decoder.rerun(&s.now, same, s.list, s.night, bounds{none: s.now.none, late: s.now.late + slack})
}

// accept goes on from the change.
func (s *searcher) accept() {
	copy(s.now.list, s.list)
	copy(s.now.night, s.night)
	copy(s.now.start, s.decoder.start)
	s.now.late, s.now.none = s.decoder.late, s.decoder.none
}

func (t *timetable) clone() timetable {
	c := *t
	c.list, c.night, c.start = slices.Clone(t.list), slices.Clone(t.night), slices.Clone(t.start)
	return c
}

func (s *searcher) findLate() {
	s.late = s.late[:0]
	for k, done := range s.doneMinutes(&s.now) {
		if d := &s.dates[k]; done < 0 || d.lateAt(done) > 0 {
			s.late = append(s.late, k)
		}
	}
}

// change makes list and night a neighbor of the timetable now.
func (s *searcher) change(evenings bool) {
	copy(s.raw, s.now.list)
	copy(s.night, s.now.night)
	kind := s.rng.IntN(16)
	switch {
	case evenings && kind < 4:
		s.holdOvernight()
	case kind < 9:
		s.gather(s.pickDate())
	case kind < 12:
		s.swapDates(s.pickDate(), s.rng.IntN(len(s.dates)))
	case kind < 13:
		a, b := s.rng.IntN(len(s.raw)), s.rng.IntN(len(s.raw))
		s.raw[a], s.raw[b] = s.raw[b], s.raw[a]
	default:
		s.moveTask()
	}
	s.inOrder()
}

// pickDate is any date; half of the time a late one.
func (s *searcher) pickDate() int {
	if len(s.late) > 0 && s.rng.IntN(2) == 0 {
		return s.late[s.rng.IntN(len(s.late))]
	}
	return s.rng.IntN(len(s.dates))
}

// gather puts the tasks of a whole date side by side somewhere in the list.
func (s *searcher) gather(date int) {
	to := s.rng.IntN(len(s.raw) + 1)
	var own []int32
	rest := s.list[:0]
	for k, i := range s.raw {
		if k == to {
			to = len(rest)
		}
		if s.tasks[i].date == date {
			own = append(own, i)
		} else {
			rest = append(rest, i)
		}
	}
	to = min(to, len(rest))
	copy(s.raw, rest[:to])
	copy(s.raw[to:], own)
	copy(s.raw[to+len(own):], rest[to:])
}

// swapDates lets the tasks of two dates trade places in the list.
func (s *searcher) swapDates(a, b int) {
	if a == b {
		return
	}
	first, second := s.list[:0], []int32(nil)
	for _, i := range s.raw {
		switch s.tasks[i].date {
		case a:
			first = append(first, i)
		case b:
			second = append(second, i)
		}
	}
	own := append(second, first...)
	if len(s.raw) > 0 && s.firstOf(b) < s.firstOf(a) {
		own = append(slices.Clone(first), second...)
	}
	k := 0
	for at, i := range s.raw {
		if d := s.tasks[i].date; d == a || d == b {
			s.raw[at] = own[k]
			k++
		}
	}
}

func (s *searcher) firstOf(date int) int {
	return slices.IndexFunc(s.raw, func(i int32) bool { return s.tasks[i].date == date })
}

// moveTask moves one task; half of the time one of a late date to an earlier
// place. What it comes after goes with it.
func (s *searcher) moveTask() {
	n := len(s.raw)
	from, to := s.rng.IntN(n), s.rng.IntN(n)
	if len(s.late) > 0 && s.rng.IntN(2) == 0 {
		date := s.late[s.rng.IntN(len(s.late))]
		for k := range n {
			if at := (from + k) % n; s.tasks[s.raw[at]].date == date {
				from = at
				break
			}
		}
		to = s.rng.IntN(from + 1)
	}
	i := s.raw[from]
	if to < from {
		copy(s.raw[to+1:from+1], s.raw[to:from])
	} else {
		copy(s.raw[from:], s.raw[from+1:to+1])
	}
	s.raw[to] = i
}

// holdOvernight turns the clamps of a job to the evenings, or lets them go.
func (s *searcher) holdOvernight() {
	on := s.rng.IntN(2) == 0
	for _, i := range s.glued[s.rng.IntN(len(s.jobs))] {
		if s.rng.IntN(3) > 0 {
			s.night[i] = on
		}
	}
}

// inOrder makes list the raw list with each task after those it waits for.
func (s *searcher) inOrder() {
	clear(s.seen)
	s.list = s.list[:0]
	for _, i := range s.raw {
		s.visit(i)
	}
}

func (s *searcher) visit(i int32) {
	if s.seen[i] {
		return
	}
	s.seen[i] = true
	for _, b := range s.tasks[i].before {
		s.visit(b)
	}
	s.list = append(s.list, i)
}

// byRule lists the tasks in an order that is possible; of those that may be
// next the one the rule puts first.
func (w *week) byRule(rule func(a, b int) int) []int32 {
	waits := make([]int, len(w.tasks))
	var ready []int
	var list []int32
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
		list = append(list, int32(i))
		for _, j := range w.tasks[i].after {
			if waits[j]--; waits[j] == 0 {
				ready = append(ready, int(j))
			}
		}
	}
	return list
}

// due is a task's due date; the far future when it has none.
func (w *week) due(i int) time.Time {
	if d := &w.dates[w.tasks[i].date]; !d.due.IsZero() {
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

// asGiven: the order that the search begins with.
func (w *week) asGiven() func(a, b int) int {
	place := map[string]int{}
	for k, id := range w.in.Order {
		place[id] = k
	}
	return func(a, b int) int { return cmp.Or(cmp.Compare(place[w.tasks[a].ID], place[w.tasks[b].ID]), a-b) }
}

// jobsInTurn: one job after the other as they are listed.
func (w *week) jobsInTurn(a, b int) int {
	return cmp.Or(cmp.Compare(w.tasks[a].job, w.tasks[b].job), w.waitsFirst(a, b))
}
