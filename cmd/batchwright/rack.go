package main

import (
	"context"
	"errors"
	"strings"

	"batchwright/jigplan/shop"

	"github.com/spf13/cobra"
)

func rackCommand(c *common) *cobra.Command {
	cmd := &cobra.Command{Use: "rack", Short: "Boards on hand: list, import, add, count, remove; boards to buy: yard"}
	cmd.AddCommand(c.rackList(), c.rackImport(), c.rackAdd(), c.rackCount(), c.rackRemove(), c.rackYard())
	return group(cmd)
}

func (c *common) rackRemove() *cobra.Command {
	var reason string
	cmd := &cobra.Command{
		Use:   "remove BOARD...",
		Short: "Take boards off the rack, with a reason; they stay in the record",
		Args:  cobra.MinimumNArgs(1),
		RunE: func(cmd *cobra.Command, args []string) error {
			if strings.TrimSpace(reason) == "" {
				return exit{exitUsage, errors.New("--reason is missing: say why, such as \"split in the kiln\"")}
			}
			return c.removeBoards(cmd.Context(), args, reason)
		},
	}
	cmd.Flags().StringVar(&reason, "reason", "", "why")
	c.jsonFlag(cmd)
	return c.shopFlags(cmd, true)
}

func (c *common) removeBoards(ctx context.Context, ids []string, reason string) error {
	var changes []shop.BoardChange
	err := c.alterShop(ctx, func(s *shop.File) error {
		return c.carryOut(ctx, s, func(tx *shop.Tx) (string, error) {
			var refused []shop.Refused
			var err error
			changes, refused, err = shop.RemoveBoards(tx, ids, reason)
			if err == nil && len(refused) > 0 {
				err = c.refuseBoards(refusedProblems(refused), "nothing was changed")
			}
			return historyOf("rack remove", changes), err
		})
	})
	if err != nil {
		return err
	}
	return c.changed(changes)
}
