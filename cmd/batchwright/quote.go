package main

import (
	"context"
	"encoding/json"
	"fmt"
	"path/filepath"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"batchwright/jigplan"
	"batchwright/jigplan/batch"
	"batchwright/nesting"
	"batchwright/orders"
	"batchwright/reports"
	"batchwright/reports/record"
	"batchwright/reports/workbook"
)

// quoted is what the quote command was asked.
type quoted struct {
	customer string
	number   string
	from     string
	since    string
}

func quoteCommand(c *common) *cobra.Command {
	var a quoted
	cmd := &cobra.Command{
		Use:   "quote ORDER.xlsx",
		Short: "Price an order: the customer's workbook, and apart from it the shop's costs",
		Long: "Plans every quantity of every box by itself, costs and prices it, finds the day it can be delivered, and\n" +
			"writes ORDER-quote.xlsx for the customer (-o names it) and ORDER-cost.xlsx for the shop. Rows that share a\n" +
			"Box name are options, side by side. Prices come of Labour rate and Margin or Markup on the Shop sheet, or of\n" +
			"a Price in the row.",
		Example: "  batchwright quote tea.xlsx --json tea-1.json\n" +
			"  batchwright quote tea-changed.xlsx --since tea-1.json --json tea-2.json\n" +
			"  batchwright quote invoice tea-2.json --take \"Tea box A=25\"",
		Args: cobra.ExactArgs(1),
		RunE: func(cmd *cobra.Command, args []string) error { return c.quote(cmd.Context(), args[0], &a) },
	}
	c.orderFlags(cmd)
	f := cmd.Flags()
	f.StringVar(&a.customer, "customer", "", "quote the rows of this `NAME`, where an order has rows of several")
	f.StringVar(&a.number, "number", "", "the quote's number (default the order's file name)")
	f.StringVar(&a.from, "from", "", "the day of the quote, a `DATE` such as 2027-03-08 (default now)")
	cmd.AddCommand(invoiceCommand(c))
	f.StringVar(&a.since, "since", "", "revise the quote whose JSON record is `FILE`: the next revision, with the difference to it")
	return cmd
}

// quote prices an order for one customer.
func (c *common) quote(ctx context.Context, path string, a *quoted) error {
	from, err := c.fromDay(a.from)
	if err != nil {
		return err
	}
	order, err := c.readOrder(ctx, path)
	if err != nil {
		return err
	}
	r := batch.QuoteRequest{Order: order, From: from, Number: a.number,
		Options: batch.Options{Partial: c.partial, Limits: nesting.Limits{Seed: c.seed, Think: c.think, Stop: ctx.Done()}}}
	if r.Customer, err = customerOf(order, a.customer); err != nil {
		return err
	}
	if r.Before, err = earlier(a.since); err != nil {
		return err
	}
	if r.Number == "" {
		r.Number = stem(path)
		if r.Before != nil {
			r.Number = r.Before.Number
		}
	}
	shop, err := c.shopFor(ctx, 0)
	if err != nil {
		return err
	}
	book := &orderBookOpen{settings: shop.settings, shop: shop}
	if err := c.atWork(ctx, book); err != nil {
		return err
	}
	r.Open = book.open
	q, err := batch.Quote(r)
	if err != nil {
		return refuse("%w\nThis is a mistake of the program, not of the order; nothing was printed. Please report it with the order", err)
	}
	return c.giveQuote(path, q)
}

// giveQuote writes and shows a quote.
func (c *common) giveQuote(path string, q *jigplan.Quote) error {
	if err := c.writeJSON(record.OfQuote(q)); err != nil {
		return err
	}
	if len(q.Articles) == 0 {
		c.show(problemTables(q.Problems))
		return refuse("%s has errors: nothing was quoted; correct them, or quote the good lines with --partial", filepath.Base(path))
	}
	if err := c.writeQuote(path, q); err != nil {
		return err
	}
	c.show(reports.QuoteSummary(q))
	if q.Incomplete() || orderFailed(q.Problems) {
		return exit{code: exitIncomplete}
	}
	return nil
}

func orderFailed(problems []orders.Problem) bool {
	for _, p := range problems {
		if p.Level == orders.Error {
			return true
		}
	}
	return false
}

// writeQuote writes the shop's workbook and, where there is a price to tell,
// the customer's.
func (c *common) writeQuote(path string, q *jigplan.Quote) error {
	customers, costs := beside(path, "-quote"), beside(path, "-cost")
	if c.output != "" && c.output != "-" {
		customers, costs = c.output, beside(c.output, "-cost")
	}
	if c.output == "-" {
		customers = "-"
	}
	data, err := workbook.Cost(q)
	if err != nil {
		return refuse("cannot make the cost workbook: %w", err)
	}
	written, err := c.write(costs, data)
	if err != nil {
		return err
	}
	c.sayf("wrote %s, for the shop alone", written)
	if !reports.Priced(q) {
		c.sayf("no workbook for the customer was written: nothing has a price yet")
		return nil
	}
	if data, err = workbook.Quote(q); err != nil {
		return refuse("cannot make the customer's workbook: %w", err)
	}
	if written, err = c.write(customers, data); err != nil {
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
	at, err := time.Parse(time.DateOnly, text)
	if err != nil {
		return at, exit{exitUsage, fmt.Errorf("--from %q is not a date such as 2027-03-08", text)}
	}
	return at, nil
}

// customerOf is whose rows are quoted: no quote shows what others have ordered.
func customerOf(o *orders.Order, wanted string) (string, error) {
	names := batch.Customers(o)
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

// earlier reads the record of the quote that is revised; nil: none.
func earlier(path string) (*jigplan.QuoteBefore, error) {
	if path == "" {
		return nil, nil
	}
	doc, err := readQuote(path)
	if err != nil {
		return nil, err
	}
	before := doc.Before()
	return &before, nil
}

func readQuote(path string) (*record.Quote, error) {
	data, err := readFile(path)
	if err != nil {
		return nil, err
	}
	doc := &record.Quote{}
	if err := json.Unmarshal(data, doc); err != nil || doc.Kind != record.QuoteKind {
		return nil, refuse("%q is not the JSON record of a quote: name the file that quote --json wrote", path)
	}
	return doc, nil
}
