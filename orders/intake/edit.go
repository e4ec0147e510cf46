package intake

import (
	"bytes"
	"errors"
	"fmt"
	"path/filepath"
	"strings"

	"github.com/xuri/excelize/v2"

	"batchwright/orders"
	"batchwright/orders/settings"
)

// ReadEdited reads an order as Read does, as if somebody had made the edits in
// the file first. The file stays as it is.
func ReadEdited(name string, data []byte, base settings.Shop, edits []orders.Edit) (*orders.Order, error) {
	return read(name, data, base, func(b *book) { b.edit(edits) })
}

// edit changes cells; a setting becomes a row of its own on a sheet Shop.
func (b *book) edit(edits []orders.Edit) {
	for _, e := range edits {
		if e.Cell == "" {
			b.addSetting(e)
			continue
		}
		col, num, ok := parseRef(e.Cell)
		for _, s := range b.sheets {
			if !ok || s.name != e.Sheet {
				continue
			}
			for i := range s.rows {
				if c := s.rows[i].at(col); c != nil && s.rows[i].num == num {
					*c = cell{col: col, kind: textCell, text: e.To}
				}
			}
		}
	}
}

func (b *book) addSetting(e orders.Edit) {
	for _, s := range b.sheets {
		if strings.EqualFold(s.name, shopSheet) && len(s.rows) > 0 {
			last := s.rows[len(s.rows)-1].num
			s.rows = append(s.rows, row{num: last + 1, cells: []cell{{col: 1, text: e.Column}, {col: 2, text: e.To}}})
			return
		}
	}
	b.sheets = append(b.sheets, &sheet{name: shopSheet, rows: []row{
		{num: 1, cells: []cell{{col: 1, text: "Setting"}, {col: 2, text: "Value"}}},
		{num: 2, cells: []cell{{col: 1, text: e.Column}, {col: 2, text: e.To}}},
	}})
}

const shopSheet = "Shop"

// Edited is the order workbook with the edits made. Changed cells are filled
// and carry a note of what they said before. A list becomes a workbook.
func Edited(name string, data []byte, edits []orders.Edit) ([]byte, error) {
	f, err := workbookOf(name, data)
	if err != nil {
		return nil, err
	}
	defer func() { _ = f.Close() }()
	mark, err := f.NewStyle(&excelize.Style{Fill: excelize.Fill{Type: "pattern", Color: []string{"FFF2A8"}, Pattern: 1}})
	if err != nil {
		return nil, err
	}
	for _, e := range edits {
		if err := editCell(f, e, mark); err != nil {
			return nil, fmt.Errorf("change %s: %w", e.Place(), err)
		}
	}
	var out bytes.Buffer
	err = f.Write(&out)
	return out.Bytes(), err
}

// workbookOf opens an order for changes; a list is laid out cell by cell.
func workbookOf(name string, data []byte) (*excelize.File, error) {
	b, err := open(filepath.Base(name), data)
	if err != nil {
		return nil, err
	}
	if !b.csv {
		return excelize.OpenReader(bytes.NewReader(data), excelize.Options{UnzipSizeLimit: maxXML, UnzipXMLSizeLimit: maxXML})
	}
	f := excelize.NewFile()
	if err := f.SetSheetName("Sheet1", b.sheets[0].name); err != nil {
		return nil, err
	}
	for _, r := range b.sheets[0].rows {
		for _, c := range r.cells {
			if err := f.SetCellStr(b.sheets[0].name, cellName(c.col, r.num), c.text); err != nil {
				return nil, err
			}
		}
	}
	return f, nil
}

func editCell(f *excelize.File, e orders.Edit, mark int) error {
	if e.Cell == "" {
		var err error
		if e, err = settingRow(f, e); err != nil {
			return err
		}
	}
	note := "before: " + e.From
	if e.From == "" {
		note = "before: blank"
	}
	return errors.Join(
		f.SetCellStr(e.Sheet, e.Cell, e.To),
		f.SetCellStyle(e.Sheet, e.Cell, e.Cell, mark),
		f.AddComment(e.Sheet, excelize.Comment{Cell: e.Cell, Author: "batchwright", Text: note}))
}

// settingRow writes the name of a setting below the last row of the sheet Shop
// and gives the cell of its value.
func settingRow(f *excelize.File, e orders.Edit) (orders.Edit, error) {
	sheet := ""
	for _, name := range f.GetSheetList() {
		if strings.EqualFold(name, shopSheet) {
			sheet = name
		}
	}
	if sheet == "" {
		if _, err := f.NewSheet(shopSheet); err != nil {
			return e, err
		}
		sheet = shopSheet
		if err := f.SetSheetRow(sheet, "A1", &[]string{"Setting", "Value"}); err != nil {
			return e, err
		}
	}
	rows, err := f.GetRows(sheet)
	if err != nil {
		return e, err
	}
	e.Sheet, e.Cell = sheet, cellName(2, len(rows)+1)
	return e, f.SetCellStr(sheet, cellName(1, len(rows)+1), e.Column)
}
