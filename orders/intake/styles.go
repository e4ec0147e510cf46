package intake

import (
	"encoding/xml"
	"strconv"
	"strings"
)

// readStyles finds which cell styles show a number as a date or a time.
func (x *xlsx) readStyles(string) error {
	name := x.relOf("styles")
	if name == "" {
		return nil
	}
	custom := map[int]bool{}
	inCells := false
	return x.read(name, func(t xml.Token) error {
		switch e := t.(type) {
		case xml.StartElement:
			switch e.Name.Local {
			case "numFmt":
				custom[number(attr(e, "numFmtId"))] = isDateFormat(attr(e, "formatCode"))
			case "cellXfs":
				inCells = true
			case "xf":
				if inCells {
					id := number(attr(e, "numFmtId"))
					date, own := custom[id]
					x.dates = append(x.dates, own && date || !own && isBuiltInDate(id))
				}
			}
		case xml.EndElement:
			if e.Name.Local == "cellXfs" {
				inCells = false
			}
		}
		return nil
	})
}

// isBuiltInDate knows the date and time formats that need no code (ECMA-376
// part 1, 18.8.30, with the East Asian ones).
func isBuiltInDate(id int) bool {
	return id >= 14 && id <= 22 || id >= 27 && id <= 36 || id >= 45 && id <= 47 || id >= 50 && id <= 58
}

// isDateFormat looks for day, month, year, hour or second letters outside
// quotes, brackets and escapes.
func isDateFormat(code string) bool {
	code, _, _ = strings.Cut(code, ";")
	for i := 0; i < len(code); i++ {
		switch c := code[i]; c {
		case '"':
			if end := strings.IndexByte(code[i+1:], '"'); end >= 0 {
				i += end + 1
			}
		case '[':
			end := strings.IndexByte(code[i:], ']')
			if end < 0 {
				return false
			}
			if inner := strings.ToLower(code[i+1 : i+end]); inner != "" && strings.Trim(inner, "hms") == "" {
				return true // elapsed time
			}
			i += end
		case '\\', '_', '*':
			i++
		case 'd', 'D', 'm', 'M', 'y', 'Y', 'h', 'H', 's', 'S':
			return true
		case 'G', 'g': // General
			if strings.HasPrefix(strings.ToLower(code[i:]), "general") {
				i += len("general") - 1
			}
		}
	}
	return false
}

func number(s string) int {
	n, err := strconv.Atoi(s)
	if err != nil {
		return -1
	}
	return n
}
