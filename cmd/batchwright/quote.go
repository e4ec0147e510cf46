package main

import (
	"context"
	"errors"
	"fmt"
	"path/filepath"
	"slices"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"batchwright/jigplan"
	"batchwright/jigplan/document"
	"batchwright/jigplan/plan"
	"batchwright/jigplan/quote"
	"batchwright/jigplan/shop"
	"batchwright/jigplan/week"
	"batchwright/nesting"
	"batchwright/orders"
	"batchwright/orders/intake"
	"batchwright/reports"
	"batchwright/reports/workbook"
)

// quoted is what the quote command was asked.
type quoted struct {
	customer string
	number   string
	from     string
	since    int
}

func quoteCommand(c *common) *cobra.Command {
	var a quoted
	cmd := &cobra.Command{
		Use:   "quote ORDER.xlsx",
		Short: "Price an order: a workbook for the customer, and one with the shop's costs",
		Long: "Plans every quantity of every box by itself, costs and prices it, finds the day it can be delivered, and\n" +
			"writes ORDER-quote.xlsx for the customer (-o names it) and ORDER-cost.xlsx for the shop. Rows that share a\n" +
			"Box name are options, side by side. Prices come from Labor rate and Margin or Markup on the Shop sheet, or of\n" +
			"a Price in the row. The quote is kept in the shop file; the next one of the same number is its next revision.",
		Example: "  batchwright quote letterbox.xlsx\n" +
			"  batchwright job accept letterbox --take \"Letter box B=1\"\n" +
			"  batchwright quote invoice letterbox\n" +
			"  batchwright quote letterbox-changed.xlsx --number letterbox",
		Args: cobra.ExactArgs(1),
		RunE: func(cmd *cobra.Command, args []string) error { return c.quote(cmd.Context(), args[0], &a) },
	}
	c.orderFlags(cmd)
	c.allFlag(cmd)
	f := cmd.Flags()
	f.StringVar(&a.customer, "customer", "", "quote the rows of this `NAME`, where an order has rows of several")
	f.StringVar(&a.number, "number", "", "the quote's number (default the order's file name)")
	f.StringVar(&a.from, "from", "", "the day of the quote, a `DATE` such as 2027-03-08 (default now)")
	f.IntVar(&a.since, "since", 0, "print the difference to this earlier `REVISION` (default the one that was accepted)")
	f.BoolVar(&c.dryRun, "dry-run", false, "write the workbooks, and keep nothing in the shop file")
	cmd.AddCommand(invoiceCommand(c), paidCommand(c), declineCommand(c), quoteListCommand(c), quoteShowCommand(c))
	return cmd
}

// quote prices an order for one customer.
func (c *common) quote(ctx context.Context, path string, a *quoted) error {
	from, err := c.fromDay(a.from)
	if err == nil {
		err = c.claims(c.quoteOutputs(path))
	}
	if err != nil {
		return err
	}
	data, err := c.readInput(path)
	if err != nil {
		return err
	}
	order, shop, err := c.orderToQuote(ctx, path, data, 0)
	if err == nil {
		err = asksForBoxes(path, order)
	}
	if err != nil {
		return err
	}
	r := quote.Request{From: from, Number: strings.TrimSpace(a.number),
		Options: plan.Options{Partial: c.partial, Limits: nesting.Limits{Seed: c.seed, Think: c.think, Stop: ctx.Done()}}}
	if r.Customer, err = customerOf(order, a.customer); err != nil {
		return err
	}
	if r.Number == "" {
		r.Number = numberFor(path, order, r.Customer)
	}
	past, err := c.pastOf(ctx, r.Number, r.Customer, a.since)
	if err != nil {
		return err
	}
	if past.job > 0 { // its own boards and hours are free for what replaces it
		if order, shop, err = c.orderToQuote(ctx, path, data, past.job); err != nil {
			return err
		}
	}
	book := &orderBookOpen{settings: shop.settings, shop: shop}
	if err := c.atWork(ctx, book); err != nil {
		return err
	}
	shop.furnish(order)
	r.Order, r.Open = order, slices.DeleteFunc(book.open, func(o week.Open) bool { return o.ID == jobID(past.job) })
	r.Latest, r.Before = past.last, past.before
	q, err := quote.Make(r)
	if err != nil {
		return refuse("%w\nThis is a bug in the program, not an error in your order. Nothing was written. Please report it with the order", err)
	}
	return c.giveQuote(ctx, path, data, q, &past)
}

// orderToQuote reads an order with the settings of the shop file, and what that
// file has for it, the boards of a job counted as free. No shop file is none
// yet: keeping the quote makes it.
func (c *common) orderToQuote(ctx context.Context, path string, data []byte, job int64) (*orders.Order, held, error) {
	file, err := c.shopFor(ctx, job)
	if err != nil && !errors.Is(err, shop.ErrNoFile) {
		return nil, file, err
	}
	order, err := intake.Read(path, data, file.settings, c.sheet)
	var refusal *intake.Refusal
	if errors.As(err, &refusal) {
		return refusal.Order(data), file, nil
	}
	return order, file, err
}

// numberFor is the number of a quote that was given none: the file's name, and
// the customer's where the file has rows of several.
func numberFor(path string, o *orders.Order, customer string) string {
	if len(quote.Customers(o)) > 1 {
		return stem(path) + " " + customer
	}
	return stem(path)
}

// giveQuote keeps, writes and shows a quote.
func (c *common) giveQuote(ctx context.Context, path string, data []byte, q *jigplan.Quote, past *pastQuote) error {
	doc := document.OfQuote(q)
	if len(q.Articles) == 0 {
		if err := c.writeJSON(doc); err != nil {
			return err
		}
		if !orderFailed(q.Findings) {
			return refuse("%s has no row of boxes or parts to quote", filepath.Base(path))
		}
		c.showFirst(problemTables(q.Findings))
		return refuse("%s has errors: nothing was quoted; correct them, or quote the good lines with --partial", filepath.Base(path))
	}
	papers, err := papersOf(q, doc, data)
	if err != nil {
		return err
	}
	switch {
	case past.sameAs(doc):
		papers, doc, q.Revision = past.papers, past.doc.Quote, past.latest.Revision
		c.sayf("quote %s, revision %d, is already saved and nothing has changed since", past.latest.Number, past.latest.Revision)
	default:
		if err := c.keepQuote(ctx, q, papers); err != nil {
			return err
		}
	}
	if err := c.writeJSON(doc); err != nil {
		return err
	}
	if err := c.writeQuote(path, papers); err != nil {
		return err
	}
	c.showFirst(reports.QuoteSummary(q))
	if q.Incomplete() || orderFailed(q.Findings) {
		return exit{code: exitIncomplete}
	}
	return nil
}

// papersOf prints what belongs to a quote into memory.
func papersOf(q *jigplan.Quote, doc document.Quote, order []byte) (p shop.QuotePapers, err error) {
	p.Order = order
	if p.Record, err = document.Indent(doc); err != nil {
		return p, err
	}
	if p.Costs, err = workbook.Cost(q); err != nil {
		return p, refuse("cannot make the cost workbook: %w", err)
	}
	if p.Offer, err = workbook.Quote(q); err != nil {
		return p, refuse("cannot make the customer's workbook: %w", err)
	}
	p.Plans = map[string][]byte{}
	for take, made := range document.PlansOf(q) {
		if p.Plans[take], err = shop.FreezeOffer(made); err != nil {
			return p, err
		}
	}
	return p, nil
}

func orderFailed(problems []orders.Finding) bool {
	for _, p := range problems {
		if p.Level == orders.Error {
			return true
		}
	}
	return false
}

// quoteOutputs are the customer's workbook and the shop's.
func (c *common) quoteOutputs(path string) (customers, costs output) {
	customers = c.outputOr("the customer's workbook", beside(path, "-quote"))
	if c.output != "" && c.output != "-" {
		path = c.output
	}
	return customers, output{"the cost workbook", beside(path, "-cost")}
}

// writeQuote writes the shop's workbook and, where there is a price to tell,
// the customer's.
func (c *common) writeQuote(path string, p shop.QuotePapers) error {
	customers, costs := c.quoteOutputs(path)
	written, err := c.writePrivate(costs.path, p.Costs)
	if err != nil {
		return err
	}
	c.sayf("wrote %s, for the shop only", written)
	if written, err = c.write(customers.path, p.Offer); err != nil {
		return err
	}
	c.sayf("wrote %s, for the customer", written)
	return nil
}

// fromDay is the day a flag names, else now by the clock on the wall.
func (c *common) fromDay(text string) (time.Time, error) {
	if text == "" {
		now := c.world.now()
		year, month, day := now.Date()
		return time.Date(year, month, day, now.Hour(), now.Minute(), 0, 0, time.UTC), nil
	}
	return c.dateFlag("from", text)
}

// customerOf is whose rows are quoted: no quote shows what others have ordered.
func customerOf(o *orders.Order, wanted string) (string, error) {
	names := quote.Customers(o)
	switch {
	case wanted == "" && len(names) <= 1:
		return strings.Join(names, ""), nil
	case wanted == "":
		return "", exit{exitUsage, fmt.Errorf("%s has rows of several customers: name one with --customer: %s", o.File, strings.Join(names, ", "))}
	}
	for _, name := range names {
		if strings.EqualFold(name, wanted) {
			return name, nil
		}
	}
	return "", exit{exitUsage, fmt.Errorf("--customer %q has no row in %s; these have: %s", wanted, o.File, strings.Join(names, ", "))}
}
