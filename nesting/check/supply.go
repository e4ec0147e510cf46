package check

import (
	"maps"
	"slices"
	"strings"

	"batchwright/nesting"
	"batchwright/orders"
	"batchwright/orders/measure"
)

// line is what makes two boards the same line of a rack or yard.
type line struct {
	id, wood, class      string
	length, width, thick measure.Length
	source               orders.Source
}

func lineOf(b *orders.Board) line {
	return line{b.ID, b.Wood, b.Class, b.Length, b.Width, b.Thickness, b.Source}
}

// alike: what lies on the bench is the board given, in all that its line does
// not tell: a raw edge and a flaw are not left out.
func alike(given, taken *orders.Board) bool {
	offcut := orders.FromOffcut
	return given.Sheet == taken.Sheet && (given.Origin == offcut) == (taken.Origin == offcut) &&
		given.Cost == taken.Cost && given.CostKnown == taken.CostKnown &&
		given.WideEnd == taken.WideEnd && slices.Equal(given.Defects, taken.Defects)
}

// supply: each board used is one that was given, at its size, no more often
// than it is there, under a name of its own that says which.
func (c *checker) supply(l nesting.Layout) {
	given := map[line]*orders.Board{}
	for _, list := range [][]orders.Board{c.given.Rack, c.given.Yard} {
		for i := range list {
			given[lineOf(&list[i])] = &list[i]
		}
	}
	taken, counted := map[line]int{}, map[string]bool{}
	names := map[string]bool{}
	for i := range l.Boards {
		b := &l.Boards[i]
		if names[b.ID] {
			c.fault(b.ID, "supply", "two boards have this name")
		}
		names[b.ID] = true
		if b.Length != b.Stock.Length || b.Width != b.Stock.Width {
			c.fault(b.ID, "supply", "its size is not that of the board on the rack")
		}
		at := lineOf(&b.Stock)
		if !counted[b.Whole()] {
			counted[b.Whole()] = true
			taken[at]++
		}
		from := given[at]
		switch {
		case from == nil && !(c.given.Standard && b.Stock.Origin == orders.FromTypical):
			c.fault(b.ID, "supply", "no such board is on the rack or in the yard")
		case from == nil && (b.Stock.CostKnown || len(b.Stock.Defects) > 0):
			c.fault(b.ID, "supply", "a standard-size board has a cost or a defect of its own")
		case from != nil && !from.Unlimited && taken[at] > from.Count:
			c.fault(b.ID, "supply", "it is used %d times and there are %d", taken[at], from.Count)
		case from != nil && !alike(from, &b.Stock):
			c.fault(b.ID, "supply", "its kind, cost or defects are not those of the board that was given")
		}
		if b.Whole() != at.id && !strings.HasPrefix(b.Whole(), at.id+"#") {
			c.fault(b.ID, "supply", "it is not named after its line %q", at.id)
		}
		if len(b.Pieces) == 0 && b.Leaf == (nesting.Leaf{}) {
			c.fault(b.ID, "supply", "nothing is cut from it")
		}
	}
}

// runs: a matched-grain run lies on one board at one y, its places rising
// with x.
func (c *checker) runs(l nesting.Layout) {
	type spot struct {
		board string
		piece nesting.Piece
	}
	where := map[string]spot{}
	for _, b := range l.Boards {
		for _, p := range b.Pieces {
			where[p.Part] = spot{b.ID, p}
		}
	}
	last := map[string]*orders.Part{}
	for _, part := range c.inPlaceOrder() {
		before := last[part.Run]
		last[part.Run] = part
		if before == nil {
			continue
		}
		a, okA := where[before.ID]
		b, okB := where[part.ID]
		switch {
		case okA != okB:
			c.fault("", "run", "run %q is cut in part: %q or %q is short", part.Run, before.ID, part.ID)
		case !okA:
		case a.board != b.board:
			c.fault(b.board, "run", "run %q lies on boards %s and %s", part.Run, a.board, b.board)
		case a.piece.Y != b.piece.Y || a.piece.X+a.piece.Length > b.piece.X:
			c.fault(b.board, "run", "run %q does not keep the order of %q and %q along the board", part.Run, before.ID, part.ID)
		}
	}
}

// books: two runs of one book lie on two leaves of one board that the saw
// parted from each other, at the same place.
func (c *checker) books(l nesting.Layout) {
	type spot struct {
		board *nesting.CutBoard
		at    box
	}
	where := map[string]map[string]spot{} // by book and run
	for i := range l.Boards {
		b := &l.Boards[i]
		for _, p := range b.Pieces {
			part := c.parts[p.Part]
			if part == nil || part.Book == "" {
				continue
			}
			runs := where[part.Book]
			if runs == nil {
				runs = map[string]spot{}
				where[part.Book] = runs
			}
			at := boxAt(p.X, p.Y, p.Length, p.Width)
			if s, seen := runs[part.Run]; seen {
				at = box{min(at.x0, s.at.x0), min(at.y0, s.at.y0), max(at.x1, s.at.x1), max(at.y1, s.at.y1)}
			}
			runs[part.Run] = spot{b, at}
		}
	}
	for _, book := range slices.Sorted(maps.Keys(where)) {
		var spots []spot
		for _, run := range slices.Sorted(maps.Keys(where[book])) {
			spots = append(spots, where[book][run])
		}
		if len(spots) != 2 {
			c.fault(spots[0].board.ID, "book", "of %q %d runs lie on boards, not two", book, len(spots))
			continue
		}
		a, b := spots[0], spots[1]
		if !faceToFace(a.board.Leaf, b.board.Leaf) {
			c.fault(a.board.ID, "book", "%q is cut from %s and %s, which did not lie face to face", book, a.board.ID, b.board.ID)
		}
		if a.at != b.at {
			c.fault(a.board.ID, "book", "%q does not lie alike on %s and %s", book, a.board.ID, b.board.ID)
		}
	}
}

// faceToFace reports whether one cut of the band saw parted two leaves.
func faceToFace(a, b nesting.Leaf) bool {
	return a.Count > 0 && a.Of == b.Of && max(a.N-b.N, b.N-a.N) == 1
}
