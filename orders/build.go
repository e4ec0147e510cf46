package orders

import "batchwright/orders/measure"

// Build is how the boxes of one line are made: what the sizes of the row come
// to, what is cut where, and in which order. It holds for each box of the line.
type Build struct {
	Source  Source
	Line    int // index into Order.Boxes
	Box     string
	Finger  measure.Length // asked; 0: the program chooses
	Pattern Pattern        // asked; zero: plain fingers

	Outside measure.Size // the four walls standing, jointed and sanded
	Inside  measure.Size // the clear room with bottom and lid in place
	Overall measure.Size // the closed box with everything on it

	SideThickness, EndThickness measure.Length
	Grooves                     []Groove
	Parting                     *Parting       // nil: the lid is not sawn off
	Lowered                     measure.Length // height of the front of a sliding lid after it is ripped down; 0: not ripped
	FrontTop                    measure.Length // what is left of the front's top finger then, when the fingers are known; 0: it ends on a boundary or in a slot
	Panels                      []Panel
	Steps                       []Step
	Notes                       []string // what was decided where the row was silent
}

// Groove is a groove round the inside of the walls. From and To are its edges
// measured from the marked edge, which stands at the bottom.
type Groove struct {
	For      string // "bottom", "lid"
	From, To measure.Length
	SideCut  measure.Length // depth in a side
	EndCut   measure.Length // depth in an end
	Front    bool           // also in the front (E1); false: a sliding lid passes over it

	// Filled in when the fingers are known.
	Moved   measure.Length // up from where the shop's setback wanted it
	Walls   []GrooveWall   // S1, S2, E1, E2; none until then, and when Refused
	Refused string         // why no groove can be cut as asked
}

// GrooveWall is how one wall is grooved. Ends are those of its corner marks: 1
// at index 0.
type GrooveWall struct {
	Wall    string // "S1"
	Through [2]bool
	Block   [2]measure.Length // from the cutter's centre to the face of the stop block; 0 where it runs through
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
	Low, High measure.Length

	// Filled in when the fingers are known.
	Moved        measure.Length
	Below, Above measure.Length // narrowest piece of a finger left beside the line
	PinTurns     measure.Ratio  // turns past a pin so wide that whole fingers stay on both sides; 0: not reckoned
	Pin          measure.Length // and that pin's width
}

// Panel is a bottom, a lid or a divider as it lies in the box, for drawing.
type Panel struct {
	Role                     Role
	What                     string // "bottom in a groove"
	Count                    int    // in one box
	Length, Width, Thickness measure.Length
	Above                    measure.Length // its underside over the marked edge; below 0: under the walls
	Across                   bool           // its length runs across the box
	Room                     measure.Length // left for the wood to swell, across the grain; 0: none needed
	LipLength, LipWidth      measure.Length // of a lift-off lid's lip; 0: none
	LipDepth                 measure.Length
	Notch, NotchDepth        measure.Length   // a divider's lap notches
	NotchAt                  []measure.Length // near sides, from the marked end
	NotchFromTop             bool
}

// GluedPanel is a wide part of one box that is edge-glued from strips. It is
// no part itself: its strips are.
type GluedPanel struct {
	ID                       string
	Source                   Source
	Line                     int // as a part's
	Box                      string
	Unit                     int
	Role                     Role // what it is in its box
	Wood                     string
	Length, Width, Thickness measure.Length
	Strips                   []string // parts, side by side
}

// Step is one thing done to the boxes of a line, in order.
type Step struct {
	When When
	What string
	Why  string
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
