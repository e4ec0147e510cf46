package main

import (
	"errors"
	"fmt"
	"maps"
	"slices"
	"strings"

	"batchwright/jigplan/shop"

	"github.com/spf13/cobra"
)

func undoCommand(c *common) *cobra.Command {
	cmd := &cobra.Command{
		Use:   "undo",
		Short: "Undo the last change to the shop file; --dry-run only describes it",
		Long: "Names the last change to the shop file and undoes it: newest first, one at a time, up to 20\n" +
			"changes. Files already written stay. Numbers of jobs and revisions are not reused. An undo cannot be\n" +
			"undone itself. A restore is undone by restoring the numbered copy that it made.",
		Example: "  batchwright undo --dry-run\n  batchwright undo",
		Args:    cobra.NoArgs,
		RunE:    func(cmd *cobra.Command, _ []string) error { return c.undo(cmd) },
	}
	c.jsonFlag(cmd)
	return c.shopFlags(cmd, true)
}

// undo opens the shop file without letting reservations lapse: that would be a
// change of its own.
func (c *common) undo(cmd *cobra.Command) error {
	path, _, err := c.shopPath()
	if err != nil {
		return err
	}
	s, err := shop.Open(cmd.Context(), path, shop.Options{Now: c.world.now, MustExist: true})
	if errors.Is(err, shop.ErrNoFile) {
		return absent(path)
	}
	if err != nil {
		return exit{exitErrors, err}
	}
	u, err := s.Undo(cmd.Context(), c.who(), c.dryRun)
	if err = errors.Join(err, s.Close()); err != nil {
		if u.What != "" {
			err = fmt.Errorf("%q cannot be undone: %w", u.What, err)
		}
		return exit{exitErrors, err}
	}
	if err := c.writeJSON(undoJSON{1, c.dryRun, u.What, u.Who, shop.Time(u.At), u.Rows}); err != nil {
		return err
	}
	verb := "undone"
	if c.dryRun {
		verb = "would be undone"
	}
	c.sayf("%s: %s (%s, %s)", verb, u.What, u.Who, momentIn(c.unit(), u.At))
	c.sayf("  rows put back: %s", rowsText(u.Rows))
	if c.dryRun {
		c.sayf("nothing was changed: this was a dry run")
	}
	return nil
}

type undoJSON struct {
	Version int            `json:"version"`
	DryRun  bool           `json:"dry_run"`
	What    string         `json:"what"`
	Who     string         `json:"who"`
	At      string         `json:"at"`
	Rows    map[string]int `json:"rows"`
}

func rowsText(rows map[string]int) string {
	var out []string
	for _, table := range slices.Sorted(maps.Keys(rows)) {
		out = append(out, fmt.Sprintf("%d of %s", rows[table], strings.ReplaceAll(table, "_", " ")))
	}
	return strings.Join(out, ", ")
}
