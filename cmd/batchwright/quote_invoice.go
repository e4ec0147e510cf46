package main

import (
	"context"
	"encoding/json"
	"fmt"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"batchwright/jigplan"
	"batchwright/jigplan/document"
	"batchwright/jigplan/shop"
	"batchwright/orders/measure"
	"batchwright/orders/settings"
	"batchwright/reports"
	"batchwright/reports/workbook"
)

// invoicing is what the invoice command was asked.
type invoicing struct {
	number, from, to string
	job              int64
	takes            []string
}

func invoiceCommand(c *common) *cobra.Command {
	var a invoicing
	cmd := &cobra.Command{
		Use:   "invoice NUMBER",
		Short: "Write the invoices of an accepted quote: deposit, balance, later changes",
		Long: "Gives the deposit and the balance of an accepted quote their invoice numbers, and writes NUMBER-invoices.xlsx: each\n" +
			"invoice on its own page, and the account with the payments. An invoice that was given stays as it is: after a\n" +
			"change there is another one for what was added, or a credit note for what was taken off. Before the quote is\n" +
			"accepted, --take prints drafts without numbers.",
		Example: "  batchwright quote invoice letterbox\n" +
			"  batchwright quote paid letterbox 150\n" +
			"  batchwright quote invoice letterbox --take \"Letter box B=1\"",
		Args: cobra.ExactArgs(1),
		RunE: func(cmd *cobra.Command, args []string) error {
			a.number = args[0]
			return c.invoice(cmd.Context(), &a)
		},
	}
	f := cmd.Flags()
	outputFlag(cmd, &c.output, "output", "o", "write the workbook to `FILE`")
	f.StringArrayVar(&a.takes, "take", nil, "what would be accepted of a quote that is not accepted yet, `BOX=COUNT` or \"BOX OPTION=COUNT\"; may be repeated")
	f.Int64Var(&a.job, "job", 0, "the `JOB` that took it, where several did (default the latest)")
	f.StringVar(&a.from, "from", "", "the day of new invoices, a `DATE` such as 2027-03-08 (default now)")
	f.StringVar(&a.to, "to", "", "the customer's `ADDRESS` (default Customer address of the order)")
	c.jsonFlag(cmd)
	return c.shopFlags(cmd, true)
}

// accountJSON is an account for other programs.
type accountJSON struct {
	Version  int                `json:"version"`
	DryRun   bool               `json:"dry_run"`
	Quote    string             `json:"quote"`
	Revision int                `json:"revision"`
	Job      string             `json:"job"` // empty: not accepted yet
	Issued   []int              `json:"issued"`
	Invoices []document.Invoice `json:"invoices"`
	Payments []paymentJSON      `json:"payments"`
	Asked    json.Number        `json:"asked"`
	Paid     json.Number        `json:"paid"`
	Open     json.Number        `json:"open"`
}

type paymentJSON struct {
	Date   string      `json:"date"`
	Amount json.Number `json:"amount"`
	Note   string      `json:"note"`
}

func (c *common) invoice(ctx context.Context, a *invoicing) error {
	date, err := c.fromDay(a.from)
	if err != nil {
		return err
	}
	out := c.outputOr("the invoices", fileName(a.number)+"-invoices.xlsx")
	if err := c.claims(out); err != nil {
		return err
	}
	held, err := c.shopFor(ctx, 0)
	if err != nil {
		return err
	}
	var account jigplan.Account
	var job int64
	var issued []int
	date = time.Date(date.Year(), date.Month(), date.Day(), 0, 0, 0, 0, time.UTC)
	if err := c.readShop(ctx, func(tx *shop.Tx) (err error) {
		account, job, err = a.account(tx, &held.settings, date)
		return err
	}); err != nil {
		return err
	}
	if job > 0 && hasDraft(&account) {
		err := c.alterShop(ctx, func(s *shop.File) error {
			return c.carryOut(ctx, s, func(tx *shop.Tx) (what string, err error) {
				if account, job, err = a.account(tx, &held.settings, date); err != nil {
					return "", err
				}
				issued, what, err = issue(tx, &account, job, held.settings.Rates.NextInvoice)
				return what, err
			})
		})
		if err != nil {
			return err
		}
	}
	if err := c.giveAccount(&account, job, issued); err != nil {
		return err
	}
	data, err := workbook.Invoices(&account, c.unit())
	if err != nil {
		return refuse("cannot make the invoices: %w", err)
	}
	written, err := c.write(out.path, data)
	if err != nil {
		return err
	}
	if job == 0 {
		c.sayf("these are drafts without numbers: accept the quote first (batchwright job accept %s)", account.Quote)
	}
	c.sayf("wrote %s", written)
	return nil
}

// giveAccount shows an account.
func (c *common) giveAccount(a *jigplan.Account, job int64, issued []int) error {
	asked, paid, open := a.Sums()
	amount := func(m measure.Money) json.Number { return json.Number(m.String()) }
	doc := accountJSON{1, c.dryRun, a.Quote, a.Revision, "", append([]int{}, issued...), []document.Invoice{}, []paymentJSON{}, amount(asked), amount(paid), amount(open)}
	if job > 0 {
		doc.Job = jobID(job)
	}
	for i := range a.Invoices {
		doc.Invoices = append(doc.Invoices, document.OfInvoice(&a.Invoices[i]))
	}
	for _, p := range a.Payments {
		doc.Payments = append(doc.Payments, paymentJSON{day(p.Day), amount(p.Amount), p.Note})
	}
	if err := c.writeJSON(doc); err != nil {
		return err
	}
	c.show(reports.InvoiceSummary(a, c.unit()))
	return nil
}

func hasDraft(a *jigplan.Account) bool {
	for i := range a.Invoices {
		if a.Invoices[i].Number == 0 {
			return true
		}
	}
	return false
}

// issue gives the drafts of an account their numbers and keeps them.
func issue(tx *shop.Tx, a *jigplan.Account, job int64, wanted int) (issued []int, what string, err error) {
	var names []string
	for i := range a.Invoices {
		v := &a.Invoices[i]
		if v.Number > 0 {
			continue
		}
		if v.Number, err = shop.NextInvoice(tx, wanted); err != nil {
			return nil, "", err
		}
		for k := range v.Less {
			if v.Less[k].Number == 0 {
				v.Less[k].Number = a.Invoices[i-1].Number // the deposit that was given just now
			}
		}
		record, err := json.Marshal(document.OfInvoice(v))
		if err == nil {
			err = shop.KeepInvoice(tx, shop.Issued{Number: v.Number, Quote: a.Quote, Job: job, Record: record})
		}
		if err != nil {
			return nil, "", err
		}
		issued, names = append(issued, v.Number), append(names, reports.InvoiceName(v))
	}
	return issued, fmt.Sprintf("issue %s for quote %s", strings.Join(names, ", "), a.Quote), nil
}

// account is what a job that took a quote was asked for and paid, and drafts of
// what is not asked for yet. Job 0: the quote is not accepted.
func (a *invoicing) account(tx *shop.Tx, s *settings.Shop, date time.Time) (out jigplan.Account, job int64, err error) {
	taken, err := shop.TakenOf(tx, a.number)
	if err == nil {
		taken, err = ofJob(taken, a.number, a.job)
	}
	if err != nil {
		return out, 0, err
	}
	if len(taken) > 0 && len(a.takes) > 0 {
		return out, 0, refuse("quote %s was accepted as job %d and is invoiced as accepted: leave --take out", a.number, taken[0].Job)
	}
	latest, err := shop.LatestQuote(tx, a.number)
	switch {
	case err != nil:
		return out, 0, err
	case latest.Number == "":
		return out, 0, refuse("there is no quote %q: see batchwright quote list", a.number)
	case len(taken) == 0 && len(a.takes) == 0:
		return out, 0, refuse("quote %s is not accepted yet: accept it with batchwright job accept %s, or print drafts with --take", latest.Number, latest.Number)
	}
	now, first := shop.TakenQuote{Quote: latest.Number, Revision: latest.Revision, Takes: a.takes}, shop.TakenQuote{}
	if len(taken) > 0 {
		first, now = taken[0], taken[len(taken)-1]
		job = now.Job
	}
	whole, deposit, err := invoiceOf(tx, now, s, date)
	if err != nil {
		return out, job, err
	}
	if a.to != "" {
		whole.To = a.to
	}
	out = jigplan.Account{Quote: latest.Number, Revision: now.Revision}
	if first.Number != now.Number {
		deposit, out.Accepted, out.Before = first.Deposit, first.Revision, first.Total
	}
	if job > 0 {
		if err := readAccount(tx, &out, job); err != nil {
			return out, job, err
		}
	}
	out.Invoices = append(out.Invoices, jigplan.ToIssue(whole, deposit, out.Invoices)...)
	return out, job, nil
}

// readAccount adds the invoices that were given and the payments.
func readAccount(tx *shop.Tx, out *jigplan.Account, job int64) error {
	given, err := shop.Invoices(tx, out.Quote, job)
	if err != nil {
		return err
	}
	for _, g := range given {
		var doc document.Invoice
		if err := json.Unmarshal(g.Record, &doc); err != nil {
			return fmt.Errorf("invoice %d cannot be read: %w", g.Number, err)
		}
		v, err := doc.Read()
		if err != nil {
			return err
		}
		out.Invoices = append(out.Invoices, v)
	}
	paid, err := shop.Payments(tx, out.Quote, job)
	for _, p := range paid {
		out.Payments = append(out.Payments, jigplan.Payment{Day: p.Day, Amount: p.Amount, Note: p.Note})
	}
	return err
}

// invoiceOf is the whole of what was taken as one invoice, and the deposit.
func invoiceOf(tx *shop.Tx, t shop.TakenQuote, s *settings.Shop, date time.Time) (v jigplan.Invoice, deposit measure.Money, err error) {
	papers, err := shop.ReadQuote(tx, t.Quote, t.Revision)
	if err != nil {
		return v, 0, err
	}
	doc, err := quoteDoc(papers)
	if err != nil {
		return v, 0, err
	}
	list, err := doc.Take(t.Takes)
	if err != nil {
		return v, 0, refuse("quote %s: %w", t.Quote, err)
	}
	v = doc.Invoice(list)
	r := &s.Rates
	v.Date, v.TaxID, v.Pay = date, r.TaxNumber, r.PaymentDetails
	if v.Due.Before(date) {
		v.Due = date
	}
	later := int(r.PaymentDays)
	v.Due = v.Due.AddDate(0, 0, later)
	for to, from := range map[*string]string{&v.Shop: r.ShopName, &v.Address: r.Address, &v.To: r.CustomerAddress} {
		if *to == "" {
			*to = from
		}
	}
	return v, document.DepositOf(list), nil
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
		return nil, refuse("job %d took nothing from quote %s: see batchwright quote list", job, number)
	}
	return out, nil
}

func paidCommand(c *common) *cobra.Command {
	var a invoicing
	note := ""
	cmd := &cobra.Command{
		Use:   "paid NUMBER AMOUNT",
		Short: "Record a payment for an accepted quote (money paid back: -- -20)",
		Example: "  batchwright quote paid letterbox 150 --note \"bank transfer\"\n" +
			"  batchwright quote paid letterbox --date 2027-03-08 -- -20",
		Args: cobra.ExactArgs(2),
		RunE: func(cmd *cobra.Command, args []string) error {
			a.number = args[0]
			return c.paid(cmd.Context(), &a, args[1], note)
		},
	}
	f := cmd.Flags()
	f.Int64Var(&a.job, "job", 0, "the `JOB` that took the quote, where several did (default the latest)")
	f.StringVar(&a.from, "date", "", "the `DATE` of the payment (default today)")
	f.StringVar(&note, "note", "", "how it was paid")
	c.jsonFlag(cmd)
	return c.shopFlags(cmd, true)
}

func (c *common) paid(ctx context.Context, a *invoicing, text, note string) error {
	date := c.today()
	var err error
	if a.from != "" {
		if date, err = c.dateFlag("date", a.from); err != nil {
			return err
		}
	}
	digits, back := strings.CutPrefix(text, "-")
	amount, err := measure.ParseMoney(digits, c.unit().Comma())
	if err != nil || amount == 0 {
		return exit{exitUsage, fmt.Errorf("%q is not an amount such as %s", text, c.unit().Mark("150.00"))}
	}
	if back {
		amount = -amount
	}
	held, err := c.shopFor(ctx, 0)
	if err != nil {
		return err
	}
	var account jigplan.Account
	var job int64
	err = c.alterShop(ctx, func(s *shop.File) error {
		return c.carryOut(ctx, s, func(tx *shop.Tx) (string, error) {
			if account, job, err = a.account(tx, &held.settings, date); err != nil {
				return "", err
			}
			p := shop.Payment{Quote: account.Quote, Job: job, Day: date, Amount: amount, Note: note}
			account.Payments = append(account.Payments, jigplan.Payment{Day: date, Amount: amount, Note: note})
			return fmt.Sprintf("record %s paid for quote %s", amount, account.Quote), shop.KeepPayment(tx, p)
		})
	})
	if err != nil {
		return err
	}
	_, _, open := account.Sums()
	c.sayf("recorded %s paid for quote %s", c.unit().Mark(amount.String()), account.Quote)
	if open < 0 {
		c.sayf("that is %s more than is owed", c.unit().Mark((-open).String()))
	}
	if hasDraft(&account) {
		c.sayf("not invoiced yet: batchwright quote invoice %s", account.Quote)
	}
	return c.giveAccount(&account, job, nil)
}
