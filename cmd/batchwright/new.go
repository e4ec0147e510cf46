package main

import (
	"bytes"
	"errors"
	"io/fs"
	"path/filepath"
	"strings"

	"github.com/spf13/cobra"

	"batchwright/orders/intake"
	"batchwright/orders/measure"
)

func newCommand(c *common) *cobra.Command {
	catalog := false
	cmd := &cobra.Command{
		Use:   "new ORDER.xlsx",
		Short: "Write a blank order workbook, or a blank catalog for a fair",
		Example: "  batchwright new spring.xlsx\n" +
			"  batchwright new fair.xlsx --catalog",
		Args: cobra.ExactArgs(1),
		RunE: func(_ *cobra.Command, args []string) error {
			if catalog {
				return c.newBook(args[0], "catalog", "Catalog", "fair", intake.BlankCatalog)
			}
			return c.newBook(args[0], "order", "Boxes", "check", intake.Blank)
		},
	}
	writesArgument(cmd)
	cmd.Flags().BoolVar(&catalog, "catalog", false, "a blank catalog, for the fair command")
	cmd.Flags().BoolVar(&catalog, "catalogue", false, "the same in British spelling")
	_ = cmd.Flags().MarkHidden("catalogue")
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
	if err := c.writeNew(path, data); err != nil {
		return err
	}
	c.sayf("wrote %s: fill in its %s sheet, then run batchwright %s %s", path, first, next, path)
	return nil
}

// writeNew writes a file that must not be there yet, whole or not at all.
func (c *common) writeNew(path string, data []byte) error {
	err := c.files.New(path, bytes.NewReader(data), 0o666)
	switch {
	case errors.Is(err, fs.ErrExist):
		return refuse("%q already exists: choose another name", path)
	case err != nil:
		return cannotWrite(path, err)
	}
	return nil
}
