package main

import (
	"errors"
	"path/filepath"

	"github.com/spf13/cobra"

	"batchwright/orders/store"
)

func (c *common) shopBackup() *cobra.Command {
	cmd := &cobra.Command{
		Use: "backup FILE", Short: "Copy the shop file while it is in use, and check the copy by opening it", Args: cobra.ExactArgs(1),
		RunE: func(cmd *cobra.Command, args []string) error {
			path, _, err := c.shopPath()
			if err != nil {
				return err
			}
			s, err := store.Open(cmd.Context(), path, store.Options{Now: c.world.now, ReadOnly: true})
			if err != nil {
				return exit{exitErrors, err}
			}
			if err := errors.Join(s.Backup(cmd.Context(), args[0]), s.Close()); err != nil {
				return exit{exitErrors, err}
			}
			c.sayf("backed up %s to %s, opened it and found it whole", path, args[0])
			return nil
		},
	}
	return c.shopFlags(cmd, false)
}

func (c *common) shopRestore() *cobra.Command {
	cmd := &cobra.Command{
		Use: "restore BACKUP", Short: "Put a backup in the place of the shop file; what was there is kept beside it", Args: cobra.ExactArgs(1),
		RunE: func(cmd *cobra.Command, args []string) error {
			path, _, err := c.shopPath()
			if err != nil {
				return err
			}
			if c.dryRun {
				c.sayf("nothing was changed: %s would take the place of %s", args[0], path)
				return nil
			}
			if err := store.Restore(cmd.Context(), args[0], path); err != nil {
				return exit{exitErrors, err}
			}
			if err := c.changeShop(cmd.Context(), func(s *store.Shop) error {
				return s.Update(cmd.Context(), c.who(), func(*store.Tx) (string, error) { return "shop restore of " + filepath.Base(args[0]), nil })
			}); err != nil {
				return err
			}
			c.sayf("%s is now what %s holds; what was there before lies beside it as %s.before-restore", path, args[0], filepath.Base(path))
			return nil
		},
	}
	return c.shopFlags(cmd, true)
}
