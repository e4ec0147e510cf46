package main

import (
	"context"
	"errors"
	"path/filepath"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"batchwright/jigplan/shop"
	"batchwright/orders/intake"
	"batchwright/reports"
	"batchwright/reports/workbook"
)

func (c *common) shopExport() *cobra.Command {
	cmd := &cobra.Command{
		Use: "export FILE.xlsx", Short: "Write everything that can be edited as one workbook", Args: cobra.ExactArgs(1),
		RunE: func(cmd *cobra.Command, args []string) error {
			s, err := c.readState(cmd.Context())
			if err != nil {
				return err
			}
			book, err := s.book()
			if err != nil {
				return refuse("cannot make the workbook: %w", err)
			}
			written, err := c.write(args[0], book)
			if err == nil {
				c.sayf("wrote %s: change it, then batchwright shop import %s", written, written)
			}
			return err
		},
	}
	writesArgument(cmd)
	return c.shopFlags(cmd, false)
}

func (s *shopState) book() ([]byte, error) {
	unit := s.settings.Units
	blades := reports.Table{Title: "Blades", Head: []string{"Blade", headed("Kerf", unit), "In use", "Notes"}, Numbers: []int{1}}
	for _, b := range s.blades {
		blades.Add(b.Name, written(b.Size, unit), yesNo(b.InUse), b.Note)
	}
	rods := reports.Table{Title: "Rods", Head: []string{"Rod", headed("Lead", unit), "In use", "Notes"}, Numbers: []int{1}}
	for _, r := range s.rods {
		lead := ""
		if r.Size > 0 {
			lead = written(r.Size, unit)
		}
		rods.Add(r.Name, lead, yesNo(r.InUse), r.Note)
	}
	return workbook.Editable(unit, "The shop", []reports.Table{s.sheet(false), rackSheet(s.boards, unit), blades, rods})
}

func yesNo(yes bool) string { return map[bool]string{true: "yes", false: "no"}[yes] }

func (c *common) shopImport() *cobra.Command {
	cmd := &cobra.Command{
		Use: "import FILE.xlsx", Short: "Set settings, blades, rods and boards from the workbook", Args: cobra.ExactArgs(1),
		Long: "Reads what shop export wrote, changed or not. A setting without a value returns to its default. Boards are added and\n" +
			"corrected, never removed. Nothing is changed when anything is wrong.",
		RunE: func(cmd *cobra.Command, args []string) error { return c.importShop(cmd.Context(), args[0]) },
	}
	return c.shopFlags(cmd, true)
}

func (c *common) importShop(ctx context.Context, path string) error {
	data, err := c.readInput(path)
	if err != nil {
		return err
	}
	base, err := c.settings()
	if err != nil {
		return err
	}
	book, err := intake.ReadShopBook(path, data, base)
	if err != nil {
		return refuse("%w", err)
	}
	if book.Order.HasErrors() {
		return c.refuseBoards(book.Order.Findings, "nothing was changed: correct the cells above")
	}
	for i := range book.Order.Rack {
		book.Order.Rack[i].From = "import of " + filepath.Base(path)
	}
	var changes []string
	err = c.changeShop(ctx, func(s *shop.File) error {
		return c.carryOut(ctx, s, func(tx *shop.Tx) (string, error) {
			changes, err = c.replaceShop(tx, book)
			return spoken("shop import of "+filepath.Base(path), changes), err
		})
	})
	if err != nil {
		return err
	}
	return c.saidChanges(changes)
}

// replaceShop carries out an import in the transaction given.
func (c *common) replaceShop(tx *shop.Tx, book intake.ShopBook) (changes []string, err error) {
	note := func(more []string, e error) {
		changes, err = append(changes, more...), errors.Join(err, e)
	}
	if book.HasShop {
		var rows []shop.Setting
		for _, r := range book.Settings {
			rows = slices.DeleteFunc(rows, func(s shop.Setting) bool { return s.Name == r.Name })
			rows = append(rows, shop.Setting{Name: r.Name, Value: r.Value, Unit: r.Unit})
		}
		note(shop.ReplaceSettings(tx, rows, "shop import"))
	}
	if book.HasBlades {
		note(shop.ReplaceBlades(tx, toolsOf(book.Blades)))
	}
	if book.HasRods {
		note(shop.ReplaceRods(tx, toolsOf(book.Rods)))
	}
	boards, refused, e := shop.PutBoards(tx, book.Order.Rack, book.Order.Settings.Units)
	if e == nil && len(refused) > 0 {
		e = c.refuseBoards(refusedProblems(refused), "nothing was changed")
	}
	for _, b := range boards {
		changes = append(changes, strings.TrimSpace("board "+b.ID+" "+b.What+": "+b.How))
	}
	return changes, errors.Join(err, e)
}

func toolsOf(rows []intake.Tool) (out []shop.Tool) {
	for _, t := range rows {
		out = append(out, shop.Tool{Name: t.Name, Size: t.Size, InUse: t.InUse, Note: t.Note})
	}
	return out
}
