package main

import (
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"strings"

	"github.com/spf13/cobra"

	"batchwright/orders/intake"
	"batchwright/orders/measure"
)

func newCommand(c *common) *cobra.Command {
	catalogue := false
	cmd := &cobra.Command{
		Use:   "new ORDER.xlsx",
		Short: "Write a blank order workbook, or a blank catalogue for a fair",
		Example: "  batchwright new spring.xlsx\n" +
			"  batchwright new fair.xlsx --catalogue",
		Args: oneOrder,
		RunE: func(_ *cobra.Command, args []string) error {
			if catalogue {
				return c.newBook(args[0], "catalogue", "Catalogue", "fair", intake.BlankCatalogue)
			}
			return c.newBook(args[0], "order", "Boxes", "check", intake.Blank)
		},
	}
	cmd.Flags().BoolVar(&catalogue, "catalogue", false, "a blank catalogue, for the fair command")
	cmd.Flags().StringVar(&c.units, "units", "", "in or mm: the unit of the headings and the Units setting")
	c.plainFlags(cmd)
	return cmd
}

// newBook writes a blank workbook of a kind: its first sheet, and the command
// that takes it when it is filled in.
func (c *common) newBook(path, kind, first, next string, blank func(measure.Unit) ([]byte, error)) error {
	settings, err := c.settings()
	if err != nil {
		return err
	}
	if ext := strings.ToLower(filepath.Ext(path)); ext != ".xlsx" {
		return exit{exitUsage, errors.New("a blank " + kind + " is an .xlsx workbook: name it like " + strings.TrimSuffix(path, filepath.Ext(path)) + ".xlsx")}
	}
	data, err := blank(settings.Units)
	if err != nil {
		return refuse("cannot make the blank %s: %w", kind, err)
	}
	if err := writeNew(path, data); err != nil {
		return err
	}
	c.sayf("wrote %s: fill in its %s sheet, then run batchwright %s %s", path, first, next, path)
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
