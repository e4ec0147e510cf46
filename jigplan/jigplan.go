// Package jigplan holds what is done at the saw: programs of the jig, setups,
// stacks, their running order and time, and the whole plan of a batch. It
// computes nothing; the packages beneath it do.
package jigplan

import (
	"errors"
	"strings"

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
	ID      string `json:"id"` // "J1"
	Rows    Rows   `json:"row"`
	Mate    string `json:"mate"` // the other row's program; empty: none
	Regular bool   `json:"regular"`

	Rod          string         `json:"rod"`
	Lead         measure.Ratio  `json:"lead_mm"` // carriage travel of one turn
	StopsPerTurn int            `json:"stops_per_turn"`
	Kerf         measure.Length `json:"kerf_mm"`
	KerfMeasured bool           `json:"kerf_measured"`

	Asked      []measure.Length `json:"asked_mm"`            // fingers ordered that it cuts; none: the program chose
	Pattern    string           `json:"pattern"`             // as asked; empty: plain fingers
	Features   []measure.Ratio  `json:"features_mm"`         // of a pattern, from the marked edge of the tallest row A board
	SecondPass measure.Ratio    `json:"second_pass_shim_mm"` // shim at the stop while the whole card is cut once more; 0: cut once

	Finger measure.Ratio `json:"finger_mm"` // half the period
	Slot   measure.Ratio `json:"slot_mm"`
	Pin    measure.Ratio `json:"pin_mm"`
	Fit    measure.Ratio `json:"fit_mm"` // slot minus pin: negative is tight
	Period measure.Ratio `json:"period_mm"`
	Spacer measure.Ratio `json:"spacer_mm"` // half the period: what sets row B back
	Origin measure.Ratio `json:"origin_mm"` // low side of the first kerf on a row A board; negative: off the board

	CutsPerSlot int           `json:"cuts_per_slot"`  // a full slot's; 0 when not regular
	PastPin     measure.Ratio `json:"past_pin_turns"` // turns past the pin; 0 when not regular

	Slots       []Slot        `json:"slots"`
	TotalCuts   int           `json:"total_cuts"`
	ReturnTurns measure.Ratio `json:"return_turns"`
	Travel      measure.Ratio `json:"travel_mm"`
	Heights     []Height      `json:"heights"`
	Steps       []Step        `json:"steps"`

	MateThickness measure.Length `json:"mate_thickness_mm"` // of the boards these boards meet: with Proud, the blade height
	DialTurns     measure.Ratio  `json:"dial_turns"`        // spacer as turns of the wheel; 0: it cannot be dialled
	Warnings      []string       `json:"warnings"`          // said on the card
}

// Slot is one slot of a program, in the order it is cut.
type Slot struct {
	N         int             `json:"slot"`
	Width     measure.Ratio   `json:"width_mm"` // of the full slot on an unbroken board
	Cuts      int             `json:"cuts"`
	StepTurns []measure.Ratio `json:"step_turns"` // between its cuts
	PastTurns measure.Ratio   `json:"past_turns"` // from its last cut to the next slot; 0 after the last slot
}

// Height is one board height a program serves.
type Height struct {
	Height        measure.Length `json:"height_mm"`
	Shim          measure.Ratio  `json:"shim_mm"` // what keeps this height's boards off the stop
	Layout        string         `json:"layout"`  // "edge", "centred symmetric", "centred antisymmetric"
	ALow          Edge           `json:"a_low"`   // what stands at the marked and at the other edge
	AHigh         Edge           `json:"a_high"`
	BLow          Edge           `json:"b_low"`
	BHigh         Edge           `json:"b_high"`
	SmallestAtAll measure.Ratio  `json:"smallest_at_all_mm"` // narrowest edge feature of the four; 0: a graze
}

// Edge is the feature at one edge of a board.
type Edge struct {
	Notch bool          `json:"notch"`
	Width measure.Ratio `json:"width_mm"`
}

// Step is one cut.
type Step struct {
	Slot       int           `json:"slot"` // Cut is its place in a full slot: where air cuts are left out the first is above 1
	Cut        int           `json:"cut"`
	Turns      measure.Ratio `json:"turns"`       // made before this cut; 0 for the first
	TotalTurns measure.Ratio `json:"total_turns"` // from home
	Clock      string        `json:"clock"`       // "12", "3", "1:30"
	Travel     measure.Ratio `json:"travel_mm"`   // carriage travel from home
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
	ID          string         `json:"id"`
	Program     string         `json:"program"`
	Blade       string         `json:"blade"`
	BladeHeight measure.Length `json:"blade_height_mm"`
	Spacer      measure.Ratio  `json:"spacer_mm"` // what is put in; 0 for a program of one row
	Stacks      []string       `json:"stacks"`
}

// Stack is boards cut together at one end.
type Stack struct {
	ID        string         `json:"id"`
	Setup     string         `json:"setup"`
	End       int            `json:"end"` // 1 or 2
	Boards    []StackBoard   `json:"boards"`
	Thickness measure.Length `json:"thickness_mm"` // the boards alone
	Minutes   float64        `json:"minutes"`
}

// StackBoard is one board of a stack, from the backing board outwards.
type StackBoard struct {
	Part    string         `json:"part"`
	Row     orders.Row     `json:"row"`
	Shim    measure.Ratio  `json:"shim_mm"`
	Carrier measure.Length `json:"carrier_mm"` // thickness of the longer board behind it, cut with it; 0: it reaches the clamp
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
	Setups            []string     `json:"setups"`
	ChangeoverMinutes float64      `json:"changeover_minutes"`
	BoundMinutes      float64      `json:"bound_minutes"`
	Proven            bool         `json:"proven"`
	AsWrittenMinutes  float64      `json:"as_written_minutes"` // what running the setups as ordered would cost
	Changes           []Changeover `json:"changes"`
}

// Changeover is what is done before a setup, in running order.
type Changeover struct {
	Setup    string   `json:"setup"`
	Minutes  float64  `json:"minutes"`
	What     []string `json:"what"`     // "fit the blade: ...", "put in the spacer: ..."
	Elements []string `json:"elements"` // the setting that holds each one's time: "Change blade"
}

// Time is how long the batch takes. Elements add up to Minutes.
type Time struct {
	Minutes    float64   `json:"minutes"` // median
	P80Minutes float64   `json:"p80_minutes"`
	Sigma      float64   `json:"sigma"` // standard deviation of the logarithm of the time
	Elements   []Element `json:"work"`
}

// Element is one kind of work.
type Element struct {
	Name    string  `json:"name"`
	Count   float64 `json:"count"` // how often
	Each    float64 `json:"each"`  // seconds each, where it is one time for all; else 0
	Minutes float64 `json:"minutes"`
	Source  string  `json:"source"`
}

// Refusal is a joint that cannot be cut as asked.
type Refusal struct {
	Parts   []string      `json:"parts"` // ids that wait for it
	Source  orders.Source `json:"source"`
	Why     string        `json:"why"`
	Nearest string        `json:"nearest"` // what would work, in one line
	Ways    []Way         `json:"ways"`    // the same one by one, nearest first
}

// Finding is the refusal among the findings of the order; read is the box.
func (r *Refusal) Finding(read string) orders.Finding {
	return orders.Finding{Level: orders.Warning, Source: r.Source, Read: read, Did: "no joint was planned: " + r.Why, Fix: r.Nearest}
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
	Kind    WayKind       `json:"kind"`
	Text    string        `json:"text"`    // what to do and what comes of it
	Setting string        `json:"setting"` // the one setting that does it; empty: more than one, or the order
	Value   string        `json:"value"`   // for that setting, as it is typed
	On      orders.Source `json:"on"`      // the order's own row for that setting, which overrides the shop file; zero: none
}

// Milling is one step between the cuts of a board.
type Milling struct {
	AfterCut int            `json:"after_cut"` // number of the cut of the board that it follows; 0: before all
	Boards   []string       `json:"boards"`
	Parts    []string       `json:"parts"` // of them, the parts it is done to
	Kind     string         `json:"kind"`  // joint face, joint edge, plane, rip to width, glue up
	To       measure.Length `json:"to_mm"` // thickness or width; 0: until flat or straight
	Minutes  float64        `json:"minutes"`
}

// Plan is the whole batch.
type Plan struct {
	Order      *orders.Order       `json:"order"`
	Parts      []orders.Part       `json:"parts"`
	Panels     []orders.GluedPanel `json:"panels"` // their strips are among the parts
	Builds     []orders.Build      `json:"builds"` // how the boxes of each line are made
	Layout     nesting.Layout      `json:"nesting"`
	Matching   Matching            `json:"matching"` // what matched grain costs in wood
	Programs   []Program           `json:"programs"`
	Refusals   []Refusal           `json:"refusals"`
	Setups     []Setup             `json:"setups"`
	Stacks     []Stack             `json:"stacks"`
	StackBound int                 `json:"stack_bound"` // proven: these boards need at least so many stacks; 0: not known
	Sequence   Sequence            `json:"sequence"`
	Time       Time                `json:"time"`
	Milling    []Milling           `json:"milling"` // what happens between the cuts
	Buy        []Purchase          `json:"buy"`
	Seed       int64               `json:"seed"`
	Partial    bool                `json:"partial"` // lines with errors were left out: totals are incomplete
	Recut      bool                `json:"recut"`   // some parts of an accepted plan: their mates are cut already
	Findings   []orders.Finding    `json:"findings"`
}

// Incomplete reports whether something cannot be made as asked.
func (p *Plan) Incomplete() bool { return len(p.Layout.Short) > 0 || len(p.Refusals) > 0 }

// Purchase is one line of the buying list.
type Purchase struct {
	What     string        `json:"what"`
	Kind     string        `json:"kind"`     // "wood", "hardware", "glue", "finish", "abrasive"
	Quantity string        `json:"quantity"` // with its unit
	Amount   float64       `json:"amount"`   // of what is not wood: as the quantity says it
	Unit     string        `json:"unit"`     // of the amount: "g", "L", "sheets"; empty: pieces
	Size     string        `json:"size"`
	Cost     measure.Money `json:"cost"`
	CostSaid bool          `json:"cost_said"`
	Why      string        `json:"why"`

	Count int          `json:"count"` // of wood: physical boards or sheets
	Board orders.Board `json:"board"` // of wood: one of them
}

// AmountText is an amount of something to buy as a person reads it.
func AmountText(amount float64, of string, unit measure.Unit) string {
	places := 0
	if of == "L" {
		places = 2
	}
	return strings.TrimSpace(unit.Number(amount, places) + " " + of)
}

// ErrFault marks a plan that the independent checks do not accept: a mistake
// of this program, never of the order.
var ErrFault = errors.New("the plan does not pass its own checks")
