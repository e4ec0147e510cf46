package shop

import (
	"cmp"
	"fmt"
	"slices"
	"strings"
)

// sortByID sorts as people count: R2 before R10, W1.2 before W1.10. Boards are
// large, so their places are sorted and each board moves once.
func sortByID(boards []RackBoard) {
	order := make([]int, len(boards))
	for i := range order {
		order[i] = i
	}
	slices.SortFunc(order, func(a, b int) int { return CompareBoardIDs(boards[a].ID, boards[b].ID) })
	sorted := make([]RackBoard, len(boards))
	for i, from := range order {
		sorted[i] = boards[from]
	}
	copy(boards, sorted)
}

// CompareBoardIDs compares runs of digits as numbers and everything else as text.
func CompareBoardIDs(a, b string) int {
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

// PhysicalIDs names the boards of one line: a line of three boards W2 is W2#1,
// W2#2 and W2#3, as the plan names them.
func PhysicalIDs(id string, count int) []string {
	if count <= 1 {
		return []string{id}
	}
	out := make([]string, count)
	for i := range out {
		out[i] = fmt.Sprintf("%s#%d", id, i+1)
	}
	return out
}
