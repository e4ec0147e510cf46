package main

import (
	"context"
	"fmt"
	"path/filepath"

	"github.com/spf13/cobra"

	"batchwright/jigplan/shop"
	"batchwright/reports"
)

func (c *common) jobChange() *cobra.Command {
	var a acceptance
	cmd := &cobra.Command{
		Use:   "change JOB ORDER.xlsx",
		Short: "Show what a changed order changes in wood, hours and price, and accept it",
		Long: "Plans a changed order, or a later revision of the job's quote, and shows what it changes in wood,\n" +
			"hours and price. With --yes it replaces what was accepted.",
		Args: cobra.ExactArgs(2),
		RunE: func(cmd *cobra.Command, args []string) error {
			if err := a.read(c); err != nil {
				return err
			}
			return c.changeJob(cmd.Context(), args[0], args[1], a)
		},
	}
	cmd.Flags().BoolVar(&a.yes, "yes", false, "replace what was accepted")
	a.takeFlags(cmd)
	return c.acceptFlags(cmd, &a)
}

func (c *common) changeJob(ctx context.Context, arg, path string, a acceptance) error {
	id, err := jobArg(arg)
	if err != nil {
		return err
	}
	path, data, err := c.orderOrQuote(ctx, path, &a)
	if err != nil {
		return err
	}
	var old shop.Revision
	var job shop.Job
	if err := c.readShop(ctx, func(tx *shop.Tx) error {
		if job, err = shop.OpenJob(tx, id); err != nil {
			return err
		}
		revisions, err := shop.Revisions(tx, id)
		if err == nil {
			old = shop.RevisionsInForce(revisions)[0]
		}
		if err == nil && old.Number != job.Revision {
			err = refuse("job %d has been cut already (revision %d is a recut): finish it, and accept the change as a new job", id, job.Revision)
		}
		return err
	}); err != nil {
		return err
	}
	if a.held.IsZero() {
		a.held = job.Held
	}
	ready, h, err := c.planJob(ctx, path, data, a, id)
	if err != nil {
		return err
	}
	c.show([]reports.Table{difference(old, ready)})
	if !a.yes && !c.dryRun {
		c.sayf("nothing was changed: add --yes to replace revision %d of job %d", old.Number, id)
		return nil
	}
	revision := 0
	err = c.alterShop(ctx, func(s *shop.File) error {
		return c.carryOut(ctx, s, func(tx *shop.Tx) (string, error) {
			revision, err = shop.ChangeJob(tx, id, ready)
			return fmt.Sprintf("change job %d to revision %d: %s, boards %s", id, revision, filepath.Base(path), listed(shop.RackBoards(ready.Plan))), err
		})
	})
	if err != nil {
		return err
	}
	return c.accepted(path, id, revision, ready, h)
}

// difference sets what is accepted beside what would be.
func difference(old shop.Revision, ready shop.Accepted) reports.Table {
	p := ready.Plan
	boxes, unit := 0, p.Order.Settings.Units
	for _, b := range p.Order.Boxes {
		boxes += b.Count
	}
	t := reports.Table{Title: "What would change", Head: []string{"", "Accepted", "Changed"}}
	t.Add("Boxes", fmt.Sprint(old.Boxes), fmt.Sprint(boxes))
	t.Add("Parts", fmt.Sprint(old.Parts), fmt.Sprint(len(p.Parts)))
	t.Add("Boards of the rack", listed(old.Boards), listed(shop.RackBoards(p)))
	was, measured := reports.Tally(old.Feet, unit)
	is, _ := reports.Tally(reports.BoardFeet(p.Layout.Boards), unit)
	t.Add("Wood, "+measured, was, is)
	t.Add("Cost of the wood", old.Cost.In(unit), p.Layout.Cost.In(unit))
	t.Add("Hours", reports.Hours(old.Minutes), reports.Hours(p.Time.Minutes))
	t.Add("Price of the boxes", old.Price.In(unit), ready.Price().In(unit))
	t.Add("Difference in price", "", signedMoney(ready.Price()-old.Price, unit))
	return t
}
