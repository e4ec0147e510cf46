package main

import (
	"context"
	"fmt"

	"github.com/spf13/cobra"

	"batchwright/jigplan/plan"
	"batchwright/reports"
	"batchwright/reports/workbook"
)

func labelsCommand(c *common) *cobra.Command {
	var sheet string
	start := 1
	cmd := &cobra.Command{
		Use:   "labels ORDER.xlsx",
		Short: "Write stick-on labels, one for every part",
		Long: "Plans the order and writes ORDER-labels.xlsx: a label for every part with its box, which part and which box\n" +
			"it is, the marks of its ends, a line for the marked edge, and the board it is cut from. The labels come in\n" +
			"the order of the boards.",
		Args: cobra.ExactArgs(1),
		RunE: func(cmd *cobra.Command, args []string) error { return c.labels(cmd.Context(), args[0], sheet, start) },
	}
	c.orderFlags(cmd)
	cmd.Flags().StringVar(&sheet, "sheet", "", "the `LABELS` of a sheet: columns x rows, size of one: \"3 x 10, 66.7 x 25.4 mm\"; plain before it: plain paper with cut lines (default: the setting Label sheet)")
	cmd.Flags().IntVar(&start, "start", 1, "the first free label of a used sheet, counted along the rows")
	return cmd
}

func (c *common) labels(ctx context.Context, path, sheet string, start int) error {
	out := c.outputOr("the labels", beside(path, "-labels"))
	if err := c.claims(out); err != nil {
		return err
	}
	opt := c.options(ctx)
	order, err := c.readOrder(ctx, path)
	if err == nil {
		err = asksForBoxes(path, order)
	}
	if err != nil {
		return err
	}
	if sheet == "" {
		sheet = order.Settings.LabelSheet
	}
	grid, err := reports.ParseLabelSheet(sheet)
	switch {
	case err != nil:
		return exit{exitUsage, err}
	case start < 1 || start > grid.Columns*grid.Rows:
		return exit{exitUsage, fmt.Errorf("--start %d is not on the sheet: it has labels 1 to %d", start, grid.Columns*grid.Rows)}
	}
	p, err := plan.Plan(order, opt)
	if err != nil {
		return c.fault(path, p, err)
	}
	if plan.Failed(p) && !c.partial {
		return c.hasErrors(path, p)
	}
	book, err := workbook.Labels(p, grid, start-1)
	if err != nil {
		return refuse("cannot make the labels: %w", err)
	}
	written, err := c.write(out.path, book)
	if err != nil {
		return err
	}
	c.sayf("wrote %s: %s", written, reports.Counted(len(reports.PartLabels(p)), "label", "labels"))
	if p.Incomplete() {
		return exit{code: exitIncomplete}
	}
	return nil
}
