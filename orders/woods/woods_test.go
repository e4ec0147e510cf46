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
