package solve

import "math"

// Two-dimensional guillotine cutting: Stock2D answers "which plates, cut how,
// cover this demand at least cost", from several plates with limits and costs,
// with a proven lower bound.
//
// Sizes are integers of any unit up to 2^31. x runs along a plate's length, y
// across it. A kerf is lost between neighbours and nowhere else; shaving off a
// last sliver thinner than the blade is allowed. A plate or part smaller than
// nothing is never cut; a part that fits no plate is simply not made.

// Unlimited is the Max of a part, or the Count of a plate, without a limit.
const Unlimited = math.MaxInt32

// Plate is one rectangle to cut from.
type Plate struct {
	Length, Width int64
	Defects       []Rect // no part may overlap one; cuts may pass
}

// Rect is an axis-parallel rectangle; X, Y is the corner nearest the origin.
type Rect struct{ X, Y, Length, Width int64 }

// PlatePart is a rectangle wanted.
type PlatePart struct {
	Length, Width int64
	Value         int64 // of one copy, to a search for the best filling
	Max           int   // copies at most; Unlimited for no limit, 0 for none
	Turn          bool  // the length may run across the plate
}

// Rules is how the plates are cut. The zero value is free guillotine cutting
// with a blade that takes no wood.
type Rules struct {
	KerfX, KerfY int64     // lost by a cut across the plate (at one x), and along it (at one y)
	Stages       int       // 0: any number; 2 or 3: that many, and trimming cuts beside
	First        Direction // of the first stage when Stages > 0; Either takes the better
}

// Direction is the way a cut runs.
type Direction uint8

// A cut Across runs at one x over the whole width of its piece (a crosscut),
// one Along at one y over its whole length (a rip).
const (
	Either Direction = iota
	Across
	Along
)

// Node is one rectangle of a plate during cutting. It is cut in two, or is a
// part, or is left over.
type Node struct {
	Rect
	Part      int       // index of the part it is; -1: cut further or left over
	Turned    bool      // the part's length runs across the plate
	Cut       Direction // Either: not cut
	At        int64     // low side of the kerf, an x for Across and a y for Along
	Low, High *Node     // both sides of the cut; High nil when the kerf takes all the rest
}

// Walk calls f for n and everything cut from it, parents first, low side first.
func (n *Node) Walk(f func(*Node)) {
	if n == nil {
		return
	}
	f(n)
	n.Low.Walk(f)
	n.High.Walk(f)
}
