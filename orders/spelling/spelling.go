// Package spelling compares names as people type them: any case, any spacing,
// a letter wrong. It leaves to its callers which names there are.
package spelling

import "strings"

// Fold is a text in small letters with single spaces.
func Fold(s string) string { return strings.Join(strings.Fields(strings.ToLower(s)), " ") }

// Distance counts the letters to change, add, drop or swap with a
// neighbour between a and b.
func Distance(a, b string) int {
	before, above, row := make([]int, len(b)+1), make([]int, len(b)+1), make([]int, len(b)+1)
	for j := range row {
		row[j] = j
	}
	for i := range len(a) {
		before, above, row = above, row, before
		row[0] = i + 1
		for j := range len(b) {
			change := above[j]
			if a[i] != b[j] {
				change++
			}
			row[j+1] = min(change, above[j+1]+1, row[j]+1)
			if i > 0 && j > 0 && a[i] == b[j-1] && a[i-1] == b[j] {
				row[j+1] = min(row[j+1], before[j-1]+1)
			}
		}
	}
	return row[len(b)]
}
