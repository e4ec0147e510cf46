package main

import (
	"fmt"

	"github.com/spf13/cobra"

	"batchwright/orders/measure"
)

// group makes a command of subcommands insist on one of them.
func group(cmd *cobra.Command) *cobra.Command {
	cmd.Args = cobra.NoArgs
	cmd.RunE = func(cmd *cobra.Command, _ []string) error { return cmd.Help() }
	return cmd
}

// shopFlags are the flags of the commands on the shop file.
func (c *common) shopFlags(cmd *cobra.Command, changes bool) *cobra.Command {
	c.plainFlags(cmd)
	cmd.Flags().StringVar(&c.units, "units", "", "in or mm: how results are printed, and the unit of a number that has none")
	if changes {
		cmd.Flags().BoolVar(&c.dryRun, "dry-run", false, "show what would change, and change nothing")
	}
	return cmd
}

// lengthFlag reads a length from the command line; empty is 0.
func (c *common) lengthFlag(name, text string) (measure.Length, error) {
	if text == "" {
		return 0, nil
	}
	s, err := c.settings()
	if err != nil {
		return 0, err
	}
	l, err := measure.Parse(text, s.Reading())
	if err != nil {
		return 0, fmt.Errorf("--%s: %w", name, err)
	}
	return l, nil
}
