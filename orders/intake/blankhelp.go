package intake

import (
	"fmt"
	"math"
	"strings"
	"unicode/utf8"

	"batchwright/orders/measure"
	"batchwright/orders/settings"
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
		how := h.how
		if h.metric != "" {
			how = b.unit.Either(how, h.metric)
		}
		b.helpRow(row, h.what, how)
		row++
	}
	row = b.headingHelp(row + 1)
	b.settingHelp(row + 1)
	for i, width := range helpWidths {
		b.do(b.file.SetColWidth(helpSheet, columnName(i+1), columnName(i+1), width))
	}
	b.page(helpSheet)
}

// helpRow writes a row as high as its texts need: not every program makes room
// for text that is broken into lines. Two texts have the whole page.
func (b *blank) helpRow(row int, texts ...string) {
	wide := helpWidths
	if len(texts) == 2 {
		wide = []float64{helpWidths[0], sumOf(helpWidths[1:])}
		b.do(b.file.MergeCell(helpSheet, cellName(2, row), cellName(len(helpWidths), row)))
	}
	for i, t := range texts {
		b.set(helpSheet, cellName(i+1, row), t)
	}
	b.do(b.file.SetCellStyle(helpSheet, cellName(1, row), cellName(len(helpWidths), row), b.wrap))
	b.do(b.file.SetRowHeight(helpSheet, row, tallEnough(texts, wide)))
}

// helpWidths are the columns of the help page, in characters.
var helpWidths = []float64{26, 62, 14, 10, 34}

// lineHeight is a line of the body text, in points.
const lineHeight = 13.5

// tallEnough is the height in points of a row of texts in columns so wide.
func tallEnough(texts []string, wide []float64) float64 {
	lines := 1.0
	for i, t := range texts {
		lines = max(lines, math.Ceil(float64(utf8.RuneCountInString(t))/wide[i]))
	}
	return 2 + lineHeight*lines
}

func sumOf(list []float64) (sum float64) {
	for _, v := range list {
		sum += v
	}
	return sum
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
	for _, d := range settings.Definitions {
		row++
		b.helpRow(row, d.Named(b.unit), d.HelpIn(b.unit), d.DefaultIn(b.unit), d.UnitIn(b.unit), d.Origin)
	}
	b.helpRow(row+1, "Edge origin "+b.unit.Either("1/2", "6"), "Edge origin for that finger alone", "", "turns", "")
	b.helpRow(row+2, "Cost of walnut", "Money for a "+b.unit.Either("board foot", "cubic meter")+" of that wood; say another measure with it: "+b.unit.Mark("9.50")+" per m2, per m3, each", "", "", "")
	b.helpRow(row+4, "Exactness", fmt.Sprintf("Lengths are stored in steps of 1/%d mm, so %s exact.", int64(measure.Millimetre), b.unit.Either("1/256 in, 0.0001 in and 0.001 mm are", "0.001 mm is")))
}
