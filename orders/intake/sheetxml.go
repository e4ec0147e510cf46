package intake

import (
	"encoding/xml"
	"fmt"
	"math"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"
)

// sheetReader turns the tokens of one worksheet part into a sheet.
type sheetReader struct {
	*xlsx
	sheet *sheet
	fault string // the first reference or index that cannot be right

	rowTags  int
	row      row
	inCell   bool
	col      int // of the cell being read
	kind     string
	style    int
	formula  bool
	hasValue bool
	inText   bool            // inside v or t
	source   strings.Builder // of the formula
	inSource bool
	phonetic bool
	text     strings.Builder
}

func (w *sheetReader) token(t xml.Token) error {
	switch e := t.(type) {
	case xml.StartElement:
		return w.start(e)
	case xml.CharData:
		switch {
		case w.inText:
			w.text.Write(e)
		case w.inSource:
			w.source.Write(e)
		}
	case xml.EndElement:
		return w.end(e.Name.Local)
	}
	return nil
}

func (w *sheetReader) start(e xml.StartElement) error {
	switch e.Name.Local {
	case "row":
		return w.startRow(e)
	case "c":
		w.startCell(e)
	case "f":
		w.formula, w.inSource = true, true
		w.source.Reset()
	case "v":
		w.inText, w.hasValue = true, true
	case "rPh":
		w.phonetic = true
	case "t":
		w.inText = w.inCell && !w.phonetic
		w.hasValue = w.hasValue || w.inText
	case "col":
		if truth(attr(e, "hidden")) {
			w.sheet.hiddenCols = append(w.sheet.hiddenCols, span{number(attr(e, "min")), number(attr(e, "max"))})
		}
	case "mergeCell":
		a, ok := parseArea(attr(e, "ref"))
		if !ok {
			w.blame("%s merges cells %q", w.sheet.name, attr(e, "ref"))
		} else if len(w.sheet.merges) < maxRowTags {
			w.sheet.merges = append(w.sheet.merges, a)
		}
	}
	return nil
}

func (w *sheetReader) startRow(e xml.StartElement) error {
	if w.rowTags++; w.rowTags > maxRowTags {
		return w.tooLarge(fmt.Sprintf("the sheet %s has more than %d rows, empty ones included; an order has at most %d", w.sheet.name, maxRowTags, MaxRows))
	}
	num := w.row.num + 1
	if r := attr(e, "r"); r != "" {
		num = number(r)
	}
	if num <= w.row.num || num > maxRowIndex {
		w.blame("%s has row %q after row %d", w.sheet.name, attr(e, "r"), w.row.num)
	}
	w.row = row{num: num, hidden: truth(attr(e, "hidden"))}
	w.col = 0
	return nil
}

func (w *sheetReader) startCell(e xml.StartElement) {
	col := w.col + 1
	if ref := attr(e, "r"); ref != "" {
		c, r, ok := parseRef(ref)
		if !ok || r != w.row.num || c <= w.col {
			w.blame("%s has a cell %q out of place in row %d", w.sheet.name, ref, w.row.num)
		}
		col = c
	}
	w.col, w.inCell, w.kind, w.style = col, true, attr(e, "t"), number(attr(e, "s"))
	w.formula, w.hasValue = false, false
	w.text.Reset()
}

func (w *sheetReader) end(name string) error {
	switch name {
	case "v", "t":
		w.inText = false
	case "f":
		w.inSource = false
	case "rPh":
		w.phonetic = false
	case "c":
		w.inCell = false
		w.endCell()
	case "row":
		if len(w.row.cells) > 0 {
			w.sheet.rows = append(w.sheet.rows, w.row)
		}
		switch {
		case len(w.sheet.rows) > MaxRows+1000:
			return w.tooLarge(fmt.Sprintf("the sheet %s has more than %d rows", w.sheet.name, MaxRows))
		case w.cells > maxCells:
			return w.tooLarge(fmt.Sprintf("it has more than %d filled cells", maxCells))
		}
	}
	return nil
}

// endCell keeps a cell that holds something.
func (w *sheetReader) endCell() {
	c := cell{col: w.col, computed: w.formula}
	raw := w.text.String()
	saved := w.hasValue && (raw != "" || w.kind == "str")
	if w.formula {
		w.formulas.add(w.source.String(), saved)
	}
	switch {
	case w.formula && !saved:
		c.kind, c.text = formulaCell, "="+w.source.String()
	case w.kind == "s":
		i, err := strconv.Atoi(strings.TrimSpace(raw))
		if w.hasValue && (err != nil || i < 0 || i >= len(w.strings)) {
			w.blame("%s!%s points at the text %q, which is not there", w.sheet.name, cellName(w.col, w.row.num), raw)
			return
		}
		if w.hasValue {
			c.text = w.strings[i]
		}
	case w.kind == "str" || w.kind == "inlineStr":
		c.text = unescape(raw)
	case w.kind == "b":
		c.kind, c.text = boolCell, map[bool]string{true: "TRUE", false: "FALSE"}[truth(raw)]
	case w.kind == "e":
		c.kind, c.text = errorCell, raw
	case w.kind == "d":
		c.kind, c.text = dateCell, raw
	case !w.hasValue || raw == "":
		return
	default:
		w.numberCell(&c, raw)
	}
	if c.text = clean(c.text); c.text == "" {
		return
	}
	w.cells++
	w.idle -= 3 // the cell, its value, its formula or text
	w.row.cells = append(w.row.cells, c)
}

func (w *sheetReader) numberCell(c *cell, raw string) {
	f, err := strconv.ParseFloat(strings.TrimSpace(raw), 64)
	if err != nil || math.IsInf(f, 0) || math.IsNaN(f) {
		w.blame("%s!%s holds %q where a number should stand", w.sheet.name, cellName(w.col, w.row.num), raw)
		return
	}
	c.kind, c.text = numberCell, plainNumber(f)
	if w.style >= 0 && w.style < len(w.dates) && w.dates[w.style] {
		c.kind = dateCell
		c.text = dateOfSerial(f, w.date1904).Format("2006-01-02")
	}
}

// plainNumber writes f in plain digits at 15 significant ones, as spreadsheets
// show it: 0.0955 is stored as 9.5500000000000002E-2 and means 0.0955.
func plainNumber(f float64) string {
	short := strconv.FormatFloat(f, 'g', 15, 64)
	rounded, _ := strconv.ParseFloat(short, 64)
	return strconv.FormatFloat(rounded, 'f', -1, 64)
}

func (w *sheetReader) blame(format string, args ...any) {
	if w.fault == "" {
		w.fault = fmt.Sprintf(format, args...)
	}
}

// unescape reads _x000D_ as the character it stands for (ECMA-376 part 1,
// 22.9.2.19).
func unescape(s string) string {
	if !strings.Contains(s, "_x") {
		return s
	}
	var out strings.Builder
	for len(s) > 0 {
		if len(s) >= 7 && s[0] == '_' && s[1] == 'x' && s[6] == '_' {
			if n, err := strconv.ParseUint(s[2:6], 16, 16); err == nil && utf8.ValidRune(rune(n)) {
				out.WriteRune(rune(n))
				s = s[7:]
				continue
			}
		}
		out.WriteByte(s[0])
		s = s[1:]
	}
	return out.String()
}

// clean drops the spaces around a text and the characters in it that nobody
// sees and a terminal might obey.
func clean(s string) string {
	s = strings.Map(func(r rune) rune {
		switch {
		case r == '\n':
			return r
		case unicode.IsControl(r) || unicode.IsSpace(r):
			return ' '
		case r >= '\u202a' && r <= '\u202e' || r >= '\u2066' && r <= '\u2069':
			return -1 // turns the direction of writing
		}
		return r
	}, s)
	return strings.TrimFunc(s, isUnseen)
}

// isUnseen knows the spaces, those of no width among them.
func isUnseen(r rune) bool {
	return unicode.IsSpace(r) || r >= '\u200b' && r <= '\u200f' || r == '\u2060' || r == '\ufeff'
}
