package settings

import (
	"fmt"
	"strings"

	"batchwright/orders/spelling"
)

// Find looks a setting up by name, any case and spacing; "Edge origin
// 1/2" is Edge origin, "Cost of walnut" is Cost of.
func Find(name string) (Definition, bool) {
	d, _, ok := find(name)
	if !ok {
		return Definition{}, false
	}
	return *d, true
}

// find looks a setting up by name, any case and spacing; suffix is the finger
// of "Edge origin 1/2" or the wood of "Cost of walnut".
func find(name string) (d *Definition, suffix string, ok bool) {
	folded := spelling.Fold(name)
	for i := range Definitions {
		if spelling.Fold(Definitions[i].Name) == folded {
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

// nearestName suggests the setting whose letters are nearest, when one is near.
func nearestName(name string) string {
	best, at := 4, ""
	for _, d := range Definitions {
		if n := spelling.Distance(spelling.Fold(name), spelling.Fold(d.Name)); n < best {
			best, at = n, d.Name
		}
	}
	if at == "" {
		return ""
	}
	return fmt.Sprintf("; did you mean %q?", at)
}
