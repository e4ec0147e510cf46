package main

import (
	"context"
	"errors"

	"github.com/spf13/cobra"

	"batchwright/jigplan/kit"
	"batchwright/nesting/rack"
	"batchwright/orders/settings"
	"batchwright/orders/store"
)

func shopCommand(c *common) *cobra.Command {
	cmd := &cobra.Command{Use: "shop", Short: "The shop file: settings, blades, rods; export, backup, restore, verify"}
	cmd.AddCommand(c.shopShow(), c.shopSet(), c.shopExport(), c.shopImport(), c.shopBackup(), c.shopRestore(), c.shopVerify(), c.shopHistory())
	cmd.AddCommand(c.shopTools()...)
	return group(cmd)
}

// shopState is everything editable that the shop file holds, and the rest of
// what shop show prints.
type shopState struct {
	stored       []kit.Setting
	settings     settings.Shop
	blades, rods []kit.Tool
	profile      kit.Profile
	factors      []kit.Factor
	boards       []rack.Board
}

func (s *shopState) read(tx *store.Tx) error {
	var errs [7]error
	s.stored, errs[0] = kit.Stored(tx)
	s.settings, errs[1] = kit.Settings(tx, settings.Default())
	s.blades, errs[2] = kit.Blades(tx)
	s.rods, errs[3] = kit.Rods(tx)
	s.profile, errs[4] = kit.Latest(tx)
	s.factors, errs[5] = kit.Calibration(tx)
	s.boards, errs[6] = rack.List(tx, rack.Filter{})
	return errors.Join(errs[:]...)
}

// readState is the state of the shop, also where there is no shop file yet.
func (c *common) readState(ctx context.Context) (shopState, error) {
	s := shopState{settings: settings.Default()}
	_, named, _ := c.shopPath()
	err := c.readShop(ctx, s.read)
	if errors.Is(err, store.ErrAbsent) && !named {
		err = nil
	}
	return s, err
}
