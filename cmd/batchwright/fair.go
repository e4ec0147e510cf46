package main

import (
	"context"
	"path/filepath"
	"time"

	"github.com/spf13/cobra"

	"batchwright/jigplan"
	"batchwright/jigplan/document"
	"batchwright/jigplan/fair"
	"batchwright/jigplan/plan"
	"batchwright/jigplan/shop"
	"batchwright/orders"
	"batchwright/reports"
	"batchwright/reports/workbook"
)

func fairCommand(c *common) *cobra.Command {
	var from string
	giveOut := false
	cmd := &cobra.Command{
		Use:   "fair CATALOGUE.xlsx",
		Short: "What to make for a fair: how many of each box, from this rack in these hours",
		Long: "Reads a sheet Catalog (like Boxes, with Price, Sells low, likely and high or Sells mean and spread,\n" +
			"Woods, Made, Half made) and the rack, and says how many of each to make, when to stop, what limits\n" +
			"and what one more of it is worth. Writes CATALOGUE-fair.xlsx (-o names it) with price tags, and\n" +
			"beside it the batch and the week to make the boxes.",
		Args: cobra.ExactArgs(1),
		RunE: func(cmd *cobra.Command, args []string) error { return c.fair(cmd.Context(), args[0], from, giveOut) },
	}
	c.orderFlags(cmd)
	c.allFlag(cmd)
	cmd.Flags().StringVar(&from, "from", "", "the first day of work, a `DATE` such as 2027-03-08 (default now)")
	cmd.Flags().BoolVar(&giveOut, "give-out", false, "keep the mix in the shop file, for log sold and log left after the fair")
	cmd.Flags().BoolVar(&c.dryRun, "dry-run", false, "with --give-out: show it, and keep nothing")
	return cmd
}

func (c *common) fair(ctx context.Context, path, from string, giveOut bool) error {
	day, err := c.fromDay(from)
	if err == nil {
		err = c.claims(c.fairOutputs(path))
	}
	if err != nil {
		return err
	}
	order, err := c.readOrder(ctx, path)
	if err != nil {
		return err
	}
	shop, err := c.shopFor(ctx, 0)
	if err != nil {
		return err
	}
	book := &orderBookOpen{settings: shop.settings, shop: shop}
	if err := c.atWork(ctx, book); err != nil {
		return err
	}
	sales, err := c.soldBefore(ctx, shop)
	if err != nil {
		return err
	}
	f, err := fair.Make(fair.Request{Order: order, From: day, Open: book.open, Sales: sales, Options: c.fairOptions(ctx)})
	if err != nil {
		return refuse("%w\nThis is a bug in the program, not an error in your catalog. Nothing was written. Please report it with the catalog", err)
	}
	if err := c.writeJSON(document.OfFair(f)); err != nil {
		return err
	}
	if len(f.Stalls) == 0 {
		c.showFirst(problemTables(f.Findings))
		return refuse("%s has errors: nothing was chosen; correct them, or go on with the good rows with --partial", filepath.Base(path))
	}
	if err := c.writeFair(path, f); err != nil {
		return err
	}
	c.showFirst(reports.FairSummary(f))
	if giveOut {
		if err := c.keepFair(ctx, fair.Given(f, c.today())); err != nil {
			return err
		}
	}
	if f.Unjudged || reports.LossText(f) != "" {
		return exit{code: exitIncomplete}
	}
	return nil
}

// fairOptions give the rounds of a fair work in proportion to --think, and no
// clock: a plan that the clock cut short would look like too little wood, and
// the fair would bring less than it could.
func (c *common) fairOptions(ctx context.Context) plan.Options {
	opt := c.options(ctx)
	opt.Finish, opt.Limits.Deadline, opt.Limits.Think = time.Time{}, time.Time{}, max(c.think, time.Millisecond)
	return opt
}

// soldBefore is what the shop file knows of earlier fairs.
func (c *common) soldBefore(ctx context.Context, week held) (sales []orders.Sale, err error) {
	if !week.there {
		return nil, nil
	}
	err = c.readShop(ctx, func(tx *shop.Tx) error {
		sales, err = shop.Sales(tx)
		return err
	})
	return sales, err
}

// fairOutputs are the fair's workbook, the batch workbook and the week's.
func (c *common) fairOutputs(path string) (fair, batch, week output) {
	fair = c.outputOr("the fair's workbook", beside(path, "-fair"))
	if c.output != "" && c.output != "-" {
		path = c.output
	}
	return fair, output{"the batch workbook", beside(path, "-batch")}, output{"the week workbook", beside(path, "-week")}
}

// writeFair writes the fair's workbook and, where something is made, the batch
// and the week beside it.
func (c *common) writeFair(path string, f *jigplan.Fair) error {
	out, batch, week := c.fairOutputs(path)
	data, err := workbook.Fair(f)
	if err != nil {
		return refuse("cannot make the fair's workbook: %w", err)
	}
	type file struct {
		output
		data []byte
	}
	files := []file{{out, data}}
	add := func(to output, data []byte, err error) error {
		if err != nil {
			return refuse("cannot make %s: %w", to.what, err)
		}
		files = append(files, file{to, data})
		return nil
	}
	if f.Plan != nil {
		book, err := workbook.Batch(f.Plan)
		if err := add(batch, book, err); err != nil {
			return err
		}
	}
	if f.Week != nil {
		book, err := workbook.Week(f.Week)
		if err := add(week, book, err); err != nil {
			return err
		}
	}
	for _, file := range files {
		written, err := c.write(file.path, file.data)
		if err != nil {
			return err
		}
		c.sayf("wrote %s", written)
	}
	return nil
}
