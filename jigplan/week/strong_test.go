package week_test

import (
	"container/heap"
	"math"
	"math/rand/v2"
	"slices"
	"time"

	"batchwright/jigplan"
	"batchwright/orders/settings"
)

// strongList is a scheduler written only to compare with: random keys, the task
// with the smallest key that may be next is placed as early as it can be, and
// annealing over the keys. It counts in five-minute slots of its own and shares
// nothing with the engine.
type strongList struct {
	jobs  []jigplan.Job
	tasks []strongTask
	dates []strongDate
	slots []time.Time // in which somebody works, by time
	half  []int
	there []int // people
	shop  settings.Week
	keys  []float64

	people, saw, bench, clamps, places []int // in use
	start                              []int
}

type strongTask struct {
	jigplan.Task
	job, date, slots int
	after, next      []int
}

type strongDate struct {
	due    time.Time
	weight int
	tasks  []int
}

const slot = 5 * time.Minute

func newStrong(jobs []jigplan.Job, halves []jigplan.HalfDay, shop settings.Week) *strongList {
	s := &strongList{jobs: jobs, shop: shop}
	for h, half := range halves {
		length := time.Duration(float64(half.To.Sub(half.From)) * (1 - shop.BufferPercent/100))
		for at := half.From; half.People > 0 && !at.Add(slot).After(half.From.Add(length)); at = at.Add(slot) {
			s.slots, s.half, s.there = append(s.slots, at), append(s.half, h), append(s.there, half.People)
		}
	}
	number := map[string]int{}
	for j, job := range jobs {
		dates := map[time.Time]int{}
		for _, t := range job.Tasks {
			due := job.Due
			if !t.Due.IsZero() {
				due = t.Due
			}
			d, known := dates[due]
			if !known {
				d = len(s.dates)
				dates[due] = d
				s.dates = append(s.dates, strongDate{due: due, weight: max(1, job.Weight)})
			}
			number[t.ID] = len(s.tasks)
			s.dates[d].tasks = append(s.dates[d].tasks, len(s.tasks))
			s.tasks = append(s.tasks, strongTask{Task: t, job: j, date: d, slots: max(1, (t.Minutes+4)/5)})
		}
	}
	for i := range s.tasks {
		for _, id := range s.tasks[i].Task.After {
			s.tasks[i].after = append(s.tasks[i].after, number[id])
			s.tasks[number[id]].next = append(s.tasks[number[id]].next, i)
		}
	}
	n := len(s.slots)
	s.people, s.saw, s.bench, s.clamps, s.places = make([]int, n), make([]int, n), make([]int, n), make([]int, n), make([]int, n)
	s.start, s.keys = make([]int, len(s.tasks)), make([]float64, len(s.tasks))
	return s
}

// end is when the attended work of a task is done that starts in a slot.
func (s *strongList) end(i, from int) time.Time { return s.slots[from+s.tasks[i].slots-1].Add(slot) }

// slotAt is the first slot that starts at a time or later.
func (s *strongList) slotAt(at time.Time) int {
	n, _ := slices.BinarySearchFunc(s.slots, at, time.Time.Compare)
	return n
}

// held is the first slot in which the clamps and places of a task are free.
func (s *strongList) held(i, from int) int {
	if s.tasks[i].Hold == 0 {
		return from + s.tasks[i].slots
	}
	return s.slotAt(s.end(i, from).Add(time.Duration(s.tasks[i].Hold) * time.Minute))
}

func (s *strongList) fits(i, from int) bool {
	t := &s.tasks[i]
	last := from + t.slots - 1
	if t.Whole && s.half[from] != s.half[last] {
		return false
	}
	for k := from; k <= last; k++ {
		if s.people[k] >= s.there[k] || t.Place == jigplan.AtSaw && s.saw[k] > 0 || t.Place != jigplan.AtSaw && s.bench[k] >= s.shop.Benches {
			return false
		}
	}
	if t.Clamps+t.Space == 0 {
		return true
	}
	until := s.held(i, from)
	if t.Hold > 0 && until == len(s.slots) {
		return false
	}
	for k := from; k < until; k++ {
		if s.clamps[k]+t.Clamps > s.shop.Clamps || s.places[k]+t.Space > s.shop.DryingPlaces {
			return false
		}
	}
	return true
}

func (s *strongList) place(i int) bool {
	t := &s.tasks[i]
	from := 0
	for _, b := range t.after {
		ready := s.end(b, s.start[b]).Add(time.Duration(s.tasks[b].Wait) * time.Minute)
		from = max(from, s.slotAt(ready))
	}
	for ; from+t.slots <= len(s.slots); from++ {
		if s.fits(i, from) {
			break
		}
	}
	if from+t.slots > len(s.slots) {
		return false
	}
	s.start[i] = from
	for k := from; k < from+t.slots; k++ {
		s.people[k]++
		if t.Place == jigplan.AtSaw {
			s.saw[k]++
		} else {
			s.bench[k]++
		}
	}
	if t.Clamps+t.Space > 0 {
		for k := from; k < s.held(i, from); k++ {
			s.clamps[k] += t.Clamps
			s.places[k] += t.Space
		}
	}
	return true
}

// queue is the tasks that may be next, the smallest key first.
type queue struct {
	*strongList
	tasks []int
}

func (q *queue) Len() int           { return len(q.tasks) }
func (q *queue) Less(a, b int) bool { return q.keys[q.tasks[a]] < q.keys[q.tasks[b]] }
func (q *queue) Swap(a, b int)      { q.tasks[a], q.tasks[b] = q.tasks[b], q.tasks[a] }
func (q *queue) Push(x any)         { q.tasks = append(q.tasks, x.(int)) }
func (q *queue) Pop() any {
	last := q.tasks[len(q.tasks)-1]
	q.tasks = q.tasks[:len(q.tasks)-1]
	return last
}

// cost is days late (weighted), and a little for hours beyond a date.
func (s *strongList) cost() (days int, cost float64) {
	for _, used := range [][]int{s.people, s.saw, s.bench, s.clamps, s.places} {
		clear(used)
	}
	q, waits := &queue{strongList: s}, make([]int, len(s.tasks))
	for i := range s.tasks {
		if waits[i] = len(s.tasks[i].after); waits[i] == 0 {
			heap.Push(q, i)
		}
	}
	for q.Len() > 0 {
		i := heap.Pop(q).(int)
		if !s.place(i) {
			return math.MaxInt, math.Inf(1)
		}
		for _, j := range s.tasks[i].next {
			if waits[j]--; waits[j] == 0 {
				heap.Push(q, j)
			}
		}
	}
	for _, d := range s.dates {
		var done time.Time
		for _, i := range d.tasks {
			if ready := s.end(i, s.start[i]).Add(time.Duration(s.tasks[i].Wait) * time.Minute); ready.After(done) {
				done = ready
			}
		}
		if over := done.Sub(d.due.AddDate(0, 0, 1)).Hours() / 24; over > 0 {
			days += d.weight * int(math.Ceil(over))
			cost += float64(d.weight) * over / 100
		}
	}
	return days, cost + float64(days)
}

// search anneals until so many lists are decoded or the time is over.
func (s *strongList) search(tries int, limit time.Duration) (days int) {
	rng := rand.New(rand.NewPCG(5, 6))
	for i := range s.tasks {
		d := s.dates[s.tasks[i].date]
		s.keys[i] = d.due.Sub(s.slots[0]).Hours() + float64(i)/float64(len(s.tasks))
	}
	span := slices.Max(s.keys) + 24
	days, now := s.cost()
	heat := 1.0
	began := time.Now()
	for k := range tries {
		if k%64 == 0 && limit > 0 && time.Since(began) > limit {
			break
		}
		if limit > 0 {
			heat = max(0.01, 1-float64(time.Since(began))/float64(limit))
		} else {
			heat = 1 - float64(k)/float64(tries)
		}
		keep := slices.Clone(s.keys)
		s.shake(rng, span)
		d, c := s.cost()
		days = min(days, d)
		if c <= now || rng.Float64() < math.Exp((now-c)/heat) {
			now = c
		} else {
			s.keys = keep
		}
	}
	return days
}

// shake moves a date, a task, or swaps two dates.
func (s *strongList) shake(rng *rand.Rand, span float64) {
	shift := func(tasks []int, by float64) {
		for _, i := range tasks {
			s.keys[i] += by
		}
	}
	d := s.dates[rng.IntN(len(s.dates))]
	switch rng.IntN(3) {
	case 0:
		shift(d.tasks, rng.NormFloat64()*span/6)
	case 1:
		s.keys[d.tasks[rng.IntN(len(d.tasks))]] += rng.NormFloat64() * span / 6
	default:
		e := s.dates[rng.IntN(len(s.dates))]
		by := s.keys[e.tasks[0]] - s.keys[d.tasks[0]]
		shift(d.tasks, by)
		shift(e.tasks, -by)
	}
}
