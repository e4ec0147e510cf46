package main

import (
	"github.com/spf13/cobra"
)

func logCommand(c *common) *cobra.Command {
	cmd := &cobra.Command{Use: "log", Short: "Log times, kerfs, corners, moisture and sales; they calibrate the next plan"}
	cmd.AddCommand(c.logTime(), c.logStart(), c.logStop(), c.logKerf(), c.logCorner(), c.logMoisture(), c.logSold(), c.logLeft(), c.logReview(), c.logList(), c.logChange(), c.logRemove())
	return group(cmd)
}

// work says what was timed.
type work struct {
	element, job, stack, note string
	done                      string  // "2", "all", "none"; empty: not said
	count                     float64 // done, read
	interrupted               bool
}

func (c *common) workFlags(cmd *cobra.Command, w *work) *cobra.Command {
	f := cmd.Flags()
	f.StringVar(&w.job, "job", "", "of this job")
	f.StringVar(&w.stack, "stack", "", "of one end of this stack of the job")
	f.StringVar(&w.done, "done", "", "how many it finished, `N`, all or none: boxes glued or sanded, coats, parts (asked at a terminal, else required with --job)")
	f.StringVar(&w.done, "count", "", "the older name of --done")
	_ = f.MarkHidden("count")
	f.StringVar(&w.note, "note", "", "a remark")
	f.BoolVar(&w.interrupted, "interrupted", false, "keep it, but do not calibrate on it")
	return c.shopFlags(cmd, true)
}
