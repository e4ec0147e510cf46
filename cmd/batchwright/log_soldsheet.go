package main

import (
	"path/filepath"
	"slices"
	"strings"

	"batchwright/orders"
	"batchwright/orders/intake"
)

// isSoldSheet reports whether log sold was given a workbook, not boxes.
func isSoldSheet(args []string) bool {
	return len(args) == 1 && slices.Contains([]string{".xlsx", ".xlsm", ".csv"}, strings.ToLower(filepath.Ext(args[0])))
}

// soldSheet reads what was sold from the page Sold of a fair's workbook.
func (c *common) soldSheet(path string) ([]soldWord, error) {
	data, err := c.readInput(path)
	if err != nil {
		return nil, err
	}
	rows, problems, err := intake.ReadSold(path, data)
	if err != nil {
		return nil, refuse("%w", err)
	}
	if len(problems) > 0 {
		c.show(problemTables(problems))
	}
	if slices.ContainsFunc(problems, func(p orders.Finding) bool { return p.Level == orders.Error }) {
		return nil, refuse("%s has errors: nothing was noted", filepath.Base(path))
	}
	var words []soldWord
	for _, r := range rows {
		words = append(words, soldWord{text: r.Source.String(), box: r.Box, wood: r.Wood, n: r.Sold, brought: r.Brought})
	}
	if len(words) == 0 {
		return nil, refuse("the sheet Sold of %s is empty: write Sold or Left for each box", filepath.Base(path))
	}
	return words, nil
}
