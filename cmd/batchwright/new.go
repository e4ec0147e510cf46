package main

import (
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"strings"

	"github.com/spf13/cobra"

	"batchwright/orders/intake"
)

func newCommand(c *common) *cobra.Command {
	cmd := &cobra.Command{
		Use:   "new ORDER.xlsx",
		Short: "Write a blank order workbook: headings, drop-downs, one worked line, a page of help",
		Args:  oneOrder,
		RunE:  func(_ *cobra.Command, args []string) error { return c.newOrder(args[0]) },
	}
	cmd.Flags().StringVar(&c.units, "units", "", "in or mm: the unit of the headings and the Units setting")
	c.plainFlags(cmd)
	return cmd
}

func (c *common) newOrder(path string) error {
	settings, err := c.settings()
	if err != nil {
		return err
	}
	if ext := strings.ToLower(filepath.Ext(path)); ext != ".xlsx" {
		return exit{exitUsage, errors.New("a blank order is an .xlsx workbook: name it like " + strings.TrimSuffix(path, filepath.Ext(path)) + ".xlsx")}
	}
	data, err := intake.Blank(settings.Units)
	if err != nil {
		return refuse("cannot make the blank order: %w", err)
	}
	if err := writeNew(path, data); err != nil {
		return err
	}
	c.sayf("wrote %s: fill in its Boxes sheet, then run batchwright check %s", path, path)
	return nil
}

// writeNew writes a file that must not be there yet, whole or not at all.
func writeNew(path string, data []byte) error {
	f, err := os.OpenFile(path, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o644)
	switch {
	case errors.Is(err, fs.ErrExist):
		return refuse("%q is there already and is not overwritten: name another file", path)
	case err != nil:
		return cannotWrite(path, err)
	}
	_, err = f.Write(data)
	if err = errors.Join(err, f.Sync(), f.Close()); err != nil {
		os.Remove(path)
		return cannotWrite(path, err)
	}
	return syncFolder(path)
}
