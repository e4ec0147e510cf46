package week

import (
	"math"
	"slices"
	"sort"
)

// relaxation is a lower bound on lateness. Each date has a choice of how many
// days late it is done. That fixes by when each of its tasks must end; the
// tasks that can only lie inside a stretch of time must not need more of a
// resource than the stretch has. These limits are moved into the cost with
// multipliers (Lagrange relaxation; M. Fisher, Management Science 27, 1981), so
// that every date can choose alone. Any multipliers give a valid bound; they
// are raised by subgradient steps.
type relaxation struct {
	*week
	early    []int
	alone    []int // date -> days late with the shop to itself
	upper    int   // lateness of a known schedule
	tasks    [][]int
	choice   [][][]int32 // date, days late beyond alone, own task -> half in which it must end
	resource []*limited
}

// limited is one resource: what tasks take of it, and how much there is from
// each start to the end of each half-day.
type limited struct {
	name   string
	take   []float64 // task -> units of work, clamps or places
	starts []int     // units
	begins []int     // task -> how many of starts are no later than its earliest start
	room   [][]float64
	price  [][]float64 // multipliers, of room divided by itself
}

// maxLate is how many days late a date is followed; beyond, it costs that much
// and takes nothing.
const maxLate = 60

// maxStarts is how many starts of stretches a resource is looked at from.
const maxStarts = 12

func (w *week) relax(early []int, upper int) *relaxation {
	x := &relaxation{week: w, early: early, upper: upper, alone: make([]int, len(w.dates)), tasks: make([][]int, len(w.dates))}
	for k, late := range w.lateAlone(early) {
		x.alone[k] = late / w.dates[k].weight
	}
	for i := range w.tasks {
		if k := w.tasks[i].date; !w.dates[k].due.IsZero() {
			x.tasks[k] = append(x.tasks[k], i)
		}
	}
	ends := slices.Repeat([]int{0}, len(w.axis.halves)) // half -> the last unit in it by which a task must end
	x.choice = make([][][]int32, len(w.dates))
	order := w.topological()
	for k := range w.dates {
		if len(x.tasks[k]) == 0 {
			continue
		}
		for late := x.alone[k]; late <= x.alone[k]+maxLate && (late == x.alone[k] || late*w.dates[k].weight <= upper); late++ {
			must := w.mustEnd(k, w.dates[k].endMinute+late*24*60, order)
			halves := make([]int32, len(x.tasks[k]))
			for n, i := range x.tasks[k] {
				halves[n] = int32(w.axis.half[must[i]-1])
				ends[halves[n]] = max(ends[halves[n]], must[i])
			}
			x.choice[k] = append(x.choice[k], halves)
		}
	}
	for h := 1; h < len(ends); h++ {
		ends[h] = max(ends[h], ends[h-1])
	}
	x.addResources(ends)
	return x
}

// mustEnd is the unit by which each task of a date must end so that the date is
// done at a minute; for a minute that is not possible, the first possible unit.
func (w *week) mustEnd(k, minute int, order []int) []int {
	start, must := make([]int, len(w.tasks)), make([]int, len(w.tasks))
	for _, i := range slices.Backward(order) {
		t := &w.tasks[i]
		if t.date != k {
			continue
		}
		fits := sort.Search(w.axis.units()-t.units+1, func(u int) bool {
			end := u + t.units
			if w.axis.endMinute(end)+t.Wait > minute {
				return true
			}
			for _, j := range t.after {
				if w.tasks[j].date == k && int(t.ready[end]) > start[j] {
					return true
				}
			}
			return false
		}) - 1
		start[i] = max(0, fits)
		must[i] = start[i] + t.units
	}
	return must
}

func (x *relaxation) addResources(ends []int) {
	w := x.week
	add := func(name string, take func(t *weekTask) int, room func(from, end int) float64) {
		r := &limited{name: name, take: make([]float64, len(w.tasks)), begins: make([]int, len(w.tasks))}
		for i := range w.tasks {
			if r.take[i] = float64(take(&w.tasks[i])); r.take[i] > 0 && !w.dates[w.tasks[i].date].due.IsZero() {
				r.starts = append(r.starts, x.early[i])
			}
		}
		slices.Sort(r.starts)
		if r.starts = slices.Compact(r.starts); len(r.starts) == 0 {
			return
		}
		if n := len(r.starts); n > maxStarts {
			for k := range maxStarts {
				r.starts[k] = r.starts[k*n/maxStarts]
			}
			r.starts = r.starts[:maxStarts]
		}
		for i := range w.tasks {
			r.begins[i] = sort.SearchInts(r.starts, x.early[i]+1)
		}
		for _, from := range r.starts {
			row := make([]float64, len(ends))
			for h, end := range ends {
				if end > from {
					row[h] = room(from, end)
				}
			}
			r.room, r.price = append(r.room, row), append(r.price, make([]float64, len(ends)))
		}
		x.resource = append(x.resource, r)
	}
	people := make([]int, w.axis.units()+1)
	for u := range w.axis.units() {
		people[u+1] = people[u] + w.in.Halves[w.axis.half[u]].People
	}
	add("people", func(t *weekTask) int { return t.units }, func(from, end int) float64 { return float64(people[end] - people[from]) })
	at := func(place int) func(t *weekTask) int {
		return func(t *weekTask) int {
			if t.place != place {
				return 0
			}
			return t.units
		}
	}
	add("the saw", at(atSaw), func(from, end int) float64 { return float64(end - from) })
	add("the benches", at(atBench), func(from, end int) float64 { return float64((end - from) * max(1, w.in.Week.Benches)) })
	clamps := func(t *weekTask) int { return int(t.clamps) }
	add("the clamps", clamps, w.turns(clamps, w.in.Week.Clamps))
	places := func(t *weekTask) int { return int(t.space) }
	add("the drying places", places, w.turns(places, w.in.Week.DryingPlaces))
}

// turns gives how often clamps or places can be used between two units: each
// use is at least as long, with its hold, as the shortest. What is in use never
// exceeds what there is, so the uses can be dealt out to that many chains
// without overlap.
func (w *week) turns(take func(t *weekTask) int, have int) func(from, end int) float64 {
	units, next := math.MaxInt, []int32(nil)
	hold := math.MaxInt
	for i := range w.tasks {
		if t := &w.tasks[i]; take(t) > 0 {
			units = min(units, t.units)
			if t.Hold < hold {
				hold, next = t.Hold, t.freed
			}
		}
	}
	return func(from, end int) float64 {
		n := 0
		for u := from; u+units <= end; u = int(next[u+units]) {
			n++
		}
		return float64(n * have)
	}
}

// raise does subgradient steps with some of the resources and returns the best
// bound. A second answer names the resources that carry it.
func (x *relaxation) raise(resources []*limited, steps int) (int, []string) {
	best, theta, stale := math.Inf(-1), 1.0, 0
	var names []string
	picked := make([]int, len(x.dates))
	for _, r := range resources {
		for s := range r.price {
			clear(r.price[s])
		}
	}
	for range steps {
		value := x.value(resources, picked)
		if value > best+1e-6 {
			best, stale, names = value, 0, x.carriers(resources)
			if rounded(best) >= x.upper {
				break
			}
		} else if stale++; stale >= 8 {
			theta, stale = theta/2, 0
		}
		if !x.step(resources, picked, theta*(float64(x.upper)-value)) || theta < 1e-3 {
			break
		}
	}
	return rounded(best), names
}

func rounded(bound float64) int { return max(0, int(math.Ceil(bound-1e-6))) }

// value is the bound at the multipliers as they are, and what each date picks.
func (x *relaxation) value(resources []*limited, picked []int) float64 {
	sums := make([][][]float64, len(resources)) // resource, starts counted, half -> price of a unit
	total := 0.0
	for n, r := range resources {
		sums[n] = make([][]float64, len(r.starts)+1)
		sums[n][0] = make([]float64, len(x.axis.halves))
		for s := range r.starts {
			row, sum := slices.Clone(sums[n][s]), 0.0
			for h := len(row) - 1; h >= 0; h-- {
				total -= r.price[s][h] * math.Min(1, r.room[s][h])
				if r.room[s][h] > 0 {
					sum += r.price[s][h] / r.room[s][h]
				} else {
					sum += r.price[s][h]
				}
				row[h] += sum
			}
			sums[n][s+1] = row
		}
	}
	for k := range x.dates {
		weight := x.dates[k].weight
		best, at := float64(weight*(x.alone[k]+len(x.choice[k]))), len(x.choice[k])
		if len(x.choice[k]) == 0 {
			best = 0
		}
		for late, halves := range x.choice[k] {
			cost := float64(weight * (x.alone[k] + late))
			for n, i := range x.tasks[k] {
				for m, r := range resources {
					if r.take[i] > 0 {
						cost += r.take[i] * sums[m][r.begins[i]][halves[n]]
					}
				}
				if cost >= best {
					break
				}
			}
			if cost < best {
				best, at = cost, late
			}
		}
		total += best
		picked[k] = at
	}
	return total
}

// step moves the multipliers along what the picks need beyond the room; false:
// there is nowhere to go.
func (x *relaxation) step(resources []*limited, picked []int, gap float64) bool {
	need := make([][][]float64, len(resources))
	norm := 0.0
	for m, r := range resources {
		need[m] = make([][]float64, len(r.starts))
		for s := range r.starts {
			need[m][s] = make([]float64, len(x.axis.halves))
		}
		for k, late := range picked {
			if late >= len(x.choice[k]) {
				continue
			}
			for n, i := range x.tasks[k] {
				for s := range r.begins[i] {
					need[m][s][x.choice[k][late][n]] += r.take[i]
				}
			}
		}
		for s := range r.starts {
			sum := 0.0
			for h := range need[m][s] {
				sum += need[m][s][h]
				over := sum
				if r.room[s][h] > 0 {
					over = sum/r.room[s][h] - 1
				}
				if over < 0 && r.price[s][h] == 0 {
					over = 0
				}
				need[m][s][h] = over
				norm += over * over
			}
		}
	}
	if norm < 1e-12 {
		return false
	}
	for m, r := range resources {
		for s := range r.starts {
			for h, over := range need[m][s] {
				r.price[s][h] = math.Max(0, r.price[s][h]+gap/norm*over)
			}
		}
	}
	return true
}

// carriers are the resources that hold at least a quarter of the multipliers.
func (x *relaxation) carriers(resources []*limited) (names []string) {
	sums, all := make([]float64, len(resources)), 0.0
	for m, r := range resources {
		for s := range r.price {
			for _, p := range r.price[s] {
				sums[m] += p
				all += p
			}
		}
	}
	for m, r := range resources {
		if all > 0 && sums[m] >= all/4 {
			names = append(names, r.name)
		}
	}
	return names
}

// bound is the lower bound on lateness and its reason: the resources that do
// not allow less; none where each job alone already needs longer. A thorough
// bound is that of the relaxation too.
func (w *week) bound(thorough bool) (best int, why []string) {
	if w.axis.units() == 0 || w.best.score[lateDays] == 0 {
		return 0, nil
	}
	early, ok := w.earliestAlone()
	if !ok {
		return 0, nil
	}
	best, why = w.lateBound(early)
	upper := w.best.score[lateDays]
	if best >= upper || !thorough {
		return min(best, upper), why
	}
	x := w.relax(early, upper)
	try := func(resources []*limited, steps int) {
		if b, names := x.raise(resources, steps); b > best && best < upper {
			best, why = min(b, upper), names
		}
	}
	for _, r := range x.resource {
		try([]*limited{r}, 150)
	}
	try(x.resource, 300)
	return best, why
}
