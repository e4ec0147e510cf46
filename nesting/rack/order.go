package rack

import (
	"cmp"
	"fmt"
	"slices"
	"strings"
)

// sortByID sorts as people count: R2 before R10, W1.2 before W1.10.
func sortByID(boards []Board) {
	slices.SortFunc(boards, func(a, b Board) int { return CompareIDs(a.ID, b.ID) })
}

// CompareIDs compares runs of digits as numbers and everything else as text.
func CompareIDs(a, b string) int {
	first, second := a, b
	for a != "" && b != "" {
		da, db := digits(a), digits(b)
		if da == 0 || db == 0 {
			if a[0] != b[0] {
				return cmp.Compare(a[0], b[0])
			}
			a, b = a[1:], b[1:]
			continue
		}
		na, nb := strings.TrimLeft(a[:da], "0"), strings.TrimLeft(b[:db], "0")
		if c := cmp.Or(cmp.Compare(len(na), len(nb)), strings.Compare(na, nb)); c != 0 {
			return c
		}
		a, b = a[da:], b[db:]
	}
	return cmp.Or(cmp.Compare(len(a), len(b)), strings.Compare(first, second))
}

// digits is how many digits a text begins with.
func digits(s string) int {
	n := 0
	for n < len(s) && s[n] >= '0' && s[n] <= '9' {
		n++
	}
	return n
}

// Physical names the boards of one line: a line of three boards W2 is W2#1,
// W2#2 and W2#3, as the plan names them.
func Physical(id string, count int) []string {
	if count <= 1 {
		return []string{id}
	}
	out := make([]string, count)
	for i := range out {
		out[i] = fmt.Sprintf("%s#%d", id, i+1)
	}
	return out
}
