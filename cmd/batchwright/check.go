package main

import (
	"context"
	"errors"
	"fmt"
	"path/filepath"

	"github.com/spf13/cobra"

	"batchwright/jigplan/document"
	"batchwright/jigplan/plan"
	"batchwright/orders"
	"batchwright/orders/intake"
	"batchwright/reports"
)

func checkCommand(c *common) *cobra.Command {
	cmd := &cobra.Command{
		Use:   "check ORDER.xlsx",
		Short: "Read an order and list every problem with its sheet and cell",
		Args:  cobra.ExactArgs(1),
		RunE:  func(cmd *cobra.Command, args []string) error { return c.check(cmd.Context(), args[0]) },
	}
	c.jsonFlag(cmd)
	c.allFlag(cmd)
	cmd.Flags().StringVar(&c.units, "units", "", "in or mm: the unit of a number that has none")
	c.readingFlags(cmd)
	c.plainFlags(cmd)
	return cmd
}

// checkRecord is the JSON of check, version 1.
type checkRecord struct {
	Version  int                `json:"version"`
	Order    document.Order     `json:"order"`
	Problems []document.Finding `json:"problems"`
}

func (c *common) check(ctx context.Context, path string) error {
	order, err := c.readOrder(ctx, path)
	if err != nil {
		return err
	}
	order.Findings = append(plan.Findings(order), plan.PastDates(order, c.today())...)
	cannot := reports.Table{}
	if !order.HasErrors() {
		cannot = reports.Cannot(plan.Unmade(order))
	}
	doc := checkRecord{1, document.Order{File: order.File, SHA256: order.SHA256}, document.Findings(order.Findings)}
	if err := c.writeJSON(doc); err != nil {
		return err
	}
	var tables []reports.Table
	if len(cannot.Rows) > 0 {
		tables = append(tables, cannot)
	}
	if len(order.Findings) > 0 {
		tables = append(tables, reports.FindingTable(order.Findings))
	}
	c.showFirst(tables)
	c.sayf("%s: %s", order.File, found(order))
	switch {
	case order.HasErrors():
		return exit{code: exitErrors}
	case len(cannot.Rows) > 0:
		return exit{code: exitIncomplete}
	}
	return nil
}

// readOrder reads an order file with what the shop file adds to it; one that is
// no order at all becomes an order whose only problem says so, because check
// lists and never merely fails.
func (c *common) readOrder(ctx context.Context, path string) (*orders.Order, error) {
	shop, err := c.shopFor(ctx, 0)
	if err != nil {
		return nil, err
	}
	data, err := c.readInput(path)
	if err != nil {
		return nil, err
	}
	order, err := intake.Read(path, data, shop.settings, c.sheet)
	var refusal *intake.Refusal
	if errors.As(err, &refusal) {
		return refusal.Order(data), nil
	}
	if err == nil {
		shop.furnish(order)
	}
	return order, err
}

// asksForBoxes refuses a file that orders nothing and is a catalog.
func asksForBoxes(path string, o *orders.Order) error {
	if len(o.Boxes)+len(o.Loose) > 0 || len(o.Candidates) == 0 || o.HasErrors() {
		return nil
	}
	return refuse("%s is a catalog, not an order: run batchwright fair %s, or add a sheet Boxes to it", filepath.Base(path), path)
}

// found sums up what was read and what is wrong with it.
func found(o *orders.Order) string {
	n := map[orders.Level]int{}
	for _, p := range o.Findings {
		n[p.Level]++
	}
	boxes := 0
	for _, b := range o.Boxes {
		boxes += b.Count
	}
	lines := fmt.Sprintf("%s of boxes (%s), %s of loose parts", some(len(o.Boxes), "line"), some(boxes, "box"), some(len(o.Loose), "line"))
	if len(o.Candidates) > 0 {
		lines = some(len(o.Candidates), "line") + " of a catalog, " + lines
	}
	return fmt.Sprintf("%s; %s, %s, %s", lines,
		some(n[orders.Error], "error"), some(n[orders.Warning], "warning"), some(n[orders.Note], "note"))
}

func some(n int, what string) string {
	switch {
	case n == 1:
		return "1 " + what
	case what == "box":
		return fmt.Sprintf("%d boxes", n)
	}
	return fmt.Sprintf("%d %ss", n, what)
}
