package main

import (
	"os"
	"path/filepath"

	"batchwright/jigplan/shop"

	"github.com/spf13/cobra"
)

func (c *common) jobRepeat() *cobra.Command {
	var a acceptance
	cmd := &cobra.Command{
		Use: "repeat JOB", Short: "Accept an old job's order again, as a new job on today's boards", Args: cobra.ExactArgs(1),
		RunE: func(cmd *cobra.Command, args []string) error {
			id, err := jobArg(args[0])
			if err == nil {
				err = a.read(c)
			}
			if err != nil {
				return err
			}
			var old shop.Job
			var papers shop.Papers
			if err := c.readShop(cmd.Context(), func(tx *shop.Tx) error {
				if old, papers, err = firstPapers(tx, id); err != nil {
					return err
				}
				return a.again(tx, id)
			}); err != nil {
				return err
			}
			folder, err := os.Getwd()
			if err != nil {
				return refuse("cannot find this folder: %w", err)
			}
			return c.accept(cmd.Context(), filepath.Join(folder, old.Name), papers.Order, a, id)
		},
	}
	return c.acceptFlags(cmd, &a)
}

// firstPapers are a job's papers as last accepted or changed.
func firstPapers(tx *shop.Tx, id int64) (j shop.Job, p shop.Papers, err error) {
	if j, err = shop.FindJob(tx, id); err != nil {
		return j, p, err
	}
	revisions, err := shop.Revisions(tx, id)
	if err != nil || len(revisions) == 0 {
		return j, p, err
	}
	p, err = shop.ReadPapers(tx, id, shop.RevisionsInForce(revisions)[0].Number)
	return j, p, err
}
