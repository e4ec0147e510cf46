package check

import (
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

// supply: each board used is one that was given, at its size, no more often
// than it is there, under a name of its own.
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
		case from == nil && len(given) > 0:
			c.fault(b.ID, "supply", "no such board is on the rack or in the yard")
		case from != nil && !from.Unlimited && taken[at] > from.Count:
			c.fault(b.ID, "supply", "it is used %d times and there are %d", taken[at], from.Count)
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
