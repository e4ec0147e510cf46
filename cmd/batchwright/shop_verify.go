package main

import (
	"context"
	"errors"
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"batchwright/jigplan/shop"
	"batchwright/reports"
)

func (c *common) shopVerify() *cobra.Command {
	cmd := &cobra.Command{
		Use: "verify", Short: "Check the whole shop file: exit 0 only when no problem is found", Args: cobra.NoArgs,
		RunE: func(cmd *cobra.Command, _ []string) error { return c.verifyShop(cmd.Context()) },
	}
	c.jsonFlag(cmd)
	return c.shopFlags(cmd, false)
}

type verifyJSON struct {
	Version int      `json:"version"`
	File    string   `json:"file"`
	Faults  []string `json:"faults"`
}

func (c *common) verifyShop(ctx context.Context) error {
	path, _, err := c.shopPath()
	if err != nil {
		return err
	}
	s, err := shop.Open(ctx, path, shop.Options{Now: c.world.now, ReadOnly: true})
	var faults []string
	if err == nil {
		faults, err = shop.Verify(ctx, s)
		err = errors.Join(err, s.Close())
	}
	hint := "restore the newest backup with batchwright shop restore BACKUP; the file as it is stays beside it"
	if err != nil {
		faults = append(faults, err.Error())
		if len(faults) == 1 && !errors.Is(err, shop.ErrDamaged) {
			hint = "nothing was verified"
		}
	}
	if err := c.writeJSON(verifyJSON{1, path, append([]string{}, faults...)}); err != nil {
		return err
	}
	if len(faults) > 0 {
		return exit{exitErrors, fmt.Errorf("%s\n%s", strings.Join(faults, "\n"), hint)}
	}
	c.sayf("%s: no problems found", path)
	return nil
}

func (c *common) shopHistory() *cobra.Command {
	most := 0
	cmd := &cobra.Command{
		Use: "history", Short: "Who changed what, and when", Args: cobra.NoArgs,
		RunE: func(cmd *cobra.Command, _ []string) error {
			t, unit := reports.Table{Head: []string{"When", "Who", "What"}}, c.unit()
			if err := c.readShop(cmd.Context(), func(tx *shop.Tx) error {
				list, err := tx.History(most)
				for _, e := range list {
					t.Add(momentIn(unit, e.At), e.Who, e.What)
				}
				return err
			}); err != nil {
				return err
			}
			c.show([]reports.Table{t})
			return nil
		},
	}
	cmd.Flags().IntVar(&most, "most", 40, "how many changes, the newest first")
	return c.shopFlags(cmd, false)
}
