package main

import (
	"errors"
	"fmt"
	"strings"

	"batchwright/jigplan/shop"

	"github.com/spf13/cobra"
)

func (c *common) logMoisture() *cobra.Command {
	cmd := &cobra.Command{
		Use: "moisture BOARD|WOOD PERCENT", Short: "Note a measured moisture; a board of the rack keeps it", Args: cobra.ExactArgs(2),
		RunE: func(cmd *cobra.Command, args []string) error {
			percent, err := c.numberArg(strings.TrimSuffix(args[1], "%"))
			if err != nil || !(percent > 0 && percent < 200) {
				return exit{exitUsage, fmt.Errorf("%q is not a moisture in percent", args[1])}
			}
			err = c.changeShop(cmd.Context(), func(s *shop.File) error {
				return c.carryOut(cmd.Context(), s, func(tx *shop.Tx) (string, error) {
					what := fmt.Sprintf("log moisture: %s %s", args[0], c.unit().Percent(percent, -1))
					return what, errors.Join(shop.LogMoisture(tx, args[0], percent), shop.SetBoardMoisture(tx, args[0], percent))
				})
			})
			if err == nil {
				c.sayf("moisture of %s noted: %s", args[0], c.unit().Percent(percent, -1))
			}
			return err
		},
	}
	return c.shopFlags(cmd, true)
}
