package main

import (
	"context"
	"fmt"

	"github.com/spf13/cobra"

	"batchwright/jigplan/shop"
	"batchwright/orders/measure"
)

func (c *common) logKerf() *cobra.Command {
	blade, after, note := "", "", ""
	cmd := &cobra.Command{
		Use:   "kerf KERF",
		Short: "Note a kerf as measured: the next programs are made with it",
		Args:  cobra.ExactArgs(1),
		RunE: func(cmd *cobra.Command, args []string) error {
			return c.keepKerf(cmd.Context(), args[0], shop.KerfLog{Blade: blade, After: after, Note: note})
		},
	}
	cmd.Flags().StringVar(&blade, "blade", "", "of this blade (default the one in use)")
	cmd.Flags().StringVar(&after, "after", "sharpening", "why it was measured: sharpening, new, test corner")
	cmd.Flags().StringVar(&note, "note", "", "a remark")
	return c.shopFlags(cmd, true)
}

func (c *common) keepKerf(ctx context.Context, text string, l shop.KerfLog) error {
	var changes, moved []string
	err := c.changeShop(ctx, func(s *shop.File) error {
		return c.carryOut(ctx, s, func(tx *shop.Tx) (string, error) {
			settings, err := c.settingsIn(tx)
			if err != nil {
				return "", err
			}
			if l.Kerf, err = measure.Parse(text, settings.Reading()); err != nil {
				return "", exit{exitUsage, fmt.Errorf("the kerf: %w", err)}
			}
			if l.Kerf <= 0 || l.Kerf > measure.Inch/2 {
				return "", exit{exitUsage, fmt.Errorf("a kerf of %s is not possible", l.Kerf.ShowUnit(settings.Units))}
			}
			if l.Blade == "" {
				if l.Blade, err = shop.BladeInUse(tx); err != nil {
					return "", err
				}
			}
			if changes, err = shop.LogKerf(tx, l, shop.ExactLength(l.Kerf, settings.Units.Plain()), ""); err != nil {
				return "", err
			}
			moved, err = c.movedFits(tx)
			return fmt.Sprintf("log kerf: %s of %s after %s", shop.ExactLength(l.Kerf, settings.Units), l.Blade, l.After), err
		})
	})
	if err != nil {
		return err
	}
	c.sayf("kerf of %s noted, after %s", l.Blade, l.After)
	for _, text := range append(changes, moved...) {
		c.sayf("%s", text)
	}
	return nil
}

// movedFits says of every open job what the shop's blade and rod, as they are
// now, do to its fits; one that leaves its class or what the shop accepts is a
// warning.
func (c *common) movedFits(tx *shop.Tx) (out []string, err error) {
	settings, err := c.settingsIn(tx)
	if err != nil {
		return nil, err
	}
	open, err := shop.Jobs(tx, shop.JobOpen)
	if err != nil {
		return nil, err
	}
	for _, j := range open {
		plans, err := shop.PlansInForce(tx, j.ID)
		if err != nil {
			return nil, err
		}
		for _, p := range plans {
			if p.Order.Settings.OwnJig() {
				continue // its own jig, not the shop's
			}
			for _, d := range drifts(p.Programs, &settings) {
				word := map[bool]string{true: "warning", false: "note"}[d.alarm]
				out = append(out, fmt.Sprintf("%s: job %d, %s", word, j.ID, d.text))
			}
		}
	}
	return out, nil
}
