package parts

import (
	"fmt"
	"strings"

	"batchwright/orders"
)

// names keeps the stems given out, so that two sheets with a row 7 do not
// make two parts of one name.
type names map[string]bool

// stem is the part of an id that its line gives: "B7" for a box of row 7, "P7"
// for a loose part; the line's number where no cell is known, and a letter
// behind it where the stem is taken.
func (n names) stem(kind string, s orders.Source, line int) string {
	row := strings.TrimLeft(s.Cell, "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz$")
	if row == "" {
		row = fmt.Sprint(line + 1)
	}
	stem := kind + row
	for letter := 'a'; n[stem]; letter++ {
		stem = kind + row + string(letter)
		if letter == 'z' {
			stem, letter = kind+row+"z", 'a'-1
			row += "z"
		}
	}
	n[stem] = true
	return stem
}
