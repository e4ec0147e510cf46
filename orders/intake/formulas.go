package intake

import (
	"bytes"
	"strconv"
	"strings"

	"github.com/xuri/excelize/v2"
)

// Bounds of what is computed when a workbook was saved without its values. The
// library would work on without end on what is larger.
const (
	maxFormulas    = 5_000
	maxFormulaWork = 20_000_000 // cells looked at, times rows
)

// plainFunctions are those that cannot grow a text without bound and do not
// ask for the time or chance.
var plainFunctions = map[string]bool{
	"SUM": true, "PRODUCT": true, "AVERAGE": true, "MIN": true, "MAX": true, "ABS": true, "ROUND": true, "ROUNDUP": true,
	"ROUNDDOWN": true, "INT": true, "TRUNC": true, "CEILING": true, "FLOOR": true, "MROUND": true, "MOD": true, "QUOTIENT": true,
	"POWER": true, "SQRT": true, "EVEN": true, "ODD": true, "IF": true, "IFERROR": true, "AND": true, "OR": true, "NOT": true,
	"COUNT": true, "COUNTA": true, "SUMPRODUCT": true, "SUBTOTAL": true, "MEDIAN": true,
}

// formulaCount keeps account of every formula of a workbook, because a cell
// without a value may lean on any of them.
type formulaCount struct {
	total, uncached, cells int
	unplain                bool
}

func (n *formulaCount) add(text string, cached bool) {
	n.total++
	if !cached {
		n.uncached++
	}
	cells, plain := formulaWork(text)
	n.cells += cells
	n.unplain = n.unplain || !plain
}

// formulaWork counts the cells a formula looks at; plain is false for a
// formula that is left to a spreadsheet program.
func formulaWork(text string) (cells int, plain bool) {
	if len(text) > 1000 || strings.ContainsAny(text, "&{") {
		return 0, false
	}
	words := strings.FieldsFunc(text, func(r rune) bool {
		return !(r >= 'A' && r <= 'Z' || r >= 'a' && r <= 'z' || r >= '0' && r <= '9' || r == '.' || r == '$' || r == ':' || r == '(' || r == '_')
	})
	for _, w := range words {
		for {
			name, rest, call := strings.Cut(w, "(")
			if !call {
				break
			}
			if name != "" && !plainFunctions[strings.ToUpper(name)] {
				return 0, false
			}
			w = rest
		}
		if strings.Contains(w, ":") {
			a, ok := parseArea(w)
			if !ok {
				return 0, false // a whole column, or something else
			}
			cells += (a.right - a.left + 1) * (a.bottom - a.top + 1)
		} else {
			cells++
		}
	}
	return cells, true
}

// compute fills in formulas that were saved without a value, where that is
// safe. What cannot be computed stays as it is and is reported where it is used.
func (x *xlsx) compute(data []byte) {
	n := x.formulas
	rows := 0
	for _, s := range x.book.sheets {
		rows += len(s.rows)
	}
	if n.uncached == 0 || n.unplain || n.total > maxFormulas || n.cells > maxFormulaWork/max(rows, 1) {
		return
	}
	defer func() { _ = recover() }() // then the cells stay without a value
	f, err := excelize.OpenReader(bytes.NewReader(data), excelize.Options{UnzipSizeLimit: maxXML, UnzipXMLSizeLimit: maxXML, RawCellValue: true})
	if err != nil {
		return
	}
	defer f.Close()
	for _, s := range x.book.sheets {
		for i := range s.rows {
			for j := range s.rows[i].cells {
				if c := &s.rows[i].cells[j]; c.kind == formulaCell {
					c.compute(f, s.name, cellName(c.col, s.rows[i].num))
				}
			}
		}
	}
}

func (c *cell) compute(f *excelize.File, sheet, name string) {
	text, err := f.CalcCellValue(sheet, name)
	value, notNumber := strconv.ParseFloat(text, 64)
	switch {
	case err != nil && strings.HasPrefix(err.Error(), "#"):
		c.kind, c.text = errorCell, err.Error()
	case err != nil || text == "":
		return
	case strings.HasPrefix(text, "#"):
		c.kind, c.text = errorCell, text
	case notNumber != nil:
		c.kind, c.text = textCell, text
	default:
		c.kind, c.text = numberCell, plainNumber(value)
	}
	c.evaluated = true
}
