package parts

import (
	"cmp"
	"slices"

	"batchwright/orders"
	"batchwright/orders/measure"
)

// Kerf is one pass of the blade over a board: what it removes, measured from
// the marked edge. It may reach beyond the board.
type Kerf struct{ From, To measure.Length }

// CellsOf is what a board's end looks like after all passes over it: slots and
// pins by turns, from the marked edge to the height, without gaps. A slot no
// wider than graze at either edge is no notch: the pin behind it reaches the
// edge.
func CellsOf(height measure.Length, kerfs []Kerf, graze measure.Length) []orders.Cell {
	sorted := slices.SortedFunc(slices.Values(kerfs), func(a, b Kerf) int { return cmp.Compare(a.From, b.From) })
	var out []orders.Cell
	at := measure.Length(0)
	add := func(to measure.Length, pin bool) {
		to = min(to, height)
		if to <= at {
			return
		}
		if last := len(out) - 1; last >= 0 && out[last].Pin == pin {
			out[last].To = to
		} else {
			out = append(out, orders.Cell{From: at, To: to, Pin: pin})
		}
		at = to
	}
	for _, k := range sorted {
		add(k.From, true)
		add(k.To, false)
	}
	add(height, true)
	return withoutGrazes(out, graze)
}

func withoutGrazes(cells []orders.Cell, graze measure.Length) []orders.Cell {
	if len(cells) > 1 && !cells[0].Pin && cells[0].To <= graze {
		cells[1].From = 0
		cells = cells[1:]
	}
	if last := len(cells) - 1; last > 0 && !cells[last].Pin && cells[last].To-cells[last].From <= graze {
		cells[last-1].To = cells[last].To
		cells = cells[:last]
	}
	return cells
}
