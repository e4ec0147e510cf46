package check

import (
	"batchwright/nesting"
	"batchwright/orders/measure"
)

// leaves: a resawn board is there once, as all its leaves, each numbered and
// named after it, of the thickness that flattening and kerfs leave, and no
// wider than the band saw takes. It counts as one board of its line.
func (c *checker) leaves(l nesting.Layout) {
	sets := map[string][]*nesting.Board{}
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
	for of, set := range sets {
		c.leafSet(of, set)
	}
}

func (c *checker) leafSet(of string, set []*nesting.Board) {
	first := set[0]
	if len(set) != first.Leaf.Count || first.Leaf.Count < 2 {
		c.fault(of, "leaf", "it is resawn into %d leaves and %d are listed", first.Leaf.Count, len(set))
	}
	if c.set.ResawUpTo == 0 || max(first.Stock.Width, first.Stock.WideEnd) > c.set.ResawUpTo || first.Stock.Sheet {
		c.fault(of, "leaf", "the shop's band saw does not take it")
	}
	seen := map[int]bool{}
	var cost int64
	for _, b := range set {
		if b.Leaf.N < 1 || b.Leaf.N > b.Leaf.Count || seen[b.Leaf.N] || b.Leaf.Count != first.Leaf.Count {
			c.fault(b.ID, "leaf", "it is leaf %d of %d", b.Leaf.N, b.Leaf.Count)
		}
		seen[b.Leaf.N] = true
		if lineOf(&b.Stock) != lineOf(&first.Stock) {
			c.fault(b.ID, "leaf", "its board is not that of the other leaves")
		}
		if off := c.offTheSaw(b); b.Thickness > off || b.Thickness <= off-measure.Length(b.Leaf.Count) {
			c.fault(b.ID, "leaf", "it is %v mm thick off the saw, not %v", b.Thickness.Millimetres(), off.Millimetres())
		}
		if len(b.Pieces) == 0 {
			c.spareLeaf(b)
		}
		cost += int64(b.Cost)
	}
	if want := c.cost(&first.Stock); cost != int64(want) {
		c.fault(of, "cost", "its leaves cost %d cents, the board %s", cost, want)
	}
}

// offTheSaw is what each leaf of a flattened board may have: all leaves and
// the kerfs between them make up what flattening leaves of the board.
func (c *checker) offTheSaw(b *nesting.Board) measure.Length {
	rough := b.Stock.Rough()
	kerfs := measure.Length(b.Leaf.Count-1) * c.set.ResawKerf
	return (rough - c.set.ResawCup - kerfs) / measure.Length(max(1, b.Leaf.Count))
}

// spareLeaf: a leaf without parts goes back in one piece, squared, or is too
// small to keep.
func (c *checker) spareLeaf(b *nesting.Board) {
	if len(b.Offcuts) > 1 {
		c.fault(b.ID, "leaf", "nothing is cut from it and it falls into %d offcuts", len(b.Offcuts))
	}
}
