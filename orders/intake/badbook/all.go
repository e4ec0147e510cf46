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
	for _, group := range [][]Book{strangers(), containers(), floods(), brokenXML(), references(), values(), formulas(), texts()} {
		all = append(all, group...)
	}
	return all
}

// strangers are files of other kinds.
func strangers() []Book {
	text := func(s string) func() []byte { return func() []byte { return []byte(s) } }
	zipped := func(parts ...part) func() []byte { return func() []byte { return pack(parts) } }
	return []Book{
		{"nothing in it", "order.xlsx", text(""), "empty"},
		{"only blanks", "order.csv", text(" \r\n\t\n"), "empty"},
		{"zero bytes", "order.xlsx", text(strings.Repeat("\x00", 4096)), "not a workbook"},
		{"zero bytes in a list", "order.csv", text("Box,Count\n\x00\x00\x00\x01\x02\x03"), "not a spreadsheet"},
		{"noise", "order.xlsx", text("\x01\x02\x80\xFE\x00\x10noise\x00\x13\x14"), "not a workbook"},
		{"a PDF", "order.xlsx", text("%PDF-1.7\n1 0 obj"), "PDF"},
		{"a picture", "order.xlsx", text("\x89PNG\r\n\x1a\n"), "picture"},
		{"a photograph", "order.jpg", text("\xFF\xD8\xFF\xE0"), "picture"},
		{"rich text", "order.csv", text(`{\rtf1\ansi Boxes}`), "RTF"},
		{"a web page named as a workbook", "order.xls", text("<html><body><table><tr><td>Box"), "web page"},
		{"the XML format of 2003", "order.xls", text(`<?xml version="1.0"?><Workbook xmlns="urn:schemas-microsoft-com:office:spreadsheet">`), "XML"},
		{"a gzip file", "order.xlsx", text("\x1F\x8B\x08\x00\x00"), "gzip"},
		{"a 7z file", "order.xlsx", text("7z\xBC\xAF\x27\x1C"), "7z"},
		{"a database", "order.xlsx", text("SQLite format 3\x00"), "database"},
		{"a symbolic link file", "order.slk", text("ID;PWXL;N;E\nC;Y1;X1;K\"Box\""), ".slk"},
		{"an old workbook", "order.xls", func() []byte { return compound("Workbook") }, "old .xls"},
		{"an older workbook", "order.xls", func() []byte { return compound("Book") }, "old .xls"},
		{"an old text document", "order.doc", func() []byte { return compound("WordDocument") }, "text document"},
		{"an old container of something else", "order.xlsx", func() []byte { return compound("Contents") }, "not a spreadsheet"},
		{"an old container cut short", "order.xls", func() []byte { return compound("Workbook")[:700] }, "damaged"},
		{"a password-protected workbook, by its stream", "order.xlsx", func() []byte { return compound("EncryptedPackage") }, "password"},
		{"a password-protected workbook, as really written", "order.xlsx", protected, "password"},
		{"an open document spreadsheet", "order.ods", zipped(part{"mimetype", "application/vnd.oasis.opendocument.spreadsheet"}, part{"content.xml", "<x/>"}), ".ods"},
		{"an open document named as a workbook", "order.xlsx", zipped(part{"mimetype", "application/vnd.oasis.opendocument.spreadsheet"}, part{"content.xml", "<x/>"}), ".ods"},
		{"a binary workbook", "order.xlsb", zipped(part{typesPart, "<Types/>"}, part{"xl/workbook.bin", "\x83\x01"}), ".xlsb"},
		{"a text document", "order.docx", zipped(part{typesPart, "<Types/>"}, part{"word/document.xml", "<x/>"}), "text document"},
		{"a presentation", "order.pptx", zipped(part{typesPart, "<Types/>"}, part{"ppt/presentation.xml", "<x/>"}), "presentation"},
		{"a zip file of pictures", "order.zip", zipped(part{"a.png", "x"}), "not a workbook"},
		{"a zip file in a zip file", "order.xlsx", zipped(part{"order.xlsx", string(pack(good()))}), "not a workbook"},
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
		{"only the first four bytes", "order.xlsx", func() []byte { return []byte("PK\x03\x04") }, "end is missing"},
		{"a zip file of nothing", "order.xlsx", func() []byte { return pack(nil) }, "not a workbook"},
		{"cut after a tenth", "order.xlsx", head(1), "end is missing"},
		{"cut in half", "order.xlsx", head(5), "end is missing"},
		{"cut after nine tenths", "order.xlsx", head(9), "end is missing"},
		{"its last byte missing", "order.xlsx", func() []byte { b := pack(good()); return b[:len(b)-1] }, "end is missing"},
		{"a byte flipped", "order.xlsx", flipped, "damaged"},
		{"a wrong checksum", "order.xlsx", packRaw(raw{sheetPart, sheet, func(h *zip.FileHeader) { h.CRC32++ }}), "damaged"},
		{"a size below the real one", "order.xlsx", packRaw(raw{sheetPart, sheet, func(h *zip.FileHeader) { h.UncompressedSize64 = 10 }}), "damaged"},
		{"a size above the real one", "order.xlsx", packRaw(raw{sheetPart, sheet, func(h *zip.FileHeader) { h.UncompressedSize64 = 1 << 40 }}), "damaged"},
		{"a packed size beyond the file", "order.xlsx", packRaw(raw{sheetPart, sheet, func(h *zip.FileHeader) { h.CompressedSize64 = 1 << 30 }}), ""},
		{"an unknown way of packing", "order.xlsx", packRaw(raw{sheetPart, sheet, func(h *zip.FileHeader) { h.Method = 99 }}), "unpacked"},
		{"an encrypted entry", "order.xlsx", packRaw(raw{sheetPart, sheet, func(h *zip.FileHeader) { h.Flags |= 1 }}), "password"},
		{"a path out of the archive", "order.xlsx", packRaw(raw{"../../../../tmp/evil.xml", "<x/>", same}), ""},
		{"an absolute path", "order.xlsx", packRaw(raw{"/etc/evil.xml", "<x/>", same}), ""},
		{"two parts of one name", "order.xlsx", func() []byte { return pack(append(good(), part{sheetPart, sheet})) }, "two parts"},
		{"two parts of one name in another case", "order.xlsx", func() []byte { return pack(append(good(), part{strings.ToUpper(sheetPart), sheet})) }, "two parts"},
		{"no list of types", "order.xlsx", without(typesPart), "not a workbook"},
		{"no workbook part", "order.xlsx", without(bookPart), "no workbook part"},
		{"no relations of the workbook", "order.xlsx", without(bookRels), "missing"},
		{"a listed sheet missing", "order.xlsx", without(sheetPart), "missing"},
		{"the texts missing", "order.xlsx", without(stringsPart), "missing"},
		{"the styles missing", "order.xlsx", without(stylesPart), "missing"},
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
		{"a flood of digits in one cell", "order.xlsx", bomb(sheetPart, sheetHead+`<row r="1"><c r="A1"><v>`, "1", `</v></c></row>`+sheetTail, flood), "bomb"},
		{"a flood of blanks between tags", "order.xlsx", bomb(sheetPart, sheetHead, " ", sheetTail, flood), "bomb"},
		{"a flood in one comment", "order.xlsx", bomb(sheetPart, sheetHead+"<!-- ", "a", " -->"+sheetTail, flood), "bomb"},
		{"a flood in one attribute", "order.xlsx", bomb(sheetPart, sheetHead+`<row spans="`, "1", `"/>`+sheetTail, flood), "bomb"},
		{"a flood of empty rows", "order.xlsx", bomb(sheetPart, sheetHead, "<row/>", sheetTail, flood), "rows"},
		{"a flood of empty cells", "order.xlsx", bomb(sheetPart, sheetHead+`<row>`, "<c/>", `</row>`+sheetTail, flood), "bomb"},
		{"a flood of shared texts", "order.xlsx", bomb(stringsPart, xmlHead+`<sst `+mainSpace+`>`, "<si><t>x</t></si>", `</sst>`, flood), "bomb"},
		{"a flood of one shared text", "order.xlsx", bomb(stringsPart, xmlHead+`<sst `+mainSpace+`><si><t>`, "x", `</t></si></sst>`, flood), "bomb"},
		{"a flood of styles", "order.xlsx", bomb(stylesPart, xmlHead+`<styleSheet `+mainSpace+`><cellXfs>`, `<xf numFmtId="14"/>`, `</cellXfs></styleSheet>`, flood), "bomb"},
		{"a flood of sheets", "order.xlsx", bomb(bookPart, xmlHead+`<workbook `+mainSpace+` `+relSpace+`><sheets>`, `<sheet name="x" r:id="rId1"/>`, `</sheets></workbook>`, flood), "bomb"},
		{"a flood of relations", "order.xlsx", bomb(bookRels, xmlHead+`<Relationships>`, `<Relationship Id="rId1" Type="worksheet" Target="worksheets/sheet1.xml"/>`, `</Relationships>`, flood), "bomb"},
		{"a flood of merged blocks", "order.xlsx", bomb(sheetPart, sheetHead+goodRows+`</sheetData><mergeCells>`, `<mergeCell ref="A1:B2"/>`, `</mergeCells></worksheet>`, flood), "bomb"},
		{"a flood of hidden columns", "order.xlsx", bomb(sheetPart, xmlHead+`<worksheet `+mainSpace+`><cols>`, `<col min="1" max="2" hidden="1"/>`, `</cols></worksheet>`, flood), "bomb"},
		{"a flood of picture", "order.xlsx", bomb("xl/media/image1.png", "\x89PNG", "\x00", "", deluge), "unpacks"},
		{"a flood in a part that is not needed", "order.xlsx", bomb("docProps/app.xml", "<Properties>", "<a>x</a>", "</Properties>", flood), "bomb"},
		{"a flood with a small size in its header", "order.xlsx", lyingBomb, "damaged"},
		{"a million rows", "order.xlsx", millionRows, "50000 rows"},
		{"a list of a million rows", "order.csv", func() []byte { return []byte("Box,Count,Length\n" + strings.Repeat("a,1,2\n", 1_000_000)) }, "50000 rows"},
		{"one list line of ten million fields", "order.csv", func() []byte { return []byte("Box,Count\n" + strings.Repeat(",", 10_000_000)) }, ""},
		{"six thousand entries", "order.xlsx", entries, "entries"},
		{"elements a thousand deep", "order.xlsx", onlyRows(strings.Repeat("<a>", 1000) + strings.Repeat("</a>", 1000)), "nested"},
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
		{"the sheet cut in half", "order.xlsx", cut(sheetPart, 5), "damaged"},
		{"the sheet cut at its end", "order.xlsx", cut(sheetPart, 9), "damaged"},
		{"the sheet of no bytes", "order.xlsx", with(sheetPart, ""), "empty"},
		{"the texts cut in half", "order.xlsx", cut(stringsPart, 5), "damaged"},
		{"the styles cut in half", "order.xlsx", cut(stylesPart, 6), "damaged"},
		{"the workbook part cut in half", "order.xlsx", cut(bookPart, 7), "damaged"},
		{"the relations cut in half", "order.xlsx", cut(bookRels, 7), "damaged"},
		{"the list of types cut in half", "order.xlsx", cut(typesPart, 7), "damaged"},
		{"a part that is not needed, cut", "order.xlsx", with("docProps/core.xml", xmlHead+"<cp:coreProperties>"), "damaged"},
		{"a sheet that is no XML", "order.xlsx", with(sheetPart, "Box,Count\nTea,4\n"), "empty"},
		{"tags that do not match", "order.xlsx", onlyRows(`<row r="1"><c r="A1"></row></c>`), "damaged"},
		{"entities that multiply", "order.xlsx", with(sheetPart, laughs), "type definition"},
		{"a type definition from outside", "order.xlsx", with(sheetPart, outside), "type definition"},
		{"an entity nobody defined", "order.xlsx", onlyRows(`<row r="1"><c r="A1"><v>&x;</v></c></row>`), "damaged"},
		{"bytes that are no UTF-8", "order.xlsx", onlyRows("<row r=\"1\"><c r=\"A1\" t=\"inlineStr\"><is><t>\xC3\x28</t></is></c></row>"), "damaged"},
		{"an encoding nobody knows", "order.xlsx", with(sheetPart, `<?xml version="1.0" encoding="klingon"?><worksheet/>`), "encoding"},
		{"a sheet in UTF-16", "order.xlsx", wide, ""},
		{"a workbook without sheets", "order.xlsx", with(bookPart, xmlHead+`<workbook `+mainSpace+`><sheets/></workbook>`), "no sheet"},
		{"two sheets of one part", "order.xlsx", edited(bookPart, `</sheets>`, `<sheet name="Parts" sheetId="2" r:id="rId1"/></sheets>`), "share one part"},
		{"a sheet of an unknown relation", "order.xlsx", edited(bookPart, `rId1`, `rId9`), "missing"},
		{"a sheet out of the archive", "order.xlsx", edited(bookRels, `worksheets/sheet1.xml`, `../../../etc/passwd`), "missing"},
		{"a chart in place of a sheet", "order.xlsx", edited(bookRels, relBase+`worksheet`, relBase+`chartsheet`), ""},
	}
}

// references holds cells and indexes that cannot be right.
func references() []Book {
	one := func(cell string) func() []byte { return rows(`<row r="3">` + cell + `</row>`) }
	return []Book{
		{"a text index below zero", "order.xlsx", one(`<c r="A3" t="s"><v>-5</v></c>`), "not there"},
		{"a text index too large", "order.xlsx", one(`<c r="A3" t="s"><v>99999</v></c>`), "not there"},
		{"a text index that is a word", "order.xlsx", one(`<c r="A3" t="s"><v>abc</v></c>`), "not there"},
		{"a text index with a point", "order.xlsx", one(`<c r="A3" t="s"><v>1.5</v></c>`), "not there"},
		{"a text index beyond 64 bits", "order.xlsx", one(`<c r="A3" t="s"><v>99999999999999999999</v></c>`), "not there"},
		{"one cell twice", "order.xlsx", one(`<c r="A3"><v>1</v></c><c r="A3"><v>2</v></c>`), "out of place"},
		{"cells out of order", "order.xlsx", one(`<c r="B3"><v>1</v></c><c r="A3"><v>2</v></c>`), "out of place"},
		{"a cell of another row", "order.xlsx", one(`<c r="A7"><v>1</v></c>`), "out of place"},
		{"a cell in row 0", "order.xlsx", one(`<c r="A0"><v>1</v></c>`), "out of place"},
		{"a cell beyond the last column", "order.xlsx", one(`<c r="XFE3"><v>1</v></c>`), "out of place"},
		{"a cell of four letters", "order.xlsx", one(`<c r="AAAAAAAAAAAA3"><v>1</v></c>`), "out of place"},
		{"a cell without letters", "order.xlsx", one(`<c r="33"><v>1</v></c>`), "out of place"},
		{"a row twice", "order.xlsx", rows(`<row r="2"><c r="A2"><v>1</v></c></row>`), "after row"},
		{"a row below zero", "order.xlsx", rows(`<row r="-1"><c><v>1</v></c></row>`), "after row"},
		{"a row beyond the last", "order.xlsx", rows(`<row r="1048577"><c><v>1</v></c></row>`), "after row"},
		{"a row that is a word", "order.xlsx", rows(`<row r="abc"><c><v>1</v></c></row>`), "after row"},
		{"one cell in the last row", "order.xlsx", rows(`<row r="1048576"><c r="A1048576"><v>1</v></c></row>`), ""},
		{"rows and cells without names", "order.xlsx", rows(`<row><c t="s"><v>8</v></c></row>`), ""},
		{"a merged block without an end", "order.xlsx", edited(sheetPart, `</sheetData>`, `</sheetData><mergeCells><mergeCell ref="A1:"/></mergeCells>`), "merges"},
		{"the whole sheet merged", "order.xlsx", edited(sheetPart, `</sheetData>`, `</sheetData><mergeCells><mergeCell ref="A1:XFD1048576"/></mergeCells>`), ""},
		{"a style that is not there", "order.xlsx", one(`<c r="A3" s="9999999"><v>1</v></c>`), ""},
		{"a style below zero", "order.xlsx", one(`<c r="A3" s="-7"><v>1</v></c>`), ""},
	}
}

// values holds cells whose content cannot be what it should.
func values() []Book {
	one := func(cell string) func() []byte { return rows(`<row r="3">` + cell + `</row>`) }
	return []Book{
		{"a word where a number should be", "order.xlsx", one(`<c r="C3"><v>twelve</v></c>`), "a number should"},
		{"a number beyond all bounds", "order.xlsx", one(`<c r="C3"><v>1e400</v></c>`), "a number should"},
		{"no number", "order.xlsx", one(`<c r="C3"><v>NaN</v></c>`), "a number should"},
		{"infinity", "order.xlsx", one(`<c r="C3"><v>Inf</v></c>`), "a number should"},
		{"the largest number there is", "order.xlsx", one(`<c r="C3"><v>1.7976931348623157E308</v></c>`), ""},
		{"a count of ten digits", "order.xlsx", one(`<c r="B3"><v>4000000000</v></c>`), ""},
		{"a cell of an unknown type", "order.xlsx", one(`<c r="A3" t="zzz"><v>1</v></c>`), ""},
		{"a truth that is a word", "order.xlsx", one(`<c r="C3" t="b"><v>perhaps</v></c>`), ""},
		{"a date that is a word", "order.xlsx", one(`<c r="C3" t="d"><v>never</v></c>`), ""},
		{"an error nobody knows", "order.xlsx", one(`<c r="C3" t="e"><v>#WHAT!</v></c>`), ""},
		{"a date format without an end", "order.xlsx", edited(stylesPart, `<cellXfs`, `<numFmts><numFmt numFmtId="0" formatCode="[[[[&quot;\"/></numFmts><cellXfs`), ""},
		{"a text of half a megabyte", "order.xlsx", one(`<c r="A3" t="inlineStr"><is><t>` + strings.Repeat("x", 1<<19) + `</t></is></c>`), ""},
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
		{"a formula over every cell there is", "order.xlsx", formula("SUM(A1:XFD1048576)"), ""},
		{"a formula over whole columns", "order.xlsx", formula("SUM(A:XFD)"), ""},
		{"a formula that leans on itself", "order.xlsx", formula("B3+1"), ""},
		{"a text without end", "order.xlsx", formula(`REPT(&quot;x&quot;,1000000000)`), ""},
		{"a formula of a thousand brackets", "order.xlsx", formula(strings.Repeat("(", 1000) + "1" + strings.Repeat(")", 1000)), ""},
		{"a formula that is none", "order.xlsx", formula("=)(*"), ""},
		{"a formula that calls a program", "order.xlsx", formula(`cmd|'/c calc'!A1`), ""},
		{"a formula that fetches a page", "order.xlsx", formula(`WEBSERVICE(&quot;http://example.invalid&quot;)`), ""},
		{"forty thousand formulas, each twice the last", "order.xlsx", chain, ""},
	}
}

// texts try to be obeyed where they are shown.
func texts() []Book {
	named := func(text string) func() []byte {
		return rows(`<row r="3"><c r="A3" t="inlineStr"><is><t>` + text + `</t></is></c><c r="B3"><v>1</v></c></row>`)
	}
	return []Book{
		{"a name that is a formula", "order.xlsx", named(`=cmd|'/c calc'!A1`), ""},
		{"a name that is a web page", "order.xlsx", named(`&lt;script&gt;alert(1)&lt;/script&gt;`), ""},
		{"a name that clears the screen", "order.xlsx", named(`_x001B_[2J_x0007_tea`), ""},
		{"a name that turns the writing round", "order.xlsx", named("\u202exslx.redro\u202c"), ""},
		{"a sheet name that is a path", "order.xlsx", edited(bookPart, `name="Boxes"`, `name="../../Boxes"`), ""},
		{"a list of quotes that never close", "order.csv", func() []byte { return []byte("Box,Count,Length\n" + strings.Repeat("\"a", 100_000)) }, ""},
		{"a list that clears the screen", "order.csv", func() []byte { return []byte("Box,Count,Length,Width\n\x1b[2Jtea,1,2,3\n") }, ""},
	}
}
