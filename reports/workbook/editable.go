package workbook

import (
	"fmt"

	"github.com/xuri/excelize/v2"

	"batchwright/orders/measure"
	"batchwright/reports"
)

// Editable is a workbook to be changed and read again: one sheet a table, its
// headings in the first row. Plain numbers in the columns of numbers are numbers,
// whatever the decimal mark; every other cell is a text, so that 3/8 stays 3/8.
func Editable(unit measure.Unit, title string, tables []reports.Table) ([]byte, error) {
	b, err := newBook(unit, title, "")
	if err != nil {
		return nil, err
	}
	head, err := b.file.NewStyle(&excelize.Style{Font: &excelize.Font{Bold: true, Family: font, Size: bodySize},
		Border:    []excelize.Border{{Type: "bottom", Color: "000000", Style: 1}},
		Alignment: &excelize.Alignment{WrapText: true, Vertical: "top"}})
	if err != nil {
		return nil, err
	}
	const asText = 49 // the number format of texts
	cell, err := b.file.NewStyle(&excelize.Style{NumFmt: asText, Font: &excelize.Font{Family: font, Size: bodySize},
		Alignment: &excelize.Alignment{WrapText: true, Vertical: "top"}})
	if err != nil {
		return nil, err
	}
	plain, err := b.file.NewStyle(&excelize.Style{Font: &excelize.Font{Family: font, Size: bodySize}, Alignment: &excelize.Alignment{Vertical: "top"}})
	if err != nil {
		return nil, err
	}
	for _, t := range tables {
		if err := b.editable(t, unit, head, cell, plain); err != nil {
			return nil, fmt.Errorf("sheet %q: %w", t.Title, err)
		}
	}
	return b.bytes()
}

func (b *book) editable(t reports.Table, unit measure.Unit, head, cell, plain int) error {
	name := b.sheetName(t.Title)
	if err := b.open(name); err != nil {
		return err
	}
	s := &sheet{landscape: true, fit: true, widths: make([]float64, len(t.Head)), rows: make([]row, len(t.Rows)+1), repeat: 1, repeatTo: 1}
	if err := b.page(name, s); err != nil {
		return err
	}
	w, err := b.file.NewStreamWriter(name)
	if err != nil {
		return err
	}
	for i := len(t.Head); i > 0; i-- {
		if err := w.SetColWidth(i, i, textWidth(t, i-1)); err != nil {
			return err
		}
	}
	if err := w.SetPanes(&excelize.Panes{Freeze: true, YSplit: 1, TopLeftCell: "A2", ActivePane: "bottomLeft"}); err != nil {
		return err
	}
	if err := w.SetRow("A1", texts(t.Head, head)); err != nil {
		return err
	}
	for i, r := range t.Rows {
		cells := texts(r, cell)
		for _, k := range t.Numbers {
			if f, err := (measure.Reading{DecimalComma: unit.Comma()}).Number(r[k]); err == nil {
				cells[k] = excelize.Cell{StyleID: plain, Value: f}
			}
		}
		if err := w.SetRow(fmt.Sprintf("A%d", i+2), cells); err != nil {
			return err
		}
	}
	return w.Flush()
}

func texts(row []string, style int) []any {
	out := make([]any, len(row))
	for i, text := range row {
		out[i] = excelize.Cell{StyleID: style, Value: cut(text)}
	}
	return out
}

// textWidth is as wide as the column's longest text, within reason.
func textWidth(t reports.Table, col int) float64 {
	longest := len(t.Head[col])
	for _, r := range t.Rows {
		longest = max(longest, len(r[col]))
	}
	return float64(min(max(longest, 7), 40) + 2)
}
