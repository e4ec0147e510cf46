package main

import (
	"fmt"
	"strconv"
	"strings"

	"github.com/spf13/cobra"

	"batchwright/jigplan/joint"
	"batchwright/orders"
	"batchwright/orders/measure"
	"batchwright/reports"
)

// jointLostCommand finds a slip of the count and what saves the stack.
func jointLostCommand(c *common) *cobra.Command {
	var f jointFlags
	var read []string
	var done int
	var width, back string
	cmd := &cobra.Command{
		Use:   "lost --finger 1/4 --height 3-1/2 --read 2:3/4 --read 3:1-1/4 [--done 4] [--back 55]",
		Short: "Lost count: which slot, how many turns, and the moves that save the stack",
		Args:  cobra.NoArgs,
		RunE: func(cmd *cobra.Command, _ []string) error {
			p, s, err := c.bestProgram(cmd.Context(), &f)
			if err != nil {
				return err
			}
			count, err := readCount(s, read, done, width, back)
			if err != nil {
				return exit{exitUsage, err}
			}
			loss, err := joint.FindLost(p, count, s.Units)
			if err != nil {
				return exit{exitUsage, err}
			}
			if err := c.writeJSON(lossRecord(loss)); err != nil {
				return err
			}
			c.tell(loss.Say)
			if loss.Rest != nil {
				c.show([]reports.Table{countTable(reports.Words{Unit: s.Units}, joint.Request{Settings: s}, *loss.Rest)})
			}
			c.tell([]string{reports.CautionLine})
			return nil
		},
	}
	f.add(c, cmd)
	c.jsonFlag(cmd)
	cmd.Flags().StringSliceVar(&read, "read", nil, "`SLOT:TRAVEL` read on the rule after a slot's last cut; repeat it")
	cmd.Flags().IntVar(&done, "done", 0, "slots cut so far (default the last one read)")
	cmd.Flags().StringVar(&width, "width", "", "measured width of the first slot that is off")
	cmd.Flags().StringVar(&back, "back", "", "turns it took to wind back to zero")
	return cmd
}

func readCount(s orders.Settings, read []string, done int, width, back string) (joint.Count, error) {
	count := joint.Count{Done: done}
	for _, text := range read {
		slot, travel, _ := strings.Cut(text, ":")
		n, err := strconv.Atoi(strings.TrimSpace(slot))
		if err != nil {
			return count, fmt.Errorf("--read %q: write the slot and what the rule reads, such as 3:1-1/4", text)
		}
		l, err := measure.Parse(travel, s.Reading())
		if err != nil {
			return count, fmt.Errorf("--read %q: %w", text, err)
		}
		count.Readings = append(count.Readings, joint.SlotReading{Slot: n, Travel: l})
	}
	if width != "" {
		l, err := measure.Parse(width, s.Reading())
		if err != nil {
			return count, fmt.Errorf("--width: %w", err)
		}
		count.Width = l
	}
	if back != "" {
		turns, err := measure.ParseRatio(back)
		if err != nil {
			return count, fmt.Errorf("--back: %w", err)
		}
		count.Returned = &turns
	}
	return count, nil
}

func lossRecord(l joint.Loss) map[string]any {
	extra := []measure.Ratio{}
	extra = append(extra, l.Extra...)
	out := map[string]any{
		"kind": l.Kind, "turns": l.Turns.String(), "slot": l.Slot, "right_until": l.Since, "gap_mm": l.Gap,
		"clash_mm": l.Clash, "extra_travel_mm": extra, "say": l.Say,
	}
	if l.Rest != nil {
		out["rest"] = candidateRecord(joint.Candidate{Program: *l.Rest}).Program
	}
	return out
}
