package solve

import (
	"math"
	"slices"
)

// An exchange looks for a cover one step of cost below the best: the plates
// that cost allows, and a bag of the copies that lie on none of them. A move
// takes a few plates apart, or some neighbours on them, fills the room anew from
// what lay there and the bag, and stands when the bag has not grown heavier.
// Parts that stay in the bag grow heavier, so that the search does not settle
// (breakout search, Benlic and Hao, Engineering Applications of Artificial
// Intelligence 26 (2013), from memory).

const (
	exchangePlates = 2000 // plates at most
	exchangeKeep   = 8
	exchangeSteps  = 4
	exchangeGain   = 1.05 // of the weight of parts in the bag, now and then
	exchangeStale  = 3000 // moves in vain before a new start
)

// exchangeNoise is how much, at random, a part's weight counts more when room is
// filled.
var exchangeNoise = []float64{0.05, 0.1, 0.2}

// exchange is such a search.
type exchange struct {
	s      *stock2d
	target int64     // cost allowed
	plates []cut2d   // one plate each
	used   []int     // plates of each kind
	bag    []int     // copies on none of the plates
	weight []float64 // of a copy in the bag
	rate   float64   // weight that a unit of cost holds
	spare  int64     // cost the target leaves
	noise  float64   // of a part's weight, when room is filled
	starts int
	drawn  uint64 // random numbers so far
}

// explore exchanges parts until the meter ends it or nothing is left to gain.
func (s *stock2d) explore() {
	x := &exchange{s: s, weight: make([]float64, len(s.need))}
	for s.missing == 0 && !s.m.Over() && !s.proven() && x.aim(s.best) {
		x.search()
		x.starts++
	}
}

// aim takes the plates of a cover and drops some, the emptiest in the first
// start and any in most others, until the rest costs less than the best; false
// when none or too many remain.
func (x *exchange) aim(cuts []cut2d) bool {
	s := x.s
	for k := range x.weight {
		x.weight[k] = math.Pow(s.area(k), 1.1)
	}
	x.target = s.cost - s.costStep()
	x.plates, x.used = x.plates[:0], make([]int, len(s.kinds))
	left := slices.Clone(s.need)
	cost := int64(0)
	for _, c := range cuts {
		for range c.times {
			if len(x.plates) > exchangePlates {
				return false
			}
			x.plates = append(x.plates, c.once(left))
			x.used[c.kind]++
			cost += s.kinds[c.kind].cost
		}
	}
	x.bag = left
	for cost > x.target {
		k := x.emptiest()
		if x.starts%4 > 0 {
			k = x.random(len(x.plates))
		}
		c := x.plates[k]
		cost -= s.kinds[c.kind].cost
		x.used[c.kind]--
		c.plan.count(x.bag)
		x.plates = slices.Delete(x.plates, k, k+1)
	}
	x.spare = x.target - cost
	x.rate = x.weigh(s.need) / float64(max(1, x.target))
	return len(x.plates) > 0
}

// once is c cut once and without copies that are not left any more.
func (c cut2d) once(left []int) cut2d {
	excess := make([]int, len(left))
	made := slices.Clone(c.made)
	for k, n := range made {
		excess[k] = max(0, n-left[k])
		made[k] -= excess[k]
		left[k] -= made[k]
	}
	return cut2d{kind: c.kind, times: 1, plan: c.plan.without(excess), made: made}
}

// emptiest is the plate with the least weight for its cost.
func (x *exchange) emptiest() (plate int) {
	least := math.Inf(1)
	for k, c := range x.plates {
		if w := x.weigh(c.made) / float64(x.s.kinds[c.kind].cost); w < least {
			plate, least = k, w
		}
	}
	return plate
}

// weigh is the weight of copies of each part.
func (x *exchange) weigh(copies []int) (w float64) {
	for k, n := range copies {
		if n > 0 {
			w += float64(n) * x.weight[k]
		}
	}
	return w
}

// lack is what the search brings down: the weight of the bag less what the
// spare cost may still hold.
func (x *exchange) lack(bag []int, spare int64) float64 {
	return x.weigh(bag) - x.rate*float64(spare)
}

// random returns a number below n, the same in every run.
func (x *exchange) random(n int) int {
	x.drawn++
	return int(mix(x.drawn) % uint64(n))
}

// search makes moves until the bag is empty, the target is met elsewhere or the
// meter ends it.
func (x *exchange) search() {
	least, stale := x.lack(x.bag, x.spare), 0
	for stale < exchangeStale && !x.s.m.Over() && x.s.cost > x.target {
		if total(x.bag) == 0 {
			x.s.accept(x.plates)
			return
		}
		if x.move(); x.lack(x.bag, x.spare) < least-1e-9 {
			least, stale = x.lack(x.bag, x.spare), 0
		}
		if stale++; stale%(2*len(x.plates)+10) == 0 {
			x.weighDown()
			least = x.lack(x.bag, x.spare)
		}
	}
}

// weighDown makes what lies in the bag heavier.
func (x *exchange) weighDown() {
	for k, n := range x.bag {
		if n > 0 {
			x.weight[k] *= exchangeGain
		}
	}
}

// move fills some room anew and keeps the change unless the lack grows.
func (x *exchange) move() {
	x.s.exchangeNews()
	n := min(len(x.plates), 1+x.random(3))
	x.noise = exchangeNoise[x.random(len(exchangeNoise))]
	pool, spare := slices.Clone(x.bag), x.spare
	patches := make([]patch, n)
	for k := range n {
		r := k + x.random(len(x.plates)-k)
		x.plates[k], x.plates[r] = x.plates[r], x.plates[k]
		patches[k] = x.patch(x.plates[k])
		patches[k].old.count(pool)
		if patches[k].whole {
			spare += x.s.kinds[x.plates[k].kind].cost
			x.used[x.plates[k].kind]--
		}
	}
	var filled []cut2d
	for k, p := range patches {
		if c, ok := x.refill(x.plates[k], p, pool, spare); ok {
			filled = append(filled, c)
			if p.whole {
				spare -= x.s.kinds[c.kind].cost
				x.used[c.kind]++
			}
		}
	}
	if len(x.s.kinds) > 1 {
		filled, spare = x.buy(filled, pool, spare)
	}
	if x.lack(pool, spare) <= x.lack(x.bag, x.spare)+1e-9 {
		x.bag, x.spare = pool, spare
		x.plates = append(filled, x.plates[n:]...)
		return
	}
	x.recount()
}

// buy adds plates, two at most, for what is left in the pool.
func (x *exchange) buy(filled []cut2d, pool []int, spare int64) ([]cut2d, int64) {
	for range 2 {
		if c, ok := x.fill(pool, spare); ok {
			filled = append(filled, c)
			spare -= x.s.kinds[c.kind].cost
			x.used[c.kind]++
			count(c.plan, pool, -1)
		}
	}
	return filled, spare
}

// recount counts the plates of each kind after a move that does not stand.
func (x *exchange) recount() {
	clear(x.used)
	for _, c := range x.plates {
		x.used[c.kind]++
	}
}

// refill fills the patch p of a plate from the pool, which it takes from.
func (x *exchange) refill(c cut2d, p patch, pool []int, spare int64) (cut2d, bool) {
	if p.whole {
		c, ok := x.fill(pool, spare)
		if ok {
			count(c.plan, pool, -1)
		}
		return c, ok
	}
	made := slices.Clone(c.made)
	count(p.old, made, -1)
	q := x.fillPatch(p, pool)
	count(q, made, 1)
	count(q, pool, -1)
	return cut2d{kind: c.kind, times: 1, plan: p.put(q), made: made}, true
}

// patch chooses what of a plate to fill anew: all of it when little lies there.
func (x *exchange) patch(c cut2d) patch {
	parts := 3 + x.random(patchParts)
	if c.plan.parts() <= parts || x.s.rules.Stages > 0 || len(x.s.stock[c.kind].Defects) > 0 {
		return patch{whole: true, old: c.plan}
	}
	b := newPlainBoard(x.s.stock[c.kind].Plate, x.s.rules)
	return c.plan.patch(b.length, b.width, parts, x.random)
}

// worths returns the weights of what is in the pool as worths, a little at
// random.
func (x *exchange) worths(pool []int) (worth []int64, unit float64) {
	worth = make([]int64, len(pool))
	unit = greedyUnits / slices.Max(x.weight)
	for k, n := range pool {
		if n > 0 {
			noise := 1 + x.noise*float64(x.random(1024))/1024
			worth[k] = int64(x.weight[k]*unit*noise) + 1
		}
	}
	return worth, unit
}

// fillPatch finds a filling of much weight for a patch.
func (x *exchange) fillPatch(p patch, pool []int) *plan {
	s := x.s
	worth, _ := x.worths(pool)
	return fillRoom(p, s.partsOf(fillSearch{want: pool, worth: worth}), s.rules, s.m)
}

// fill finds a filling of much weight for a plate that costs at most spare.
func (x *exchange) fill(pool []int, spare int64) (best cut2d, ok bool) {
	s := x.s
	if total(pool) == 0 {
		return cut2d{}, false
	}
	worth, unit := x.worths(pool)
	h := fillSearch{
		want: pool, worth: worth, bonus: make([]int64, len(s.kinds)),
		work: workLeft(s.m), steps: exchangeSteps, keep: exchangeKeep, most: 1, sizes: greedySizes,
	}
	thrift := x.rate * unit * float64(x.random(2))
	for k, kind := range s.kinds {
		h.bonus[k] = noRoot
		if kind.cost <= spare && x.used[k] < kind.count {
			h.bonus[k] = int64(thrift * float64(x.target-kind.cost))
		}
	}
	reach := int64(0)
	for _, g := range s.groups {
		g.price = nil
		c := s.searchFillings(g, h)
		for k, cut := range c.cuts {
			if c.reach[k] > reach {
				reach, best, ok = c.reach[k], cut, total(cut.made) > 0
			}
		}
	}
	return best, ok
}

// fillRoom finds a good filling for a patch, quickly.
func fillRoom(p patch, parts []PlatePart, rules Rules, m *Meter) *plan {
	plate := Plate{Length: p.length - rules.KerfX, Width: p.width - rules.KerfY}
	part := m.Part(workLeft(m))
	defer m.Absorb(part)
	f := newFiller(newBoard(plate, parts, rules, greedySizes), make([]int64, 1), part)
	f.steps, f.keep = exchangeSteps, exchangeKeep
	f.run()
	if len(f.found) == 0 {
		return nil
	}
	return f.found[0].plan
}
