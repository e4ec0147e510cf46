package main

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"batchwright/jigplan"
	"batchwright/jigplan/document"
	"batchwright/jigplan/shop"
	"batchwright/reports"
)

// pastQuote is what the shop file knows of a quote's number.
type pastQuote struct {
	latest shop.Quote // the zero value: nothing
	last   int        // the highest revision ever given, undone ones included
	papers shop.QuotePapers
	doc    *keptQuote
	before *jigplan.QuoteBefore // the revision to print the difference to
	job    int64                // the last that was accepted as it; 0: none
}

// pastOf looks up a quote's earlier revisions. The difference is printed to the
// one named, else to the one that a job was accepted as.
func (c *common) pastOf(ctx context.Context, number, customer string, since int) (p pastQuote, err error) {
	err = c.readShop(ctx, func(tx *shop.Tx) error { return p.read(tx, number, since) })
	if err != nil && !errors.Is(err, shop.ErrNoFile) {
		return p, err
	}
	switch {
	case since > 0 && p.latest.Number == "":
		return p, exit{exitUsage, fmt.Errorf("--since %d: no quote %q is saved yet; see batchwright quote list", since, number)}
	case p.latest.Number != "" && !strings.EqualFold(p.latest.Customer, customer):
		return p, exit{exitUsage, fmt.Errorf("quote %q is already used, for %s: give this one another number with --number", number, reports.Somebody(p.latest.Customer))}
	}
	return p, nil
}

func (p *pastQuote) read(tx *shop.Tx, number string, since int) (err error) {
	if p.latest, err = shop.LatestQuote(tx, number); err != nil {
		return err
	}
	if p.last, err = tx.Last(shop.RevisionOfQuote(number), p.latest.Revision); err != nil || p.latest.Number == "" {
		return err
	}
	if p.papers, err = shop.ReadQuote(tx, number, p.latest.Revision); err != nil {
		return err
	}
	if p.doc, err = quoteDoc(p.papers); err != nil {
		return err
	}
	taken, err := shop.TakenOf(tx, number)
	if err != nil {
		return err
	}
	if len(taken) > 0 {
		p.job = taken[len(taken)-1].Job
	}
	var accepted []string
	switch {
	case since == 0 && len(taken) == 0:
		return nil
	case since == 0:
		last := taken[len(taken)-1]
		since, accepted = last.Revision, last.Takes
	}
	papers, err := shop.ReadQuote(tx, number, since)
	if err != nil {
		return err
	}
	doc, err := quoteDoc(papers)
	if err != nil {
		return err
	}
	before := doc.Before(accepted)
	p.before = &before
	return nil
}

// sameAs reports whether the latest revision says the same.
func (p *pastQuote) sameAs(doc document.Quote) bool { return p.doc != nil && p.doc.Same(doc) }

// keepQuote puts a revision into the shop file, which is made when there is
// none. Nowhere to keep it is said, and hinders nothing.
func (c *common) keepQuote(ctx context.Context, q *jigplan.Quote, papers shop.QuotePapers) error {
	if path, named, err := c.shopPath(); err != nil && !named {
		c.sayf("the quote is not saved: %v", err)
		return nil
	} else if err != nil {
		return fmt.Errorf("%s: %w", path, err)
	}
	kept := shop.Quote{Number: q.Number, Revision: q.Revision, Customer: q.Customer, Valid: q.Valid, File: q.Order.File, SHA256: q.Order.SHA256}
	err := c.changeShop(ctx, func(s *shop.File) error {
		return c.carryOut(ctx, s, func(tx *shop.Tx) (string, error) {
			return fmt.Sprintf("keep quote %s, revision %d, for %s", q.Number, q.Revision, reports.Somebody(q.Customer)), shop.KeepQuote(tx, kept, papers)
		})
	})
	if err == nil && !c.dryRun {
		c.sayf("saved as quote %s, revision %d", q.Number, q.Revision)
	}
	return err
}

// keptJSON is one revision of a kept quote.
type keptJSON struct {
	Number   string   `json:"number"`
	Revision int      `json:"revision"`
	Customer string   `json:"customer"`
	Date     string   `json:"date"`
	Valid    string   `json:"valid_until"`
	Order    string   `json:"order"`
	Jobs     []string `json:"jobs"`      // accepted as this revision
	State    string   `json:"state"`     // open, accepted, declined, expired, replaced
	Answer   string   `json:"answer"`    // why it was declined
	DaysLeft int      `json:"days_left"` // of an open one
}

type keptListJSON struct {
	Version int        `json:"version"`
	Quotes  []keptJSON `json:"quotes"`
}

func quoteListCommand(c *common) *cobra.Command {
	cmd := &cobra.Command{
		Use: "list", Short: "List the quotes given, and their state", Args: cobra.NoArgs,
		RunE: func(cmd *cobra.Command, _ []string) error { return c.listQuotes(cmd.Context()) },
	}
	c.jsonFlag(cmd)
	return c.shopFlags(cmd, false)
}

func (c *common) listQuotes(ctx context.Context) error {
	doc := keptListJSON{1, []keptJSON{}}
	if err := c.readShop(ctx, func(tx *shop.Tx) error {
		list, err := shop.Quotes(tx)
		for _, q := range list {
			one, err := c.keptOf(tx, q)
			if err != nil {
				return err
			}
			doc.Quotes = append(doc.Quotes, one)
		}
		return err
	}); err != nil {
		return err
	}
	t := reports.Table{Head: []string{"Quote", "Revision", "Customer", "Kept", "Valid until", "Order", "Accepted as job", "State"}, Numbers: []int{1}}
	var waiting []string
	for _, q := range doc.Quotes {
		t.Add(q.Number, q.Revision, q.Customer, q.Date, q.Valid, q.Order, strings.Join(q.Jobs, ", "), q.State)
		switch q.State {
		case quoteOpen:
			waiting = append(waiting, fmt.Sprintf("%s (%s, %s left)", q.Number, reports.Somebody(q.Customer), reports.Counted(q.DaysLeft, "day", "days")))
		case quoteExpired:
			waiting = append(waiting, fmt.Sprintf("%s (%s, expired)", q.Number, reports.Somebody(q.Customer)))
		}
	}
	if len(waiting) > 0 {
		t.Note("Waiting for an answer: " + strings.Join(waiting, "; ") + ".")
	}
	if err := c.writeJSON(doc); err != nil {
		return err
	}
	c.show([]reports.Table{t})
	return nil
}

// The states of a revision of a quote.
const (
	quoteOpen     = "open"
	quoteAccepted = "accepted"
	quoteDeclined = "declined"
	quoteExpired  = "expired"
	quoteReplaced = "replaced" // by a later revision
)

// keptOf is a revision of a quote and what became of it.
func (c *common) keptOf(tx *shop.Tx, q shop.Quote) (out keptJSON, err error) {
	taken, err := shop.TakenOf(tx, q.Number)
	if err != nil {
		return out, err
	}
	of := []string{}
	for _, t := range taken {
		if id := jobID(t.Job); t.Revision == q.Revision && !slices.Contains(of, id) {
			of = append(of, id)
		}
	}
	answer, err := shop.AnswerTo(tx, q.Number, q.Revision)
	if err != nil {
		return out, err
	}
	latest, err := shop.LatestQuote(tx, q.Number)
	if err != nil {
		return out, err
	}
	out = keptJSON{Number: q.Number, Revision: q.Revision, Customer: q.Customer, Date: day(q.At), Valid: day(q.Valid), Order: q.File, Jobs: of, State: quoteOpen}
	switch left := int(q.Valid.Sub(c.today()).Hours() / 24); {
	case len(of) > 0:
		out.State = quoteAccepted
	case latest.Revision > q.Revision:
		out.State = quoteReplaced
	case answer.Declined:
		out.State, out.Answer = quoteDeclined, answer.Why
	case left < 0:
		out.State = quoteExpired
	default:
		out.DaysLeft = left
	}
	return out, nil
}

func declineCommand(c *common) *cobra.Command {
	reason, reopen := "", false
	cmd := &cobra.Command{
		Use:   "decline NUMBER",
		Short: "Note that the customer declined a quote (--reopen takes that back)",
		Args:  cobra.ExactArgs(1),
		RunE: func(cmd *cobra.Command, args []string) error {
			return c.declineQuote(cmd.Context(), args[0], reason, reopen)
		},
	}
	cmd.Flags().StringVar(&reason, "reason", "", "why")
	cmd.Flags().BoolVar(&reopen, "reopen", false, "the quote is open again")
	c.jsonFlag(cmd)
	return c.shopFlags(cmd, true)
}

func (c *common) declineQuote(ctx context.Context, number, reason string, reopen bool) error {
	var kept keptJSON
	if err := c.alterShop(ctx, func(s *shop.File) error {
		return c.carryOut(ctx, s, func(tx *shop.Tx) (string, error) {
			q, err := shop.LatestQuote(tx, number)
			if err == nil && q.Number == "" {
				err = refuse("there is no quote %q: see batchwright quote list", number)
			}
			if err != nil {
				return "", err
			}
			if kept, err = c.keptOf(tx, q); err != nil {
				return "", err
			}
			if kept.State == quoteAccepted {
				return "", refuse("quote %s is accepted as job %s: cancel the job first (batchwright job cancel)", q.Number, strings.Join(kept.Jobs, ", "))
			}
			if err := shop.KeepAnswer(tx, shop.Answer{Quote: q.Number, Revision: q.Revision, Declined: !reopen, Why: reason}); err != nil {
				return "", err
			}
			kept, err = c.keptOf(tx, q)
			return fmt.Sprintf("quote %s, revision %d: %s", q.Number, q.Revision, kept.State), err
		})
	}); err != nil {
		return err
	}
	if err := c.writeJSON(keptListJSON{1, []keptJSON{kept}}); err != nil {
		return err
	}
	c.sayf("quote %s, revision %d, is %s", kept.Number, kept.Revision, kept.State)
	return nil
}

func quoteShowCommand(c *common) *cobra.Command {
	revision := 0
	order := ""
	cmd := &cobra.Command{
		Use: "show NUMBER", Short: "Print a quote's workbooks again, exactly as they were given; --json gives its record", Args: cobra.ExactArgs(1),
		RunE: func(cmd *cobra.Command, args []string) error {
			return c.showQuote(cmd.Context(), args[0], revision, order)
		},
	}
	cmd.Flags().IntVar(&revision, "revision", 0, "an earlier revision (default the latest)")
	outputFlag(cmd, &order, "order", "", "write the order file, as it was quoted, to `FILE`")
	outputFlag(cmd, &c.output, "output", "o", "write the customer's workbook to `FILE`, the shop's beside it")
	c.jsonFlag(cmd)
	return c.shopFlags(cmd, false)
}

func (c *common) showQuote(ctx context.Context, number string, revision int, order string) error {
	q, papers, err := c.findQuote(ctx, number, revision)
	if err != nil {
		return err
	}
	doc, err := quoteDoc(papers)
	if err != nil {
		return err
	}
	if c.output != "" {
		err = c.claims(c.quoteOutputs(q.File))
	}
	if err != nil {
		return err
	}
	if err := c.writeJSON(doc.Quote); err != nil {
		return err
	}
	if order != "" {
		written, err := c.write(order, papers.Order)
		if err != nil {
			return err
		}
		c.sayf("wrote %s, as it was quoted", written)
	}
	if c.output != "" {
		if err := c.writeQuote(q.File, papers); err != nil {
			return err
		}
	}
	unit := c.unit()
	inUnit := func(n json.Number) string { return unit.Mark(n.String()) }
	t := reports.Table{Title: fmt.Sprintf("Quote %s, revision %d, for %s, valid until %s", doc.Number, doc.Revision, reports.Somebody(doc.Customer), isoIn(unit, doc.Valid)),
		Head: []string{"Box", "Count", "Cost", "Price each", "Total", "Deposit", "Delivery"}, Numbers: []int{1}}
	for _, o := range doc.Offered() {
		f := &o.Offer
		t.Add(o.Name, f.Quantity, inUnit(f.Cost), inUnit(f.Each), inUnit(f.Total), inUnit(f.Deposit), isoIn(unit, f.Delivery))
	}
	c.show([]reports.Table{t})
	return nil
}

// findQuote is one revision of a kept quote; 0: the latest.
func (c *common) findQuote(ctx context.Context, number string, revision int) (q shop.Quote, p shop.QuotePapers, err error) {
	err = c.readShop(ctx, func(tx *shop.Tx) error {
		if q, err = shop.LatestQuote(tx, number); err != nil {
			return err
		}
		if q.Number == "" {
			return refuse("there is no quote %q: see batchwright quote list", number)
		}
		if revision > 0 {
			q.Revision = revision
		}
		p, err = shop.ReadQuote(tx, number, q.Revision)
		return err
	})
	return q, p, err
}
