package main

import (
	"context"
	"errors"
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"batchwright/jigplan/shop"
	"batchwright/orders"
	"batchwright/orders/measure"
	"batchwright/reports"
	"batchwright/reports/workbook"
)

func (c *common) rackList() *cobra.Command {
	var f shop.BoardFilter
	var length, width, state string
	cmd := &cobra.Command{
		Use:   "list",
		Short: "List the boards: on the screen, as JSON, or as a workbook to change and import again",
		Args:  cobra.NoArgs,
		RunE: func(cmd *cobra.Command, _ []string) error {
			f.State = shop.BoardState(state)
			var err1, err2 error
			f.MinLength, err1 = c.lengthFlag("min-length", length)
			f.MinWidth, err2 = c.lengthFlag("min-width", width)
			if err := errors.Join(err1, err2); err != nil {
				return exit{exitUsage, err}
			}
			return c.listRack(cmd.Context(), f)
		},
	}
	cmd.Flags().StringVar(&f.Wood, "wood", "", "only boards of this wood")
	cmd.Flags().StringVar(&f.Class, "class", "", "only boards of this class, such as 4/4")
	cmd.Flags().StringVar(&length, "min-length", "", "only boards at least so long")
	cmd.Flags().StringVar(&width, "min-width", "", "only boards at least so wide")
	cmd.Flags().StringVar(&state, "state", "", "only boards that are free, reserved, used or removed")
	cmd.Flags().BoolVar(&f.All, "all", false, "used and removed boards as well")
	outputFlag(cmd, &c.output, "output", "o", "write the list as a workbook to `FILE`")
	c.jsonFlag(cmd)
	return c.shopFlags(cmd, false)
}

func (c *common) listRack(ctx context.Context, f shop.BoardFilter) error {
	var found []shop.RackBoard
	unit := measure.Inches
	if err := c.readShop(ctx, func(tx *shop.Tx) (err error) {
		if unit, err = c.shopUnits(tx); err != nil {
			return err
		}
		found, err = shop.ListBoards(tx, f)
		return err
	}); err != nil {
		return err
	}
	if err := c.writeRack(found); err != nil {
		return err
	}
	if c.output != "" {
		book, err := workbook.Editable(unit, "Boards on hand", []reports.Table{rackSheet(found, unit)})
		if err != nil {
			return refuse("cannot make the workbook: %w", err)
		}
		written, err := c.write(c.output, book)
		if err != nil {
			return err
		}
		c.sayf("wrote %s", written)
	}
	if !c.quiet && c.json != "-" {
		c.show([]reports.Table{rackTable(found, unit)})
	}
	return nil
}

// rackTable is the rack on the screen.
func rackTable(found []shop.RackBoard, unit measure.Unit) reports.Table {
	t := reports.Table{Head: []string{"Board", "State", "Wood", "Thick", "Length", "Width", "Cost", "Place", "Defects", "From"}}
	for _, b := range found {
		state := string(b.State)
		if b.Job != 0 {
			state += fmt.Sprintf(", job %d", b.Job)
		}
		t.Add(b.ID, state, b.Wood, shop.ThicknessText(b.Board, unit), b.Length.ShowUnit(unit), b.Width.ShowUnit(unit), costText(b.Board, unit), b.Place, shop.DefectsText(b.Board, unit), b.From)
	}
	return t
}

// rackSheet is the rack as a sheet that reads back to the same boards. Metric
// lengths are numbers under a heading that says the unit; inches are texts, as
// fractions are.
func rackSheet(found []shop.RackBoard, unit measure.Unit) reports.Table {
	in := func(heading string) string { return headed(heading, unit) }
	t := reports.Table{Title: "Rack", Head: []string{"Board", "Count", "Wood", "Class", in("Thickness"), in("Length"), in("Width"), "Cost", "Defects",
		"Place", in("Wide end"), "Grain tag", "Moisture", "As listed"}, Numbers: []int{1, 4, 5, 6, 7, 10, 12}}
	for _, b := range found {
		thick, wide, moist := "", "", ""
		if b.Thickness > 0 {
			thick = written(b.Thickness, unit)
		}
		if b.WideEnd > 0 {
			wide = written(b.WideEnd, unit)
		}
		if b.Moisture > 0 {
			moist = unit.Number(b.Moisture, -1)
		}
		t.Add(b.ID, 1, b.Wood, b.Class, thick, written(b.Length, unit), written(b.Width, unit), costText(b.Board, unit),
			shop.DefectsText(b.Board, unit), b.Place, wide, b.GrainTag, moist, shop.BoardListed(b.Board))
	}
	return t
}

// headed is a heading of lengths: "Length (mm)" where they are numbers.
func headed(heading string, unit measure.Unit) string {
	if unit.Metric() {
		return heading + " (mm)"
	}
	return heading
}

// written is a length as a sheet to be read again has it, exactly.
func written(l measure.Length, unit measure.Unit) string {
	text := shop.ExactLength(l, unit)
	if unit.Metric() {
		text = strings.TrimSuffix(text, " mm")
	}
	return text
}

func costText(b orders.Board, unit measure.Unit) string {
	if !b.CostKnown {
		return ""
	}
	return b.Cost.In(unit)
}

// shopUnits is how lengths are printed: as --units says, else as the shop does.
func (c *common) shopUnits(tx *shop.Tx) (measure.Unit, error) {
	base, err := c.settings()
	if err != nil || c.units != "" {
		return base.Units, err
	}
	s, err := shop.Settings(tx, base)
	return s.Units, err
}
