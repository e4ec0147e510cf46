package main

import (
	"context"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"batchwright/jigplan/document"
	"batchwright/jigplan/plan"
	"batchwright/jigplan/quote"
	"batchwright/jigplan/shop"
	"batchwright/orders"
	"batchwright/orders/measure"
	"batchwright/reports"
)

func (a *acceptance) takeFlags(cmd *cobra.Command) {
	cmd.Flags().StringArrayVar(&a.takes, "take", nil, "what the customer accepted, `BOX=COUNT` or \"BOX OPTION=COUNT\", or \"all together\"; may be repeated")
	cmd.Flags().IntVar(&a.revision, "of", 0, "the quote's `REVISION` that was accepted (default the latest)")
}

// orderOrQuote gives the order behind an argument: a file, or the number of a
// kept quote. A file that was quoted whole, or of which --take names something,
// is accepted as quoted.
func (c *common) orderOrQuote(ctx context.Context, arg string, a *acceptance) (path string, data []byte, err error) {
	_, missing := os.Stat(arg)
	if missing == nil {
		if data, err = c.readInput(arg); err != nil {
			return "", nil, err
		}
	}
	var kept shop.Quote
	var papers shop.QuotePapers
	err = c.readShop(ctx, func(tx *shop.Tx) (err error) {
		if missing != nil {
			kept, err = shop.LatestQuote(tx, arg)
		} else {
			sum := sha256.Sum256(data)
			kept, err = shop.QuoteOfOrder(tx, hex.EncodeToString(sum[:]))
		}
		if err != nil || kept.Number == "" {
			return err
		}
		if a.revision > 0 {
			kept.Revision = a.revision
		}
		papers, err = shop.ReadQuote(tx, kept.Number, kept.Revision)
		return err
	})
	switch {
	case errors.Is(err, shop.ErrNoFile):
		kept = shop.Quote{}
	case err != nil:
		return "", nil, err
	}
	if kept.Number == "" {
		return arg, data, a.noQuote(arg, missing)
	}
	if missing != nil {
		data = papers.Order
	}
	if err := a.asQuoted(kept, papers, missing == nil, c); err != nil {
		return "", nil, err
	}
	return keptPath(arg, kept, missing), data, a.readPlan(ctx, c)
}

// readPlan fetches the plan behind the one price that was taken.
func (a *acceptance) readPlan(ctx context.Context, c *common) error {
	if a.taken == nil || len(a.taken.Takes) != 1 {
		return nil
	}
	return c.readShop(ctx, func(tx *shop.Tx) (err error) {
		a.plan, err = shop.QuotedPlan(tx, a.taken.Quote, a.taken.Revision, a.taken.Takes[0])
		return err
	})
}

// planAsTaken plans what was taken: as it was priced, while that still holds,
// else anew.
func (a *acceptance) planAsTaken(ready *shop.Accepted, o *orders.Order, opt plan.Options) (err error) {
	switch {
	case len(a.plan) > 0:
		if ready.Priced, err = shop.Thaw(a.plan); err != nil {
			return err
		}
		if ready.Plan, ready.Moved = shop.AsQuoted(ready.Priced, o); ready.Plan != nil {
			ready.AsQuoted, ready.Priced = true, nil
			return nil
		}
	case a.taken != nil && len(a.taken.Takes) > 1:
		ready.Moved = []string{"several prices were accepted; their boxes are planned as one batch"}
	}
	ready.Plan, err = plan.Plan(o, opt)
	return err
}

// sayQuoted says what was agreed, and whether the plan is the one behind it.
func (c *common) sayQuoted(a *shop.Accepted) {
	if a.Taken == nil {
		return
	}
	c.sayf("as quoted: %s", takenText(*a.Taken, c.unit()))
	if a.AsQuoted {
		c.sayf("the plan is the one that was priced: boards, cards and hours are those of the quote")
	}
	c.sayMoved(a)
}

// sayMoved says why the plan is not the one that was priced, and what came of
// it.
func (c *common) sayMoved(a *shop.Accepted) {
	if len(a.Moved) > 0 {
		c.sayf("planned again, price and day as quoted: %s", reports.Listed(a.Moved, 5))
	}
	if was, is := a.Priced, a.Plan; was != nil {
		c.sayf("  hours: %s, quoted with %s", reports.Hours(is.Time.Minutes), reports.Hours(was.Time.Minutes))
		c.sayf("  wood: %s for %s, quoted with %s for %s", listed(shop.RackBoards(is)), is.Layout.Cost, listed(shop.RackBoards(was)), was.Layout.Cost)
	}
}

// keptPath is the name an order goes by: files are written beside it.
func keptPath(arg string, kept shop.Quote, missing error) string {
	if missing != nil {
		return kept.File
	}
	return arg
}

func (a *acceptance) noQuote(arg string, missing error) error {
	switch {
	case errors.Is(missing, fs.ErrNotExist):
		return refuse("no file %q and no saved quote of that number: check the name, or see batchwright quote list", arg)
	case missing != nil:
		return refuse("cannot look at %q: %w", arg, missing)
	case len(a.takes) > 0 || a.revision > 0:
		return refuse("no saved quote of %q as it is now: quote it first, or give the quote's number (batchwright quote list)", arg)
	}
	return nil
}

// asQuoted makes it the acceptance of a quote. A file with rows that were not
// quoted, for another customer say, is taken on whole unless something is named.
func (a *acceptance) asQuoted(kept shop.Quote, papers shop.QuotePapers, file bool, c *common) error {
	doc, err := quoteDoc(papers)
	if err != nil {
		return err
	}
	if file && len(a.takes) == 0 && !doc.Priced() {
		return nil
	}
	if file && len(a.takes) == 0 && !doc.Whole {
		c.sayf("quote %s has only some rows of %s; the whole order is accepted, not as quoted (--take names what was accepted)", kept.Number, kept.File)
		return nil
	}
	takes, err := doc.Take(a.takes)
	if err != nil {
		return refuse("quote %s, revision %d: %w", kept.Number, doc.Revision, err)
	}
	if today := c.today(); doc.Valid != "" && today.Format(time.DateOnly) > doc.Valid {
		c.sayf("warning: quote %s, revision %d, was valid until %s; accepted at its price; quote again for a new price", kept.Number, doc.Revision, doc.Valid)
	}
	a.taken, a.rows = takenOf(doc, takes), doc.rows(takes)
	return nil
}

// again takes on what an earlier job took of a quote.
func (a *acceptance) again(tx *shop.Tx, job int64) error {
	all, err := shop.TakenBy(tx, job)
	if err != nil || len(all) == 0 {
		return err
	}
	last := all[len(all)-1]
	papers, err := shop.ReadQuote(tx, last.Quote, last.Revision)
	if err != nil {
		return err
	}
	doc, err := quoteDoc(papers)
	if err != nil {
		return err
	}
	takes, err := doc.Take(last.Takes)
	if err != nil {
		return err
	}
	a.taken, a.rows = takenOf(doc, takes), doc.rows(takes)
	for i := range a.rows {
		a.rows[i].Day = time.Time{} // that day was for the first time
	}
	return nil
}

// keptQuote is a quote's record as the shop file has it.
type keptQuote struct{ document.Quote }

func quoteDoc(p shop.QuotePapers) (*keptQuote, error) {
	doc := &keptQuote{}
	if err := json.Unmarshal(p.Record, doc); err != nil || doc.Kind != document.QuoteKind {
		return nil, fmt.Errorf("the record of a kept quote cannot be read: %w", errors.Join(shop.ErrDamaged, err))
	}
	return doc, nil
}

func takenOf(doc *keptQuote, takes []document.Take) *shop.TakenQuote {
	t := &shop.TakenQuote{Quote: doc.Number, Revision: doc.Revision}
	t.Net, t.Tax, t.Total, t.Deposit = document.Sums(takes)
	for _, take := range takes {
		t.Takes = append(t.Takes, take.Text)
	}
	return t
}

// rows are the rows of the order that what was taken comes to.
func (doc *keptQuote) rows(takes []document.Take) (out []quote.Taking) {
	for i := range takes {
		t := &takes[i]
		if !t.All {
			out = append(out, quote.Taking{Line: t.Line, Count: t.Offer.Quantity, Each: t.Each(), Day: t.Day()})
			continue
		}
		for _, a := range doc.Articles {
			out = append(out, quote.Taking{Line: a.Options[0].Line, Count: a.Options[0].Count, Day: t.Day()})
		}
	}
	return out
}

func takenText(t shop.TakenQuote, unit measure.Unit) string {
	text := fmt.Sprintf("%s, revision %d: %s; %s before tax", t.Quote, t.Revision, strings.Join(t.Takes, "; "), t.Net.In(unit))
	if t.Tax != 0 {
		text += fmt.Sprintf(", %s in all", t.Total.In(unit))
	}
	return text + fmt.Sprintf(", deposit %s", t.Deposit.In(unit))
}

// takenJSON is what was accepted of a quote; money as decimals.
type takenJSON struct {
	Number   string      `json:"number"`
	Revision int         `json:"revision"`
	Takes    []string    `json:"takes"`
	Net      json.Number `json:"net"`
	Tax      json.Number `json:"tax"`
	Total    json.Number `json:"total"`
	Deposit  json.Number `json:"deposit"`
	AsQuoted bool        `json:"plan_kept"`
	Moved    []string    `json:"moved"`
}

func ofTaken(a *shop.Accepted) *takenJSON {
	t := a.Taken
	if t == nil {
		return nil
	}
	amount := func(m measure.Money) json.Number { return json.Number(m.String()) }
	return &takenJSON{t.Quote, t.Revision, t.Takes, amount(t.Net), amount(t.Tax), amount(t.Total), amount(t.Deposit), a.AsQuoted, append([]string{}, a.Moved...)}
}

func signedMoney(m measure.Money, unit measure.Unit) string {
	if m > 0 {
		return "+" + m.In(unit)
	}
	return m.In(unit)
}
