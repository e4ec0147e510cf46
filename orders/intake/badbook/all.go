package badbook

import (
	"archive/zip"
	"fmt"
	"strconv"
	"strings"
	"unicode/utf16"

	"github.com/xuri/excelize/v2"
)

// All is every kind of bad file.
func All() []Book {
	var all []Book
	for _, b := range floods() {
		b.Large = true
		all = append(all, b)
	}
	for _, group := range [][]Book{strangers(), containers(), brokenXML(), references(), values(), formulas(), texts()} {
		all = append(all, group...)
	}
	return all
}

// strangers are files of other kinds.
func strangers() []Book {
	text := func(s string) func() []byte { return func() []byte { return []byte(s) } }
	zipped := func(parts ...part) func() []byte { return func() []byte { return pack(parts) } }
	return []Book{
		{Name: "nothing in it", File: "order.xlsx", Make: text(""), Says: "empty"},
		{Name: "only blanks", File: "order.csv", Make: text(" \r\n\t\n"), Says: "empty"},
		{Name: "zero bytes", File: "order.xlsx", Make: text(strings.Repeat("\x00", 4096)), Says: "not a workbook"},
		{Name: "zero bytes in a list", File: "order.csv", Make: text("Box,Count\n\x00\x00\x00\x01\x02\x03"), Says: "not a spreadsheet"},
		{Name: "noise", File: "order.xlsx", Make: text("\x01\x02\x80\xFE\x00\x10noise\x00\x13\x14"), Says: "not a workbook"},
		{Name: "a PDF", File: "order.xlsx", Make: text("%PDF-1.7\n1 0 obj"), Says: "PDF"},
		{Name: "a picture", File: "order.xlsx", Make: text("\x89PNG\r\n\x1a\n"), Says: "picture"},
		{Name: "a photograph", File: "order.jpg", Make: text("\xFF\xD8\xFF\xE0"), Says: "picture"},
		{Name: "rich text", File: "order.csv", Make: text(`{\rtf1\ansi Boxes}`), Says: "RTF"},
		{Name: "a web page named as a workbook", File: "order.xls", Make: text("<html><body><table><tr><td>Box"), Says: "web page"},
		{Name: "the XML format of 2003", File: "order.xls", Make: text(`<?xml version="1.0"?><Workbook xmlns="urn:schemas-microsoft-com:office:spreadsheet">`), Says: "XML"},
		{Name: "a gzip file", File: "order.xlsx", Make: text("\x1F\x8B\x08\x00\x00"), Says: "gzip"},
		{Name: "a 7z file", File: "order.xlsx", Make: text("7z\xBC\xAF\x27\x1C"), Says: "7z"},
		{Name: "a database", File: "order.xlsx", Make: text("SQLite format 3\x00"), Says: "database"},
		{Name: "a symbolic link file", File: "order.slk", Make: text("ID;PWXL;N;E\nC;Y1;X1;K\"Box\""), Says: ".slk"},
		{Name: "an old workbook", File: "order.xls", Make: func() []byte { return compound("Workbook") }, Says: "old .xls"},
		{Name: "an older workbook", File: "order.xls", Make: func() []byte { return compound("Book") }, Says: "old .xls"},
		{Name: "an old text document", File: "order.doc", Make: func() []byte { return compound("WordDocument") }, Says: "text document"},
		{Name: "an old container of something else", File: "order.xlsx", Make: func() []byte { return compound("Contents") }, Says: "not a spreadsheet"},
		{Name: "an old container cut short", File: "order.xls", Make: func() []byte { return compound("Workbook")[:700] }, Says: "damaged"},
		{Name: "a password-protected workbook, by its stream", File: "order.xlsx", Make: func() []byte { return compound("EncryptedPackage") }, Says: "password"},
		{Name: "a password-protected workbook, as really written", File: "order.xlsx", Make: protected, Says: "password"},
		{Name: "an open document spreadsheet", File: "order.ods", Make: zipped(part{"mimetype", "application/vnd.oasis.opendocument.spreadsheet"}, part{"content.xml", "<x/>"}), Says: ".ods"},
		{Name: "an open document named as a workbook", File: "order.xlsx", Make: zipped(part{"mimetype", "application/vnd.oasis.opendocument.spreadsheet"}, part{"content.xml", "<x/>"}), Says: ".ods"},
		{Name: "a binary workbook", File: "order.xlsb", Make: zipped(part{typesPart, "<Types/>"}, part{"xl/workbook.bin", "\x83\x01"}), Says: ".xlsb"},
		{Name: "a text document", File: "order.docx", Make: zipped(part{typesPart, "<Types/>"}, part{"word/document.xml", "<x/>"}), Says: "text document"},
		{Name: "a presentation", File: "order.pptx", Make: zipped(part{typesPart, "<Types/>"}, part{"ppt/presentation.xml", "<x/>"}), Says: "presentation"},
		{Name: "a zip file of pictures", File: "order.zip", Make: zipped(part{"a.png", "x"}), Says: "not a workbook"},
		{Name: "a zip file in a zip file", File: "order.xlsx", Make: zipped(part{"order.xlsx", string(pack(good()))}), Says: "not a workbook"},
	}
}

func protected() []byte {
	f := excelize.NewFile()
	defer f.Close()
	buf, err := f.WriteToBuffer()
	must(err)
	out, err := excelize.Encrypt(buf.Bytes(), &excelize.Options{Password: "walnut"})
	must(err)
	return out
}

// containers have damage in the zip itself.
func containers() []Book {
	head := func(tenths int) func() []byte {
		return func() []byte { b := pack(good()); return b[:len(b)*tenths/10] }
	}
	flipped := func() []byte {
		b := pack(good())
		b[len(b)/3] ^= 0xFF
		return b
	}
	same := func(h *zip.FileHeader) {}
	sheet := sheetXML(goodRows)
	return []Book{
		{Name: "only the first four bytes", File: "order.xlsx", Make: func() []byte { return []byte("PK\x03\x04") }, Says: "end is missing"},
		{Name: "a zip file of nothing", File: "order.xlsx", Make: func() []byte { return pack(nil) }, Says: "not a workbook"},
		{Name: "cut after a tenth", File: "order.xlsx", Make: head(1), Says: "end is missing"},
		{Name: "cut in half", File: "order.xlsx", Make: head(5), Says: "end is missing"},
		{Name: "cut after nine tenths", File: "order.xlsx", Make: head(9), Says: "end is missing"},
		{Name: "its last byte missing", File: "order.xlsx", Make: func() []byte { b := pack(good()); return b[:len(b)-1] }, Says: "end is missing"},
		{Name: "a byte flipped", File: "order.xlsx", Make: flipped, Says: "damaged"},
		{Name: "a wrong checksum", File: "order.xlsx", Make: packRaw(raw{sheetPart, sheet, func(h *zip.FileHeader) { h.CRC32++ }}), Says: "damaged"},
		{Name: "a size below the real one", File: "order.xlsx", Make: packRaw(raw{sheetPart, sheet, func(h *zip.FileHeader) { h.UncompressedSize64 = 10 }}), Says: "damaged"},
		{Name: "a size above the real one", File: "order.xlsx", Make: packRaw(raw{sheetPart, sheet, func(h *zip.FileHeader) { h.UncompressedSize64 = 1 << 40 }}), Says: "damaged"},
		{Name: "a packed size beyond the file", File: "order.xlsx", Make: packRaw(raw{sheetPart, sheet, func(h *zip.FileHeader) { h.CompressedSize64 = 1 << 30 }}), Says: ""},
		{Name: "an unknown way of packing", File: "order.xlsx", Make: packRaw(raw{sheetPart, sheet, func(h *zip.FileHeader) { h.Method = 99 }}), Says: "unpacked"},
		{Name: "an encrypted entry", File: "order.xlsx", Make: packRaw(raw{sheetPart, sheet, func(h *zip.FileHeader) { h.Flags |= 1 }}), Says: "password"},
		{Name: "a path out of the archive", File: "order.xlsx", Make: packRaw(raw{"../../../../tmp/evil.xml", "<x/>", same}), Says: ""},
		{Name: "an absolute path", File: "order.xlsx", Make: packRaw(raw{"/etc/evil.xml", "<x/>", same}), Says: ""},
		{Name: "two parts of one name", File: "order.xlsx", Make: func() []byte { return pack(append(good(), part{sheetPart, sheet})) }, Says: "two parts"},
		{Name: "two parts of one name in another case", File: "order.xlsx", Make: func() []byte { return pack(append(good(), part{strings.ToUpper(sheetPart), sheet})) }, Says: "two parts"},
		{Name: "no list of types", File: "order.xlsx", Make: without(typesPart), Says: "not a workbook"},
		{Name: "workbook part is missing", File: "order.xlsx", Make: without(bookPart), Says: "workbook part is missing"},
		{Name: "no relations of the workbook", File: "order.xlsx", Make: without(bookRels), Says: "missing"},
		{Name: "a listed sheet missing", File: "order.xlsx", Make: without(sheetPart), Says: "missing"},
		{Name: "the texts missing", File: "order.xlsx", Make: without(stringsPart), Says: "missing"},
		{Name: "the styles missing", File: "order.xlsx", Make: without(stylesPart), Says: "missing"},
	}
}

// floods unpack to far more than they are.
func floods() []Book {
	const (
		flood  = 32 << 20
		deluge = 300 << 20
	)
	sheetHead, sheetTail := xmlHead+`<worksheet `+mainSpace+`><sheetData>`, `</sheetData></worksheet>`
	entries := func() []byte {
		parts := good()
		for i := range 6000 {
			parts = append(parts, part{fmt.Sprintf("xl/media/%d.png", i), ""})
		}
		return pack(parts)
	}
	return []Book{
		{Name: "a flood of digits in one cell", File: "order.xlsx", Make: bomb(sheetPart, sheetHead+`<row r="1"><c r="A1"><v>`, "1", `</v></c></row>`+sheetTail, flood), Says: "bomb"},
		{Name: "a flood of blanks between tags", File: "order.xlsx", Make: bomb(sheetPart, sheetHead, " ", sheetTail, flood), Says: "bomb"},
		{Name: "a flood in one comment", File: "order.xlsx", Make: bomb(sheetPart, sheetHead+"<!-- ", "a", " -->"+sheetTail, flood), Says: "bomb"},
		{Name: "a flood in one attribute", File: "order.xlsx", Make: bomb(sheetPart, sheetHead+`<row spans="`, "1", `"/>`+sheetTail, flood), Says: "bomb"},
		{Name: "a flood of empty rows", File: "order.xlsx", Make: bomb(sheetPart, sheetHead, "<row/>", sheetTail, flood), Says: "rows"},
		{Name: "a flood of empty cells", File: "order.xlsx", Make: bomb(sheetPart, sheetHead+`<row>`, "<c/>", `</row>`+sheetTail, flood), Says: "bomb"},
		{Name: "a flood of shared texts", File: "order.xlsx", Make: bomb(stringsPart, xmlHead+`<sst `+mainSpace+`>`, "<si><t>x</t></si>", `</sst>`, flood), Says: "more texts"},
		{Name: "a flood of one shared text", File: "order.xlsx", Make: bomb(stringsPart, xmlHead+`<sst `+mainSpace+`><si><t>`, "x", `</t></si></sst>`, flood), Says: "bomb"},
		{Name: "a flood of styles", File: "order.xlsx", Make: bomb(stylesPart, xmlHead+`<styleSheet `+mainSpace+`><cellXfs>`, `<xf numFmtId="14"/>`, `</cellXfs></styleSheet>`, flood), Says: "bomb"},
		{Name: "a flood of sheets", File: "order.xlsx", Make: bomb(bookPart, xmlHead+`<workbook `+mainSpace+` `+relSpace+`><sheets>`, `<sheet name="x" r:id="rId1"/>`, `</sheets></workbook>`, flood), Says: "bomb"},
		{Name: "a flood of relations", File: "order.xlsx", Make: bomb(bookRels, xmlHead+`<Relationships>`, `<Relationship Id="rId1" Type="worksheet" Target="worksheets/sheet1.xml"/>`, `</Relationships>`, flood), Says: "bomb"},
		{Name: "a flood of merged blocks", File: "order.xlsx", Make: bomb(sheetPart, sheetHead+goodRows+`</sheetData><mergeCells>`, `<mergeCell ref="A1:B2"/>`, `</mergeCells></worksheet>`, flood), Says: "bomb"},
		{Name: "a flood of hidden columns", File: "order.xlsx", Make: bomb(sheetPart, xmlHead+`<worksheet `+mainSpace+`><cols>`, `<col min="1" max="2" hidden="1"/>`, `</cols></worksheet>`, flood), Says: "bomb"},
		{Name: "a flood of picture", File: "order.xlsx", Make: bomb("xl/media/image1.png", "\x89PNG", "\x00", "", deluge), Says: "unpacks"},
		{Name: "a flood in a part that is not needed", File: "order.xlsx", Make: bomb("docProps/app.xml", "<Properties>", "<a>x</a>", "</Properties>", flood), Says: "bomb"},
		{Name: "a flood with a small size in its header", File: "order.xlsx", Make: lyingBomb, Says: "damaged"},
		{Name: "a million rows", File: "order.xlsx", Make: millionRows, Says: "50000 rows"},
		{Name: "a list of a million rows", File: "order.csv", Make: func() []byte { return []byte("Box,Count,Length\n" + strings.Repeat("a,1,2\n", 1_000_000)) }, Says: "50000 rows"},
		{Name: "one list line of ten million fields", File: "order.csv", Make: func() []byte { return []byte("Box,Count\n" + strings.Repeat(",", 10_000_000)) }, Says: ""},
		{Name: "six thousand entries", File: "order.xlsx", Make: entries, Says: "entries"},
		{Name: "elements a thousand deep", File: "order.xlsx", Make: onlyRows(strings.Repeat("<a>", 1000) + strings.Repeat("</a>", 1000)), Says: "nested"},
	}
}

func lyingBomb() []byte {
	text := xmlHead + `<worksheet ` + mainSpace + `><sheetData><row r="1"><c r="A1"><v>` + strings.Repeat("1", 64<<20)
	return packRaw(raw{sheetPart, text, func(h *zip.FileHeader) { h.UncompressedSize64 = 100 }})()
}

func millionRows() []byte {
	var out strings.Builder
	out.WriteString(xmlHead + `<worksheet ` + mainSpace + `><sheetData>`)
	for i := 1; i <= 1_000_000; i++ {
		n := strconv.Itoa(i)
		out.WriteString(`<row r="` + n + `"><c r="A` + n + `"><v>` + n + `</v></c><c r="B` + n + `"><v>2</v></c></row>`)
	}
	out.WriteString(`</sheetData></worksheet>`)
	return with(sheetPart, out.String())()
}

// brokenXML holds parts that are not well formed, or that ask for things.
func brokenXML() []Book {
	laughs := xmlHead + `<!DOCTYPE x [<!ENTITY a "ha"><!ENTITY b "&a;&a;&a;&a;&a;&a;&a;&a;">]><worksheet ` + mainSpace + `><sheetData><row r="1"><c r="A1" t="inlineStr"><is><t>&b;</t></is></c></row></sheetData></worksheet>`
	outside := xmlHead + `<!DOCTYPE x SYSTEM "file:///etc/passwd"><worksheet ` + mainSpace + `/>`
	wide := func() []byte {
		text := strings.Replace(sheetXML(goodRows), "UTF-8", "UTF-16", 1)
		var b strings.Builder
		b.WriteString("\xFF\xFE")
		for _, u := range utf16.Encode([]rune(text)) {
			b.WriteByte(byte(u))
			b.WriteByte(byte(u >> 8))
		}
		return with(sheetPart, b.String())()
	}
	return []Book{
		{Name: "the sheet cut in half", File: "order.xlsx", Make: cut(sheetPart, 5), Says: "damaged"},
		{Name: "the sheet cut at its end", File: "order.xlsx", Make: cut(sheetPart, 9), Says: "damaged"},
		{Name: "the sheet of no bytes", File: "order.xlsx", Make: with(sheetPart, ""), Says: "empty"},
		{Name: "the texts cut in half", File: "order.xlsx", Make: cut(stringsPart, 5), Says: "damaged"},
		{Name: "the styles cut in half", File: "order.xlsx", Make: cut(stylesPart, 6), Says: "damaged"},
		{Name: "the workbook part cut in half", File: "order.xlsx", Make: cut(bookPart, 7), Says: "damaged"},
		{Name: "the relations cut in half", File: "order.xlsx", Make: cut(bookRels, 7), Says: "damaged"},
		{Name: "the list of types cut in half", File: "order.xlsx", Make: cut(typesPart, 7), Says: "damaged"},
		{Name: "a part that is not needed, cut", File: "order.xlsx", Make: with("docProps/core.xml", xmlHead+"<cp:coreProperties>"), Says: "damaged"},
		{Name: "a sheet that is no XML", File: "order.xlsx", Make: with(sheetPart, "Box,Count\nTea,4\n"), Says: "empty"},
		{Name: "tags that do not match", File: "order.xlsx", Make: onlyRows(`<row r="1"><c r="A1"></row></c>`), Says: "damaged"},
		{Name: "entities that multiply", File: "order.xlsx", Make: with(sheetPart, laughs), Says: "type definition"},
		{Name: "a type definition from outside", File: "order.xlsx", Make: with(sheetPart, outside), Says: "type definition"},
		{Name: "an entity nobody defined", File: "order.xlsx", Make: onlyRows(`<row r="1"><c r="A1"><v>&x;</v></c></row>`), Says: "damaged"},
		{Name: "bytes that are no UTF-8", File: "order.xlsx", Make: onlyRows("<row r=\"1\"><c r=\"A1\" t=\"inlineStr\"><is><t>\xC3\x28</t></is></c></row>"), Says: "damaged"},
		{Name: "an encoding nobody knows", File: "order.xlsx", Make: with(sheetPart, `<?xml version="1.0" encoding="klingon"?><worksheet/>`), Says: "encoding"},
		{Name: "a sheet in UTF-16", File: "order.xlsx", Make: wide, Says: ""},
		{Name: "a workbook without sheets", File: "order.xlsx", Make: with(bookPart, xmlHead+`<workbook `+mainSpace+`><sheets/></workbook>`), Says: "no sheet"},
		{Name: "two sheets of one part", File: "order.xlsx", Make: edited(bookPart, `</sheets>`, `<sheet name="Parts" sheetId="2" r:id="rId1"/></sheets>`), Says: "share one part"},
		{Name: "a sheet of an unknown relation", File: "order.xlsx", Make: edited(bookPart, `rId1`, `rId9`), Says: "missing"},
		{Name: "a sheet out of the archive", File: "order.xlsx", Make: edited(bookRels, `worksheets/sheet1.xml`, `../../../etc/passwd`), Says: "missing"},
		{Name: "a chart in place of a sheet", File: "order.xlsx", Make: edited(bookRels, relBase+`worksheet`, relBase+`chartsheet`), Says: ""},
	}
}

// references holds cells and indexes that cannot be right.
func references() []Book {
	one := func(cell string) func() []byte { return rows(`<row r="3">` + cell + `</row>`) }
	return []Book{
		{Name: "a text index below zero", File: "order.xlsx", Make: one(`<c r="A3" t="s"><v>-5</v></c>`), Says: "not there"},
		{Name: "a text index too large", File: "order.xlsx", Make: one(`<c r="A3" t="s"><v>99999</v></c>`), Says: "not there"},
		{Name: "a text index that is a word", File: "order.xlsx", Make: one(`<c r="A3" t="s"><v>abc</v></c>`), Says: "not there"},
		{Name: "a text index with a point", File: "order.xlsx", Make: one(`<c r="A3" t="s"><v>1.5</v></c>`), Says: "not there"},
		{Name: "a text index beyond 64 bits", File: "order.xlsx", Make: one(`<c r="A3" t="s"><v>99999999999999999999</v></c>`), Says: "not there"},
		{Name: "one cell twice", File: "order.xlsx", Make: one(`<c r="A3"><v>1</v></c><c r="A3"><v>2</v></c>`), Says: "out of place"},
		{Name: "cells out of order", File: "order.xlsx", Make: one(`<c r="B3"><v>1</v></c><c r="A3"><v>2</v></c>`), Says: "out of place"},
		{Name: "a cell of another row", File: "order.xlsx", Make: one(`<c r="A7"><v>1</v></c>`), Says: "out of place"},
		{Name: "a cell in row 0", File: "order.xlsx", Make: one(`<c r="A0"><v>1</v></c>`), Says: "out of place"},
		{Name: "a cell beyond the last column", File: "order.xlsx", Make: one(`<c r="XFE3"><v>1</v></c>`), Says: "out of place"},
		{Name: "a cell of four letters", File: "order.xlsx", Make: one(`<c r="AAAAAAAAAAAA3"><v>1</v></c>`), Says: "out of place"},
		{Name: "a cell without letters", File: "order.xlsx", Make: one(`<c r="33"><v>1</v></c>`), Says: "out of place"},
		{Name: "a row twice", File: "order.xlsx", Make: rows(`<row r="2"><c r="A2"><v>1</v></c></row>`), Says: "after row"},
		{Name: "a row below zero", File: "order.xlsx", Make: rows(`<row r="-1"><c><v>1</v></c></row>`), Says: "after row"},
		{Name: "a row beyond the last", File: "order.xlsx", Make: rows(`<row r="1048577"><c><v>1</v></c></row>`), Says: "after row"},
		{Name: "a row that is a word", File: "order.xlsx", Make: rows(`<row r="abc"><c><v>1</v></c></row>`), Says: "after row"},
		{Name: "one cell in the last row", File: "order.xlsx", Make: rows(`<row r="1048576"><c r="A1048576"><v>1</v></c></row>`), Says: ""},
		{Name: "rows and cells without names", File: "order.xlsx", Make: rows(`<row><c t="s"><v>8</v></c></row>`), Says: ""},
		{Name: "a merged block without an end", File: "order.xlsx", Make: edited(sheetPart, `</sheetData>`, `</sheetData><mergeCells><mergeCell ref="A1:"/></mergeCells>`), Says: "merges"},
		{Name: "the whole sheet merged", File: "order.xlsx", Make: edited(sheetPart, `</sheetData>`, `</sheetData><mergeCells><mergeCell ref="A1:XFD1048576"/></mergeCells>`), Says: ""},
		{Name: "a style that is not there", File: "order.xlsx", Make: one(`<c r="A3" s="9999999"><v>1</v></c>`), Says: ""},
		{Name: "a style below zero", File: "order.xlsx", Make: one(`<c r="A3" s="-7"><v>1</v></c>`), Says: ""},
	}
}

// values holds cells whose content cannot be what it should.
func values() []Book {
	one := func(cell string) func() []byte { return rows(`<row r="3">` + cell + `</row>`) }
	return []Book{
		{Name: "a word where a number should be", File: "order.xlsx", Make: one(`<c r="C3"><v>twelve</v></c>`), Says: "a number should"},
		{Name: "a number beyond all bounds", File: "order.xlsx", Make: one(`<c r="C3"><v>1e400</v></c>`), Says: "a number should"},
		{Name: "no number", File: "order.xlsx", Make: one(`<c r="C3"><v>NaN</v></c>`), Says: "a number should"},
		{Name: "infinity", File: "order.xlsx", Make: one(`<c r="C3"><v>Inf</v></c>`), Says: "a number should"},
		{Name: "the largest number there is", File: "order.xlsx", Make: one(`<c r="C3"><v>1.7976931348623157E308</v></c>`), Says: ""},
		{Name: "a count of ten digits", File: "order.xlsx", Make: one(`<c r="B3"><v>4000000000</v></c>`), Says: ""},
		{Name: "a cell of an unknown type", File: "order.xlsx", Make: one(`<c r="A3" t="zzz"><v>1</v></c>`), Says: ""},
		{Name: "a truth that is a word", File: "order.xlsx", Make: one(`<c r="C3" t="b"><v>perhaps</v></c>`), Says: ""},
		{Name: "a date that is a word", File: "order.xlsx", Make: one(`<c r="C3" t="d"><v>never</v></c>`), Says: ""},
		{Name: "an error nobody knows", File: "order.xlsx", Make: one(`<c r="C3" t="e"><v>#WHAT!</v></c>`), Says: ""},
		{Name: "a date format without an end", File: "order.xlsx", Make: edited(stylesPart, `<cellXfs`, `<numFmts><numFmt numFmtId="0" formatCode="[[[[&quot;\"/></numFmts><cellXfs`), Says: ""},
		{Name: "a text of half a megabyte", File: "order.xlsx", Make: one(`<c r="A3" t="inlineStr"><is><t>` + strings.Repeat("x", 1<<19) + `</t></is></c>`), Says: ""},
	}
}

// formulas ask for more work than their length says.
func formulas() []Book {
	formula := func(text string) func() []byte {
		return rows(`<row r="3"><c r="A3" t="s"><v>8</v></c><c r="B3"><f>` + text + `</f></c></row>`)
	}
	chain := func() []byte {
		var out strings.Builder
		for i := 3; i < 40_000; i++ {
			fmt.Fprintf(&out, `<row r="%d"><c r="B%d"><f>B%d+B%d</f></c></row>`, i, i, i-1, i-1)
		}
		return rows(out.String())()
	}
	return []Book{
		{Name: "a formula over every cell there is", File: "order.xlsx", Make: formula("SUM(A1:XFD1048576)"), Says: ""},
		{Name: "a formula over whole columns", File: "order.xlsx", Make: formula("SUM(A:XFD)"), Says: ""},
		{Name: "a formula that leans on itself", File: "order.xlsx", Make: formula("B3+1"), Says: ""},
		{Name: "a text without end", File: "order.xlsx", Make: formula(`REPT(&quot;x&quot;,1000000000)`), Says: ""},
		{Name: "a formula of a thousand brackets", File: "order.xlsx", Make: formula(strings.Repeat("(", 1000) + "1" + strings.Repeat(")", 1000)), Says: ""},
		{Name: "a formula that is none", File: "order.xlsx", Make: formula("=)(*"), Says: ""},
		{Name: "a formula that calls a program", File: "order.xlsx", Make: formula(`cmd|'/c calc'!A1`), Says: ""},
		{Name: "a formula that fetches a page", File: "order.xlsx", Make: formula(`WEBSERVICE(&quot;http://example.invalid&quot;)`), Says: ""},
		{Name: "forty thousand formulas, each twice the last", File: "order.xlsx", Make: chain, Says: "", Large: true},
	}
}

// texts try to be obeyed where they are shown.
func texts() []Book {
	named := func(text string) func() []byte {
		return rows(`<row r="3"><c r="A3" t="inlineStr"><is><t>` + text + `</t></is></c><c r="B3"><v>1</v></c></row>`)
	}
	return []Book{
		{Name: "a name that is a formula", File: "order.xlsx", Make: named(`=cmd|'/c calc'!A1`), Says: ""},
		{Name: "a name that is a web page", File: "order.xlsx", Make: named(`&lt;script&gt;alert(1)&lt;/script&gt;`), Says: ""},
		{Name: "a name that clears the screen", File: "order.xlsx", Make: named(`_x001B_[2J_x0007_tea`), Says: ""},
		{Name: "a name that turns the writing round", File: "order.xlsx", Make: named("\u202exslx.redro\u202c"), Says: ""},
		{Name: "a sheet name that is a path", File: "order.xlsx", Make: edited(bookPart, `name="Boxes"`, `name="../../Boxes"`), Says: ""},
		{Name: "a list of quotes that never close", File: "order.csv", Make: func() []byte { return []byte("Box,Count,Length\n" + strings.Repeat("\"a", 100_000)) }, Says: ""},
		{Name: "a list that clears the screen", File: "order.csv", Make: func() []byte { return []byte("Box,Count,Length,Width\n\x1b[2Jtea,1,2,3\n") }, Says: ""},
	}
}
