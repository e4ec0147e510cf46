package intake

import (
	"archive/zip"
	"bytes"
	"errors"
	"fmt"
	"strings"
	"testing"

	"batchwright/orders"
	"batchwright/orders/settings"
)

// Fuzzing a whole workbook mostly spoils its compression, and the reader
// refuses what does not unpack. These targets spoil one XML part at a time and
// pack it afresh, so that every input reaches the reader behind the zip.

const (
	fuzzTypes = `<Types xmlns="http://schemas.openxmlformats.org/package/2006/content-types"/>`
	fuzzBook  = `<workbook xmlns:r="http://schemas.openxmlformats.org/officeDocument/2006/relationships"><sheets><sheet name="Boxes" sheetId="1" r:id="rId1"/></sheets></workbook>`
	fuzzRels  = `<Relationships><Relationship Id="rId1" Type="x/worksheet" Target="worksheets/sheet1.xml"/><Relationship Id="rId2" Type="x/sharedStrings" Target="sharedStrings.xml"/><Relationship Id="rId3" Type="x/styles" Target="styles.xml"/></Relationships>`
	fuzzTexts = `<sst><si><t>Tea box</t></si><si><t>outside</t></si><si><r><t>che</t></r><r><t>rry</t></r></si><si><t>6+1 spare</t></si></sst>`
	fuzzStyle = `<styleSheet><numFmts count="1"><numFmt numFmtId="164" formatCode="d-mmm"/></numFmts><cellXfs count="2"><xf numFmtId="0"/><xf numFmtId="164"/></cellXfs></styleSheet>`
)

// fuzzSheet is a sheet of headings and one line whose cells are XML.
func fuzzSheet(line string) string {
	var cells strings.Builder
	for i, name := range []string{"Box", "Count", "Length", "Width", "Height", "Measured", "Thickness", "Wood", "Bottom", "Due"} {
		fmt.Fprintf(&cells, `<c r="%s" t="inlineStr"><is><t>%s</t></is></c>`, cellName(i+1, 1), name)
	}
	return `<worksheet><sheetData><row r="1">` + cells.String() + `</row><row r="2">` + line + `</row></sheetData></worksheet>`
}

const fuzzLine = `<c r="A2" t="s"><v>0</v></c><c r="B2" t="s"><v>3</v></c><c r="C2"><v>12.375</v></c><c r="D2" s="1"><v>46089</v></c><c r="E2"><f>C2/4</f><v>3</v></c><c r="F2" t="s"><v>1</v></c><c r="G2" t="str"><f>"1/2"</f><v>1/2</v></c><c r="H2" t="s"><v>2</v></c>`

// packed is a workbook of these parts, not compressed.
func packed(tb testing.TB, book, rels, texts, style, sheet string) []byte {
	var buf bytes.Buffer
	z := zip.NewWriter(&buf)
	for _, part := range [][2]string{{"[Content_Types].xml", fuzzTypes}, {"xl/workbook.xml", book}, {"xl/_rels/workbook.xml.rels", rels},
		{"xl/sharedStrings.xml", texts}, {"xl/styles.xml", style}, {"xl/worksheets/sheet1.xml", sheet}} {
		w, err := z.CreateHeader(&zip.FileHeader{Name: part[0], Method: zip.Store})
		if err != nil {
			tb.Fatal(err)
		}
		if _, err := w.Write([]byte(part[1])); err != nil {
			tb.Fatal(err)
		}
	}
	if err := z.Close(); err != nil {
		tb.Fatal(err)
	}
	return buf.Bytes()
}

func FuzzReadSheet(f *testing.F) {
	f.Add(fuzzSheet(fuzzLine))
	f.Add(fuzzSheet(fuzzLine) + `<mergeCells><mergeCell ref="A2:B9"/></mergeCells>`)
	f.Add(`<worksheet><cols><col min="1" max="3" hidden="1"/></cols><sheetData><row><c t="e"><v>#REF!</v></c><c t="b"><v>1</v></c></row></sheetData></worksheet>`)
	f.Fuzz(func(t *testing.T, sheet string) {
		readAnything(t, "order.xlsx", packed(t, fuzzBook, fuzzRels, fuzzTexts, fuzzStyle, sheet))
	})
}

func FuzzReadParts(f *testing.F) {
	f.Add(fuzzBook, fuzzRels, fuzzTexts, fuzzStyle)
	f.Fuzz(func(t *testing.T, book, rels, texts, style string) {
		readAnything(t, "order.xlsx", packed(t, book, rels, texts, style, fuzzSheet(fuzzLine)))
	})
}

// FuzzReadRows spoils the texts of a row beneath sound headings.
func FuzzReadRows(f *testing.F) {
	f.Add("Tea box", "6+1 spare", "12", "3-1/2", "outside", "1/2", "walnut", "groove 1/4 birch ply", "2 x 3", "2026-12-05")
	f.Add("ditto", "1 doz", "89 mm", "1' 4 3/8\"", "in", "ditto", "\"", "none", "by", "3/4/2027")
	f.Fuzz(func(t *testing.T, name, count, size, height, measured, thick, wood, bottom, dividers, due string) {
		heads := []string{"Box", "Count", "Length", "Width", "Height", "Measured", "Thickness", "Wood", "Bottom", "Dividers", "Due"}
		values := []string{name, count, size, size, height, measured, thick, wood, bottom, dividers, due}
		s := &sheet{name: "Boxes"}
		for num, texts := range [][]string{heads, values, values} {
			r := row{num: num + 1}
			for i, text := range texts {
				if text = clean(text); text != "" {
					r.cells = append(r.cells, cell{col: i + 1, kind: textCell, text: text})
				}
			}
			s.rows = append(s.rows, r)
		}
		order := &orders.Order{File: "order.xlsx", Settings: settings.Default()}
		(&reader{order: order, book: &book{sheets: []*sheet{s}}}).readAll()
		checkCited(t, order)
	})
}

func FuzzReadList(f *testing.F) {
	f.Add([]byte("Box,Count,Length,Width,Height,Measured,Thickness,Wood\nTea,6,12,8,3 3/8,outside,1/2,cherry\n"))
	f.Add([]byte("Setting;Value\nBlade kerf;0,0955\n"))
	f.Add([]byte("Board\tCount\tWood\tClass\tLength\tWidth\tDefects\nR1\t1\toak\t4/4\t96\t6\t18 to 22\n"))
	f.Fuzz(func(t *testing.T, data []byte) { readAnything(t, "list.csv", data) })
}

func FuzzReadWorkbook(f *testing.F) {
	f.Add(packed(f, fuzzBook, fuzzRels, fuzzTexts, fuzzStyle, fuzzSheet(fuzzLine)))
	f.Add([]byte("PK\x03\x04"))
	f.Fuzz(func(t *testing.T, data []byte) { readAnything(t, "order.xlsx", data) })
}

// readAnything reads bytes that may be anything: an order or a refusal, and no
// panic caught at the border.
func readAnything(t *testing.T, name string, data []byte) {
	order, err := Read(name, data, settings.Default())
	var refusal *Refusal
	switch {
	case err != nil && (!errors.As(err, &refusal) || strings.Contains(err.Error(), "stopped the reading")):
		t.Errorf("%v", err)
	case err == nil:
		checkCited(t, order)
	}
}
