package main

import (
	"fmt"
	"slices"
	"strings"

	"batchwright/jigplan"
	"batchwright/jigplan/document"
	"batchwright/jigplan/plan"
	"batchwright/jigplan/shop"
	"batchwright/orders/woods"
	"batchwright/reports"
)

func (c *common) nothingFree(h held) error {
	if err := c.writeJSON(acceptJSON{Version: 1, Reserved: []string{}, Short: []string{}, HeldBy: h.holdersJSON(nil)}); err != nil {
		return err
	}
	return exit{exitIncomplete, fmt.Errorf("no board is free: %s; nothing was accepted", h.holding(nil))}
}

// shortOfWood says which parts have no board, and which jobs hold boards that
// would do.
func (c *common) shortOfWood(p *jigplan.Plan, h held) error {
	var ids []string
	kinds := map[string]bool{}
	for _, s := range reports.Short(p) {
		ids = append(ids, s.Part)
	}
	for _, part := range p.Parts {
		if slices.Contains(ids, part.ID) {
			kinds[woods.Name(part.Wood)] = true
		}
	}
	c.show([]reports.Table{reports.Cannot(p)})
	totals := document.Of(p).Totals
	if err := c.writeJSON(acceptJSON{Version: 1, Reserved: []string{}, Totals: &totals, Short: ids, HeldBy: h.holdersJSON(kinds)}); err != nil {
		return err
	}
	return exit{exitIncomplete, fmt.Errorf("%s cannot be made as asked; %s. Nothing was accepted: see above what would work, or accept what can be made with --short",
		some(len(ids), "part"), h.holding(kinds))}
}

// holding names the jobs that hold boards, of these woods or of any.
func (h *held) holding(woods map[string]bool) string {
	var texts []string
	for _, b := range h.holdersJSON(woods) {
		texts = append(texts, fmt.Sprintf("board %s is already reserved by job %s", b.Board, b.Job))
	}
	switch {
	case len(texts) == 0:
		return "no job has a board that would help"
	case len(texts) > 8:
		texts = append(texts[:8], fmt.Sprintf("and %d more", len(texts)-8))
	}
	return strings.Join(texts, ", ")
}

type holderJSON struct {
	Board string `json:"board"`
	Job   string `json:"job"`
}

func (h *held) holdersJSON(kinds map[string]bool) []holderJSON {
	out := []holderJSON{}
	for _, b := range h.reserved {
		if kinds == nil || kinds[woods.Name(b.Wood)] {
			out = append(out, holderJSON{b.ID, jobID(b.Job)})
		}
	}
	return out
}

// acceptJSON is an accepted order; Job is null when it was not accepted.
type acceptJSON struct {
	Version  int              `json:"version"`
	DryRun   bool             `json:"dry_run"`
	Job      *acceptedJSON    `json:"job"`
	Reserved []string         `json:"boards"` // ids of the rack
	Totals   *document.Totals `json:"totals"`
	Short    []string         `json:"short"`
	HeldBy   []holderJSON     `json:"held_by"` // boards that would help, and the jobs that hold them
	Quote    *takenJSON       `json:"quote"`   // that was accepted; null: it was not quoted
}

type acceptedJSON struct {
	ID       string `json:"id"`
	Revision int    `json:"revision"`
}

// accepted says what was taken on, and writes the workbook.
func (c *common) accepted(path string, job int64, revision int, ready shop.Accepted, h held) error {
	p := ready.Plan
	boards := shop.RackBoards(p)
	totals := document.Of(p).Totals
	doc := acceptJSON{1, c.dryRun, &acceptedJSON{jobID(job), revision}, append([]string{}, boards...), &totals, []string{}, []holderJSON{}, ofTaken(&ready)}
	for _, s := range reports.Short(p) {
		doc.Short = append(doc.Short, s.Part)
	}
	if err := c.writeJSON(doc); err != nil {
		return err
	}
	verb := "accepted as"
	if c.dryRun {
		verb = "would be accepted as"
	}
	c.sayf("%s %s job %d, revision %d: %s; reserved %s", p.Order.File, verb, job, revision, hoursText(p), listed(boards))
	c.sayQuoted(&ready)
	if !ready.Held.IsZero() {
		c.sayf("the reservation ends after %s", c.unit().Date(ready.Held))
		if ready.Held.Before(c.today()) {
			c.sayf("warning: that day is past: the next command frees its boards")
		}
	}
	if !c.dryRun {
		out := c.output
		if out == "" {
			out = beside(path, "-job-"+jobID(job))
			if revision > 1 {
				out = beside(path, fmt.Sprintf("-job-%d-revision-%d", job, revision))
			}
		}
		written, err := c.write(out, ready.Workbook)
		if err != nil {
			return fmt.Errorf("job %d was accepted, but its workbook could not be written (batchwright job show %d -o FILE writes it): %w", job, job, err)
		}
		c.sayf("wrote %s", written)
	}
	if p.Incomplete() || plan.Failed(p) {
		return exit{code: exitIncomplete}
	}
	return nil
}

func hoursText(p *jigplan.Plan) string {
	return fmt.Sprintf("%s, %s", some(reports.Boxes(p), "box"), reports.Hours(p.Time.Minutes))
}

func listed(ids []string) string {
	if len(ids) == 0 {
		return "no board of the rack"
	}
	return strings.Join(ids, ", ")
}
