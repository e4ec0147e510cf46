package messy

import (
	"archive/zip"
	"bytes"
	"fmt"
	"html"
	"regexp"
	"strconv"
	"strings"
	"time"
)

// A workbook is written out with a line a row and a bar between cells:
//
//	^               the usual headings; ^|Due|Notes with more
//	tea|C=12 1/2"   the usual line, with another value in column C
//	@ sheet NAME    what follows stands on this sheet; also: @ hidden sheet NAME
//	@ merge A1:C1   @ hide row 3   @ hide column C   @ protect
//
// A number is a number, 'text a text, =A1+1 a formula without its value, =A1+1
// => 13 one with it, #REF! an error, date(2026-12-05) a date, \n a line break,
// \u00a0 that character; anything else is a text.

type page struct {
	name               string
	hidden, protected  bool
	rows               []string // the cells of each, as XML
	hiddenRow          map[int]bool
	hiddenCols, merges string
}

func workbook(body string) ([]byte, error) {
	pages := []*page{{name: "Boxes", hiddenRow: map[int]bool{}}}
	for line := range strings.SplitSeq(body, "\n") {
		p := pages[len(pages)-1]
		words := strings.Fields(line)
		switch {
		case strings.HasPrefix(line, "@ sheet "), strings.HasPrefix(line, "@ hidden sheet "):
			_, name, _ := strings.Cut(line, "sheet ")
			if len(pages) > 1 || len(p.rows) > 0 {
				p = &page{hiddenRow: map[int]bool{}}
				pages = append(pages, p)
			}
			p.name, p.hidden = name, words[1] == "hidden"
		case strings.HasPrefix(line, "@ "):
			if err := p.directive(words[1:]); err != nil {
				return nil, err
			}
		default:
			row, err := cells(line, len(p.rows)+1)
			if err != nil {
				return nil, err
			}
			p.rows = append(p.rows, row)
		}
	}
	return pack(pages)
}

func (p *page) directive(words []string) error {
	switch strings.Join(words[:len(words)-1], " ") {
	case "merge":
		p.merges += `<mergeCell ref="` + words[1] + `"/>`
	case "hide row":
		n, err := strconv.Atoi(words[2])
		p.hiddenRow[n] = true
		return err
	case "hide column":
		n := words[2][0] - 'A' + 1
		p.hiddenCols += fmt.Sprintf(`<col min="%d" max="%d" width="9" hidden="1" customWidth="1"/>`, n, n)
	case "":
		p.protected = words[0] == "protect"
	default:
		return fmt.Errorf("%q is not known", words)
	}
	return nil
}

// cells writes a row's cells as XML.
func cells(line string, row int) (string, error) {
	var values []string
	switch first, more, _ := strings.Cut(line, "|"); {
	case first == "^":
		values = strings.Split(strings.TrimSuffix(usual+"|"+more, "|"), "|")
	case first == "tea":
		values = strings.Split(tea, "|")
		for change := range strings.SplitSeq(more, "|") {
			column, value, ok := strings.Cut(change, "=")
			if !ok {
				continue
			}
			for len(values) <= int(column[0]-'A') {
				values = append(values, "")
			}
			values[column[0]-'A'] = value
		}
	default:
		values = strings.Split(line, "|")
	}
	var out strings.Builder
	for i, v := range values {
		xml, err := cell(strings.TrimSpace(v), fmt.Sprintf("%c%d", 'A'+i, row))
		if err != nil {
			return "", err
		}
		out.WriteString(xml)
	}
	return out.String(), nil
}

var (
	isNumber = regexp.MustCompile(`^-?\d+(\.\d+)?$`)
	isDate   = regexp.MustCompile(`^date\((.*)\)$`)
	isCode   = regexp.MustCompile(`\\u[0-9a-fA-F]{4}`)
)

func cell(text, at string) (string, error) {
	switch {
	case text == "":
		return "", nil
	case isNumber.MatchString(text):
		return `<c r="` + at + `"><v>` + text + `</v></c>`, nil
	case text == "TRUE" || text == "FALSE":
		return `<c r="` + at + `" t="b"><v>` + map[string]string{"TRUE": "1", "FALSE": "0"}[text] + `</v></c>`, nil
	case text[0] == '#' && strings.ContainsAny(text, "!/?"):
		return `<c r="` + at + `" t="e"><v>` + text + `</v></c>`, nil
	case text[0] == '=':
		return formula(text[1:], at), nil
	case isDate.MatchString(text):
		day, err := time.Parse("2006-01-02", isDate.FindStringSubmatch(text)[1])
		serial := int(day.Sub(time.Date(1899, 12, 30, 0, 0, 0, 0, time.UTC)).Hours() / 24)
		return fmt.Sprintf(`<c r="%s" s="1"><v>%d</v></c>`, at, serial), err
	}
	style := ""
	if rest, ok := strings.CutPrefix(text, "'"); ok && rest != "'" {
		text, style = rest, ` s="2"`
	}
	return `<c r="` + at + `"` + style + ` t="inlineStr"><is><t xml:space="preserve">` + html.EscapeString(unescape(text)) + `</t></is></c>`, nil
}

func formula(text, at string) string {
	source, value, cached := strings.Cut(text, "=>")
	source, value = html.EscapeString(strings.TrimSpace(source)), strings.TrimSpace(value)
	switch {
	case !cached:
		return `<c r="` + at + `"><f>` + source + `</f></c>`
	case isNumber.MatchString(value):
		return `<c r="` + at + `"><f>` + source + `</f><v>` + value + `</v></c>`
	case value[0] == '#':
		return `<c r="` + at + `" t="e"><f>` + source + `</f><v>` + value + `</v></c>`
	}
	return `<c r="` + at + `" t="str"><f>` + source + `</f><v>` + html.EscapeString(value) + `</v></c>`
}

func unescape(text string) string {
	text = isCode.ReplaceAllStringFunc(text, func(code string) string {
		n, _ := strconv.ParseUint(code[2:], 16, 16)
		return string(rune(n))
	})
	return strings.ReplaceAll(text, `\n`, "\n")
}

const (
	head    = `<?xml version="1.0" encoding="UTF-8" standalone="yes"?>` + "\n"
	space   = `xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main"`
	rels    = `xmlns="http://schemas.openxmlformats.org/package/2006/relationships"`
	relBase = "http://schemas.openxmlformats.org/officeDocument/2006/relationships"
	types   = "application/vnd.openxmlformats-officedocument.spreadsheetml."

	// styles: plain, a date, a text that was typed with an apostrophe.
	styles = `<styleSheet ` + space + `><fonts count="1"><font/></fonts><fills count="1"><fill/></fills><borders count="1"><border/></borders><cellStyleXfs count="1"><xf/></cellStyleXfs>` +
		`<cellXfs count="3"><xf numFmtId="0"/><xf numFmtId="14" applyNumberFormat="1"/><xf numFmtId="49" quotePrefix="1" applyNumberFormat="1"/></cellXfs></styleSheet>`
)

// pack writes the parts of a workbook (ECMA-376 part 1) into a zip.
func pack(pages []*page) ([]byte, error) {
	var buf bytes.Buffer
	z := zip.NewWriter(&buf)
	kinds, listed, related := "", "", ""
	write := func(name, text string) error {
		w, err := z.Create(name)
		if err == nil {
			_, err = w.Write([]byte(head + text))
		}
		return err
	}
	for i, p := range pages {
		n := strconv.Itoa(i + 1)
		kinds += `<Override PartName="/xl/worksheets/sheet` + n + `.xml" ContentType="` + types + `worksheet+xml"/>`
		state := ""
		if p.hidden {
			state = ` state="hidden"`
		}
		listed += `<sheet name="` + html.EscapeString(p.name) + `" sheetId="` + n + `"` + state + ` r:id="rId` + n + `"/>`
		related += `<Relationship Id="rId` + n + `" Type="` + relBase + `/worksheet" Target="worksheets/sheet` + n + `.xml"/>`
		if err := write("xl/worksheets/sheet"+n+".xml", p.xml()); err != nil {
			return nil, err
		}
	}
	for _, part := range [][2]string{
		{"[Content_Types].xml", `<Types xmlns="http://schemas.openxmlformats.org/package/2006/content-types"><Default Extension="xml" ContentType="application/xml"/><Default Extension="rels" ContentType="application/vnd.openxmlformats-package.relationships+xml"/><Override PartName="/xl/workbook.xml" ContentType="` + types + `sheet.main+xml"/><Override PartName="/xl/styles.xml" ContentType="` + types + `styles+xml"/>` + kinds + `</Types>`},
		{"_rels/.rels", `<Relationships ` + rels + `><Relationship Id="rId1" Type="` + relBase + `/officeDocument" Target="xl/workbook.xml"/></Relationships>`},
		{"xl/workbook.xml", `<workbook ` + space + ` xmlns:r="` + relBase + `"><sheets>` + listed + `</sheets></workbook>`},
		{"xl/_rels/workbook.xml.rels", `<Relationships ` + rels + `>` + related + `<Relationship Id="rIdS" Type="` + relBase + `/styles" Target="styles.xml"/></Relationships>`},
		{"xl/styles.xml", styles},
	} {
		if err := write(part[0], part[1]); err != nil {
			return nil, err
		}
	}
	err := z.Close()
	return buf.Bytes(), err
}

func (p *page) xml() string {
	out := `<worksheet ` + space + `>`
	if p.hiddenCols != "" {
		out += `<cols>` + p.hiddenCols + `</cols>`
	}
	out += `<sheetData>`
	for i, cells := range p.rows {
		if cells == "" {
			continue
		}
		hidden := ""
		if p.hiddenRow[i+1] {
			hidden = ` hidden="1"`
		}
		out += fmt.Sprintf(`<row r="%d"%s>%s</row>`, i+1, hidden, cells)
	}
	out += `</sheetData>`
	if p.protected {
		out += `<sheetProtection sheet="1" objects="1" scenarios="1"/>`
	}
	if p.merges != "" {
		out += `<mergeCells>` + p.merges + `</mergeCells>`
	}
	return out + `</worksheet>`
}
