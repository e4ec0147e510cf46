package woods

import (
	"testing"

	"batchwright/orders/spelling"
)

func TestWoodsAreFoundByAnyName(t *testing.T) {
	for written, want := range map[string]string{"Walnut": "walnut", "black  WALNUT": "walnut", "Baltic birch plywood": "birch ply", "sugar maple": "hard maple", "Applewood": "applewood"} {
		if got := Name(written); got != want {
			t.Errorf("Name(%q) = %q, want %q", written, got, want)
		}
	}
	for written, want := range map[string]string{"wallnut": "walnut", "chery": "cherry", "mapel": "maple", "mahagony": "mahogany", "oka": "", "applewood": "", "sapelle": "sapele"} {
		if got := Nearest(written); got != want {
			t.Errorf("Nearest(%q) = %q, want %q", written, got, want)
		}
	}
	seen := map[string]string{}
	for _, w := range All {
		for _, name := range append([]string{w.Name}, w.Others...) {
			if seen[name] != "" || name != spelling.Fold(name) {
				t.Errorf("%q stands for %s and %s, or is not folded", name, seen[name], w.Name)
			}
			seen[name] = w.Name
		}
	}
}

// TestGeneralNames: what a name covers, as the trade uses it (common practice).
func TestGeneralNames(t *testing.T) {
	for _, c := range []struct {
		general, species string
		covers           bool
	}{
		{"oak", "red oak", true}, {"oak", "White Oak", true}, {"oak", "oak", false}, {"red oak", "oak", false},
		{"maple", "sugar maple", true}, {"ply", "birch plywood", true}, {"ply", "oak", false}, {"oak", "oak ply", false},
		{"walnut", "claro walnut", true}, {"walnut", "white walnut", false}, {"cedar", "spanish cedar", false},
		{"fir", "douglas fir", false}, {"pine", "eastern white pine", true}, {"mahogany", "african mahogany", false},
	} {
		if got := Covers(c.general, c.species); got != c.covers {
			t.Errorf("%s covers %s: %v", c.general, c.species, got)
		}
	}
}
