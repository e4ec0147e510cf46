package main

import (
	"github.com/spf13/cobra"
)

func planCommand(c *common) *cobra.Command {
	cmd := &cobra.Command{
		Use:   "plan ORDER.xlsx",
		Short: "Plan an order: boards, jig programs, setups, running order, time",
		Args:  cobra.ExactArgs(1),
		RunE:  func(cmd *cobra.Command, args []string) error { return c.plan(cmd.Context(), args[0]) },
	}
	c.orderFlags(cmd)
	return cmd
}

func (c *common) plan(_ any, _ string) error { return refuse("the line is being built") }
