package intake

import (
	"fmt"
	"slices"

	"github.com/xuri/excelize/v2"

	"batchwright/orders/measure"
	"batchwright/orders/settings"
	"batchwright/orders/woods"
)

// blankRows is how far down a blank sheet is made ready for typing.
const blankRows = 500

// Blank is a blank order workbook as .xlsx bytes: a sheet of headings for each
// kind, drop-downs, one worked line and a page of help. It reads back without
// a problem. Headings carry the unit.
func Blank(units measure.Unit) ([]byte, error) {
	return write(units, blank{title: "How to fill in this order", layouts: []*layout{&boxesLayout, &partsLayout, &rackLayout, &yardLayout, &shopLayout},
		help: orderHelp, headings: []*layout{&boxesLayout, &boardHelp, &shopLayout}, worked: []workedLine{orderLine}})
}

// BlankCatalog is the same for the boxes that may be made for a fair.
func BlankCatalog(units measure.Unit) ([]byte, error) {
	return write(units, blank{title: "How to fill in this catalog", layouts: []*layout{&blankCatalog, &rackLayout, &yardLayout, &shopLayout},
		help: catalogHelp, headings: []*layout{&catalogLayout, &boardHelp, &shopLayout}, worked: catalogLines})
}

func write(units measure.Unit, b blank) ([]byte, error) {
	b.file, b.unit = excelize.NewFile(), units
	if !b.unit.Metric() {
		b.unit = units.In(measure.Inches)
	}
	defer b.file.Close()
	b.styles()
	for i, l := range b.layouts {
		b.sheet(i, l)
	}
	b.workedLines()
	b.writing()
	b.helpPage()
	b.lists()
	b.dropDowns()
	if b.err != nil {
		return nil, b.err
	}
	buf, err := b.file.WriteToBuffer()
	if err != nil {
		return nil, fmt.Errorf("blank order workbook: %w", err)
	}
	return buf.Bytes(), nil
}

// blank is the workbook while it is written; the first error sticks.
type blank struct {
	title    string
	layouts  []*layout // the sheets, what is ordered first
	help     []helpLine
	headings []*layout // whose other spellings the help lists
	worked   []workedLine

	file                 *excelize.File
	unit                 measure.Unit
	head, cell, wrap, h1 int
	err                  error
}

func (b *blank) do(err error) {
	if b.err == nil && err != nil {
		b.err = fmt.Errorf("blank order workbook: %w", err)
	}
}

func (b *blank) style(s excelize.Style) int {
	id, err := b.file.NewStyle(&s)
	b.do(err)
	return id
}

// textFormat keeps a spreadsheet from turning 3/8 into a date.
const textFormat = 49

func (b *blank) styles() {
	const family, size = "Arial", 10 // which every common program has, or a stand-in for
	b.do(b.file.SetDefaultFont(family))
	plain := &excelize.Font{Family: family, Size: size}
	line := []excelize.Border{{Type: "bottom", Color: "000000", Style: 1}}
	b.head = b.style(excelize.Style{Font: &excelize.Font{Bold: true, Family: family, Size: size}, Border: line,
		Fill:      excelize.Fill{Type: "pattern", Pattern: 1, Color: []string{"E6E6E6"}},
		Alignment: &excelize.Alignment{WrapText: true, Vertical: "top"}})
	b.cell = b.style(excelize.Style{NumFmt: textFormat, Font: plain, Alignment: &excelize.Alignment{WrapText: true, Vertical: "top"}})
	b.wrap = b.style(excelize.Style{Font: plain, Alignment: &excelize.Alignment{WrapText: true, Vertical: "top"}})
	b.h1 = b.style(excelize.Style{Font: &excelize.Font{Bold: true, Family: family, Size: 14}})
}

// unitColumns are the columns whose headings carry the unit.
var unitColumns = []string{"Length", "Width", "Height", "Thickness", "End thickness", "Finger", "Height may vary"}

func (b *blank) heading(name string) string {
	if slices.Contains(unitColumns, name) {
		return fmt.Sprintf("%s (%s)", name, b.unit)
	}
	return name
}

var wideColumns = map[string]float64{
	"Box": 18, "Part": 18, "Notes": 30, "Bottom": 20, "Lid": 18, "Defects": 28, "Customer": 18,
	"Wood": 14, "Woods": 18, "Setting": 28, "Value": 16, "Place": 14, "Quantities": 14, "Finish": 12, "Price": 14,
}

func widthOf(column string) float64 {
	if width := wideColumns[column]; width > 0 {
		return width
	}
	return 11
}

func (b *blank) sheet(i int, l *layout) {
	if i == 0 {
		b.do(b.file.SetSheetName("Sheet1", l.name))
	} else {
		_, err := b.file.NewSheet(l.name)
		b.do(err)
	}
	last := columnName(len(l.columns))
	for i, c := range l.columns {
		col := columnName(i + 1)
		b.set(l.name, col+"1", b.heading(c.name))
		b.do(b.file.SetColWidth(l.name, col, col, widthOf(c.name)))
	}
	b.do(b.file.SetCellStyle(l.name, "A2", fmt.Sprintf("%s%d", last, blankRows), b.cell))
	b.do(b.file.SetCellStyle(l.name, "A1", last+"1", b.head))
	b.do(b.file.SetRowHeight(l.name, 1, 2+2*lineHeight)) // "Height may vary (in)" takes two lines
	b.do(b.file.SetPanes(l.name, &excelize.Panes{Freeze: true, YSplit: 1, TopLeftCell: "A2", ActivePane: "bottomLeft"}))
	b.page(l.name)
	b.do(b.file.SetDefinedName(&excelize.DefinedName{Name: "_xlnm.Print_Titles", RefersTo: l.name + "!$1:$1", Scope: l.name}))
}

// page sets a sheet up to print on one page's width.
func (b *blank) page(sheet string) {
	landscape, fit, wide, high := "landscape", true, 1, 0
	b.do(b.file.SetPageLayout(sheet, &excelize.PageLayoutOptions{Orientation: &landscape, FitToWidth: &wide, FitToHeight: &high}))
	b.do(b.file.SetSheetProps(sheet, &excelize.SheetPropsOptions{FitToPage: &fit}))
}

func (b *blank) set(sheet, cell, text string) { b.do(b.file.SetCellStr(sheet, cell, text)) }

// workedLines fill the first lines of the first sheet; they are written over.
func (b *blank) workedLines() {
	first := b.layouts[0]
	for row, line := range b.worked {
		sizes := line.inches
		if b.unit.Metric() {
			sizes = line.metric
		}
		texts, wide := make([]string, len(first.columns)), make([]float64, len(first.columns))
		for i, c := range first.columns {
			texts[i], wide[i] = line.words[c.name]+b.unit.Mark(sizes[c.name]), widthOf(c.name)
			if texts[i] != "" {
				b.set(first.name, cellName(i+1, row+2), texts[i])
			}
		}
		b.do(b.file.SetRowHeight(first.name, row+2, tallEnough(texts, wide)))
	}
}

// writing says on the Shop sheet how this shop writes, where that is not as the
// defaults have it.
func (b *blank) writing() {
	row := 1
	for _, setting := range [][3]string{{"Units", b.unit.String(), "in"}, {"Decimal mark", b.unit.Mark("."), "."}, {"Dates", b.unit.Dates().String(), ""}} {
		if setting[1] != setting[2] {
			row++
			b.set(shopLayout.name, cellName(1, row), setting[0])
			b.set(shopLayout.name, cellName(2, row), setting[1])
		}
	}
}

// listsSheet holds what the drop-downs offer.
const listsSheet = "Lists"

// lists writes woods, classes and settings for the longer drop-downs.
func (b *blank) lists() {
	_, err := b.file.NewSheet(listsSheet)
	b.do(err)
	b.list(1, "Woods", woodNames())
	var classes, shop []string
	for _, c := range b.classes() {
		classes = append(classes, c.Name)
	}
	for _, d := range settings.Definitions {
		shop = append(shop, d.Named(b.unit))
	}
	b.list(2, "Classes", classes)
	b.list(3, "Settings", shop)
	b.do(b.file.SetSheetVisible(listsSheet, false))
}

// classes are offered in the shop's own units.
func (b *blank) classes() []settings.Class {
	s := settings.Default()
	if b.unit.Metric() {
		return s.ClassesOf("27")
	}
	return s.ClassesOf("4/4")
}

func woodNames() []string {
	var out []string
	for _, w := range woods.All {
		out = append(out, w.Name)
	}
	return out
}

func (b *blank) list(col int, name string, values []string) {
	b.set(listsSheet, cellName(col, 1), name)
	for i, v := range values {
		b.set(listsSheet, cellName(col, i+2), v)
	}
}

// dropDowns offers the words of a column. They help and do not forbid: a wood
// or a bottom of one's own can be typed.
func (b *blank) dropDowns() {
	for _, l := range b.layouts {
		for i, c := range l.columns {
			area := fmt.Sprintf("%s2:%s%d", columnName(i+1), columnName(i+1), blankRows)
			switch {
			case c.name == "Wood":
				b.offerList(l.name, area, "A", len(woods.All))
			case c.name == "Class":
				b.offerList(l.name, area, "B", len(b.classes()))
			case c.name == "Setting":
				b.offerList(l.name, area, "C", len(settings.Definitions))
			default:
				b.offer(l.name, area, offers(l, c.name))
			}
		}
	}
}

func offers(l *layout, column string) []string {
	switch column {
	case "Measured":
		return []string{"inside", "outside"}
	case "Bottom":
		return []string{"none", "groove", "rabbet", "nailed"}
	case "Lid":
		return []string{"none", "lift-off", "sliding", "sawn-off", "hinged"}
	case "Unit":
		return []string{"in", "mm", "cm", "ft"}
	case "Grain":
		if l == &partsLayout {
			return []string{"length", "either"}
		}
		return []string{"any", "matched", "four corners"}
	}
	return nil
}

func (b *blank) offer(sheet, area string, words []string) {
	if words == nil {
		return
	}
	v := excelize.NewDataValidation(true)
	v.SetSqref(area)
	b.do(v.SetDropList(words))
	v.ShowErrorMessage = false
	b.do(b.file.AddDataValidation(sheet, v))
}

func (b *blank) offerList(sheet, area, column string, n int) {
	v := excelize.NewDataValidation(true)
	v.SetSqref(area)
	v.SetSqrefDropList(fmt.Sprintf("%s!$%s$2:$%s$%d", listsSheet, column, column, n+1))
	v.ShowErrorMessage = false
	b.do(b.file.AddDataValidation(sheet, v))
}
