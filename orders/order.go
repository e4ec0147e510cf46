// Package orders holds what is asked for and what is owned: boxes, loose
// parts, boards, settings, and the problems found while reading them. It
// reads no file and decides nothing; the packages beneath it do.
package orders

import (
	"slices"
	"strings"
	"time"

	"batchwright/orders/measure"
	"batchwright/orders/settings"
)

// Order is one order workbook as it was understood.
type Order struct {
	File   string // base name of the workbook
	SHA256 string // of its bytes, lower-case hex

	Boxes      []Box
	Loose      []LoosePart
	Rack       []Board // boards on hand
	Yard       []Board // boards that can be bought
	Candidates []Candidate
	ListedOnly bool // nothing is bought that neither Rack nor Yard lists: a fair is made from what there is
	HasRack    bool // a Rack sheet with rows stood in the order
	HasYard    bool
	HasShop    bool

	Settings settings.Shop
	Readings []Reading // every cell as it was understood, in sheet order
	Problems []Problem
}

// HasErrors reports whether any problem is an error: then nothing is planned
// unless the rest is asked for.
func (o *Order) HasErrors() bool { return HasError(o.Problems) }

// HasError reports whether any of some problems is an error.
func HasError(problems []Problem) bool {
	return slices.ContainsFunc(problems, func(p Problem) bool { return p.Level == Error })
}

// Source is where a thing was read: a sheet and a cell.
type Source = settings.Source

// Level says how much a problem matters.
type Level string

// An Error stops the plan, a Warning is something to look at, a Note says
// what was done.
const (
	Error   Level = "error"
	Warning Level = "warning"
	Note    Level = "note"
)

// Problem is one finding, worded for the person who holds the order.
type Problem struct {
	Level Level
	Source
	Read string // the text found
	Did  string // what was done with it
	Fix  string // the next step
}

// Reading is one cell as it was understood.
type Reading struct {
	Source
	Heading string // the column's name in the contract, or the setting's name
	Text    string // as it stands in the cell
	Meaning string // as it was understood
	Ditto   bool   // it repeats the cell above
}

// Edit is one change to an order file: a cell, or a setting where Cell is empty.
type Edit struct {
	Sheet  string `json:"sheet"`
	Cell   string `json:"cell"`
	Column string `json:"column"` // its heading, or the setting's name
	From   string `json:"from"`
	To     string `json:"to"`
}

// Place is "Boxes!E7", or the setting's name.
func (e *Edit) Place() string {
	if e.Cell == "" {
		return "setting " + e.Column
	}
	return e.Sheet + "!" + e.Cell
}

// Box is one line of the Boxes sheet: a size, and how many of it.
type Box struct {
	Source Source
	Name   string
	Count  int // boxes to make, spares included
	Spare  int // of which spare ("6+1 spare")

	Length, Width, Height measure.Length
	Inside                bool           // sizes are inside sizes
	Thickness             measure.Length // of the sides
	EndThickness          measure.Length // of the ends; equal to Thickness when blank
	Wood                  string
	Finger                measure.Length // 0: the program chooses
	Pattern               Pattern        // zero: plain fingers
	HeightMayVary         measure.Length // plus or minus; 0: not at all

	Bottom   Bottom
	Lid      Lid
	Dividers Dividers
	Matched  bool // grain runs round the corners
	Opened   bool // round all four: two walls each from two leaves of one board, opened like a book
	Finish   string
	Customer string
	Due      time.Time     // zero: no date
	Price    measure.Money // of one box; 0: not said

	Quantities []int // for a quote's quantity breaks
	Notes      string
}

// Coated reports whether the box gets a finish.
func (b *Box) Coated() bool {
	finish := strings.ToLower(strings.TrimSpace(b.Finish))
	return finish != "" && finish != "none" && finish != "no"
}

// BottomKind is how a bottom is held.
type BottomKind string

// The bottoms of the Boxes sheet.
const (
	NoBottom     BottomKind = "none"
	GrooveBottom BottomKind = "groove"
	RabbetBottom BottomKind = "rabbet"
	NailedBottom BottomKind = "nailed"
)

// Bottom is a box's bottom panel.
type Bottom struct {
	Kind      BottomKind
	Thickness measure.Length // 0: the default for its kind
	Wood      string         // empty: the box's wood
}

// LidKind is how a lid is made.
type LidKind string

// The lids of the Boxes sheet.
const (
	NoLid      LidKind = "none"
	LiftOffLid LidKind = "lift-off"
	SlidingLid LidKind = "sliding"
	SawnOffLid LidKind = "sawn-off"
	HingedLid  LidKind = "hinged"
)

// Lid is a box's lid.
type Lid struct {
	Kind      LidKind
	Thickness measure.Length // 0: the default for its kind
	Wood      string         // empty: the box's wood
}

// Dividers is the grid of compartments: Along the length by Across the width.
// The zero value, and 1 x 1, is no dividers.
type Dividers struct{ Along, Across int }

// LoosePart is one line of the Parts sheet.
type LoosePart struct {
	Source                   Source
	Name                     string
	Count                    int
	Length, Width, Thickness measure.Length
	Wood                     string
	Grain                    Grain
	Notes                    string
}

// Candidate is one line of a fair's Catalogue sheet: a box that could be made.
type Candidate struct {
	Box
	Low, Likely, High int     // boxes that may be sold; Likely alone is enough
	Mean, Spread      float64 // of the same, and then instead of them: average and standard deviation
	Averaged          bool    // a mean was written
	Said              bool    // any of the five was written
	Woods             []string
	Made              int  // on hand, finished
	MadeSaid          bool // it was written, and not left to the shop file
	HalfMade          int  // on hand, glued up: to be sanded and finished
}

// Grain is how a part may lie on a board.
type Grain string

// AlongLength keeps the part's length along the board's grain; EitherWay lets
// it turn.
const (
	AlongLength Grain = "length"
	EitherWay   Grain = "either"
)

// Role is what a part is in its box.
type Role string

// The roles of the plan.
const (
	Side    Role = "side"
	End     Role = "end"
	BottomP Role = "bottom"
	LidP    Role = "lid"
	Divider Role = "divider"
	Loose   Role = "loose"
	Strip   Role = "strip" // of a glued-up panel
)

// Part is one piece of wood to be made: one physical part, never a count.
type Part struct {
	ID     string // unique in the plan: "T1-3-S1"
	Source Source
	Box    string // the box line's name; empty for a loose part
	Line   int    // index into Order.Boxes or, for a loose part, Order.Loose
	Unit   int    // 1..count: which box of the line
	Role   Role
	Wood   string
	Grain  Grain
	Notes  string

	Length, Width, Thickness measure.Length // finished
	CutLength, CutWidth      measure.Length // as cut from the board

	Run   string // matched-grain run it belongs to; empty: none
	Place int    // 1.. along the run; 0: none
	Book  string // its run and another of this name lie alike on two leaves of one board; empty: none

	Panel string // the glued-up panel it is a strip of; empty: none

	Joint *Joint // nil: its ends carry no fingers
}

// IsLoose reports whether a part belongs to no box: a loose part, or a strip of
// one that is glued up.
func (p *Part) IsLoose() bool { return p.Role == Loose || p.Role == Strip && p.Box == "" }

// Joint is what a side or end needs from the jig.
type Joint struct {
	Row     Row            // A stands at the stop, B behind the spacer
	Finger  measure.Length // asked; 0: the program chooses
	Pattern Pattern        // asked; zero: plain fingers
	Height  measure.Length // across the fingers: the part's width
	Mate    measure.Length // thickness of the board it meets
	Ends    [2]int         // corner marks: equal marks of one box meet; Ends[0] is cut first
}

// Pattern is a decorative joint as a row asks for it: "key 3/4", "rising 1/4 to
// 3/4", "mirrored 1/4 to 3/4", "repeat 1/4 1/2", or a list of widths.
type Pattern struct {
	Text  string // as written
	Exact string // every width in millimeters; empty: no pattern
}

// Row is a place in the stack.
type Row string

// RowA stands at the stop, RowB behind the spacer.
const (
	RowA Row = "A"
	RowB Row = "B"
)

// BoardOrigin is where a board comes from.
type BoardOrigin string

// The sources of boards, as printed in the plan.
const (
	FromRack    BoardOrigin = "rack"
	FromYard    BoardOrigin = "yard"
	FromOffcut  BoardOrigin = "offcut"
	FromTypical BoardOrigin = "typical" // neither rack nor yard was given
)

// Board is one line of a Rack or Yard sheet: a size, and how many of it.
type Board struct {
	Source    Source
	ID        string
	Origin    BoardOrigin
	Count     int // physical boards; ignored when Unlimited
	Unlimited bool
	Wood      string
	Class     string         // "4/4"; empty: a true thickness is given
	Thickness measure.Length // true thickness as it lies; 0: the class says
	Length    measure.Length
	Width     measure.Length // at the narrow end
	Cost      measure.Money  // of one board
	CostKnown bool
	Defects   []Defect
	Place     string
	Arrives   time.Time // zero: here, or at once
	Sheet     bool      // a manufactured sheet (plywood): it is not planed

	// What the shop file knows beside that; the nesting does without it.
	WideEnd  measure.Length // width at the wide end of a tapered board; 0: not tapered
	GrainTag string         // what the grain looks like, or which log it came from
	Moisture float64        // percent of dry weight, as measured; 0: not measured
	From     string         // where it came from: "rack.xlsx", "offcut of W1, job 3"
	Listed   string         // of a line of a list: what the shop file said of the board when the list was written; empty: not known
}

// Defect is a rectangle of a board that no part may touch, from the marked
// end (x along the length) and the marked edge (y across).
type Defect struct {
	X, Y, Length, Width measure.Length
	Sapwood             bool // sound, but of another colour: shut out only where the shop avoids it
}

// Barred are the defects no part may touch: sapwood only where it is avoided.
func (b *Board) Barred(s *settings.Shop) []Defect {
	var out []Defect
	for _, d := range b.Defects {
		if !d.Sapwood || s.Sapwood != "allowed" {
			out = append(out, d)
		}
	}
	return out
}
