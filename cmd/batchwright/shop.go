package main

import (
	"context"
	"errors"

	"github.com/spf13/cobra"

	"batchwright/jigplan/shop"
	"batchwright/orders/settings"
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
	stored       []shop.Setting
	settings     settings.Shop
	blades, rods []shop.Tool
	profile      shop.Profile
	factors      []shop.Factor
	boards       []shop.RackBoard
}

func (s *shopState) read(tx *shop.Tx) error {
	var errs [7]error
	s.stored, errs[0] = shop.StoredSettings(tx)
	s.settings, errs[1] = shop.Settings(tx, settings.Default())
	s.blades, errs[2] = shop.Blades(tx)
	s.rods, errs[3] = shop.Rods(tx)
	s.profile, errs[4] = shop.LatestProfile(tx)
	s.factors, errs[5] = shop.Calibration(tx)
	s.boards, errs[6] = shop.ListBoards(tx, shop.BoardFilter{})
	return errors.Join(errs[:]...)
}

// readState is the state of the shop, also where there is no shop file yet.
func (c *common) readState(ctx context.Context) (shopState, error) {
	s := shopState{settings: settings.Default()}
	_, named, _ := c.shopPath()
	err := c.readShop(ctx, s.read)
	if errors.Is(err, shop.ErrNoFile) && !named {
		err = nil
	}
	return s, err
}
