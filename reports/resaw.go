package reports

import (
	"fmt"
	"slices"

	"batchwright/nesting"
	"batchwright/orders/measure"
)

// ResawWords say which boards are sawn into the leaves that follow, before
// anything else is cut, and what must be minded there.
func ResawWords(leaves []*nesting.CutBoard, w Words) string {
	var names []string
	seen := map[string]bool{}
	for _, b := range leaves {
		if !seen[b.Leaf.Of] {
			seen[b.Leaf.Of] = true
			names = append(names, b.Leaf.Of)
		}
	}
	one := leaves[0]
	return fmt.Sprintf("before anything else flatten and resaw %s %s into %d leaves of %s (band saw, tall fence, push block; see Cautions)",
		counted(len(names)), Listed(names, 8), one.Leaf.Count, w.Len(one.Thickness))
}

func counted(n int) string {
	if n == 1 {
		return "board"
	}
	return "boards"
}

// resawCaution stands among the cautions of a plan that resaws boards.
var resawCaution = Caution{"Resawing at the band saw", []string{
	"Flatten a face and an edge first; the board runs on them, against a fence nearly as tall as the board is wide.",
	"Guides and guard stand just above the board; the blade is sharp, coarse, as wide as the machine takes, and tensioned by its manual.",
	"Feed with push blocks, never with a hand behind the blade; use a helper or a stand for long leaves.",
	"Do not resaw boards with loose knots, splits, nails or tension: a closing cut binds the blade. Stop the machine before you back out.",
	"Leaves move after the cut: stack them with stickers, and plane them to size when they have rested.",
}, "common practice; the band saw's manual and local rules come first"}

// CautionsFor are the usual cautions, and with boards that are resawn those
// for the band saw.
func CautionsFor(boards []nesting.CutBoard, unit measure.Unit) []Caution {
	for i := range boards {
		if boards[i].Leaf.Count > 0 {
			return cautionsIn(unit, append(slices.Clone(cautions), resawCaution))
		}
	}
	return cautionsIn(unit, slices.Clone(cautions))
}
