package settings

import (
	"fmt"
	"slices"
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
	if d := byName(folded); d != nil {
		return d, "", true
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

// byName is the setting of a name, its own before the others it is read under;
// nil: none.
func byName(folded string) *Definition {
	for i := range Definitions {
		if spelling.Fold(Definitions[i].Name) == folded {
			return &Definitions[i]
		}
	}
	for i := range Definitions {
		d := &Definitions[i]
		if spelling.Fold(d.MetricName) == folded && folded != "" {
			return d
		}
		for _, other := range d.Also {
			if spelling.Fold(other) == folded {
				return d
			}
		}
	}
	return nil
}

// Match finds the setting that a person means: by its name or another one, else
// by any part of the name that only one setting has. Near are the three nearest
// where none or several are meant.
func Match(written string) (name string, near []string) {
	if name, ok := NameOf(written); ok {
		return name, nil
	}
	words := strings.Fields(spelling.Fold(written))
	var hits []string
	for i := range Definitions {
		d := &Definitions[i]
		if names := spelling.Fold(d.Name + " " + d.MetricName + " " + strings.Join(d.Also, " ")); allIn(names, words) {
			hits = append(hits, d.Name)
		}
	}
	if len(hits) == 1 {
		return hits[0], nil
	}
	if len(hits) == 0 {
		hits = byDistance(written)
	}
	return "", hits[:min(3, len(hits))]
}

func allIn(text string, words []string) bool {
	for _, w := range words {
		if !strings.Contains(text, w) {
			return false
		}
	}
	return len(words) > 0
}

// byDistance lists the settings, the nearest name first.
func byDistance(written string) []string {
	var names []string
	at := map[string]int{}
	for i := range Definitions {
		d := &Definitions[i]
		at[d.Name] = spelling.Distance(spelling.Fold(written), spelling.Fold(d.Name))
		for _, other := range d.Also {
			at[d.Name] = min(at[d.Name], spelling.Distance(spelling.Fold(written), spelling.Fold(other)))
		}
		names = append(names, d.Name)
	}
	slices.SortStableFunc(names, func(a, b string) int { return at[a] - at[b] })
	return names
}

// CostOfWood is the name of the settings "Cost of walnut" and the like.
const CostOfWood = "Cost of"

var costOf = Definition{Name: CostOfWood, Group: "Boards", Help: "money for a wood, by its measure: 9.50 per board foot, 1450 per m3, 38 per m2, 62 each; without one a board foot, in a metric shop a cubic meter, of sheets a square meter"}

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
