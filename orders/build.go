package orders

import "batchwright/orders/measure"

// Build is how the boxes of one line are made: what the sizes of the row come
// to, what is cut where, and in which order. It holds for each box of the line.
type Build struct {
	Source  Source         `json:"at"`
	Line    int            `json:"line_index"` // index into Order.Boxes
	Box     string         `json:"box"`
	Finger  measure.Length `json:"finger_mm"` // asked; 0: the program chooses
	Pattern Pattern        `json:"pattern"`   // asked; zero: plain fingers

	Outside measure.Size `json:"outside"` // the four walls standing, jointed and sanded
	Inside  measure.Size `json:"inside"`  // the clear room with bottom and lid in place
	Overall measure.Size `json:"overall"` // the closed box with everything on it

	SideThickness measure.Length `json:"side_thickness_mm"`
	EndThickness  measure.Length `json:"end_thickness_mm"`
	Grooves       []Groove       `json:"grooves"`
	Parting       *Parting       `json:"parting"`      // nil: the lid is not sawn off
	Lowered       measure.Length `json:"lowered_mm"`   // height of the front of a sliding lid after it is ripped down; 0: not ripped
	FrontTop      measure.Length `json:"front_top_mm"` // what is left of the front's top finger then, when the fingers are known; 0: it ends on a boundary or in a slot
	Panels        []Panel        `json:"panels"`
	Steps         []MakingStep   `json:"steps"`
	Notes         []string       `json:"notes"` // what was decided where the row was silent
}

// Groove is a groove round the inside of the walls. From and To are its edges
// measured from the marked edge, which stands at the bottom.
type Groove struct {
	For     string         `json:"for"` // "bottom", "lid"
	From    measure.Length `json:"from_mm"`
	To      measure.Length `json:"to_mm"`
	SideCut measure.Length `json:"side_cut_mm"` // depth in a side
	EndCut  measure.Length `json:"end_cut_mm"`  // depth in an end
	Front   bool           `json:"front"`       // also in the front (E1); false: a sliding lid passes over it

	// Filled in when the fingers are known.
	Moved   measure.Length `json:"moved_mm"` // up from where the shop's setback wanted it
	Walls   []GrooveWall   `json:"walls"`    // S1, S2, E1, E2; none until then, and when Refused
	Refused string         `json:"refused"`  // why no groove can be cut as asked
}

// GrooveWall is how one wall is grooved. Ends are those of its corner marks: 1
// at index 0.
type GrooveWall struct {
	Wall    string            `json:"wall"` // "S1"
	Through [2]bool           `json:"through"`
	Block   [2]measure.Length `json:"block_mm"` // from the cutter's center to the face of the stop block; 0 where it runs through
}

// Cell is one stretch of a board's end between two edges of slots: a pin, or a
// slot. From and To are measured from the marked edge.
type Cell struct {
	From, To measure.Length
	Pin      bool
}

// Parting is where a lid is sawn off: Low and High are what the saw and the
// cleaning-up take, measured from the marked edge.
type Parting struct {
	Low  measure.Length `json:"low_mm"`
	High measure.Length `json:"high_mm"`

	// Filled in when the fingers are known.
	Moved    measure.Length `json:"moved_mm"`
	Below    measure.Length `json:"below_mm"` // narrowest piece of a finger left beside the line
	Above    measure.Length `json:"above_mm"`
	PinTurns measure.Ratio  `json:"pin_turns"` // turns past a pin so wide that whole fingers stay on both sides; 0: not reckoned
	Pin      measure.Length `json:"pin_mm"`    // and that pin's width
}

// Panel is a bottom, a lid or a divider as it lies in the box, for drawing.
type Panel struct {
	Role         Role             `json:"role"`
	What         string           `json:"what"`  // "bottom in a groove"
	Count        int              `json:"count"` // in one box
	Length       measure.Length   `json:"length_mm"`
	Width        measure.Length   `json:"width_mm"`
	Thickness    measure.Length   `json:"thickness_mm"`
	Above        measure.Length   `json:"above_mm"`      // its underside over the marked edge; below 0: under the walls
	Across       bool             `json:"across"`        // its length runs across the box
	Room         measure.Length   `json:"room_mm"`       // left for the wood to swell, across the grain; 0: none needed
	LipLength    measure.Length   `json:"lip_length_mm"` // of a lift-off lid's lip; 0: none
	LipWidth     measure.Length   `json:"lip_width_mm"`
	LipDepth     measure.Length   `json:"lip_depth_mm"`
	Notch        measure.Length   `json:"notch_mm"` // a divider's lap notches
	NotchDepth   measure.Length   `json:"notch_depth_mm"`
	NotchAt      []measure.Length `json:"notch_at_mm"` // near sides, from the marked end
	NotchFromTop bool             `json:"notch_from_top"`
}

// GluedPanel is a wide part of one box that is edge-glued from strips. It is
// no part itself: its strips are.
type GluedPanel struct {
	ID        string         `json:"id"`
	Source    Source         `json:"at"`
	Line      int            `json:"line_index"` // as a part's
	Box       string         `json:"box"`
	Unit      int            `json:"unit"`
	Role      Role           `json:"role"` // what it is in its box
	Wood      string         `json:"wood"`
	Length    measure.Length `json:"length_mm"`
	Width     measure.Length `json:"width_mm"`
	Thickness measure.Length `json:"thickness_mm"`
	Strips    []string       `json:"strips"` // parts, side by side
}

// MakingStep is one thing done to the boxes of a line, in order.
type MakingStep struct {
	When When   `json:"when"`
	What string `json:"what"`
	Why  string `json:"why"`
}

// When is the part of the work a step belongs to.
type When string

// The parts of the work, in order.
const (
	BeforeJoints When = "before the joints"
	BeforeGlue   When = "before glue-up"
	GlueUp       When = "glue-up"
	AfterGlue    When = "after glue-up"
)
