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
	File   string `json:"file"`   // base name of the workbook
	SHA256 string `json:"sha256"` // of its bytes, lower-case hex

	Boxes      []Box       `json:"boxes"`
	Loose      []LoosePart `json:"loose"`
	Rack       []Board     `json:"rack"` // boards on hand
	Yard       []Board     `json:"yard"` // boards that can be bought
	Candidates []Candidate `json:"candidates"`
	ListedOnly bool        `json:"listed_only"` // nothing is bought that neither Rack nor Yard lists: a fair is made from what there is
	HasRack    bool        `json:"has_rack"`    // a Rack sheet with rows stood in the order
	HasYard    bool        `json:"has_yard"`
	HasShop    bool        `json:"has_shop"`

	Settings settings.Shop `json:"settings"`
	Readings []Reading     `json:"readings"` // every cell as it was understood, in sheet order
	Findings []Finding     `json:"findings"`
}

// HasErrors reports whether any problem is an error: then nothing is planned
// unless the rest is asked for.
func (o *Order) HasErrors() bool { return HasError(o.Findings) }

// HasError reports whether any of some problems is an error.
func HasError(problems []Finding) bool {
	return slices.ContainsFunc(problems, func(p Finding) bool { return p.Level == Error })
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

// Finding is one finding, worded for the person who holds the order.
type Finding struct {
	Level Level `json:"level"`
	Source
	Read string `json:"read"` // the text found
	Did  string `json:"did"`  // what was done with it
	Fix  string `json:"fix"`  // the next step
}

// Reading is one cell as it was understood.
type Reading struct {
	Source
	Heading string `json:"heading"` // the column's name in the contract, or the setting's name
	Text    string `json:"text"`    // as it stands in the cell
	Meaning string `json:"meaning"` // as it was understood
	Ditto   bool   `json:"ditto"`   // it repeats the cell above
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
	Source Source `json:"source"`
	Name   string `json:"name"`
	Count  int    `json:"count"` // boxes to make, spares included
	Spare  int    `json:"spare"` // of which spare ("6+1 spare")

	Length        measure.Length `json:"length_mm"`
	Width         measure.Length `json:"width_mm"`
	Height        measure.Length `json:"height_mm"`
	Inside        bool           `json:"inside"`           // sizes are inside sizes
	Thickness     measure.Length `json:"thickness_mm"`     // of the sides
	EndThickness  measure.Length `json:"end_thickness_mm"` // of the ends; equal to Thickness when blank
	Wood          string         `json:"wood"`
	Finger        measure.Length `json:"finger_mm"`          // 0: the program chooses
	Pattern       Pattern        `json:"pattern"`            // zero: plain fingers
	HeightMayVary measure.Length `json:"height_may_vary_mm"` // plus or minus; 0: not at all

	Bottom   Bottom        `json:"bottom"`
	Lid      Lid           `json:"lid"`
	Dividers Dividers      `json:"dividers"`
	Matched  bool          `json:"matched"` // grain runs round the corners
	Opened   bool          `json:"opened"`  // round all four: two walls each from two leaves of one board, opened like a book
	Finish   string        `json:"finish"`
	Customer string        `json:"customer"`
	Due      time.Time     `json:"due"`   // zero: no date
	Price    measure.Money `json:"price"` // of one box; 0: not said

	Quantities []int  `json:"quantities"` // for a quote's quantity breaks
	Notes      string `json:"notes"`
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
	Kind      BottomKind     `json:"kind"`
	Thickness measure.Length `json:"thickness_mm"` // 0: the default for its kind
	Wood      string         `json:"wood"`         // empty: the box's wood
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
	Kind      LidKind        `json:"kind"`
	Thickness measure.Length `json:"thickness_mm"` // 0: the default for its kind
	Wood      string         `json:"wood"`         // empty: the box's wood
}

// Dividers is the grid of compartments: Along the length by Across the width.
// The zero value, and 1 x 1, is no dividers.
type Dividers struct {
	Along  int `json:"along"`
	Across int `json:"across"`
}

// LoosePart is one line of the Parts sheet.
type LoosePart struct {
	Source    Source         `json:"source"`
	Name      string         `json:"name"`
	Count     int            `json:"count"`
	Length    measure.Length `json:"length_mm"`
	Width     measure.Length `json:"width_mm"`
	Thickness measure.Length `json:"thickness_mm"`
	Wood      string         `json:"wood"`
	Grain     Grain          `json:"grain"`
	Notes     string         `json:"notes"`
}

// Candidate is one line of a fair's Catalog sheet: a box that could be made.
type Candidate struct {
	Box
	Low      int      `json:"low"` // boxes that may be sold; Likely alone is enough
	Likely   int      `json:"likely"`
	High     int      `json:"high"`
	Mean     float64  `json:"mean"` // of the same, and then instead of them: average and standard deviation
	Spread   float64  `json:"spread"`
	Averaged bool     `json:"averaged"` // a mean was written
	Said     bool     `json:"said"`     // any of the five was written
	Woods    []string `json:"woods"`
	Made     int      `json:"made"`      // on hand, finished
	MadeSaid bool     `json:"made_said"` // it was written, and not left to the shop file
	HalfMade int      `json:"half_made"` // on hand, glued up: to be sanded and finished
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
	ID     string `json:"id"` // unique in the plan: "T1-3-S1"
	Source Source `json:"at"`
	Box    string `json:"box"`        // the box line's name; empty for a loose part
	Line   int    `json:"line_index"` // index into Order.Boxes or, for a loose part, Order.Loose
	Unit   int    `json:"unit"`       // 1..count: which box of the line
	Role   Role   `json:"role"`
	Wood   string `json:"wood"`
	Grain  Grain  `json:"grain"`
	Notes  string `json:"notes"`

	Length    measure.Length `json:"length_mm"` // finished
	Width     measure.Length `json:"width_mm"`
	Thickness measure.Length `json:"thickness_mm"`
	CutLength measure.Length `json:"cut_length_mm"` // as cut from the board
	CutWidth  measure.Length `json:"cut_width_mm"`

	Run   string `json:"grain_run"`   // matched-grain run it belongs to; empty: none
	Place int    `json:"grain_place"` // 1.. along the run; 0: none
	Book  string `json:"book"`        // its run and another of this name lie alike on two leaves of one board; empty: none

	Panel string `json:"panel"` // the glued-up panel it is a strip of; empty: none

	Joint *Joint `json:"joint"` // nil: its ends carry no fingers
}

// IsLoose reports whether a part belongs to no box: a loose part, or a strip of
// one that is glued up.
func (p *Part) IsLoose() bool { return p.Role == Loose || p.Role == Strip && p.Box == "" }

// Joint is what a side or end needs from the jig.
type Joint struct {
	Row     Row            `json:"row"`       // A stands at the stop, B behind the spacer
	Finger  measure.Length `json:"finger_mm"` // asked; 0: the program chooses
	Pattern Pattern        `json:"pattern"`   // asked; zero: plain fingers
	Height  measure.Length `json:"height_mm"` // across the fingers: the part's width
	Mate    measure.Length `json:"mate_mm"`   // thickness of the board it meets
	Ends    [2]int         `json:"ends"`      // corner marks: equal marks of one box meet; Ends[0] is cut first
}

// Pattern is a decorative joint as a row asks for it: "key 3/4", "rising 1/4 to
// 3/4", "mirrored 1/4 to 3/4", "repeat 1/4 1/2", or a list of widths.
type Pattern struct {
	Text  string `json:"text"`      // as written
	Exact string `json:"widths_mm"` // every width in millimeters; empty: no pattern
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
	Source    Source         `json:"source"`
	ID        string         `json:"id"`
	Origin    BoardOrigin    `json:"origin"`
	Count     int            `json:"count"` // physical boards; ignored when Unlimited
	Unlimited bool           `json:"unlimited"`
	Wood      string         `json:"wood"`
	Class     string         `json:"class"`        // "4/4"; empty: a true thickness is given
	Thickness measure.Length `json:"thickness_mm"` // true rough thickness; 0: the class says
	Length    measure.Length `json:"length_mm"`
	Width     measure.Length `json:"width_mm"` // at the narrow end
	Cost      measure.Money  `json:"cost"`     // of one board
	CostKnown bool           `json:"cost_known"`
	Defects   []Defect       `json:"defects"`
	Place     string         `json:"place"`
	Arrives   time.Time      `json:"arrives"` // zero: here, or at once
	Sheet     bool           `json:"sheet"`   // a manufactured sheet (plywood): it is not planed

	// What the shop file knows beside that; the nesting does without it.
	WideEnd  measure.Length `json:"wide_end_mm"` // width at the wide end of a tapered board; 0: not tapered
	GrainTag string         `json:"grain_tag"`   // what the grain looks like, or which log it came from
	Moisture float64        `json:"moisture"`    // percent of dry weight, as measured; 0: not measured
	From     string         `json:"from"`        // where it came from: "rack.xlsx", "offcut of W1, job 3"
	Listed   string         `json:"listed"`      // of a line of a list: what the shop file said of the board when the list was written; empty: not known
}

// Defect is a rectangle of a board that no part may touch, from the marked
// end (x along the length) and the marked edge (y across).
type Defect struct {
	X       measure.Length `json:"x_mm"`
	Y       measure.Length `json:"y_mm"`
	Length  measure.Length `json:"length_mm"`
	Width   measure.Length `json:"width_mm"`
	Sapwood bool           `json:"sapwood"` // sound, but of another colour: shut out only where the shop avoids it
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
