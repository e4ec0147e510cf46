package main

import (
	"context"
	"fmt"

	"batchwright/jigplan/shop"

	"github.com/spf13/cobra"
)

func (c *common) jobCancel() *cobra.Command {
	reason := ""
	cmd := &cobra.Command{
		Use: "cancel JOB", Short: "Cancel a job: its boards are free again", Args: cobra.ExactArgs(1),
		RunE: func(cmd *cobra.Command, args []string) error { return c.cancelJob(cmd.Context(), args[0], reason) },
	}
	cmd.Flags().StringVar(&reason, "reason", "", "why")
	c.jsonFlag(cmd)
	return c.shopFlags(cmd, true)
}

// endedJSON is a job that was finished or cancelled.
type endedJSON struct {
	Version int           `json:"version"`
	DryRun  bool          `json:"dry_run"`
	Job     string        `json:"job"`
	State   shop.JobState `json:"state"`
	Used    []string      `json:"used"`
	Freed   []string      `json:"freed"`
	Offcuts []string      `json:"offcuts"`
}

func (c *common) cancelJob(ctx context.Context, arg, reason string) error {
	id, err := jobArg(arg)
	if err != nil {
		return err
	}
	var freed []string
	err = c.alterShop(ctx, func(s *shop.File) error {
		return c.carryOut(ctx, s, func(tx *shop.Tx) (string, error) {
			freed, err = shop.CancelJob(tx, id, reason)
			return fmt.Sprintf("cancel job %d: %s free again", id, listed(freed)), err
		})
	})
	if err != nil {
		return err
	}
	if err := c.writeJSON(endedJSON{1, c.dryRun, jobID(id), shop.JobCancelled, []string{}, append([]string{}, freed...), []string{}}); err != nil {
		return err
	}
	c.sayf("job %d cancelled; free again: %s", id, listed(freed))
	return nil
}
