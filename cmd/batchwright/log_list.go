package main

import (
	"context"
	"fmt"
	"strconv"

	"github.com/spf13/cobra"

	"batchwright/jigplan/shop"
)

func (c *common) logList() *cobra.Command {
	job := ""
	cmd := &cobra.Command{
		Use: "list", Short: "The times logged, each with the number that log change and log remove take", Args: cobra.NoArgs,
		RunE: func(cmd *cobra.Command, _ []string) error { return c.review(cmd.Context(), job) },
	}
	cmd.Flags().StringVar(&job, "job", "", "of this job alone")
	c.jsonFlag(cmd)
	return c.shopFlags(cmd, false)
}

func (c *common) logChange() *cobra.Command {
	var note, done string
	var interrupted, counts bool
	cmd := &cobra.Command{
		Use: "change NUMBER [MINUTES]", Short: "Correct a logged time: its minutes, what it finished, whether it counts", Args: cobra.RangeArgs(1, 2),
		RunE: func(cmd *cobra.Command, args []string) error {
			return c.changeLog(cmd.Context(), args[0], func(tx *shop.Tx, l shop.TimeLog) (string, error) {
				if len(args) > 1 {
					minutes, err := c.minutesArg(args[1])
					if err != nil {
						return "", err
					}
					l.Actual = minutes
				}
				l.Dropped = (l.Dropped || interrupted) && !counts
				if cmd.Flags().Changed("note") {
					l.Note = note
				}
				if done != "" {
					w := work{element: l.Element, stack: l.Stack, done: done}
					if l.Job != 0 {
						w.job = jobID(l.Job)
					}
					s, err := c.settingsIn(tx)
					if err != nil {
						return "", err
					}
					if err := w.readDone(tx, s.Reading(), l.ID); err != nil {
						return "", err
					}
					again, err := planned(tx, w)
					if err != nil {
						return "", err
					}
					l.Count, l.Planned, l.Base = again.Count, again.Planned, again.Base
				}
				return fmt.Sprintf("log %d changed: %s", l.ID, c.logged(l)), shop.CorrectTime(tx, l)
			})
		},
	}
	cmd.Flags().BoolVar(&interrupted, "interrupted", false, "keep it, but do not calibrate on it")
	cmd.Flags().BoolVar(&counts, "counts", false, "calibrate on it after all")
	cmd.Flags().StringVar(&done, "done", "", "how many it finished, `N`, all or none")
	cmd.Flags().StringVar(&note, "note", "", "a remark")
	return c.shopFlags(cmd, true)
}

func (c *common) logRemove() *cobra.Command {
	cmd := &cobra.Command{
		Use: "remove NUMBER", Short: "Remove a logged time", Args: cobra.ExactArgs(1),
		RunE: func(cmd *cobra.Command, args []string) error {
			return c.changeLog(cmd.Context(), args[0], func(tx *shop.Tx, l shop.TimeLog) (string, error) {
				return fmt.Sprintf("log %d removed: %s", l.ID, c.logged(l)), shop.RemoveTime(tx, l.ID)
			})
		},
	}
	return c.shopFlags(cmd, true)
}

// changeLog corrects one log and says what it did.
func (c *common) changeLog(ctx context.Context, number string, do func(*shop.Tx, shop.TimeLog) (string, error)) error {
	id, err := strconv.ParseInt(number, 10, 64)
	if err != nil {
		return exit{exitUsage, fmt.Errorf("%q is not the number of a log: log list shows them", number)}
	}
	said := ""
	err = c.alterShop(ctx, func(s *shop.File) error {
		return c.carryOut(ctx, s, func(tx *shop.Tx) (string, error) {
			l, err := shop.TimeLogOf(tx, id)
			if err != nil {
				return "", refuse("%w", err)
			}
			said, err = do(tx, l)
			return said, err
		})
	})
	if err == nil {
		c.sayf("%s", said)
	}
	return err
}
