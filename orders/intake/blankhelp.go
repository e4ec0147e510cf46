package intake

import (
	"fmt"
	"strings"

	"batchwright/orders"
	"batchwright/orders/measure"
)

// helpSheet explains the workbook; it is never read as part of it.
const helpSheet = "Help"

func (b *blank) helpPage() {
	_, err := b.file.NewSheet(helpSheet)
	b.do(err)
	b.set(helpSheet, "A1", b.title)
	b.do(b.file.SetCellStyle(helpSheet, "A1", "A1", b.h1))
	row := 3
	for _, h := range b.help {
		b.helpRow(row, h.what, h.how)
		row++
	}
	row = b.headingHelp(row + 1)
	b.settingHelp(row + 1)
	for col, width := range map[string]float64{"A": 26, "B": 62, "C": 14, "D": 10, "E": 34} {
		b.do(b.file.SetColWidth(helpSheet, col, col, width))
	}
	b.page(helpSheet)
}

func (b *blank) helpRow(row int, texts ...string) {
	for i, t := range texts {
		b.set(helpSheet, cellName(i+1, row), t)
	}
	b.do(b.file.SetCellStyle(helpSheet, cellName(1, row), cellName(max(len(texts), 2), row), b.wrap))
}

// headingHelp lists what other headings are understood.
func (b *blank) headingHelp(row int) int {
	b.helpRow(row, "Headings", "Any row, any order, any case. These are understood besides the column's own name:")
	for _, l := range b.headings {
		for _, c := range l.columns {
			row++
			b.helpRow(row, l.name+": "+c.name, strings.ReplaceAll(c.others, "|", ", "))
		}
	}
	return row + 1
}

// boardHelp stands for Rack and Yard, whose columns are nearly the same.
var boardHelp = newLayout("Rack, Yard", "", yardColumns)

func (b *blank) settingHelp(row int) {
	for i, t := range []string{"Setting", "What it is", "Default", "Unit", "Where the default is from"} {
		b.set(helpSheet, cellName(i+1, row), t)
	}
	b.do(b.file.SetCellStyle(helpSheet, cellName(1, row), cellName(5, row), b.head))
	for _, d := range orders.Definitions {
		row++
		b.helpRow(row, d.Name, d.Help, d.Default, d.Unit, d.Origin)
	}
	b.helpRow(row+1, "Edge origin 1/2", "Edge origin for that finger alone", "", "turns", "")
	b.helpRow(row+2, "Cost of walnut", "Money for a board foot of that wood", "", "", "")
	b.helpRow(row+4, "Exactness", fmt.Sprintf("Lengths are whole counts of 1/%d mm, so 1/256 in, 0.0001 in and 0.001 mm are exact.", int64(measure.Millimetre)))
}
