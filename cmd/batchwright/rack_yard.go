package main

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"path/filepath"

	"github.com/spf13/cobra"

	"batchwright/jigplan/shop"
	"batchwright/orders"
	"batchwright/orders/intake"
	"batchwright/orders/measure"
	"batchwright/reports"
)

func (c *common) rackYard() *cobra.Command {
	cmd := &cobra.Command{Use: "yard", Short: "Boards that can be bought, for orders without a Yard sheet: import, list, clear"}
	cmd.AddCommand(c.yardImport(), c.yardList(), c.yardClear())
	return group(cmd)
}

func (c *common) yardImport() *cobra.Command {
	cmd := &cobra.Command{
		Use:   "import YARD.xlsx",
		Short: "Keep the boards of a Yard sheet as what can be bought, in place of those before",
		Long: "Reads the Yard sheet of a workbook or a list: what can be bought, with its price (each, or per board foot, square or\n" +
			"cubic meter by its heading) and the day it arrives. An order without a Yard sheet buys from it.",
		Example: "  batchwright rack yard import yard.xlsx",
		Args:    cobra.ExactArgs(1),
		RunE:    func(cmd *cobra.Command, args []string) error { return c.importYard(cmd.Context(), args[0]) },
	}
	c.jsonFlag(cmd)
	return c.shopFlags(cmd, true)
}

func (c *common) importYard(ctx context.Context, path string) error {
	data, err := c.readInput(path)
	if err != nil {
		return err
	}
	h, err := c.shopFor(ctx, 0)
	if err != nil && !errors.Is(err, shop.ErrNoFile) {
		return err
	}
	order, err := intake.ReadYard(path, data, h.settings)
	if err != nil {
		return refuse("%w", err)
	}
	if order.HasErrors() {
		return c.refuseBoards(order.Findings, "nothing was changed: correct the lines above")
	}
	if len(order.Findings) > 0 {
		c.show([]reports.Table{reports.FindingTable(order.Findings)})
	}
	return c.setYard(ctx, order.Yard, "yard of "+filepath.Base(path))
}

func (c *common) yardClear() *cobra.Command {
	cmd := &cobra.Command{
		Use:   "clear",
		Short: "Clear the list of boards that can be bought",
		Args:  cobra.NoArgs,
		RunE: func(cmd *cobra.Command, _ []string) error {
			return c.setYard(cmd.Context(), nil, "yard cleared")
		},
	}
	c.jsonFlag(cmd)
	return c.shopFlags(cmd, true)
}

func (c *common) setYard(ctx context.Context, lines []orders.Board, why string) error {
	var unit measure.Unit
	err := c.changeShop(ctx, func(s *shop.File) error {
		return c.carryOut(ctx, s, func(tx *shop.Tx) (said string, err error) {
			if unit, err = c.shopUnits(tx); err != nil {
				return "", err
			}
			return fmt.Sprintf("%s: %s", why, reports.Counted(len(lines), "line", "lines")), shop.SetYard(tx, lines)
		})
	})
	if err != nil {
		return err
	}
	if err := c.yardShown(lines, unit); err != nil {
		return err
	}
	c.sayf("%s to buy from", reports.Counted(len(lines), "line", "lines"))
	return nil
}

func (c *common) yardList() *cobra.Command {
	cmd := &cobra.Command{
		Use:   "list",
		Short: "List what can be bought",
		Args:  cobra.NoArgs,
		RunE: func(cmd *cobra.Command, _ []string) error {
			var lines []orders.Board
			var unit measure.Unit
			if err := c.readShop(cmd.Context(), func(tx *shop.Tx) (err error) {
				if unit, err = c.shopUnits(tx); err == nil {
					lines, err = shop.Yard(tx)
				}
				return err
			}); err != nil {
				return err
			}
			return c.yardShown(lines, unit)
		},
	}
	c.jsonFlag(cmd)
	return c.shopFlags(cmd, false)
}

type yardJSON struct {
	Version int             `json:"version"`
	Boards  []yardBoardJSON `json:"boards"`
}

type yardBoardJSON struct {
	ID        string         `json:"id"`
	Count     *int           `json:"count"` // null: as many as wanted
	Wood      string         `json:"wood"`
	Class     string         `json:"class"`
	Thickness json.Number    `json:"thickness_mm"` // the true one; 0: the class says
	Length    json.Number    `json:"length_mm"`
	Width     json.Number    `json:"width_mm"`
	Cost      *measure.Money `json:"cost"` // of one board; null: not known
	Arrives   string         `json:"arrives"`
	Place     string         `json:"place"`
}

func (c *common) yardShown(lines []orders.Board, unit measure.Unit) error {
	doc, mm := yardJSON{1, []yardBoardJSON{}}, decimals{}
	t := reports.Table{Head: []string{"Board", "Count", "Wood", "Thick", "Length", "Width", "Price", "Arrives", "Place"}}
	for _, b := range lines {
		j := yardBoardJSON{ID: b.ID, Wood: b.Wood, Class: b.Class, Thickness: mm.of(b.Thickness), Length: mm.of(b.Length),
			Width: mm.of(b.Width), Place: b.Place}
		count, arrives := "any", ""
		if !b.Unlimited {
			count, j.Count = fmt.Sprint(b.Count), &b.Count
		}
		if b.CostKnown {
			j.Cost = &b.Cost
		}
		if !b.Arrives.IsZero() {
			arrives, j.Arrives = unit.Date(b.Arrives), b.Arrives.Format("2006-01-02")
		}
		doc.Boards = append(doc.Boards, j)
		t.Add(b.ID, count, b.Wood, shop.ThicknessText(b, unit), b.Length.ShowUnit(unit), b.Width.ShowUnit(unit), costText(b, unit), arrives, b.Place)
	}
	if err := c.writeJSON(doc); err != nil {
		return err
	}
	if len(lines) > 0 && !c.quiet && c.json != "-" {
		c.show([]reports.Table{t})
	}
	return nil
}
