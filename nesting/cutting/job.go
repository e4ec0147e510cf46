// Package cutting lays parts on boards: straight through cuts only, kerf
// between neighbours, defects and raw edges avoided, thickness and grain kept.
// It leaves judging a layout to check, and what a part is to orders/parts.
package cutting

import (
	"time"

	"batchwright/nesting"
	"batchwright/orders"
	"batchwright/orders/settings"
)

// Job is what is to be cut, and what it may be cut from. With neither rack nor
// yard the parts are laid on typical boards of their wood.
type Job struct {
	Parts    []orders.Part
	Rack     []orders.Board
	Yard     []orders.Board
	Settings settings.Shop

	pairs map[string]bool // names of the boards that stand for two leaves, opened like a book
}

// Nest lays every part of the job that fits somewhere, at the least cost it
// finds within the limits; the rest is listed in Short with the reason. The
// same job and seed give the same layout unless the clock ended the search.
func Nest(job Job, lim nesting.Limits) nesting.Layout {
	began := time.Now()
	if len(job.Rack)+len(job.Yard) == 0 {
		job.Yard = typical(job)
	}
	var layout nesting.Layout
	if r := newResawing(job); len(r.leaves) > 0 {
		layout = r.nest(lim)
	} else {
		layout = nestAsLies(job, lim)
	}
	layout.Seconds = time.Since(began).Seconds()
	return layout
}

// nestAsLies lays the job on its boards as they lie.
func nestAsLies(job Job, lim nesting.Limits) nesting.Layout {
	p, w := newProblem(job), newWatch(lim)
	short := p.dropHopeless()
	hunts := p.search(w, lim, p.startHunt)
	inParallel(len(hunts), func(i int) { hunts[i].settle(w) })
	layout := p.layout(hunts, short, w)
	for _, h := range hunts {
		layout.CostBound += h.floor
		layout.AreaBound = layout.AreaBound.Add(h.wood)
	}
	layout.Cheapest = cheapestOf(hunts)
	layout.Proven = layout.Cost == layout.CostBound
	layout.Stop = stopOf(&layout, w)
	return layout
}

// layAsLies is nestAsLies without floors, and the reason outside the search
// that ended it, if one did.
func layAsLies(job Job, lim nesting.Limits) (layout nesting.Layout, outside nesting.Stop) {
	p, w := newProblem(job), newWatch(lim)
	short := p.dropHopeless()
	hunts := p.search(w, lim, p.firstHunt)
	layout = p.layout(hunts, short, w)
	layout.Cheapest = cheapestOf(hunts)
	if w.ended() {
		outside = w.why()
	}
	return layout, outside
}

// stopOf is why the search ended.
func stopOf(l *nesting.Layout, w *watch) nesting.Stop {
	switch {
	case l.Proven:
		return nesting.StopProven
	case w.ended():
		return w.why()
	}
	return nesting.StopBudget
}
