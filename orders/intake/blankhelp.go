package intake

import (
	"fmt"
	"strings"

	"batchwright/orders"
	"batchwright/orders/measure"
)

// helpSheet explains the order workbook; it is never read as part of it.
const helpSheet = "Help"

var helpLines = []struct{ what, how string }{
	{"Boxes", "One row is a box size. Box, Count, Length, Width, Height, Measured, Thickness and Wood are the least; the others may stay blank."},
	{"Measured", "inside or outside: what the sizes mean. It has no default, because a wrong guess spoils every board."},
	{"Lengths", "Write them as you say them: 3-1/2, 3 1/2\", 3½, 3.5, 1' 4 3/8\", 89 mm, 8.9 cm. A number alone takes the unit in the heading. Nothing is rounded: what cannot be held exactly is refused with its neighbours."},
	{"Count", "12, 1 doz, 2 pr, or 6+1 spare."},
	{"Same again", "ditto, \" or same as above repeats the cell above."},
	{"Bottom", "groove, rabbet, nailed or none; then thickness and wood: groove 1/4 birch ply."},
	{"Lid", "none, lift-off, sliding, sawn-off or hinged; then thickness and wood."},
	{"Dividers", "2 x 3 is two compartments along the length by three across the width."},
	{"Grain", "Boxes: matched runs the grain round the corners. Parts: length keeps the grain along the length, either lets the part turn."},
	{"Due", "Write dates as 2026-12-05."},
	{"Quantities", "For a quote: 10; 25; 50."},
	{"Parts", "One row is a loose part without a joint."},
	{"Rack", "One row is a size of board on hand. Class (4/4, 5/4, ...) or true thickness, length, and width at the narrow end. A sheet without rows counts as not there."},
	{"Defects", "From the marked end, and across from the marked edge: 18 to 22 (whole width); 40 to 43 across 0 to 1 1/2. Part them with semicolons."},
	{"Yard", "One row is a size of board that can be bought. Price is for one board; for others write the heading Price per board foot, Price per m2 or Price per m3. Count blank: as many as wanted."},
	{"Shop", "One row is a setting that differs from its default. The settings are listed below. A sheet with rows replaces the shop file's settings for this order."},
	{"Check", "batchwright check lists every problem with its sheet and cell before anything is planned."},
	{"Safety", "Follow your machine's manual, local rules and, for electrics and dust, licensed trades. Set up with the blade stopped and isolated; wear eye, ear and dust protection."},
}

func (b *blank) help() {
	_, err := b.file.NewSheet(helpSheet)
	b.do(err)
	b.set(helpSheet, "A1", "How to fill in this order")
	b.do(b.file.SetCellStyle(helpSheet, "A1", "A1", b.h1))
	row := 3
	for _, h := range helpLines {
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
	for _, l := range []*layout{&boxesLayout, &boardHelp, &shopLayout} {
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
