package reports

import (
	"slices"
	"testing"
)

// Parts are found by code and by name, in any of the usual orders; what is not
// known shows the nearest.
func TestFindPart(t *testing.T) {
	names := Names{}
	for _, n := range []Name{
		{Code: "B2-1-S1", Box: "Recipe box", What: "side", N: 1, Of: 2, Unit: 1, Units: 6},
		{Code: "B2-3-S1", Box: "Recipe box", What: "side", N: 1, Of: 2, Unit: 3, Units: 6},
		{Code: "B2-3-S2", Box: "Recipe box", What: "side", N: 2, Of: 2, Unit: 3, Units: 6},
		{Code: "B2-3-BT", Box: "Recipe box", What: "bottom", N: 1, Of: 1, Unit: 3, Units: 6},
	} {
		names[n.Code] = &n
	}
	for _, c := range []struct {
		said string
		want []string
	}{
		{"Recipe box 3 side 1", []string{"B2-3-S1"}},
		{"recipe box, side 1, box 3 of 6", []string{"B2-3-S1"}},
		{"Recipe box side 2 box 3", []string{"B2-3-S2"}},
		{"Recipe box 3 bottom", []string{"B2-3-BT"}},
		{"b2-1-s1", []string{"B2-1-S1"}},
		{"Recipe box 3", []string{"B2-3-BT", "B2-3-S1", "B2-3-S2"}},
		{"Lid", nil},
	} {
		if got := names.Find(c.said); !slices.Equal(got, c.want) {
			t.Errorf("%q: %v, want %v", c.said, got, c.want)
		}
	}
	if got := names.Nearest("Recipe box 3 sied 2", 1); !slices.Equal(got, []string{"Recipe box 3 side 2 (B2-3-S2)"}) {
		t.Errorf("nearest %v", got)
	}
}
