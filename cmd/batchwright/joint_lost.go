package main

import (
	"fmt"
	"strconv"
	"strings"

	"github.com/spf13/cobra"

	"batchwright/jigplan/joint"
	"batchwright/orders/measure"
	"batchwright/orders/settings"
	"batchwright/reports"
)

// jointLostCommand finds a slip of the count and what saves the stack.
func jointLostCommand(c *common) *cobra.Command {
	var f jointFlags
	var read, far []string
	var done int
	var width, back string
	cmd := &cobra.Command{
		Use:   "lost --finger 1/4 --height 3-1/2 --read 2:3/4 --read 3:1-1/4",
		Short: "Lost count: which slot, how many turns, and the moves that save the stack",
		Args:  cobra.NoArgs,
		RunE: func(cmd *cobra.Command, _ []string) error {
			p, s, err := c.bestProgram(cmd.Context(), &f)
			if err != nil {
				return err
			}
			count, err := readCount(s, c.eachOf(read), c.eachOf(far), done, width, back)
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
	cmd.Flags().StringArrayVar(&read, "read", nil, "`SLOT:TRAVEL` read on the rule after a slot's last cut; repeat it")
	cmd.Flags().StringArrayVar(&far, "far", nil, "`SLOT:DISTANCE` measured on a row A board, from the marked edge to the far side of a slot; repeat it")
	cmd.Flags().IntVar(&done, "done", 0, "slots cut so far (default the last one read)")
	cmd.Flags().StringVar(&width, "width", "", "measured width of the first slot that is off")
	cmd.Flags().StringVar(&back, "back", "", "turns it took to wind back to zero")
	return cmd
}

func readCount(s settings.Shop, read, far []string, done int, width, back string) (count joint.Count, err error) {
	count.Done = done
	if count.Readings, err = readSlots(s, "read", read); err != nil {
		return count, err
	}
	if count.Far, err = readSlots(s, "far", far); err != nil {
		return count, err
	}
	if width != "" {
		l, err := measure.Parse(width, s.Reading())
		if err != nil {
			return count, fmt.Errorf("--width: %w", err)
		}
		count.Width = l
	}
	if back != "" {
		turns, err := measure.ParseRatio(s.Reading().Plain(back))
		if err != nil {
			return count, fmt.Errorf("--back: %w", err)
		}
		count.Returned = &turns
	}
	return count, nil
}

// readSlots reads "3:1-1/4", a slot and a length.
func readSlots(s settings.Shop, flag string, texts []string) ([]joint.SlotReading, error) {
	var out []joint.SlotReading
	for _, text := range texts {
		slot, travel, _ := strings.Cut(text, ":")
		n, err := strconv.Atoi(strings.TrimSpace(slot))
		if err != nil {
			return nil, fmt.Errorf("--%s %q: write the slot and what was read there, such as 3:1-1/4", flag, text)
		}
		l, err := measure.Parse(travel, s.Reading())
		if err != nil {
			return nil, fmt.Errorf("--%s %q: %w", flag, text, err)
		}
		out = append(out, joint.SlotReading{Slot: n, Travel: l})
	}
	return out, nil
}

func lossRecord(l joint.Loss) map[string]any {
	out := slipRecord(l)
	later := []map[string]any{}
	for _, slip := range l.Later {
		later = append(later, slipRecord(slip))
	}
	out["later"], out["say"] = later, l.Say
	if l.Rest != nil {
		out["rest"] = candidateRecord(joint.Candidate{Program: *l.Rest}).Program
	}
	return out
}

// slipRecord is one slip; a loss has those after the first in "later".
func slipRecord(l joint.Loss) map[string]any {
	extra := []measure.Ratio{}
	extra = append(extra, l.Extra...)
	return map[string]any{
		"kind": l.Kind, "turns": l.Turns.String(), "slot": l.Slot, "right_until": l.Since,
		"gap_mm": l.Gap, "clash_mm": l.Clash, "extra_travel_mm": extra,
	}
}
