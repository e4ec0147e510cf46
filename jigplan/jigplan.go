// Package jigplan holds what is done at the saw: programs of the jig, setups,
// stacks, their running order and time, and the whole plan of a batch. It
// computes nothing; the packages beneath it do.
package jigplan

import (
	"errors"

	"batchwright/nesting"
	"batchwright/orders"
	"batchwright/orders/measure"
)

// Rows says which rows of boards a program cuts.
type Rows string

// A regular program cuts both rows in one stack, B behind the spacer; mates of
// unequal thickness, and some patterns, need one program a row.
const (
	BothRows Rows = "both"
	OnlyA    Rows = "A"
	OnlyB    Rows = "B"
)

// Program is one count card: every cut of one row, or of both at once.
// Positions and sizes are exact ratios of ticks; turns are ratios of one.
type Program struct {
	ID      string // "J1"
	Rows    Rows
	Mate    string // the other row's program; empty: none
	Regular bool

	Rod          string
	Lead         measure.Ratio // carriage travel of one turn
	StopsPerTurn int
	Kerf         measure.Length
	KerfMeasured bool

	Asked      []measure.Length // fingers ordered that it cuts; none: the program chose
	Pattern    string           // as asked; empty: plain fingers
	Features   []measure.Ratio  // of a pattern, from the marked edge of the tallest row A board
	SecondPass measure.Ratio    // shim at the stop while the whole card is cut once more; 0: cut once

	Finger measure.Ratio // half the period
	Slot   measure.Ratio
	Pin    measure.Ratio
	Fit    measure.Ratio // slot less pin: negative is tight
	Period measure.Ratio
	Spacer measure.Ratio // half the period: what sets row B back
	Origin measure.Ratio // low side of the first kerf on a row A board; negative: off the board

	CutsPerSlot int           // a full slot's; 0 when not regular
	PastPin     measure.Ratio // turns past the pin; 0 when not regular

	Slots       []Slot
	TotalCuts   int
	ReturnTurns measure.Ratio
	Travel      measure.Ratio
	Heights     []Height
	Steps       []Step

	MateThickness measure.Length // of the boards these boards meet: with Proud, the blade height
	DialTurns     measure.Ratio  // spacer as turns of the wheel; 0: it cannot be dialled
	Warnings      []string       // said on the card
}

// Slot is one slot of a program, in the order it is cut.
type Slot struct {
	N         int
	Width     measure.Ratio // of the full slot on an unbroken board
	Cuts      int
	StepTurns []measure.Ratio // between its cuts
	PastTurns measure.Ratio   // from its last cut to the next slot; 0 after the last slot
}

// Height is one board height a program serves.
type Height struct {
	Height        measure.Length
	Shim          measure.Ratio // what keeps this height's boards off the stop
	Layout        string        // "edge", "centred symmetric", "centred antisymmetric"
	ALow, AHigh   Edge          // what stands at the marked and at the other edge
	BLow, BHigh   Edge
	SmallestAtAll measure.Ratio // narrowest edge feature of the four; 0: a graze
}

// Edge is the feature at one edge of a board.
type Edge struct {
	Notch bool
	Width measure.Ratio
}

// Step is one cut.
type Step struct {
	Slot, Cut  int           // Cut is its place in a full slot: where air cuts are left out the first is above 1
	Turns      measure.Ratio // made before this cut; 0 for the first
	TotalTurns measure.Ratio // from home
	Clock      string        // "12", "3", "1:30"
	Travel     measure.Ratio // carriage travel from home
}

// Passes is how often the whole card is cut: twice where a second pass with a
// shim widens every slot.
func (p *Program) Passes() int {
	if p.SecondPass.Sign() > 0 {
		return 2
	}
	return 1
}

// OffAsked lists the fingers ordered that this program cuts at another width.
func (p *Program) OffAsked() []measure.Length {
	var off []measure.Length
	for _, asked := range p.Asked {
		if p.Regular && asked.Ratio().Cmp(p.Finger) != 0 {
			off = append(off, asked)
		}
	}
	return off
}

// Setup is one state of the saw: program, blade, height, spacer.
type Setup struct {
	ID          string
	Program     string
	Blade       string
	BladeHeight measure.Length
	Spacer      measure.Ratio // what is put in; 0 for a program of one row
	Stacks      []string
}

// Stack is boards cut together at one end.
type Stack struct {
	ID        string
	Setup     string
	End       int // 1 or 2
	Boards    []StackBoard
	Thickness measure.Length // the boards alone
	Minutes   float64
}

// StackBoard is one board of a stack, from the backing board outwards.
type StackBoard struct {
	Part    string
	Row     orders.Row
	Shim    measure.Ratio
	Carrier measure.Length // thickness of the longer board behind it, cut with it; 0: it reaches the clamp
}

// Room is what the boards and their carriers take in the opening.
func (s *Stack) Room() measure.Length {
	room := s.Thickness
	for _, b := range s.Boards {
		room += b.Carrier
	}
	return room
}

// Sequence is the running order of the setups.
type Sequence struct {
	Setups            []string
	ChangeoverMinutes float64
	BoundMinutes      float64
	Proven            bool
	AsWrittenMinutes  float64 // what running the setups as ordered would cost
	Changes           []Changeover
}

// Changeover is what is done before a setup, in running order.
type Changeover struct {
	Setup    string
	Minutes  float64
	What     []string // "fit the blade: ...", "put in the spacer: ..."
	Elements []string // the setting that holds each one's time: "Change blade"
}

// Time is how long the batch takes. Elements add up to Minutes.
type Time struct {
	Minutes    float64 // median
	P80Minutes float64
	Sigma      float64 // standard deviation of the logarithm of the time
	Elements   []Element
}

// Element is one kind of work.
type Element struct {
	Name    string
	Count   float64 // how often
	Each    float64 // seconds each, where it is one time for all; else 0
	Minutes float64
	Source  string
}

// Refusal is a joint that cannot be cut as asked.
type Refusal struct {
	Parts   []string // ids that wait for it
	Source  orders.Source
	Why     string
	Nearest string // what would work, in one line
	Ways    []Way  // the same one by one, nearest first
}

// WayKind is what a way out of a refused joint changes.
type WayKind string

// The ways out, nearest first.
const (
	TighterFit  WayKind = "tighter fit"
	SecondPass  WayKind = "second pass"
	OtherFinger WayKind = "other finger"
	OwnTools    WayKind = "own tools"
	MoreStops   WayKind = "more stops"
	OtherHeight WayKind = "other height"
	BuyTools    WayKind = "purchase"
)

// Way is one way out of a refused joint.
type Way struct {
	Kind    WayKind
	Text    string        // what to do and what comes of it
	Setting string        // the one setting that does it; empty: more than one, or the order
	Value   string        // for that setting, as it is typed
	On      orders.Source // the order's own row for that setting, which overrides the shop file; zero: none
}

// Milling is one step between the cuts of a board.
type Milling struct {
	AfterCut int // number of the cut of the board that it follows; 0: before all
	Boards   []string
	Parts    []string       // of them, the parts it is done to
	Kind     string         // joint face, joint edge, plane, rip to width, glue up
	To       measure.Length // thickness or width; 0: until flat or straight
	Minutes  float64
}

// Plan is the whole batch.
type Plan struct {
	Order      *orders.Order
	Parts      []orders.Part
	Panels     []orders.GluedPanel // their strips are among the parts
	Builds     []orders.Build      // how the boxes of each line are made
	Layout     nesting.Layout
	Matching   Matching // what matched grain costs in wood
	Programs   []Program
	Refusals   []Refusal
	Setups     []Setup
	Stacks     []Stack
	StackBound int // proven: these boards need at least so many stacks; 0: not known
	Sequence   Sequence
	Time       Time
	Milling    []Milling // what happens between the cuts
	Buy        []Purchase
	Seed       int64
	Partial    bool // lines with errors were left out: totals are incomplete
	Recut      bool // some parts of an accepted plan: their mates are cut already
	Problems   []orders.Problem
}

// Incomplete reports whether something cannot be made as asked.
func (p *Plan) Incomplete() bool { return len(p.Layout.Short) > 0 || len(p.Refusals) > 0 }

// Purchase is one line of the buying list.
type Purchase struct {
	What     string
	Kind     string // "wood", "hardware", "glue", "finish", "abrasive"
	Quantity string // with its unit
	Size     string
	Cost     measure.Money
	CostSaid bool
	Why      string

	Count int          // of wood: physical boards or sheets
	Board orders.Board // of wood: one of them
}

// ErrFault marks a plan that the independent checks do not accept: a mistake
// of this program, never of the order.
var ErrFault = errors.New("the plan does not pass its own checks")
