package main

import (
	"context"
	"slices"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"batchwright/jigplan/shop"
	"batchwright/orders/measure"
	"batchwright/reports"
)

func (c *common) jobList() *cobra.Command {
	state := ""
	cmd := &cobra.Command{
		Use: "list", Short: "List the jobs", Args: cobra.NoArgs,
		RunE: func(cmd *cobra.Command, _ []string) error { return c.listJobs(cmd.Context(), shop.JobState(state)) },
	}
	cmd.Flags().StringVar(&state, "state", "", "only jobs that are open, finished, cancelled or lapsed")
	c.jsonFlag(cmd)
	return c.shopFlags(cmd, false)
}

type jobsJSON struct {
	Version int       `json:"version"`
	Jobs    []jobJSON `json:"jobs"`
}

type jobJSON struct {
	ID       string        `json:"id"`
	Name     string        `json:"name"`
	Customer string        `json:"customer"`
	State    shop.JobState `json:"state"`
	Due      string        `json:"due"`
	Until    string        `json:"until"`
	Revision int           `json:"revision"`
	Repeats  string        `json:"repeats"`
	Accepted time.Time     `json:"accepted"`
	Boards   []string      `json:"boards"` // held or used up
}

func (c *common) listJobs(ctx context.Context, state shop.JobState) error {
	var list []shop.Job
	var boards map[int64][]string
	if err := c.readShop(ctx, func(tx *shop.Tx) (err error) {
		if list, err = shop.Jobs(tx, state); err == nil {
			boards, err = shop.BoardsOfJobs(tx)
		}
		return err
	}); err != nil {
		return err
	}
	doc := jobsJSON{1, []jobJSON{}}
	unit := c.unit()
	t := reports.Table{Head: []string{"Job", "State", "Order", "Customer", "Due", "Held until", "Revision", "Boards"}}
	for _, j := range list {
		of := boards[j.ID]
		slices.SortFunc(of, shop.CompareBoardIDs)
		doc.Jobs = append(doc.Jobs, jobJSON{jobID(j.ID), j.Name, j.Customer, j.State, day(j.Due), day(j.Held), j.Revision, repeated(j), j.Accepted, append([]string{}, of...)})
		t.Add(j.ID, string(j.State), j.Name, j.Customer, dayIn(unit, j.Due), dayIn(unit, j.Held), j.Revision, strings.Join(of, ", "))
	}
	if err := c.writeJSON(doc); err != nil {
		return err
	}
	if c.json != "-" {
		c.show([]reports.Table{t})
	}
	return nil
}

func repeated(j shop.Job) string {
	if j.Repeats == 0 {
		return ""
	}
	return jobID(j.Repeats)
}

// dayIn is a date as the shop writes it; empty for none.
func dayIn(unit measure.Unit, t time.Time) string {
	if t.IsZero() {
		return ""
	}
	return unit.Date(t)
}

// isoIn writes a document's date as the shop does; what is none stays.
func isoIn(unit measure.Unit, text string) string {
	if t, err := time.Parse(time.DateOnly, text); err == nil {
		return unit.Date(t)
	}
	return text
}

func day(t time.Time) string {
	if t.IsZero() {
		return ""
	}
	return t.Format(time.DateOnly)
}
