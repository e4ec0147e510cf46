package main

import (
	"context"
	"strings"

	"github.com/spf13/cobra"

	"batchwright/jigplan"
	"batchwright/jigplan/shop"
	"batchwright/orders/measure"
	"batchwright/reports"
	"batchwright/reports/workbook"
)

func invoiceCommand(c *common) *cobra.Command {
	var takes []string
	var from, paid string
	var job int64
	cmd := &cobra.Command{
		Use:   "invoice NUMBER",
		Short: "The invoices of a quote that was taken: deposit and balance",
		Long: "Writes NUMBER-invoices.xlsx for a kept quote: an invoice for the deposit, and one for the balance. What was taken is\n" +
			"what job accept took; before that, --take says it. After a change the deposit is that of the revision accepted\n" +
			"first, and the balance holds the difference.",
		Example: "  batchwright quote invoice letterbox\n" +
			"  batchwright quote invoice letterbox --take \"Letter box B=1\" --paid 120",
		Args: cobra.ExactArgs(1),
		RunE: func(cmd *cobra.Command, args []string) error {
			return c.invoice(cmd.Context(), args[0], job, takes, from, paid)
		},
	}
	f := cmd.Flags()
	outputFlag(cmd, &c.output, "output", "o", "write the workbook to `FILE`")
	f.StringArrayVar(&takes, "take", nil, "what was taken of a quote no job was accepted as, `BOX=COUNT` or \"BOX OPTION=COUNT\"; may be repeated")
	f.Int64Var(&job, "job", 0, "the `JOB` that took it, where several did (default the latest)")
	f.StringVar(&from, "from", "", "the day of the invoices, a `DATE` such as 2027-03-08 (default now)")
	f.StringVar(&paid, "paid", "", "the deposit that was paid, an `AMOUNT` (default as it was asked for)")
	return c.shopFlags(cmd, false)
}

func (c *common) invoice(ctx context.Context, number string, job int64, takes []string, from, paid string) error {
	day, err := c.fromDay(from)
	if err != nil {
		return err
	}
	v, units, err := c.invoiceOf(ctx, number, job, takes)
	if err != nil {
		return err
	}
	v.Date = day
	if paid != "" {
		if v.Paid, err = measure.ParseMoney(paid, c.unit().Comma()); err != nil {
			return exit{exitUsage, err}
		}
	}
	data, err := workbook.Invoices(&v, units)
	if err != nil {
		return refuse("cannot make the invoices: %w", err)
	}
	out := c.outputOr("the invoices", fileName(v.Quote)+"-invoices.xlsx")
	if err := c.claims(out); err != nil {
		return err
	}
	written, err := c.write(out.path, data)
	if err != nil {
		return err
	}
	c.show(reports.InvoiceSummary(&v))
	c.sayf("wrote %s", written)
	return nil
}

// fileName is a quote's number without what a file's name may not hold.
func fileName(number string) string {
	return strings.Map(func(r rune) rune {
		if strings.ContainsRune(`/\:*?"<>|`, r) {
			return '-'
		}
		return r
	}, number)
}

// invoiceOf is what the job that took a quote is asked for: of its revision in
// force, with the deposit of the first.
func (c *common) invoiceOf(ctx context.Context, number string, job int64, takes []string) (v jigplan.Invoice, units measure.Unit, err error) {
	var taken []shop.TakenQuote
	if err := c.readShop(ctx, func(tx *shop.Tx) (err error) {
		taken, err = shop.TakenOf(tx, number)
		return err
	}); err != nil {
		return v, units, err
	}
	if taken, err = ofJob(taken, number, job); err != nil {
		return v, units, err
	}
	if len(taken) > 0 && len(takes) > 0 {
		return v, units, refuse("quote %s was accepted as job %d, and is invoiced as it was taken there: leave --take out", number, taken[0].Job)
	}
	now, first := shop.TakenQuote{Quote: number, Takes: takes}, shop.TakenQuote{}
	if len(taken) > 0 {
		first, now = taken[0], taken[len(taken)-1]
	}
	doc, err := c.quoteTaken(ctx, now)
	if err != nil {
		return v, units, err
	}
	units = measure.Inches
	if doc.Units == measure.Millimetres.String() {
		units = measure.Millimetres
	}
	list, err := doc.Take(now.Takes)
	if err != nil {
		return v, units, refuse("quote %s: %w", number, err)
	}
	if first.Number == now.Number {
		return doc.Invoice(list, nil, nil), units, nil
	}
	old, err := c.quoteTaken(ctx, first)
	if err != nil {
		return v, units, err
	}
	oldList, err := old.Take(first.Takes)
	if err != nil {
		return v, units, refuse("quote %s, revision %d: %w", number, first.Revision, err)
	}
	return doc.Invoice(list, &old.Quote, oldList), units, nil
}

// ofJob keeps what one job took; 0: the latest that took any.
func ofJob(all []shop.TakenQuote, number string, job int64) (out []shop.TakenQuote, err error) {
	if job == 0 && len(all) > 0 {
		job = all[len(all)-1].Job
	}
	for _, t := range all {
		if t.Job == job {
			out = append(out, t)
		}
	}
	if job > 0 && len(out) == 0 {
		return nil, refuse("job %d took nothing of quote %s: see batchwright quote list", job, number)
	}
	return out, nil
}

// quoteTaken is the record of the revision that was taken.
func (c *common) quoteTaken(ctx context.Context, t shop.TakenQuote) (*keptQuote, error) {
	_, papers, err := c.findQuote(ctx, t.Quote, t.Revision)
	if err != nil {
		return nil, err
	}
	return quoteDoc(papers)
}
