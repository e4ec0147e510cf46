package intake

import (
	"bytes"
	"path/filepath"
	"strings"
	"unicode/utf8"

	"golang.org/x/text/encoding"
	"golang.org/x/text/encoding/charmap"
	"golang.org/x/text/encoding/unicode"
)

// openCSV reads a bare list: fields parted by ; , tab or |, in UTF-8, UTF-16
// or Windows-1252.
func openCSV(file string, data []byte) (*book, error) {
	if !looksLikeText(data) {
		return nil, &Refusal{file, "not a spreadsheet", "an order is an .xlsx workbook or a .csv list"}
	}
	if len(data) > maxXML {
		return nil, &Refusal{file, "too large for an order", tooLargeFix}
	}
	text := decodeText(data)
	mark, rest := separator(text)
	s := &sheet{name: strings.TrimSuffix(file, filepath.Ext(file))}
	f := fields{rest: rest, mark: mark}
	cells := 0
	for num := 1; f.rest != ""; num++ {
		r := row{num: num, cells: f.row()}
		if len(r.cells) == 0 {
			continue
		}
		s.rows = append(s.rows, r)
		if cells += len(r.cells); len(s.rows) > MaxRows+1000 || cells > maxCells {
			return nil, &Refusal{file, "too large for an order: it has more than 50000 rows", tooLargeFix}
		}
	}
	s.comma = mark == ';' && commasAreDecimal(s.rows)
	return &book{sheets: []*sheet{s}, csv: true}, nil
}

// looksLikeText is false for bytes that no text encoding explains.
func looksLikeText(data []byte) bool {
	if utf16Of(data) != nil {
		return true
	}
	head := data[:min(len(data), 64<<10)]
	control := 0
	for _, b := range head {
		if b == 0 {
			return false
		}
		if b < ' ' && b != '\t' && b != '\n' && b != '\r' && b != '\f' {
			control++
		}
	}
	return control*20 < len(head)+20
}

// utf16Of recognises UTF-16 by its byte order mark or by zero bytes in every
// second place; nil is something else.
func utf16Of(data []byte) encoding.Encoding {
	switch {
	case bytes.HasPrefix(data, []byte{0xFF, 0xFE}):
		return unicode.UTF16(unicode.LittleEndian, unicode.UseBOM)
	case bytes.HasPrefix(data, []byte{0xFE, 0xFF}):
		return unicode.UTF16(unicode.BigEndian, unicode.UseBOM)
	}
	head := data[:min(len(data)&^1, 1000)]
	var zeros [2]int
	for i, b := range head {
		if b == 0 {
			zeros[i&1]++
		}
	}
	switch half := len(head) / 2; {
	case half < 2:
	case zeros[1]*10 > half*8 && zeros[0] == 0:
		return unicode.UTF16(unicode.LittleEndian, unicode.IgnoreBOM)
	case zeros[0]*10 > half*8 && zeros[1] == 0:
		return unicode.UTF16(unicode.BigEndian, unicode.IgnoreBOM)
	}
	return nil
}

func decodeText(data []byte) string {
	if e := utf16Of(data); e != nil {
		data, _ = e.NewDecoder().Bytes(data)
	}
	data = bytes.TrimPrefix(data, []byte("\xEF\xBB\xBF"))
	if !utf8.Valid(data) {
		data, _ = charmap.Windows1252.NewDecoder().Bytes(data)
	}
	return strings.ReplaceAll(strings.ReplaceAll(string(data), "\r\n", "\n"), "\r", "\n")
}

// separator finds the mark between fields: what a first line sep=; says, else
// the mark that stands most evenly in the first lines.
func separator(text string) (mark byte, rest string) {
	if len(text) > 4 && strings.EqualFold(text[:4], "sep=") && (len(text) == 5 || text[5] == '\n') {
		return text[4], strings.TrimPrefix(text[5:], "\n")
	}
	lines := strings.SplitN(text, "\n", 41)
	best, most := byte(','), 0
	for _, m := range []byte(";\t,|") {
		lined := 0
		for _, l := range lines[:min(len(lines), 40)] {
			if n := strings.Count(l, string(m)); n >= 2 {
				lined += min(n, 20)
			}
		}
		if lined > most {
			best, most = m, lined
		}
	}
	return best, text
}

// fields cuts a text into rows of fields. A quote opens a quoted field only
// when something follows it: alone between two marks it means ditto.
type fields struct {
	rest string
	mark byte
}

func (f *fields) row() (cells []cell) {
	for col := 1; ; col++ {
		text, last := f.field()
		if t := clean(text); t != "" && col <= maxColumns {
			cells = append(cells, cell{col: col, kind: textCell, text: t})
		}
		if last {
			return cells
		}
	}
}

func (f *fields) field() (text string, last bool) {
	whole := f.rest
	f.rest = strings.TrimLeft(f.rest, " ")
	if len(f.rest) > 1 && f.rest[0] == '"' && f.rest[1] != f.mark && f.rest[1] != '\n' {
		if text, ok := f.quoted(); ok {
			tail, last := f.plain()
			return text + tail, last
		}
	}
	f.rest = whole
	return f.plain()
}

// plain reads up to the next mark or line end.
func (f *fields) plain() (text string, last bool) {
	end := strings.IndexAny(f.rest, string([]byte{f.mark, '\n'}))
	if end < 0 {
		text, f.rest = f.rest, ""
		return text, true
	}
	text, last = f.rest[:end], f.rest[end] == '\n'
	f.rest = f.rest[end+1:]
	return text, last
}

// quoted reads a quoted field; not ok when its closing quote is not there.
func (f *fields) quoted() (text string, ok bool) {
	var out strings.Builder
	for i := 1; i < len(f.rest) && i < 1<<16; i++ {
		switch {
		case f.rest[i] != '"':
			out.WriteByte(f.rest[i])
		case i+1 < len(f.rest) && f.rest[i+1] == '"':
			out.WriteByte('"')
			i++
		case i+1 == len(f.rest) || f.rest[i+1] == f.mark || f.rest[i+1] == '\n':
			f.rest = f.rest[i+1:]
			return out.String(), true
		default:
			return "", false
		}
	}
	return "", false
}

// commasAreDecimal is true when a list parted by semicolons writes numbers
// such as 3,5 and none such as 3.5.
func commasAreDecimal(rows []row) bool {
	commas := 0
	for _, r := range rows {
		for _, c := range r.cells {
			if grouped(c.text) {
				commas++
				continue
			}
			if between(c.text, '.') {
				return false
			}
			if between(c.text, ',') {
				commas++
			}
		}
	}
	return commas > 0
}

// grouped reports a text such as 1.250,00: points between the thousands, a
// comma before the cents.
func grouped(text string) bool {
	point, comma := strings.LastIndexByte(text, '.'), strings.IndexByte(text, ',')
	return point > 0 && comma == point+4 && len(text) < 24 && between(text[point+1:], ',')
}

// between reports a text of nothing but digits and one mark between them,
// with a unit behind it or none.
func between(text string, mark byte) bool {
	at := strings.IndexByte(text, mark)
	if at < 1 || at+1 >= len(text) {
		return false
	}
	digit := func(b byte) bool { return b >= '0' && b <= '9' }
	return digit(text[at-1]) && digit(text[at+1]) && len(text) < 16 && strings.Count(text, string(mark)) == 1
}
