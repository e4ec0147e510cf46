package check

import (
	"fmt"
	"maps"
	"slices"

	"batchwright/nesting"
	"batchwright/orders"
	"batchwright/orders/measure"
)

// leaves: a resawn board is there once, as all its leaves, each numbered and
// named after it, of the thickness that flattening and kerfs leave. It is no
// wider than the band saw takes, long enough to be flattened, and counts as one
// board of its line.
func (c *checker) leaves(l nesting.Layout) {
	sets := map[string][]*nesting.CutBoard{}
	for i := range l.Boards {
		b := &l.Boards[i]
		if b.Leaf == (nesting.Leaf{}) {
			continue
		}
		sets[b.Leaf.Of] = append(sets[b.Leaf.Of], b)
	}
	for i := range l.Boards {
		if b := &l.Boards[i]; b.Leaf == (nesting.Leaf{}) && sets[b.ID] != nil {
			c.fault(b.ID, "leaf", "it is cut whole and resawn")
		}
	}
	for _, of := range slices.Sorted(maps.Keys(sets)) {
		c.resawn(of, sets[of])
		c.leafSet(of, sets[of])
		c.leafCosts(of, sets[of])
	}
}

// resawn: the board may be resawn at all, into so many leaves.
func (c *checker) resawn(of string, set []*nesting.CutBoard) {
	n, board := set[0].Leaf.Count, &set[0].Stock
	if len(set) != n || n < 2 || n > orders.MaxLeaves {
		c.fault(of, "leaf", "it is resawn into %d leaves and %d are listed", n, len(set))
	}
	if c.set.ResawUpTo == 0 || max(board.Width, board.WideEnd) > c.set.ResawUpTo || board.Sheet {
		c.fault(of, "leaf", "the shop's band saw does not take it")
	}
	if board.Length < c.set.ShortestMachine {
		c.fault(of, "machine", "it is %v mm long: too short to be flattened before it is resawn", board.Length.Millimetres())
	}
}

func (c *checker) leafSet(of string, set []*nesting.CutBoard) {
	first := set[0]
	seen := map[int]bool{}
	for _, b := range set {
		if b.Leaf.N < 1 || b.Leaf.N > b.Leaf.Count || seen[b.Leaf.N] || b.Leaf.Count != first.Leaf.Count {
			c.fault(b.ID, "leaf", "it is leaf %d of %d", b.Leaf.N, b.Leaf.Count)
		}
		seen[b.Leaf.N] = true
		if b.ID != fmt.Sprintf("%s/%d", of, b.Leaf.N) {
			c.fault(b.ID, "leaf", "leaf %d of %s has another's name", b.Leaf.N, of)
		}
		if lineOf(&b.Stock) != lineOf(&first.Stock) {
			c.fault(b.ID, "leaf", "its board is not that of the other leaves")
		}
		if off := c.offTheSaw(b); b.Thickness > off || b.Thickness <= off-measure.Length(b.Leaf.Count) {
			c.fault(b.ID, "leaf", "it is %v mm thick off the saw, not %v", b.Thickness.Millimetres(), off.Millimetres())
		}
		if len(b.Pieces) == 0 {
			c.spareLeaf(b)
		}
	}
}

// leafCosts: the leaves share the board's cost alike, to the cent.
func (c *checker) leafCosts(of string, set []*nesting.CutBoard) {
	want, sum, n := c.cost(&set[0].Stock), measure.Money(0), measure.Money(len(set))
	for _, b := range set {
		sum += b.Cost
		if off := n*b.Cost - want; off <= -n || off >= n {
			c.fault(b.ID, "cost", "it costs %s, one of %d leaves of a board of %s", b.Cost, n, want)
		}
	}
	if sum != want {
		c.fault(of, "cost", "its leaves cost %s, the board %s", sum, want)
	}
}

// offTheSaw is what each leaf of a flattened board may have: all leaves and
// the kerfs between them make up what flattening leaves of the board.
func (c *checker) offTheSaw(b *nesting.CutBoard) measure.Length {
	rough := b.Stock.Rough()
	kerfs := measure.Length(b.Leaf.Count-1) * c.set.ResawKerf
	return (rough - c.set.ResawCup - kerfs) / measure.Length(max(1, b.Leaf.Count))
}

// spareLeaf: a leaf without parts goes back in one piece, squared, or is too
// small to keep.
func (c *checker) spareLeaf(b *nesting.CutBoard) {
	if len(b.Offcuts) > 1 {
		c.fault(b.ID, "leaf", "nothing is cut from it and it falls into %d offcuts", len(b.Offcuts))
	}
}
