package solve

import "slices"

// A trade betters plates that are filled already: a few neighbours are taken
// out and the room filled anew from them and from what lies on no plate. A
// change stands while the value stays near the best so far (record-to-record
// travel, Dueck, Journal of Computational Physics 104 (1993), from memory).

const (
	tradeNear  = 0.002 // of the best value: how far below it a trade may go
	tradeStale = 400   // moves in vain before it goes back to the best
)

// trade is such a search.
type trade struct {
	parts  []Part
	rules  Rules
	m      *Meter
	length int64 // of each plate, kerf included
	width  int64
	plates []*plan
	spare  []int // copies on none of them
	value  int64
	best   []*plan
	record int64 // the best value
	drawn  uint64
}

func newTrade(plate Plate, parts []Part, rules Rules, m *Meter, plates []*plan) *trade {
	b := newPlainBoard(plate, rules)
	t := &trade{parts: parts, rules: rules, m: m, length: b.length, width: b.width, spare: make([]int, len(parts))}
	for k, p := range parts {
		t.spare[k] = p.Max
	}
	for _, p := range plates {
		count(p, t.spare, -1)
		t.value += valueOf(p, parts)
	}
	t.plates, t.best, t.record = plates, slices.Clone(plates), t.value
	return t
}

// valueOf is the value of the copies in p.
func valueOf(p *plan, parts []Part) int64 {
	switch {
	case p == nil:
		return 0
	case p.cut == Either:
		return parts[p.shape.part].Value
	}
	return valueOf(p.low, parts) + valueOf(p.high, parts)
}

// run trades until the value reaches most or the meter ends it.
func (t *trade) run(most int64) {
	for stale := 0; t.record < most && !t.m.Over(); stale++ {
		t.move()
		if t.value > t.record {
			t.best, t.record, stale = slices.Clone(t.plates), t.value, 0
		}
		if stale >= tradeStale {
			stale = 0
			t.restore()
		}
	}
}

// restore goes back to the best plates.
func (t *trade) restore() {
	for k, p := range t.plates {
		count(p, t.spare, 1)
		count(t.best[k], t.spare, -1)
	}
	t.plates, t.value = slices.Clone(t.best), t.record
}

// random returns a number below n, the same in every run.
func (t *trade) random(n int) int {
	t.drawn++
	return int(mix(t.drawn) % uint64(n))
}

// move fills some room anew and keeps the change when the value allows it.
func (t *trade) move() {
	n := min(len(t.plates), 1+t.random(3))
	pool, value := slices.Clone(t.spare), t.value
	patches := make([]patch, n)
	for k := range n {
		r := k + t.random(len(t.plates)-k)
		t.plates[k], t.plates[r] = t.plates[r], t.plates[k]
		t.best[k], t.best[r] = t.best[r], t.best[k]
		patches[k] = t.patch(t.plates[k])
		count(patches[k].old, pool, 1)
		value -= valueOf(patches[k].old, t.parts)
	}
	filled := make([]*plan, n)
	noise := exchangeNoise[t.random(len(exchangeNoise))]
	for k, p := range patches {
		q := t.fill(p, pool, noise)
		count(q, pool, -1)
		value += valueOf(q, t.parts)
		filled[k] = p.put(q)
	}
	if float64(value) >= float64(t.record)*(1-tradeNear) {
		t.spare, t.value = pool, value
		copy(t.plates, filled)
	}
}

// patch chooses what of a plate to fill anew: all of it when little lies there.
func (t *trade) patch(p *plan) patch {
	parts := 3 + t.random(patchParts)
	if p.parts() <= parts || t.rules.Stages > 0 {
		return patch{whole: true, old: p, length: t.length, width: t.width, put: func(q *plan) *plan { return q }}
	}
	return p.patch(t.length, t.width, parts, t.random)
}

// fill finds a filling of much value for a patch, values a little at random.
func (t *trade) fill(p patch, pool []int, noise float64) *plan {
	parts, most := slices.Clone(t.parts), int64(1)
	for k := range parts {
		parts[k].Max = pool[k]
		most = max(most, parts[k].Value)
	}
	for k := range parts {
		v := float64(parts[k].Value) / float64(most) * greedyUnits
		parts[k].Value = int64(v * (1 + noise*float64(t.random(1024))/1024))
	}
	return fillRoom(p, parts, t.rules, t.m)
}

// fillRoom finds a good filling for a patch, quickly.
func fillRoom(p patch, parts []Part, rules Rules, m *Meter) *plan {
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
