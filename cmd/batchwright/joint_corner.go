package main

import (
	"context"
	"fmt"

	"github.com/spf13/cobra"

	"batchwright/jigplan"
	"batchwright/jigplan/joint"
	"batchwright/orders/measure"
	"batchwright/orders/settings"
	"batchwright/reports"
)

// jointCornerCommand reads a measured test corner.
func jointCornerCommand(c *common) *cobra.Command {
	var f jointFlags
	var slot, over string
	var periods int
	cmd := &cobra.Command{
		Use:   "corner --finger 1/4 --height 3-1/2 --slot 0.284 [--over 1.6875]",
		Short: "Test corner: kerf and lead from what was measured, and what to do",
		Args:  cobra.NoArgs,
		RunE: func(cmd *cobra.Command, _ []string) error {
			p, s, err := c.bestProgram(cmd.Context(), &f)
			if err != nil {
				return err
			}
			corner := joint.Corner{Periods: periods}
			for _, m := range []struct {
				flag, text string
				to         *measure.Length
			}{{"slot", slot, &corner.Slot}, {"over", over, &corner.Over}} {
				if m.text == "" {
					continue
				}
				if *m.to, err = measure.Parse(m.text, s.Reading()); err != nil {
					return exit{exitUsage, fmt.Errorf("--%s: %w", m.flag, err)}
				}
			}
			cal, err := joint.Measured(p, corner, s)
			if err != nil {
				return exit{exitUsage, err}
			}
			if err := c.writeJSON(map[string]any{"kerf_mm": cal.Kerf, "lead_mm": cal.Lead, "fit_mm": cal.Fit, "shim_mm": cal.Shim, "do": cal.Do, "note": cal.Note}); err != nil {
				return err
			}
			w := reports.Words{Unit: s.Units}
			c.tell([]string{
				fmt.Sprintf("Kerf %s, lead %s a turn, fit %s", w.Fine(cal.Kerf), w.Fine(cal.Lead), w.Fine(cal.Fit)),
				"Do: " + cal.Do, "Blade and rod: " + cal.Note, reports.CautionLine,
			})
			return nil
		},
	}
	f.add(c, cmd)
	c.jsonFlag(cmd)
	cmd.Flags().StringVar(&slot, "slot", "", "measured width of one full slot")
	cmd.Flags().StringVar(&over, "over", "", "measured from a slot's edge to the same edge of a later slot")
	cmd.Flags().IntVar(&periods, "periods", 1, "slots from the one to the other")
	return cmd
}

// bestProgram solves the joint and gives its best program.
func (c *common) bestProgram(ctx context.Context, f *jointFlags) (jigplan.Program, settings.Shop, error) {
	q, err := f.request(ctx, c)
	if err != nil {
		return jigplan.Program{}, q.Settings, err
	}
	a, err := joint.Solve(q)
	if err != nil {
		return jigplan.Program{}, q.Settings, c.impossible(err)
	}
	if a.Refused != nil {
		return jigplan.Program{}, q.Settings, refusedJoint(a.Refused)
	}
	return a.Best(), q.Settings, nil
}
