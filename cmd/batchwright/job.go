package main

import (
	"fmt"
	"strconv"
	"strings"

	"github.com/spf13/cobra"
)

func jobCommand(c *common) *cobra.Command {
	cmd := &cobra.Command{Use: "job", Short: "Jobs: accept an order and reserve its boards, show, change, recut, finish, cancel"}
	cmd.AddCommand(c.jobAccept(), c.jobList(), c.jobShow(), c.jobChange(), c.jobRecut(), c.jobFinish(), c.jobCancel(), c.jobRepeat())
	return group(cmd)
}

// jobArg reads a job's number.
func jobArg(text string) (int64, error) {
	id, err := strconv.ParseInt(strings.TrimPrefix(text, "#"), 10, 64)
	if err != nil || id < 1 {
		return 0, exit{exitUsage, fmt.Errorf("%q is not the number of a job: see batchwright job list", text)}
	}
	return id, nil
}
