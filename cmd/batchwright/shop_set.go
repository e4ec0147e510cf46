package main

import (
	"strings"

	"github.com/spf13/cobra"

	"batchwright/jigplan/kit"
	"batchwright/orders/settings"
	"batchwright/orders/store"
)

func (c *common) shopSet() *cobra.Command {
	cmd := &cobra.Command{
		Use: "set SETTING VALUE", Short: "Change one setting, such as: shop set \"Carriage opening\" 5", Args: cobra.ExactArgs(2),
		RunE: func(cmd *cobra.Command, args []string) error {
			name, ok := settings.NameOf(args[0])
			if !ok {
				probe := settings.Default()
				return refuse("%w; shop show --all lists them", probe.Set(args[0], args[1], settings.Entry{}))
			}
			var changes []string
			err := c.changeShop(cmd.Context(), func(s *store.Shop) error {
				return c.carryOut(cmd.Context(), s, func(tx *store.Tx) (what string, err error) {
					changes, err = kit.Set(tx, kit.Setting{Name: name, Value: args[1]}, "shop set")
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

// spoken words changes for the history; none are nothing to keep.
func spoken(why string, changes []string) string {
	if len(changes) == 0 {
		return ""
	}
	return why + ": " + strings.Join(changes, "; ")
}

func (c *common) saidChanges(changes []string) error {
	if len(changes) == 0 {
		c.sayf("nothing to change: it is so already")
	}
	for _, change := range changes {
		c.sayf("%s", change)
	}
	return nil
}
