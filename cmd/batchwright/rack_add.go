package main

import (
	"bytes"
	"context"
	"encoding/csv"
	"errors"
	"fmt"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"batchwright/jigplan/shop"
	"batchwright/orders"
)

// addColumns are the flags of rack add, each a column of the Rack sheet.
var addColumns = []struct{ flag, column, help string }{
	{"count", "Count", "how many of the same size"},
	{"wood", "Wood", "the wood"},
	{"class", "Class", "the class, such as 4/4"},
	{"thickness", "Thickness", "the true thickness"},
	{"length", "Length", "the length"},
	{"width", "Width", "the width, at the narrow end"},
	{"wide-end", "Wide end", "the width at the wide end of a tapered board"},
	{"cost", "Cost", "what one board cost"},
	{"defects", "Defects", "defects, such as \"18 to 22; 40 to 43 across 0 to 1 1/2\""},
	{"place", "Place", "where it lies"},
	{"grain", "Grain tag", "a word for its grain, or the log it is from"},
	{"moisture", "Moisture", "its moisture in percent"},
}

func (c *common) rackAdd() *cobra.Command {
	values := make([]string, len(addColumns))
	cmd := &cobra.Command{
		Use:   "add BOARD",
		Short: "Add one board, or several of one size",
		Args:  cobra.ExactArgs(1),
		RunE:  func(cmd *cobra.Command, args []string) error { return c.addBoard(cmd.Context(), args[0], values) },
	}
	for i, column := range addColumns {
		cmd.Flags().StringVar(&values[i], column.flag, map[bool]string{true: "1"}[column.flag == "count"], column.help)
	}
	c.jsonFlag(cmd)
	return c.shopFlags(cmd, true)
}

// addBoard writes the flags as a line of a list, so that they are read, and
// faults are said, as on a Rack sheet. A name that is known is refused.
func (c *common) addBoard(ctx context.Context, id string, values []string) error {
	head, line := []string{"Board"}, []string{id}
	for i, column := range addColumns {
		if values[i] != "" {
			head, line = append(head, column.column), append(line, values[i])
		}
	}
	for _, needed := range []string{"Wood", "Length", "Width"} {
		if !slices.Contains(head, needed) {
			return exit{exitUsage, fmt.Errorf("--%s is missing", strings.ToLower(needed))}
		}
	}
	if old, err := c.findBoard(ctx, id); err != nil {
		return err
	} else if old != nil {
		return refuse("board %s already exists (%s): choose another name, or correct it with rack import", id, old.State)
	}
	var list bytes.Buffer
	w := csv.NewWriter(&list)
	if err := w.WriteAll([][]string{head, line}); err != nil {
		return err
	}
	return c.putBoards(ctx, "rack add.csv", list.Bytes(), addedByHand)
}

func (c *common) findBoard(ctx context.Context, id string) (b *shop.RackBoard, err error) {
	err = c.readShop(ctx, func(tx *shop.Tx) (err error) {
		b, err = shop.FindBoard(tx, id)
		return err
	})
	if errors.Is(err, shop.ErrNoFile) {
		return nil, nil
	}
	return b, err
}

// addedByHand is where a board comes from that was typed at the command line.
const addedByHand = "rack add"

// nameOptions has findings about a typed board name the option, not a cell of a
// list nobody sees.
func nameOptions(problems []orders.Finding, list []byte) {
	head, err := csv.NewReader(bytes.NewReader(list)).Read()
	if err != nil {
		return
	}
	for i := range problems {
		cell := problems[i].Cell
		if cell == "" || cell[0] < 'A' || int(cell[0]-'A') >= len(head) {
			continue
		}
		problems[i].Source = orders.Source{Sheet: "BOARD"}
		for _, column := range addColumns {
			if column.column == head[cell[0]-'A'] {
				problems[i].Source.Sheet = "--" + column.flag
			}
		}
	}
}
