package main

import (
	"context"
	"fmt"

	"github.com/spf13/cobra"

	"batchwright/jigplan/joint"
	"batchwright/jigplan/shop"
	"batchwright/orders/measure"
	"batchwright/orders/settings"
	"batchwright/reports"
)

func (c *common) logCorner() *cobra.Command {
	finger, height, slot, over, blade := "", "", "", "", ""
	keep, periods := false, 1
	cmd := &cobra.Command{
		Use:   "corner --finger 1/4 --height 3-1/2 --slot 0.284",
		Short: "Note a test corner: kerf and lead, and what to do",
		Args:  cobra.NoArgs,
		RunE: func(cmd *cobra.Command, _ []string) error {
			return c.keepCorner(cmd.Context(), [4]string{finger, height, slot, over}, periods, blade, keep)
		},
	}
	cmd.Flags().StringVar(&finger, "finger", "", "the finger it was cut for")
	cmd.Flags().StringVar(&height, "height", "", "the height of the boards")
	cmd.Flags().StringVar(&slot, "slot", "", "measured width of one full slot")
	cmd.Flags().StringVar(&over, "over", "", "measured from a slot's edge to the same edge of a later slot, for the lead")
	cmd.Flags().IntVar(&periods, "periods", 1, "slots from the one to the other")
	cmd.Flags().StringVar(&blade, "blade", "", "cut with this blade (default the one in use)")
	cmd.Flags().BoolVar(&keep, "keep", false, "make the next programs with this kerf and lead")
	return c.shopFlags(cmd, true)
}

func (c *common) keepCorner(ctx context.Context, sizes [4]string, periods int, blade string, keep bool) error {
	var cal joint.Calibration
	var kerf measure.Length
	var unit measure.Unit
	var kept, moved []string
	err := c.changeShop(ctx, func(s *shop.File) error {
		return c.carryOut(ctx, s, func(tx *shop.Tx) (string, error) {
			settings, err := c.settingsIn(tx)
			if err != nil {
				return "", err
			}
			corner := shop.Corner{Blade: blade}
			found := joint.Corner{Periods: periods}
			for i, into := range []*measure.Length{&corner.Finger, &corner.Height, &corner.Slot, &found.Over} {
				if i == 3 && sizes[i] == "" {
					continue
				}
				if *into, err = measure.Parse(sizes[i], settings.Reading()); err != nil {
					return "", exit{exitUsage, fmt.Errorf("--%s: %w", []string{"finger", "height", "slot", "over"}[i], err)}
				}
			}
			found.Slot = corner.Slot
			if corner.Blade == "" {
				if corner.Blade, err = shop.BladeInUse(tx); err != nil {
					return "", err
				}
			}
			if cal, err = measured(corner, found, settings); err != nil {
				return "", err
			}
			kerf = cal.Kerf.Length()
			corner.Kerf, corner.Lead, corner.Fit, corner.Advice = kerf, cal.Lead.Length(), cal.Fit, cal.Do
			if keep && found.Over > 0 {
				lead := shop.Setting{Name: "Lead", Value: shop.ExactLength(corner.Lead, settings.Units.Plain())}
				if _, err := shop.SetSetting(tx, lead, "lead from a test corner"); err != nil {
					return "", err
				}
			}
			unit = settings.Units
			what := fmt.Sprintf("log corner: kerf %s of %s", reports.Words{Unit: unit}.Caliper(cal.Kerf), corner.Blade)
			if err := shop.LogCorner(tx, corner); err != nil || !keep {
				return what, err
			}
			l := shop.KerfLog{Blade: corner.Blade, Kerf: kerf, After: "test corner"}
			kept, err = shop.LogKerf(tx, l, shop.ExactLength(kerf, unit.Plain()), "")
			if err == nil {
				moved, err = c.movedFits(tx)
			}
			kept = append([]string{fmt.Sprintf("kerf of %s noted, after test corner", l.Blade)}, kept...)
			return what + ", kept", err
		})
	})
	if err != nil {
		return err
	}
	w := reports.Words{Unit: unit}
	c.sayf("kerf %s, lead %s, fit %s, %s", w.Caliper(cal.Kerf), w.Caliper(cal.Lead), w.Caliper(cal.Fit), joint.FitClass(cal.Fit))
	c.sayf("do: %s", cal.Do)
	for _, text := range append(kept, moved...) {
		c.sayf("%s", text)
	}
	return nil
}

// measured works a test corner out with the program the shop cuts it with.
func measured(corner shop.Corner, found joint.Corner, s settings.Shop) (joint.Calibration, error) {
	a, err := joint.Solve(joint.Request{Finger: corner.Finger, Heights: []measure.Length{corner.Height}, RowA: measure.Inch / 2, RowB: measure.Inch / 2, Settings: s})
	if err != nil {
		return joint.Calibration{}, exit{exitUsage, err}
	}
	if a.Refused != nil {
		return joint.Calibration{}, refusedJoint(a.Refused)
	}
	cal, err := joint.Measured(a.Best(), found, s)
	if err != nil {
		return cal, exit{exitUsage, err}
	}
	return cal, nil
}
