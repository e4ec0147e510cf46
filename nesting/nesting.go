// Package nesting holds how parts lie on boards: pieces, cuts, offcuts and
// layouts. It places nothing and checks nothing; cutting and check do.
package nesting

import (
	"time"

	"batchwright/nesting/solve"
	"batchwright/orders"
	"batchwright/orders/measure"
)

// Layout is where every part lies, and how good that is.
type Layout struct {
	Boards []CutBoard `json:"-"`          // one entry a physical board used
	Short  []Short    `json:"not_placed"` // parts that lie nowhere, with the reason

	Cost      measure.Money `json:"cost"`       // whole boards: what the wood used costs
	CostBound measure.Money `json:"cost_bound"` // proven: no layout of the placed parts costs less
	CostKnown bool          `json:"cost_known"` // false: some board has no cost: it counts nothing, or its area where no board has one
	Counted   measure.Money `json:"counted"`    // what the boards count for when layouts are compared: see the setting Rack counts
	Credit    measure.Money `json:"credit"`     // what the offcuts kept count for when layouts are compared
	Cheapest  measure.Money `json:"cheapest"`   // the cheapest wood found: a layout with less work may cost a little more

	CutMinutes float64       `json:"cut_minutes"` // at the saw: cuts, and setting stop and fence
	WorkCost   measure.Money `json:"work_cost"`   // of these minutes at the labor rate; without one 0

	AreaUsed  measure.Area `json:"area_used_mm2"`  // whole boards less the offcuts kept
	AreaParts measure.Area `json:"area_parts_mm2"` // cut sizes
	AreaBound measure.Area `json:"area_bound_mm2"` // proven lower bound of AreaUsed

	Proven  bool    `json:"proven"`
	Stop    Stop    `json:"stop"`
	Seconds float64 `json:"seconds"`
}

// Stop is why a search ended, for every search of the program.
type Stop = solve.Stop

// A search ends because its answer is proven best, its fixed work budget is
// spent, the clock ran out, or the maker interrupted it.
const (
	StopProven      = solve.StopProven
	StopBudget      = solve.StopBudget
	StopTime        = solve.StopTime
	StopInterrupted = solve.StopInterrupted
)

// CutBoard is one physical board with what is cut from it. x runs along its
// length from the marked end, y across from the marked edge.
type CutBoard struct {
	ID        string         `json:"id"`    // unique in the layout: "R7", "R7#2", a resawn leaf "K1/1"
	Stock     orders.Board   `json:"stock"` // of a leaf: the board it is sawn from
	Leaf      Leaf           `json:"leaf"`
	Length    measure.Length `json:"length_mm"`
	Width     measure.Length `json:"width_mm"`
	Thickness measure.Length `json:"thickness_mm"` // rough; of a leaf: as it comes off the saw
	Cost      measure.Money  `json:"cost"`         // of a leaf: its share of the board it is sawn from
	Pieces    []Piece        `json:"pieces"`
	Cuts      []Cut          `json:"cuts"` // in the order they are made
	Offcuts   []Offcut       `json:"offcuts"`
}

// Leaf says that a board is one of the leaves a thicker one is sawn into, on
// edge, before anything else is cut. The zero value is a board that is not.
type Leaf struct {
	Of    string `json:"of"` // the physical board: "K1", "K1#2"
	N     int    `json:"n"`  // the N-th of Count leaves
	Count int    `json:"count"`
}

// Whole names the physical board: a leaf's is the one it is sawn from.
func (b *CutBoard) Whole() string {
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
	Part   string         `json:"part"` // orders.Part.ID
	X      measure.Length `json:"x_mm"`
	Y      measure.Length `json:"y_mm"`
	Length measure.Length `json:"length_mm"` // extent along x and y
	Width  measure.Length `json:"width_mm"`
	Turned bool           `json:"turned"`
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
	N     int            `json:"n"`
	Kind  CutKind        `json:"kind"`
	At    measure.Length `json:"at_mm"`
	From  measure.Length `json:"from_mm"`
	To    measure.Length `json:"to_mm"`
	Kerf  measure.Length `json:"kerf_mm"`
	Rough bool           `json:"rough"` // made before planing: it parts what is planed on its own

	Guide     Guide          `json:"guide"`
	Reference Reference      `json:"reference"`
	Set       measure.Length `json:"set_mm"`   // the printed setting: from the reference to the near side of the kerf
	Takes     measure.Length `json:"takes_mm"` // of a trim: what comes off, kerf included; 0: it is no trim
}

// RuleStep is the division of the rule that settings are read on.
func RuleStep(units measure.Unit) measure.Length {
	if units.Metric() {
		return measure.Millimetre / 2
	}
	return measure.Inch / 64
}

// Offcut is a rectangle left over. Keep means it goes back to the rack.
type Offcut struct {
	X      measure.Length `json:"x_mm"`
	Y      measure.Length `json:"y_mm"`
	Length measure.Length `json:"length_mm"`
	Width  measure.Length `json:"width_mm"`
	Keep   bool           `json:"keep"`
}

// Short is a part that could not be placed, and why.
type Short struct {
	Part string `json:"part"`
	Why  string `json:"why"`
}

// Limits is how hard a search may try. The zero value means the fixed work
// budget alone.
type Limits struct {
	Think    time.Duration // nominal time: the work budget is in proportion; zero: 5 s
	Deadline time.Time     // zero: none
	Seed     int64
	Stop     <-chan struct{} // closed when the maker interrupts
}
