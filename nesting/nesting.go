// Package nesting holds how parts lie on boards: pieces, cuts, offcuts and
// layouts. It places nothing and checks nothing; cutting and check do.
package nesting

import (
	"time"

	"batchwright/orders"
	"batchwright/orders/measure"
)

// Layout is where every part lies, and how good that is.
type Layout struct {
	Boards []Board // one entry a physical board used
	Short  []Short // parts that lie nowhere, with the reason

	Cost      measure.Money // whole boards, less nothing: what the wood used costs
	CostBound measure.Money // proven: no layout of the placed parts costs less
	CostKnown bool          // false: some board has no cost: it counts nothing, or its area where no board has one
	Counted   measure.Money // what the boards count for when layouts are compared: see the setting Rack counts
	Credit    measure.Money // what the offcuts kept count for when layouts are compared
	Cheapest  measure.Money // the cheapest wood found: a layout with less work may cost a little more

	CutMinutes float64       // at the saw: cuts, and setting stop and fence
	WorkCost   measure.Money // of these minutes at the labor rate; without one 0

	AreaUsed  measure.Area // whole boards less the offcuts kept
	AreaParts measure.Area // cut sizes
	AreaBound measure.Area // proven lower bound of AreaUsed

	Proven  bool
	Stop    Stop
	Seconds float64
}

// Stop is why a search ended.
type Stop string

// A search ends because its answer is proven best, its fixed work budget is
// spent, the clock ran out, or the maker interrupted it.
const (
	StopProven      Stop = "proven"
	StopBudget      Stop = "budget"
	StopTime        Stop = "time"
	StopInterrupted Stop = "interrupted"
)

// Board is one physical board with what is cut from it. x runs along its
// length from the marked end, y across from the marked edge.
type Board struct {
	ID        string       // unique in the layout: "R7", "R7#2", a resawn leaf "K1/1"
	Stock     orders.Board // of a leaf: the board it is sawn from
	Leaf      Leaf
	Length    measure.Length
	Width     measure.Length
	Thickness measure.Length // as it lies on the rack; of a leaf: as it comes off the saw
	Cost      measure.Money  // of a leaf: its share of the board it is sawn from
	Pieces    []Piece
	Cuts      []Cut // in the order they are made
	Offcuts   []Offcut
}

// Leaf says that a board is one of the leaves a thicker one is sawn into, on
// edge, before anything else is cut. The zero value is a board that is not.
type Leaf struct {
	Of       string // the physical board: "K1", "K1#2"
	N, Count int    // the N-th of Count leaves
}

// Whole names the physical board: a leaf's is the one it is sawn from.
func (b *Board) Whole() string {
	if b.Leaf.Count > 0 {
		return b.Leaf.Of
	}
	return b.ID
}

// Net is what layouts are compared by.
func (l *Layout) Net() measure.Money { return l.Counted - l.Credit }

// Count is how many physical boards are used, and how many of them are resawn.
func (l *Layout) Count() (boards, resawn int) {
	seen := map[string]bool{}
	for i := range l.Boards {
		b := &l.Boards[i]
		if of := b.Whole(); !seen[of] {
			seen[of] = true
			boards++
			resawn += min(1, b.Leaf.Count)
		}
	}
	return boards, resawn
}

// Piece is one part as cut. Turned means its length runs across the board.
type Piece struct {
	Part          string // orders.Part.ID
	X, Y          measure.Length
	Length, Width measure.Length // extent along x and y
	Turned        bool
}

// CutKind is the way a cut runs.
type CutKind string

// A crosscut runs across the board at one x, a rip along it at one y.
const (
	Crosscut CutKind = "crosscut"
	Rip      CutKind = "rip"
)

// Guide is what keeps a cut straight.
type Guide string

// The fence is for cuts along it, the stop for crosscuts on the sled; with a
// straightedge the saw is moved over the work.
const (
	ByFence        Guide = "fence"
	ByStop         Guide = "stop"
	ByStraightedge Guide = "straightedge"
)

// Reference is the end or edge of the work that a setting is measured from.
type Reference string

// Marked and fresh ones are the low end or edge of the work in hand: the
// board's own, or one that was cut. Far ones are the high end or edge.
const (
	MarkedEnd  Reference = "marked end"
	MarkedEdge Reference = "marked edge"
	FreshEnd   Reference = "fresh end"
	FreshEdge  Reference = "fresh edge"
	FarEnd     Reference = "far end"
	FarEdge    Reference = "far edge"
)

// Cut is one straight cut through the piece of board that lies there when its
// turn comes. At is the low side of the kerf; From and To are its extent.
type Cut struct {
	N        int
	Kind     CutKind
	At       measure.Length
	From, To measure.Length
	Kerf     measure.Length
	Rough    bool // made before planing: it parts what is planed on its own

	Guide     Guide
	Reference Reference
	Set       measure.Length // the printed setting: from the reference to the near side of the kerf
	Takes     measure.Length // of a trim: what comes off, kerf included; 0: it is no trim
}

// Step is the division of the rule that settings are read on.
func Step(units measure.Unit) measure.Length {
	if units == measure.Millimetres {
		return measure.Millimetre / 2
	}
	return measure.Inch / 64
}

// Offcut is a rectangle left over. Keep means it goes back to the rack.
type Offcut struct {
	X, Y, Length, Width measure.Length
	Keep                bool
}

// Short is a part that could not be placed, and why.
type Short struct {
	Part string
	Why  string
}

// Limits is how hard a search may try. The zero value means the fixed work
// budget alone.
type Limits struct {
	Think    time.Duration // nominal time: the work budget is in proportion; zero: 5 s
	Deadline time.Time     // zero: none
	Seed     int64
	Stop     <-chan struct{} // closed when the maker interrupts
}
