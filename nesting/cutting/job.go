// Package cutting lays parts on boards: straight through cuts only, kerf
// between neighbours, defects and raw edges avoided, thickness and grain kept.
// It leaves judging a layout to check, and what a part is to orders/parts.
package cutting

import (
	"slices"
	"time"

	"batchwright/nesting"
	"batchwright/orders"
	"batchwright/orders/measure"
	"batchwright/orders/settings"
)

// Job is what is to be cut, and what it may be cut from.
type Job struct {
	Parts    []orders.Part
	Rack     []orders.Board
	Yard     []orders.Board
	Standard bool // standard-size boards may be bought for what the yard cannot supply
	Settings settings.Shop

	money  *money                   // of the job as it was given
	pairs  map[string]bool          // names of the boards that stand for two leaves, opened like a book
	leaves map[string]measure.Money // by the name of a board that stands for leaves: what it counts for
}

// Nest lays every part of the job that fits somewhere, at the least cost it
// finds within the limits; the rest is listed in Short with the reason. The
// same job and seed give the same layout unless the clock ended the search.
func Nest(job Job, lim nesting.Limits) nesting.Layout {
	began := time.Now()
	job.money = newMoney(&job)
	if job.Standard {
		job.Yard = append(slices.Clone(job.Yard), standard(job)...)
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

// Hopeless lists the parts that fit on no board of the job, however many there
// are, and why.
func Hopeless(job Job) []nesting.Short {
	job.money = newMoney(&job)
	if job.Standard {
		job.Yard = append(slices.Clone(job.Yard), standard(job)...)
	}
	return newProblem(job).dropHopeless()
}

// nestAsLies lays the job on its boards as they lie.
func nestAsLies(job Job, lim nesting.Limits) nesting.Layout {
	p, w := newProblem(job), newWatch(lim)
	short := p.dropHopeless()
	searches := p.search(w, lim, p.startSearch)
	p.leaveOut(searches, lim, w)
	mixAll(searches, w.mix, lim, w)
	inParallel(len(searches), func(i int) { searches[i].exactly(w.exact, w) })
	settleOn(searches, w)
	inParallel(len(searches), func(i int) { searches[i].settle(w) })
	layout := p.layout(searches, short, w)
	for _, h := range searches {
		layout.CostBound += h.worth
		layout.AreaBound = layout.AreaBound.Add(h.wood)
	}
	layout.Cheapest = cheapestOf(searches)
	layout.Proven = layout.Cost == layout.CostBound
	layout.Stop = stopOf(&layout, w)
	return layout
}

// layAsLies is nestAsLies without floors, and the reason outside the search
// that ended it, if one did.
func layAsLies(job Job, lim nesting.Limits) (layout nesting.Layout, outside nesting.Stop) {
	p, w := newProblem(job), newWatch(lim)
	short := p.dropHopeless()
	searches := p.search(w, lim, p.firstSearch)
	mixAll(searches, w.mix, lim, w)
	settleOn(searches, w)
	layout = p.layout(searches, short, w)
	layout.Cheapest = cheapestOf(searches)
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
