package main

import (
	"context"
	"errors"
	"strings"

	"github.com/spf13/cobra"

	"batchwright/jigplan/kit"
	"batchwright/orders/store"
)

func (c *common) logStart() *cobra.Command {
	var w work
	cmd := &cobra.Command{
		Use: "start ELEMENT", Short: "Start a clock", Args: cobra.ExactArgs(1),
		RunE: func(cmd *cobra.Command, args []string) error {
			w.element = args[0]
			return c.changeShop(cmd.Context(), func(s *store.Shop) error {
				return c.carryOut(cmd.Context(), s, func(tx *store.Tx) (string, error) {
					l, err := planned(tx, w)
					if err != nil {
						return "", err
					}
					c.sayf("the clock runs for %s since %s", l.Element, c.world.now().Format("15:04"))
					return "log start: " + l.Element, kit.Start(tx, kit.Clock{Element: l.Element, Job: l.Job, Stack: l.Stack, Count: l.Count, Who: c.who()})
				})
			})
		},
	}
	return c.workFlags(cmd, &w)
}

func (c *common) logStop() *cobra.Command {
	var w work
	cmd := &cobra.Command{
		Use: "stop [ELEMENT]", Short: "Stop a clock, the last one started unless one is named, and note the time", Args: cobra.MaximumNArgs(1),
		RunE: func(cmd *cobra.Command, args []string) error {
			return c.stopClock(cmd.Context(), w, strings.Join(args, ""))
		},
	}
	return c.workFlags(cmd, &w)
}

func (c *common) stopClock(ctx context.Context, w work, element string) error {
	var l kit.TimeLog
	err := c.alterShop(ctx, func(s *store.Shop) error {
		return c.carryOut(ctx, s, func(tx *store.Tx) (string, error) {
			clocks, err := kit.Clocks(tx)
			if err != nil {
				return "", err
			}
			at := -1
			for i, clock := range clocks {
				if element == "" || strings.EqualFold(clock.Element, element) {
					at = i
				}
			}
			if at < 0 {
				return "", refuse("no clock runs%s: start one with log start", map[bool]string{true: "", false: " for " + element}[element == ""])
			}
			clock := clocks[at]
			w.element, w.stack = clock.Element, clock.Stack
			if clock.Job != 0 {
				w.job = jobID(clock.Job)
			}
			if w.count == 0 {
				w.count = clock.Count
			}
			if l, err = planned(tx, w); err != nil {
				return "", err
			}
			l.Actual, l.Note, l.Dropped = max(tx.Now.Sub(clock.Started).Minutes(), 1.0/60), w.note, w.interrupted
			return logged(l), errors.Join(kit.Stop(tx, clock), kit.AddTime(tx, l))
		})
	})
	if err == nil {
		c.sayf("%s", logged(l))
	}
	return err
}
