// Package badbook makes workbooks that are damaged, hostile or of the wrong
// kind, for tests. It says what each is and leaves the judging to the tests.
package badbook

import (
	"archive/zip"
	"bytes"
	"compress/flate"
	"fmt"
	"hash/crc32"
	"io"
	"strings"
)

// Book is one bad file.
type Book struct {
	Name string // what is wrong with it
	File string // the name it comes with
	Make func() []byte
	// Says is part of what a refusal must say; empty when the file can be read
	// and the damage, if any, stands among the problems.
	Says string
	// Large files take long under the race detector, which has nothing to find
	// in them that the small ones do not show.
	Large bool
}

// part is one entry of a workbook's zip.
type part struct{ name, text string }

const (
	xmlHead   = `<?xml version="1.0" encoding="UTF-8" standalone="yes"?>` + "\n"
	mainSpace = `xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main"`
	relSpace  = `xmlns:r="http://schemas.openxmlformats.org/officeDocument/2006/relationships"`
	relBase   = "http://schemas.openxmlformats.org/officeDocument/2006/relationships/"
)

const (
	typesPart   = "[Content_Types].xml"
	rootRels    = "_rels/.rels"
	bookPart    = "xl/workbook.xml"
	bookRels    = "xl/_rels/workbook.xml.rels"
	sheetPart   = "xl/worksheets/sheet1.xml"
	stringsPart = "xl/sharedStrings.xml"
	stylesPart  = "xl/styles.xml"
)

// goodRows is a small order: headings and one box.
const goodRows = `<row r="1"><c r="A1" t="s"><v>0</v></c><c r="B1" t="s"><v>1</v></c><c r="C1" t="s"><v>2</v></c><c r="D1" t="s"><v>3</v></c><c r="E1" t="s"><v>4</v></c><c r="F1" t="s"><v>5</v></c><c r="G1" t="s"><v>6</v></c><c r="H1" t="s"><v>7</v></c></row>` +
	`<row r="2"><c r="A2" t="s"><v>8</v></c><c r="B2"><v>4</v></c><c r="C2"><v>12</v></c><c r="D2"><v>8</v></c><c r="E2"><v>3.375</v></c><c r="F2" t="s"><v>9</v></c><c r="G2"><v>0.5</v></c><c r="H2" t="s"><v>10</v></c></row>`

var goodStrings = []string{"Box", "Count", "Length", "Width", "Height", "Measured", "Thickness", "Wood", "Tea box", "outside", "cherry"}

// good is a small sound workbook to spoil.
func good() []part {
	return []part{
		{typesPart, xmlHead + `<Types xmlns="http://schemas.openxmlformats.org/package/2006/content-types"><Default Extension="xml" ContentType="application/xml"/><Default Extension="rels" ContentType="application/vnd.openxmlformats-package.relationships+xml"/><Override PartName="/xl/workbook.xml" ContentType="application/vnd.openxmlformats-officedocument.spreadsheetml.sheet.main+xml"/><Override PartName="/xl/worksheets/sheet1.xml" ContentType="application/vnd.openxmlformats-officedocument.spreadsheetml.worksheet+xml"/></Types>`},
		{rootRels, xmlHead + `<Relationships xmlns="http://schemas.openxmlformats.org/package/2006/relationships"><Relationship Id="rId1" Type="` + relBase + `officeDocument" Target="xl/workbook.xml"/></Relationships>`},
		{bookPart, xmlHead + `<workbook ` + mainSpace + ` ` + relSpace + `><sheets><sheet name="Boxes" sheetId="1" r:id="rId1"/></sheets></workbook>`},
		{bookRels, xmlHead + `<Relationships xmlns="http://schemas.openxmlformats.org/package/2006/relationships"><Relationship Id="rId1" Type="` + relBase + `worksheet" Target="worksheets/sheet1.xml"/><Relationship Id="rId2" Type="` + relBase + `sharedStrings" Target="sharedStrings.xml"/><Relationship Id="rId3" Type="` + relBase + `styles" Target="styles.xml"/></Relationships>`},
		{sheetPart, sheetXML(goodRows)},
		{stringsPart, stringsXML(goodStrings...)},
		{stylesPart, xmlHead + `<styleSheet ` + mainSpace + `><cellXfs count="1"><xf numFmtId="0"/></cellXfs></styleSheet>`},
	}
}

func sheetXML(rows string) string {
	return xmlHead + `<worksheet ` + mainSpace + `><sheetData>` + rows + `</sheetData></worksheet>`
}

func stringsXML(texts ...string) string {
	var out strings.Builder
	out.WriteString(xmlHead + `<sst ` + mainSpace + `>`)
	for _, t := range texts {
		fmt.Fprintf(&out, `<si><t>%s</t></si>`, t)
	}
	return out.String() + `</sst>`
}

// with is the good workbook with one part replaced or added.
func with(name, text string) func() []byte {
	return func() []byte { return pack(replaced(good(), name, text)) }
}

// without is the good workbook with one part left out.
func without(name string) func() []byte {
	return func() []byte {
		var kept []part
		for _, p := range good() {
			if p.name != name {
				kept = append(kept, p)
			}
		}
		return pack(kept)
	}
}

// rows is the good workbook with these rows after its own.
func rows(more string) func() []byte { return with(sheetPart, sheetXML(goodRows+more)) }

// onlyRows is the good workbook with these rows in place of its own.
func onlyRows(text string) func() []byte { return with(sheetPart, sheetXML(text)) }

// edited is the good workbook with a text in one part replaced.
func edited(name, from, to string) func() []byte {
	return func() []byte {
		parts := good()
		for i := range parts {
			if parts[i].name == name {
				if !strings.Contains(parts[i].text, from) {
					panic("badbook: " + from + " is not in " + name)
				}
				parts[i].text = strings.Replace(parts[i].text, from, to, 1)
			}
		}
		return pack(parts)
	}
}

// cut is the good workbook with one part cut short.
func cut(name string, tenths int) func() []byte {
	return func() []byte {
		parts := good()
		for i := range parts {
			if parts[i].name == name {
				parts[i].text = parts[i].text[:len(parts[i].text)*tenths/10]
			}
		}
		return pack(parts)
	}
}

func replaced(parts []part, name, text string) []part {
	for i := range parts {
		if parts[i].name == name {
			parts[i].text = text
			return parts
		}
	}
	return append(parts, part{name, text})
}

func pack(parts []part) []byte {
	var buf bytes.Buffer
	z := zip.NewWriter(&buf)
	z.RegisterCompressor(zip.Deflate, func(w io.Writer) (io.WriteCloser, error) { return flate.NewWriter(w, flate.BestSpeed) })
	for _, p := range parts {
		method := zip.Deflate
		if p.text == "" {
			method = zip.Store
		}
		w, err := z.CreateHeader(&zip.FileHeader{Name: p.name, Method: method})
		must(err)
		_, err = io.WriteString(w, p.text)
		must(err)
	}
	must(z.Close())
	return buf.Bytes()
}

// raw is a zip entry whose header says what it likes.
type raw struct {
	name   string
	text   string
	header func(*zip.FileHeader)
}

// packRaw adds one entry with a header of its own to the good workbook.
func packRaw(r raw) func() []byte {
	return func() []byte {
		var buf bytes.Buffer
		z := zip.NewWriter(&buf)
		for _, p := range good() {
			if p.name == r.name {
				continue
			}
			w, err := z.Create(p.name)
			must(err)
			_, err = io.WriteString(w, p.text)
			must(err)
		}
		packed := deflate(strings.NewReader(r.text))
		h := &zip.FileHeader{Name: r.name, Method: zip.Deflate, CRC32: crc32.ChecksumIEEE([]byte(r.text)),
			CompressedSize64: uint64(len(packed)), UncompressedSize64: uint64(len(r.text))}
		r.header(h)
		w, err := z.CreateRaw(h)
		must(err)
		_, err = w.Write(packed)
		must(err)
		must(z.Close())
		return buf.Bytes()
	}
}

func deflate(r io.Reader) []byte {
	var buf bytes.Buffer
	w, err := flate.NewWriter(&buf, flate.BestSpeed)
	must(err)
	_, err = io.Copy(w, r)
	must(err)
	must(w.Close())
	return buf.Bytes()
}

// bomb is the good workbook with one part that unpacks to this many bytes of
// filling between a head and a tail.
func bomb(name, head, filling, tail string, size int) func() []byte {
	return func() []byte {
		var buf bytes.Buffer
		z := zip.NewWriter(&buf)
		z.RegisterCompressor(zip.Deflate, func(w io.Writer) (io.WriteCloser, error) { return flate.NewWriter(w, flate.BestSpeed) })
		for _, p := range good() {
			if p.name == name {
				continue
			}
			w, err := z.Create(p.name)
			must(err)
			_, err = io.WriteString(w, p.text)
			must(err)
		}
		w, err := z.Create(name)
		must(err)
		block := strings.Repeat(filling, max(1, 1<<16/len(filling)))
		_, err = io.WriteString(w, head)
		must(err)
		for n := 0; n < size; n += len(block) {
			_, err = io.WriteString(w, block)
			must(err)
		}
		_, err = io.WriteString(w, tail)
		must(err)
		must(z.Close())
		return buf.Bytes()
	}
}

func must(err error) {
	if err != nil {
		panic("badbook: " + err.Error())
	}
}
