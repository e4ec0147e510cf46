package main

import (
	"context"
	"encoding/json"
	"errors"
	"path/filepath"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"batchwright/jigplan"
	"batchwright/jigplan/document"
	"batchwright/jigplan/plan"
	"batchwright/nesting"
	"batchwright/orders/settings"
	"batchwright/reports"
	"batchwright/reports/page"
	"batchwright/reports/workbook"
)

func planCommand(c *common) *cobra.Command {
	cmd := &cobra.Command{
		Use:   "plan ORDER.xlsx",
		Short: "Plan an order: boards, jig programs, setups, running order, time",
		Long: "Reads the order, lays its parts on boards, works out the jig programs, setups and stacks,\n" +
			"finds the running order and the time, and writes ORDER-batch.xlsx beside the order.",
		Args: cobra.ExactArgs(1),
		RunE: func(cmd *cobra.Command, args []string) error { return c.plan(cmd.Context(), args[0]) },
	}
	c.orderFlags(cmd)
	c.allFlag(cmd)
	outputFlag(cmd, &c.page, "page", "", "write the count page for the phone at the saw to `FILE`, .html; none: write no count page (default: beside the workbook)", "none")
	return cmd
}

// plan carries out the main job.
func (c *common) plan(ctx context.Context, path string) error {
	out := c.outputOr("the batch workbook", beside(path, "-batch"))
	pageOut := c.pageOutput(out.path)
	if err := c.claims(out, pageOut); err != nil {
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
	p, err := plan.Plan(order, opt)
	if err != nil {
		return c.fault(path, p, err)
	}
	if err := c.writePlan(p); err != nil {
		return err
	}
	if plan.Failed(p) && !c.partial {
		return c.hasErrors(path, p)
	}
	book, err := workbook.Batch(p)
	if err != nil {
		return refuse("cannot make the batch workbook: %w", err)
	}
	written, err := c.write(out.path, book)
	if err != nil {
		return err
	}
	atSaw, err := c.writePage(p, pageOut.path)
	if err != nil {
		return err
	}
	c.showFirst(c.summary(ctx, path, p))
	c.waysOut(p.Refusals)
	c.sayf("wrote %s", written)
	if atSaw != "" {
		c.sayf("wrote %s; batchwright page %s shows it on a phone at the saw", atSaw, filepath.Base(atSaw))
	}
	if p.Incomplete() || plan.Failed(p) {
		return exit{code: exitIncomplete}
	}
	return nil
}

// summary is the batch for the screen. Where the shop plans with the rack alone
// and it is too small, a second plan says what to buy for the rest, and that
// takes the place of the list of parts without a board.
func (c *common) summary(ctx context.Context, path string, p *jigplan.Plan) []reports.Table {
	tables := reports.Summary(p, c.all)
	if p.Order.Settings.BuyMissing != "no" || len(p.Layout.Short) == 0 {
		return tables
	}
	order, err := c.readOrder(ctx, path)
	if err != nil {
		return tables // the file is gone since: what was planned still holds
	}
	order.Settings.BuyMissing = "yes"
	bought, err := plan.Plan(order, plan.Options{Partial: c.partial, Limits: nesting.Limits{Seed: c.seed, Think: time.Millisecond, Stop: ctx.Done()}})
	if err != nil || reports.ToBuy(bought) == "" {
		return tables
	}
	way := jigplan.Way{Setting: "Buy what is missing", Value: "yes"}
	if from := p.Order.Settings.Source(way.Setting); from.Sheet != settings.ShopFileSheet {
		way.On = from
	}
	if !c.all && len(p.Refusals)+len(bought.Layout.Short) == 0 {
		tables = tables[1:] // the parts left out, which the purchase makes
	}
	return append([]reports.Table{{Notes: []string{reports.MadeNow(p) + "; to make everything, buy " + reports.ToBuy(bought) + ".",
		"To plan with that purchase:" + strings.TrimPrefix(wayLine(way), " ")}}}, tables...)
}

// pageOutput is the count page: where --page says, under a name that a browser
// opens, else beside the workbook.
func (c *common) pageOutput(workbook string) output {
	switch {
	case c.page == "none" || c.page == "" && workbook == "-":
		return output{"--page", ""}
	case c.page == "":
		return output{"the count page", countName(workbook)}
	case c.page != "-" && filepath.Ext(c.page) == "":
		return output{"--page", c.page + ".html"}
	}
	return output{"--page", c.page}
}

// countName names the count page after its workbook: x-batch.xlsx has
// x-count.html, NAME.xlsx has NAME-count.html.
func countName(workbook string) string {
	name := strings.TrimSuffix(workbook, filepath.Ext(workbook))
	return strings.TrimSuffix(name, "-batch") + "-count.html"
}

// writePage writes the count page and gives its name back.
func (c *common) writePage(p *jigplan.Plan, name string) (string, error) {
	if name == "" {
		return "", nil
	}
	html, err := page.Count(p)
	if err != nil {
		return "", refuse("cannot make the count page: %w", err)
	}
	return c.write(name, html)
}

// options are the search's limits from now on: most of the time to the boards,
// the rest to the running order and the writing. No time at all still lays
// every board, with the least work and no clock, so that it repeats exactly.
func (c *common) options(ctx context.Context) plan.Options {
	opt := plan.Options{Partial: c.partial, Limits: nesting.Limits{Seed: c.seed, Stop: ctx.Done()}}
	if c.think <= 0 {
		opt.Limits.Think = time.Millisecond
	} else {
		start := c.world.now()
		opt.Limits.Think = max(c.think, usualThink) // less thought is cut by the clock, more is more work
		opt.Limits.Deadline = start.Add(c.think * 3 / 4)
		opt.Finish = start.Add(c.think)
	}
	return opt
}

// usualThink is the default of --think.
const usualThink = 5 * time.Second

// hasErrors lists what is wrong with an order that is not planned.
func (c *common) hasErrors(path string, p *jigplan.Plan) error {
	c.showFirst([]reports.Table{reports.FindingTable(p.Findings)})
	if c.dropped {
		order := *p.Order
		order.Findings = p.Findings
		book, err := workbook.Problems(&order)
		if err != nil {
			return refuse("cannot make the workbook of problems: %w", err)
		}
		written, err := c.write(beside(path, "-problems"), book)
		if err != nil {
			return err
		}
		c.sayf("wrote %s", written)
	}
	return refuse("%s has errors: nothing was planned; correct them, or plan the good lines with --partial", filepath.Base(path))
}

// writePlan writes the plan's document where --json asks for it.
func (c *common) writePlan(p *jigplan.Plan) error {
	if c.json == "" {
		return nil
	}
	data, err := document.Marshal(p)
	if err != nil {
		return err
	}
	return c.writeJSON(json.RawMessage(data))
}

// fault is a plan that failed its own checks: the instance is kept for a
// report, and nothing is printed that could be taken to the saw.
func (c *common) fault(path string, p *jigplan.Plan, cause error) error {
	if p == nil || !errors.Is(cause, jigplan.ErrFault) {
		return refuse("cannot plan %s: %w", filepath.Base(path), cause)
	}
	name := beside(path, "-fault")
	name = name[:len(name)-len(".xlsx")] + ".json"
	data, err := document.Marshal(p)
	if err == nil {
		name, err = c.write(name, data)
	}
	if err != nil {
		return refuse("%w (and the plan could not be kept: %v)", cause, err)
	}
	return refuse("%w\nThis is a bug in the program, not an error in your order. Nothing was written. Please report it with %s", cause, name)
}
