package main

import (
	"context"
	"path/filepath"
	"strings"

	"github.com/spf13/cobra"

	"batchwright/jigplan/shop"
	"batchwright/orders"
	"batchwright/orders/intake"
	"batchwright/orders/measure"
	"batchwright/reports"
)

func (c *common) rackCount() *cobra.Command {
	apply := false
	cmd := &cobra.Command{
		Use:   "count RACK.xlsx | BOARD...",
		Short: "Stock-take: what is missing, what is extra",
		Long: "Compares the boards you found, given as a Rack sheet or by name, with the rack. With --apply the free boards\n" +
			"that are missing are taken off the rack, and extra ones of a Rack sheet are added.",
		Args: cobra.MinimumNArgs(1),
		RunE: func(cmd *cobra.Command, args []string) error { return c.countRack(cmd.Context(), args, apply) },
	}
	cmd.Flags().BoolVar(&apply, "apply", false, "make the rack what was found")
	c.jsonFlag(cmd)
	return c.shopFlags(cmd, true)
}

// tallyJSON is a stock-take.
type tallyJSON struct {
	Version int      `json:"version"`
	Found   []string `json:"found"`
	Missing []string `json:"missing"`
	Extra   []string `json:"extra"`
	Back    []string `json:"back"` // found, and thought used up or removed
}

func (c *common) countRack(ctx context.Context, args []string, apply bool) error {
	found, err := c.foundBoards(ctx, args)
	if err != nil {
		return err
	}
	var names []string
	for _, b := range found {
		names = append(names, shop.PhysicalIDs(b.ID, b.Count)...)
	}
	var t shop.RackCount
	if err := c.readShop(ctx, func(tx *shop.Tx) (err error) {
		t, err = shop.CountRack(tx, names)
		return err
	}); err != nil {
		return err
	}
	if err := c.showTally(t); err != nil || !apply {
		return err
	}
	return c.applyTally(ctx, t, found)
}

// foundBoards reads a Rack sheet, or takes the arguments as names.
func (c *common) foundBoards(ctx context.Context, args []string) ([]orders.Board, error) {
	if ext := strings.ToLower(filepath.Ext(args[0])); len(args) > 1 || ext != ".xlsx" && ext != ".xlsm" && ext != ".csv" {
		var out []orders.Board
		for _, id := range args {
			out = append(out, orders.Board{ID: id, Count: 1})
		}
		return out, nil
	}
	data, err := c.readInput(args[0])
	if err != nil {
		return nil, err
	}
	h, err := c.shopFor(ctx, 0)
	if err != nil {
		return nil, err
	}
	order, err := intake.ReadRack(args[0], data, h.settings)
	if err != nil {
		return nil, refuse("%w", err)
	}
	if order.HasErrors() {
		return nil, c.refuseBoards(order.Findings, "nothing was counted: correct the lines above")
	}
	for i := range order.Rack {
		order.Rack[i].From = "stock-take"
	}
	return order.Rack, nil
}

func (c *common) showTally(t shop.RackCount) error {
	doc := tallyJSON{1, append([]string{}, t.Found...), []string{}, append([]string{}, t.Extra...), []string{}}
	table := reports.Table{Head: []string{"Board", "", ""}}
	for _, b := range t.Missing {
		doc.Missing = append(doc.Missing, b.ID)
		table.Add(b.ID, "missing", shop.DescribeBoard(b.Board, measure.Inches)+heldBy(b))
	}
	for _, id := range t.Extra {
		table.Add(id, "extra", "not in the shop file")
	}
	for _, b := range t.Back {
		doc.Back = append(doc.Back, b.ID)
		table.Add(b.ID, "extra", "was thought "+string(b.State)+heldBy(b))
	}
	if err := c.writeJSON(doc); err != nil {
		return err
	}
	if len(table.Rows) > 0 {
		c.show([]reports.Table{table})
	}
	c.sayf("%s found as they should be, %d missing, %d extra", some(len(t.Found), "board"), len(t.Missing), len(t.Extra)+len(t.Back))
	return nil
}

func heldBy(b shop.RackBoard) string {
	if b.Job == 0 {
		return ""
	}
	return ", job " + jobID(b.Job)
}

// applyTally takes missing free boards off and puts found ones on the rack;
// boards that a job holds or used are left to the person to sort out.
func (c *common) applyTally(ctx context.Context, t shop.RackCount, found []orders.Board) error {
	var gone []string
	for _, b := range t.Missing {
		if b.State == shop.BoardReserved {
			c.sayf("board %s is missing and held by job %d: cancel or change the job", b.ID, b.Job)
			continue
		}
		gone = append(gone, b.ID)
	}
	extra := map[string]bool{}
	for _, id := range t.Extra {
		extra[id] = true
	}
	for _, b := range t.Back {
		extra[b.ID] = b.State == shop.BoardRemoved
	}
	var fresh []orders.Board
	for _, b := range found {
		for _, id := range shop.PhysicalIDs(b.ID, b.Count) {
			if one := b; extra[id] && one.Length > 0 {
				one.ID, one.Count = id, 1
				fresh = append(fresh, one)
			}
		}
	}
	var changes []shop.BoardChange
	err := c.changeShop(ctx, func(s *shop.File) error {
		return c.carryOut(ctx, s, func(tx *shop.Tx) (string, error) {
			removed, refused, err := shop.RemoveBoards(tx, gone, "missing at the stock-take of "+c.today().Format("2006-01-02"))
			if err != nil {
				return "", err
			}
			added, more, err := shop.PutBoards(tx, fresh, measure.Inches)
			changes = append(removed, added...)
			if refused = append(refused, more...); err == nil && len(refused) > 0 {
				err = c.refuseBoards(refusedProblems(refused), "nothing was changed")
			}
			return historyOf("stock-take", changes), err
		})
	})
	if err != nil {
		return err
	}
	c.json = "" // the tally stands there already
	return c.changed(changes)
}
