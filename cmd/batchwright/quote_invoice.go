package main

import (
	"path/filepath"
	"strings"

	"github.com/spf13/cobra"

	"batchwright/orders"
	"batchwright/orders/measure"
	"batchwright/reports"
	"batchwright/reports/workbook"
)

func invoiceCommand(c *common) *cobra.Command {
	var takes []string
	var from, paid string
	cmd := &cobra.Command{
		Use:   "invoice QUOTE.json",
		Short: "The invoices of a quote that was taken: the deposit, and the balance with what was changed",
		Long: "Reads the record that quote --json wrote and writes QUOTE-invoices.xlsx: an invoice for the deposit, and one for\n" +
			"the balance. Of a revised quote the deposit is that of the revision before, and the balance holds the difference.",
		Example: "  batchwright quote invoice tea-1.json --take \"Tea box A=25\"",
		Args:    cobra.ExactArgs(1),
		RunE:    func(_ *cobra.Command, args []string) error { return c.invoice(args[0], takes, from, paid) },
	}
	f := cmd.Flags()
	f.StringVarP(&c.output, "output", "o", "", "write the workbook to `FILE`")
	f.StringArrayVar(&takes, "take", nil, "what was taken, `BOX=COUNT` or \"BOX OPTION=COUNT\"; may be repeated")
	f.StringVar(&from, "from", "", "the day of the invoices, a `DATE` such as 2027-03-08 (default now)")
	f.StringVar(&paid, "paid", "", "the deposit that was paid, an `AMOUNT` (default as it was asked for)")
	c.plainFlags(cmd)
	stopOnUsage(cmd)
	return cmd
}

func (c *common) invoice(path string, takes []string, from, paid string) error {
	day, err := c.fromDay(from)
	if err != nil {
		return err
	}
	doc, err := readQuote(path)
	if err != nil {
		return err
	}
	if len(takes) == 0 {
		takes = []string{""}
	}
	v, err := doc.Invoice(takes)
	if err != nil {
		return exit{exitUsage, err}
	}
	v.Date = day
	if paid != "" {
		if v.Paid, err = orders.ParseMoney(paid, false); err != nil {
			return exit{exitUsage, err}
		}
	}
	units := measure.Inches
	if doc.Units == measure.Millimetres.String() {
		units = measure.Millimetres
	}
	data, err := workbook.Invoices(&v, units)
	if err != nil {
		return refuse("cannot make the invoices: %w", err)
	}
	out := c.output
	if out == "" {
		out = strings.TrimSuffix(path, filepath.Ext(path)) + "-invoices.xlsx"
	}
	written, err := c.write(out, data)
	if err != nil {
		return err
	}
	c.show(reports.InvoiceSummary(&v))
	c.sayf("wrote %s", written)
	return nil
}
