package main

import (
	"context"
	"errors"
	"fmt"
	"time"

	"github.com/spf13/cobra"

	"batchwright/jigplan/shop"
	"batchwright/orders/measure"
	"batchwright/reports"
)

func (c *common) logReview() *cobra.Command {
	job := ""
	cmd := &cobra.Command{
		Use: "review", Short: "Planned and actual time by element, and what the logs change in the next plan", Args: cobra.NoArgs,
		RunE: func(cmd *cobra.Command, _ []string) error { return c.review(cmd.Context(), job) },
	}
	cmd.Flags().StringVar(&job, "job", "", "of this job alone")
	c.jsonFlag(cmd)
	return c.shopFlags(cmd, false)
}

type reviewJSON struct {
	Version     int          `json:"version"`
	Logs        []logJSON    `json:"logs"`
	Calibration []factorJSON `json:"calibration"`
}

type logJSON struct {
	ID      int64     `json:"log"`
	At      time.Time `json:"at"`
	Element string    `json:"element"`
	Job     string    `json:"job"`
	Stack   string    `json:"stack"`
	Actual  float64   `json:"actual_minutes"`
	Planned float64   `json:"planned_minutes"`
	Dropped bool      `json:"interrupted"`
}

func (c *common) review(ctx context.Context, arg string) error {
	id := int64(0)
	if arg != "" {
		var err error
		if id, err = jobArg(arg); err != nil {
			return err
		}
	}
	var logs []shop.TimeLog
	var kerfs []shop.KerfLog
	s := shopState{}
	if err := c.readShop(ctx, func(tx *shop.Tx) (err error) {
		if logs, err = shop.TimeLogs(tx, id); err == nil {
			kerfs, err = shop.Kerfs(tx)
		}
		return errors.Join(err, s.read(tx))
	}); err != nil {
		return err
	}
	doc := reviewJSON{1, []logJSON{}, s.document("").Factors}
	t := reports.Table{Title: "Plan against actual", Head: []string{"Log", "When", "Element", "Job", "Stack", "Planned, min", "Actual, min", "Actual/planned"}}
	u := s.settings.Units
	for _, l := range logs {
		job, ratio := "", ""
		if l.Job != 0 {
			job = jobID(l.Job)
		}
		if l.Planned > 0 {
			ratio = u.Number(l.Actual/l.Planned, 2)
		}
		if l.Dropped {
			ratio += " interrupted"
		}
		doc.Logs = append(doc.Logs, logJSON{l.ID, l.At, l.Element, job, l.Stack, l.Actual, l.Planned, l.Dropped})
		t.Add(l.ID, momentIn(u, l.At), l.Element, job, l.Stack, u.Number(l.Planned, 1), u.Number(l.Actual, 1), ratio)
	}
	if err := c.writeJSON(doc); err != nil {
		return err
	}
	tables := []reports.Table{t}
	if len(s.factors) > 0 {
		tables = append(tables, factorTable(s.factors, u))
	}
	if len(kerfs) > 0 {
		tables = append(tables, kerfTable(kerfs, s.settings.Units))
	}
	c.show(tables)
	return nil
}

func factorTable(factors []shop.Factor, u measure.Unit) reports.Table {
	t := reports.Table{Title: "What the logs change in the next plan", Head: []string{"Element", "Logs", "Median of actual/planned", "Used", "Spread"}}
	for _, f := range factors {
		element := f.Element
		if f.Boards > 0 {
			element += fmt.Sprintf(", stacks of %d", f.Boards)
		}
		t.Add(element, f.Logs, u.Number(f.Median, 2), "x "+u.Number(f.Factor, 2), u.Percent(100*f.Spread, 0))
	}
	return t
}

func kerfTable(kerfs []shop.KerfLog, unit measure.Unit) reports.Table {
	t := reports.Table{Title: "Kerfs", Head: []string{"When", "Blade", "Kerf", "After", "Note"}}
	for _, k := range kerfs {
		t.Add(unit.Date(k.At.Local()), k.Blade, caliper(k.Kerf, unit), k.After, k.Note)
	}
	return t
}
