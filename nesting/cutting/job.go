// Package cutting lays parts on boards: straight through cuts only, kerf
// between neighbours, defects and raw edges avoided, thickness and grain kept.
// It leaves judging a layout to check, and what a part is to orders/parts.
package cutting

import (
	"time"

	"batchwright/nesting"
	"batchwright/orders"
)

// Job is what is to be cut, and what it may be cut from. With neither rack nor
// yard the parts are laid on typical boards of their wood.
type Job struct {
	Parts    []orders.Part
	Rack     []orders.Board
	Yard     []orders.Board
	Settings orders.Settings
}

// Nest lays every part of the job that fits somewhere, at the least cost it
// finds within the limits; the rest is listed in Short with the reason. The
// same job and seed give the same layout unless the clock ended the search.
func Nest(job Job, lim nesting.Limits) nesting.Layout {
	began := time.Now()
	p := newProblem(job)
	short := p.dropHopeless()
	plan := p.build(newWatch(lim))
	layout := p.layout(plan)
	layout.Short = append(layout.Short, short...)
	p.sortShort(layout.Short)
	p.account(&layout)
	layout.Stop = nesting.StopBudget
	if layout.Cost == layout.CostBound {
		layout.Proven, layout.Stop = true, nesting.StopProven
	}
	layout.Seconds = time.Since(began).Seconds()
	return layout
}
