package workbook

import (
	"fmt"
	"strconv"
	"strings"

	"github.com/xuri/excelize/v2"

	"batchwright/orders/settings"
)

// formula is a cell that reckons by itself. Its value is what the formula gives
// on the figures of the sheet, because not every reader recalculates on opening.
type formula struct {
	text  string // without the equals sign
	value float64
}

// written is a cell for the stream.
func written(c cell, id int) excelize.Cell {
	if f, ok := c.value.(formula); ok {
		return excelize.Cell{StyleID: id, Formula: f.text, Value: f.value}
	}
	return excelize.Cell{StyleID: id, Value: plain(c.value)}
}

// next is the number of the row that is added next.
func (s *sheet) next() int { return len(s.rows) + 1 }

// ref is a cell of this sheet that formulas may name wherever they are copied.
func ref(col, row int) string {
	name, _ := excelize.CoordinatesToCellName(col+1, row, true)
	return name
}

// refOn is a cell of another sheet.
func refOn(sheet string, col, row int) string {
	return "'" + strings.ReplaceAll(sheet, "'", "''") + "'!" + ref(col, row)
}

// halfEven rounds what a formula gives to a whole number, half to even, where
// ROUND alone would round half away from zero.
func halfEven(x string) string {
	return fmt.Sprintf("IF(ABS(%[1]s-INT(%[1]s)-0.5)<0.0000001,INT(%[1]s)+MOD(INT(%[1]s),2),ROUND(%[1]s,0))", x)
}

// toCents rounds a formula in cents to money, half to even.
func toCents(x string) string { return halfEven(x) + "/100" }

// taxInside is the tax in a formula's amount that includes it, half to even.
func taxInside(amount string, r *settings.Rates) string {
	return toCents(fmt.Sprintf("%s*100*%s", amount, insideShare(figureText(r.Tax))))
}

// insideShare is the share that a percentage has in an amount that includes it.
func insideShare(percent string) string { return fmt.Sprintf("(%[1]s/(100+%[1]s))", percent) }

// figureText writes a number as it stands in a formula.
func figureText(f float64) string { return strconv.FormatFloat(f, 'f', -1, 64) }
