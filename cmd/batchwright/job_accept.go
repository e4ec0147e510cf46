package main

import (
	"context"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"path/filepath"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"batchwright/jigplan"
	"batchwright/jigplan/plan"
	"batchwright/jigplan/quote"
	"batchwright/jigplan/shop"
	"batchwright/orders"
	"batchwright/orders/intake"
	"batchwright/reports/workbook"
)

// acceptance is what the commands that plan into the shop file were asked.
type acceptance struct {
	short  bool   // although some parts have no board
	until  string // the day after which the reservation lapses
	held   time.Time
	yes    bool
	boards []string // of a recut: gone, and all their parts with them
	twice  bool     // although a job has this order already

	takes    []string // of a quote
	revision int      // of the quote; 0: the latest
	taken    *shop.TakenQuote
	rows     []quote.Taking
	plan     []byte // frozen, behind the price that was taken; empty: none, or of several prices
}

func (c *common) acceptFlags(cmd *cobra.Command, a *acceptance) *cobra.Command {
	c.orderFlags(cmd)
	cmd.Flags().BoolVar(&a.short, "short", false, "accept although some parts have no board; recut them when the wood is there")
	cmd.Flags().BoolVar(&a.twice, "again", false, "accept the same order again, although a job has it")
	cmd.Flags().StringVar(&a.until, "until", "", "the reservation ends after this `DATE` (2026-12-31)")
	cmd.Flags().BoolVar(&c.dryRun, "dry-run", false, "show what would change, and change nothing")
	return cmd
}

func (a *acceptance) read(c *common) (err error) {
	if a.until == "" {
		return nil
	}
	a.held, err = c.dateFlag("until", a.until)
	return err
}

func (c *common) jobAccept() *cobra.Command {
	var a acceptance
	cmd := &cobra.Command{
		Use:   "accept ORDER.xlsx",
		Short: "Accept an order, or what the customer took from a quote, and reserve its boards",
		Long: "Plans the order on the boards that are free, keeps order, plan, programs and workbook as they are now, and reserves\n" +
			"the boards, all in one commit. A board that another job takes meanwhile makes it plan again on what is free.\n" +
			"A quoted order, or a quote's number, is accepted at the sizes, count, price and day that were\n" +
			"quoted, whatever the rates are now; --take says which option and count.",
		Example: "  batchwright job accept spring.xlsx\n" +
			"  batchwright job accept letterbox.xlsx --take \"Letter box B=1\"\n" +
			"  batchwright job accept letterbox --take \"Letter box B=1\" --of 2",
		Args: cobra.ExactArgs(1),
		RunE: func(cmd *cobra.Command, args []string) error {
			if err := a.read(c); err != nil {
				return err
			}
			path, data, err := c.orderOrQuote(cmd.Context(), args[0], &a)
			if err != nil {
				return err
			}
			return c.accept(cmd.Context(), path, data, a, 0)
		},
	}
	a.takeFlags(cmd)
	return c.acceptFlags(cmd, &a)
}

// maxPlans is how often an order is planned again because another job took a
// board meanwhile.
const maxPlans = 20

// accept plans and takes on an order until no other job is faster.
func (c *common) accept(ctx context.Context, path string, data []byte, a acceptance, repeats int64) error {
	if repeats == 0 && !a.twice {
		if err := c.onceOnly(ctx, filepath.Base(path), data); err != nil {
			return err
		}
	}
	for try := 1; ; try++ {
		ready, h, err := c.planJob(ctx, path, data, a, 0)
		if err != nil {
			return err
		}
		ready.Repeats = repeats
		job, err := c.takeOn(ctx, ready)
		var taken *shop.TakenError
		switch {
		case errors.As(err, &taken) && try < maxPlans && ctx.Err() == nil:
			c.sayf("%v while this order was planned: planning again on what is free", taken)
			continue
		case errors.As(err, &taken):
			return exit{exitIncomplete, fmt.Errorf("%w; nothing was accepted: try again", err)}
		case err != nil:
			return err
		}
		return c.accepted(path, job, 1, ready, h)
	}
}

// onceOnly asks before an order is taken on that a job has already: the same
// bytes under the same name.
func (c *common) onceOnly(ctx context.Context, name string, data []byte) error {
	hash := sha256.Sum256(data)
	var have []shop.Job
	err := c.readShop(ctx, func(tx *shop.Tx) (err error) {
		have, err = shop.OrderTaken(tx, name, hex.EncodeToString(hash[:]))
		return err
	})
	switch {
	case errors.Is(err, shop.ErrNoFile):
		return nil
	case err != nil || len(have) == 0:
		return err
	}
	last := have[len(have)-1]
	return c.confirm(fmt.Sprintf("this order is already job %d, %s, accepted %s", last.ID, last.State, last.Accepted.Local().Format("Jan 2, 2006")), "--again")
}

// takeOn commits job, boards and revision together.
func (c *common) takeOn(ctx context.Context, ready shop.Accepted) (job int64, err error) {
	err = c.changeShop(ctx, func(s *shop.File) error {
		return c.carryOut(ctx, s, func(tx *shop.Tx) (string, error) {
			job, err = shop.Accept(tx, ready)
			return fmt.Sprintf("accept job %d: %s, boards %s", job, ready.Plan.Order.File, listed(shop.RackBoards(ready.Plan))), err
		})
	})
	return job, err
}

// keepsJobName refuses a --json under a name that the job's workbook may get:
// its number is not known before the job is taken on.
func (c *common) keepsJobName(path string) error {
	start := strings.TrimSuffix(beside(path, "-job-"), ".xlsx")
	if c.output != "" || c.json == "" || c.json == "-" {
		return nil
	}
	if filepath.Dir(c.json) == filepath.Dir(start) && strings.HasPrefix(filepath.Base(c.json), filepath.Base(start)) {
		return exit{exitUsage, fmt.Errorf("--json %s could be the name of the job's workbook: give it another name, or name the workbook with -o", c.json)}
	}
	return nil
}

// planJob reads and plans an order on the free boards and those that job holds
// already, and prints its workbook into memory.
func (c *common) planJob(ctx context.Context, path string, data []byte, a acceptance, job int64) (shop.Accepted, held, error) {
	none := shop.Accepted{}
	if err := c.keepsJobName(path); err != nil {
		return none, held{}, err
	}
	opt := c.options(ctx)
	h, err := c.shopFor(ctx, job)
	if errors.Is(err, shop.ErrNoFile) {
		err = nil // accepting makes it
	}
	if err != nil {
		return none, h, err
	}
	order, err := intake.Read(path, data, h.settings, c.sheet)
	if err != nil {
		return none, h, refuse("%w", err)
	}
	if err := errors.Join(asksForBoxes(path, order), c.sameBoards(ctx, order)); err != nil {
		return none, h, err
	}
	if a.taken != nil {
		quote.Narrow(order, a.rows)
	}
	rackGiven := order.HasRack
	h.furnish(order)
	if (rackGiven || h.keeps) && len(order.Rack) == 0 && len(order.Yard) == 0 {
		return none, h, c.nothingFree(h)
	}
	ready := shop.Accepted{Order: data, Profile: h.profile.Version, Factors: shop.FactorsByElement(h.factors), Held: a.held, Taken: a.taken}
	err = a.planAsTaken(&ready, order, opt)
	p := ready.Plan
	if err != nil {
		return none, h, c.fault(path, p, err)
	}
	if plan.Failed(p) && !c.partial {
		return none, h, c.hasErrors(path, p)
	}
	if p.Incomplete() && !a.short {
		c.sayMoved(&ready)
		return none, h, c.shortOfWood(p, h)
	}
	h.stamp(p)
	if ready.Workbook, err = workbook.Batch(p); err != nil {
		return none, h, refuse("cannot make the batch workbook: %w", err)
	}
	return ready, h, nil
}

// stamp writes the jig profile on the cards: a card that is found on the bench
// later can be told from today's.
func (h *held) stamp(p *jigplan.Plan) {
	if h.profile.Version == 0 || p.Order.Settings.OwnJig() {
		return
	}
	for i := range p.Programs {
		p.Programs[i].Warnings = append(p.Programs[i].Warnings, fmt.Sprintf("for jig profile %d of %s: when the blade has been sharpened or the jig changed since, cut a test corner first",
			h.profile.Version, h.profile.At.Format(time.DateOnly)))
	}
}

// sameBoards refuses an order whose Rack sheet gives another board the name of
// one the shop has.
func (c *common) sameBoards(ctx context.Context, o *orders.Order) error {
	if !o.HasRack {
		return nil
	}
	var problems []orders.Finding
	err := c.readShop(ctx, func(tx *shop.Tx) error {
		for _, line := range o.Rack {
			for _, id := range shop.PhysicalIDs(line.ID, line.Count) {
				old, err := shop.FindBoard(tx, id)
				if err != nil {
					return err
				}
				if old != nil && !shop.SameBoard(old.Board, line) {
					problems = append(problems, orders.Finding{Level: orders.Error, Source: line.Source, Read: id,
						Did: "not the same board as the shop's own " + id + ", which is " + shop.DescribeBoard(old.Board, o.Settings.Units),
						Fix: "give it another name, correct the shop's with rack import, or take the Rack sheet out of the order"})
				}
			}
		}
		return nil
	})
	if err != nil && !errors.Is(err, shop.ErrNoFile) {
		return err
	}
	if len(problems) > 0 {
		return c.refuseBoards(problems, "nothing was accepted")
	}
	return nil
}
