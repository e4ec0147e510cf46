package orders

import (
	"fmt"
	"strings"
)

// FindSetting looks a setting up by name, any case and spacing; "Edge origin
// 1/2" is Edge origin, "Cost of walnut" is Cost of.
func FindSetting(name string) (Definition, bool) {
	d, _, ok := find(name)
	if !ok {
		return Definition{}, false
	}
	return *d, true
}

// find looks a setting up by name, any case and spacing; suffix is the finger
// of "Edge origin 1/2" or the wood of "Cost of walnut".
func find(name string) (d *Definition, suffix string, ok bool) {
	folded := fold(name)
	for i := range Definitions {
		if fold(Definitions[i].Name) == folded {
			return &Definitions[i], "", true
		}
	}
	if rest, ok := strings.CutPrefix(folded, "edge origin "); ok {
		d, _, _ := find("Edge origin")
		return d, rest, true
	}
	if rest, ok := strings.CutPrefix(folded, "cost of "); ok && rest != "" {
		return &costOf, rest, true
	}
	return nil, "", false
}

var costOf = Definition{Name: "Cost of", Group: "Boards", Help: "money for a board foot of a wood"}

func canonical(name, suffix string) string {
	if suffix == "" {
		return name
	}
	return name + " " + suffix
}

func fold(s string) string { return strings.Join(strings.Fields(strings.ToLower(s)), " ") }

// nearestName suggests the setting whose letters are nearest, when one is near.
func nearestName(name string) string {
	best, at := 4, ""
	for _, d := range Definitions {
		if n := editDistance(fold(name), fold(d.Name)); n < best {
			best, at = n, d.Name
		}
	}
	if at == "" {
		return ""
	}
	return fmt.Sprintf("; did you mean %q?", at)
}

// editDistance counts the letters to change, add, drop or swap with a
// neighbour between a and b.
func editDistance(a, b string) int {
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
