package main

import (
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"batchwright/jigplan/shop"
	"batchwright/orders/settings"
)

func (c *common) shopSet() *cobra.Command {
	cmd := &cobra.Command{
		Use: "set SETTING VALUE", Short: "Change one setting, such as: shop set \"Carriage opening\" 5", Args: cobra.ExactArgs(2),
		RunE: func(cmd *cobra.Command, args []string) error {
			name, near := settings.Match(args[0])
			if name == "" {
				return exit{exitUsage, fmt.Errorf("there is no setting %q. The nearest are: %s. \"batchwright help settings\" lists all of them", args[0], strings.Join(near, "; "))}
			}
			var changes []string
			err := c.changeShop(cmd.Context(), func(s *shop.File) error {
				return c.carryOut(cmd.Context(), s, func(tx *shop.Tx) (what string, err error) {
					s, err := shop.Settings(tx, settings.Default())
					if err != nil {
						return "", err
					}
					changes, err = shop.SetSetting(tx, shop.Setting{Name: name, Value: settings.StoredValue(spelt(name, args[0]), args[1], &s)}, "shop set")
					return spoken("shop set", changes), err
				})
			})
			if err != nil {
				return err
			}
			return c.saidChanges(changes)
		},
	}
	return c.shopFlags(cmd, true)
}

// spelt is the name a value is read by: that of a time for a metre says so.
func spelt(name, written string) string {
	if d, ok := settings.Find(written); ok && d.PerMeter(written) {
		return d.MetricName
	}
	return name
}

// spoken words changes for the history; none are nothing to keep.
func spoken(why string, changes []string) string {
	if len(changes) == 0 {
		return ""
	}
	return why + ": " + strings.Join(changes, "; ")
}

func (c *common) saidChanges(changes []string) error {
	if len(changes) == 0 {
		c.sayf("nothing to change: it is already set so")
	}
	for _, change := range changes {
		c.sayf("%s", change)
	}
	return nil
}
