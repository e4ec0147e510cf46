package main

import (
	"errors"
	"fmt"

	"batchwright/jigplan/shop"

	"github.com/spf13/cobra"
)

func (c *common) shopBackup() *cobra.Command {
	cmd := &cobra.Command{
		Use: "backup FILE", Short: "Copy the shop file while it is in use, and check the copy by opening it", Args: cobra.ExactArgs(1),
		RunE: func(cmd *cobra.Command, args []string) error {
			path, _, err := c.shopPath()
			if err != nil {
				return err
			}
			s, err := shop.Open(cmd.Context(), path, shop.Options{Now: c.world.now, ReadOnly: true})
			if err != nil {
				return exit{exitErrors, err}
			}
			if err := errors.Join(s.Backup(cmd.Context(), args[0]), s.Close()); err != nil {
				return exit{exitErrors, err}
			}
			c.sayf("backed up %s to %s; backup OK, no problems found", path, args[0])
			return nil
		},
	}
	writesArgument(cmd)
	return c.shopFlags(cmd, false)
}

func (c *common) shopRestore() *cobra.Command {
	cmd := &cobra.Command{
		Use: "restore BACKUP", Short: "Replace the shop file with a backup; the old one is kept as a numbered copy", Args: cobra.ExactArgs(1),
		RunE: func(cmd *cobra.Command, args []string) error {
			path, _, err := c.shopPath()
			if err != nil {
				return err
			}
			got, err := shop.Restore(cmd.Context(), shop.Restoring{From: args[0], Path: path, Who: c.who(), Now: c.world.now, DryRun: c.dryRun})
			if err != nil {
				return exit{exitErrors, fmt.Errorf("%w\n%s", err, afterRestore(path, got))}
			}
			if c.dryRun {
				c.sayf("nothing was changed: %s is a sound backup and would replace %s", args[0], path)
				return nil
			}
			c.sayf("%s", afterRestore(path, got))
			return nil
		},
	}
	return c.shopFlags(cmd, true)
}

// afterRestore says which state the shop file has, and where the other one is.
func afterRestore(path string, got shop.Restored) string {
	text := path + " was not changed"
	if got.Done {
		text = path + " now holds the backup"
	}
	if got.Kept != "" {
		text += "; what was there before the restore is in " + got.Kept
		if got.Done {
			text += ": restoring that file undoes this"
		}
	}
	return text
}
