package main

import (
	"context"
	"errors"
	"path/filepath"

	"github.com/spf13/cobra"

	"batchwright/jigplan/shop"
	"batchwright/orders"
	"batchwright/orders/intake"
	"batchwright/reports"
)

func (c *common) rackImport() *cobra.Command {
	cmd := &cobra.Command{
		Use:   "import RACK.xlsx",
		Short: "Add the boards of a Rack sheet; a board whose name is known is corrected",
		Long: "Reads the Rack sheet of a workbook or a list. A board whose name the shop does not know is added, one whose name\n" +
			"it knows is corrected. Nothing is changed when any line is wrong, or when a job counts on what would change.",
		Args: cobra.ExactArgs(1),
		RunE: func(cmd *cobra.Command, args []string) error { return c.importRack(cmd.Context(), args[0]) },
	}
	c.jsonFlag(cmd)
	return c.shopFlags(cmd, true)
}

func (c *common) importRack(ctx context.Context, path string) error {
	data, err := c.readInput(path)
	if err != nil {
		return err
	}
	return c.putBoards(ctx, filepath.Base(path), data, "import of "+filepath.Base(path))
}

// putBoards reads boards and puts them on the rack.
func (c *common) putBoards(ctx context.Context, name string, data []byte, why string) error {
	h, err := c.shopFor(ctx, 0)
	if err != nil && !errors.Is(err, shop.ErrNoFile) {
		return err
	}
	order, err := intake.ReadRack(name, data, h.settings)
	if err != nil {
		return refuse("%w", err)
	}
	if why == addedByHand {
		nameOptions(order.Findings, data)
	}
	if order.HasErrors() {
		return c.refuseBoards(order.Findings, "nothing was changed: correct the lines above")
	}
	for i := range order.Rack {
		order.Rack[i].From = why
	}
	var changes []shop.BoardChange
	err = c.changeShop(ctx, func(s *shop.File) error {
		return c.carryOut(ctx, s, func(tx *shop.Tx) (string, error) {
			var refused []shop.Refused
			var err error
			changes, refused, err = shop.PutBoards(tx, order.Rack, order.Settings.Units)
			if err == nil && len(refused) > 0 {
				err = c.refuseBoards(append(order.Findings, refusedProblems(refused)...), "nothing was changed")
			}
			return historyOf(why, changes), err
		})
	})
	if err != nil {
		return err
	}
	if len(order.Findings) > 0 {
		c.show([]reports.Table{reports.FindingTable(order.Findings)})
	}
	return c.changed(changes)
}

func refusedProblems(refused []shop.Refused) (out []orders.Finding) {
	for _, r := range refused {
		out = append(out, orders.Finding{Level: orders.Error, Source: r.Source, Read: r.ID, Did: r.Why, Fix: r.Fix})
	}
	return out
}

func (c *common) refuseBoards(problems []orders.Finding, what string) error {
	c.show([]reports.Table{reports.FindingTable(problems)})
	return refuse("%s", what)
}
