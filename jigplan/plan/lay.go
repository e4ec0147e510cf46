package plan

import (
	"time"

	"batchwright/jigplan"
	"batchwright/nesting"
	"batchwright/nesting/cutting"
	"batchwright/orders"
)

// lay nests every part that is not refused. A box that lacks wood for one of
// its walls keeps none of them, because a wall without its mates joins nothing:
// they are named as short, and the wood goes to the other boxes.
//
// Where wood is short, efforts follow each other, each with more time to think than
// all before, and a later one is kept only if it is better. A longer --think
// goes through the efforts of a shorter one first, so that it never makes less.
func lay(p *jigplan.Plan, opt Options) {
	b := newBoxChoice(p, opt)
	best := b.effort(firstThink)
	if !best.whole() && dropSpares(p) {
		best = b.effort(firstThink)
	}
	if best.whole() {
		// The clock may end the longer search before it is whole.
		if e := b.nest(nil, b.limits(opt.Limits.Think)); !best.better(e) {
			best = e
		}
	} else {
		for think := 200 * time.Millisecond; think <= b.think() && !b.over(); think *= 2 {
			if e := b.effort(think); e.better(best) {
				best = e
			}
		}
	}
	if b.cut != "" && best.layout.Stop != nesting.StopProven {
		best.layout.Stop = b.cut
	}
	p.Layout = best.layout
	p.Layout.Short = append(append(b.refused, best.short...), p.Layout.Short...)
}

// firstThink is the time to think of the first effort, which every plan makes.
const firstThink = time.Millisecond

// boxChoice is the order while it is decided which of its boxes are made.
type boxChoice struct {
	p       *jigplan.Plan
	opt     Options
	refused []nesting.Short
	out     map[string]bool // the parts that are refused
	boxes   []box
	cut     nesting.Stop // set when the clock or the maker cut some effort short
}

// box is the walls of one box, which are made all or none.
type box struct {
	walls []orders.Part
	area  float64
}

func newBoxChoice(p *jigplan.Plan, opt Options) *boxChoice {
	b := &boxChoice{p: p, opt: opt, out: map[string]bool{}}
	for _, r := range p.Refusals {
		for _, id := range r.Parts {
			if !b.out[id] {
				b.out[id] = true
				b.refused = append(b.refused, nesting.Short{Part: id, Why: r.Why})
			}
		}
	}
	b.leaveBoxesOut()
	b.gatherBoxes()
	return b
}

// leaveBoxesOut takes out what fits on no board, even a bought one, and all of
// the boxes that cannot be made: nothing is bought or cut for them.
func (b *boxChoice) leaveBoxesOut() {
	type unit struct{ line, unit int }
	if job := jobOf(b.p.Order); job.Standard && job.Settings.ResawUpTo == 0 { // a leaf may hold what no board does
		job.Parts = b.p.Parts
		for _, s := range cutting.Hopeless(job) {
			if !b.out[s.Part] {
				b.out[s.Part] = true
				b.refused = append(b.refused, s)
			}
		}
	}
	unmade := map[unit]bool{}
	for i := range b.p.Parts {
		if part := &b.p.Parts[i]; b.out[part.ID] && !part.IsLoose() {
			unmade[unit{part.Line, part.Unit}] = true
		}
	}
	for i := range b.p.Parts {
		part := &b.p.Parts[i]
		if b.out[part.ID] || part.IsLoose() || !unmade[unit{part.Line, part.Unit}] {
			continue
		}
		b.out[part.ID] = true
		b.refused = append(b.refused, nesting.Short{Part: part.ID, Why: boxUnmade})
	}
}

// boxUnmade is why a part is left out that could be cut.
const boxUnmade = "left out because its box cannot be made; change what its box lacks, see the other reasons"

// gatherBoxes lists the boxes in the order of their parts.
func (b *boxChoice) gatherBoxes() {
	type unit struct {
		line, unit int
		panel      string // strips of one panel are made all or none, as the walls of a box are
	}
	at := map[unit]int{}
	for _, part := range b.p.Parts {
		if b.out[part.ID] || part.Joint == nil && part.Panel == "" {
			continue
		}
		u := unit{part.Line, part.Unit, part.Panel}
		i, known := at[u]
		if !known {
			i = len(b.boxes)
			at[u] = i
			b.boxes = append(b.boxes, box{})
		}
		b.boxes[i].walls = append(b.boxes[i].walls, part)
		b.boxes[i].area += part.CutLength.Times(part.CutWidth).SquareMillimetres()
	}
}

// think is the time the whole search may take, the default where none is said.
func (b *boxChoice) think() time.Duration {
	if b.opt.Limits.Think <= 0 {
		return 5 * time.Second
	}
	return b.opt.Limits.Think
}

// limits are the plan's own with another time to think.
func (b *boxChoice) limits(think time.Duration) nesting.Limits {
	lim := b.opt.Limits
	lim.Think = think
	return lim
}

// over reports whether the clock or the maker has cut an effort short.
func (b *boxChoice) over() bool { return b.cut != "" }

// nest lays everything but the refused parts and the boxes left out.
func (b *boxChoice) nest(left []nesting.Short, lim nesting.Limits) attempt {
	gone := map[string]bool{}
	for _, s := range left {
		gone[s.Part] = true
	}
	var parts []orders.Part
	for _, part := range b.p.Parts {
		if !b.out[part.ID] && !gone[part.ID] {
			parts = append(parts, part)
		}
	}
	job := jobOf(b.p.Order)
	job.Parts = parts
	l := cutting.Nest(job, lim)
	if l.Stop == nesting.StopTime || l.Stop == nesting.StopInterrupted {
		b.cut = l.Stop
	}
	return attempt{layout: l, short: left}
}

// jobOf is what an order's parts may be cut from: the rack, and what the shop
// buys.
func jobOf(o *orders.Order) cutting.Job {
	job := cutting.Job{Rack: o.Rack, Settings: o.Settings, Standard: o.Settings.Buys() && !o.ListedOnly}
	if o.Settings.Buys() {
		job.Yard = o.Yard
	}
	return job
}

// without keeps the parts that are not in out.
func without(all []orders.Part, out map[string]string) []orders.Part {
	var kept []orders.Part
	for _, part := range all {
		if _, gone := out[part.ID]; !gone {
			kept = append(kept, part)
		}
	}
	return kept
}
