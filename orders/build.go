package orders

import (
	"strings"

	"batchwright/orders/measure"
)

// Build is how the boxes of one line are made: what the sizes of the row come
// to, what is cut where, and in which order. It holds for each box of the line.
type Build struct {
	Source Source
	Line   int // index into Order.Boxes
	Box    string
	Finger measure.Length // asked; 0: the program chooses

	Outside Size // the four walls standing, jointed and sanded
	Inside  Size // the clear room with bottom and lid in place
	Overall Size // the closed box with everything on it

	SideThickness, EndThickness measure.Length
	Grooves                     []Groove
	Parting                     *Parting       // nil: the lid is not sawn off
	Lowered                     measure.Length // height of the front of a sliding lid after it is ripped down; 0: not ripped
	Panels                      []Panel
	Steps                       []Step
	Notes                       []string // what was decided where the row was silent
}

// Size is a box's length, width and height.
type Size struct{ Length, Width, Height measure.Length }

// Groove is a groove round the inside of the walls. From and To are its edges
// measured from the marked edge, which stands at the bottom.
type Groove struct {
	For      string // "bottom", "lid"
	From, To measure.Length
	SideCut  measure.Length // depth in a side
	EndCut   measure.Length // depth in an end
	Front    bool           // also in the front; false: a sliding lid passes over it
}

// Parting is where a lid is sawn off: Low and High are what the saw and the
// cleaning-up take, measured from the marked edge.
type Parting struct{ Low, High measure.Length }

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

// Manufactured reports whether a wood's name means a made sheet: it does not
// swell to speak of, is not planed, and its edges are sound as bought.
func Manufactured(wood string) bool {
	for _, word := range strings.FieldsFunc(strings.ToLower(wood), func(r rune) bool { return r == ' ' || r == '-' || r == ',' || r == '/' || r == '(' || r == ')' }) {
		switch word {
		case "ply", "plywood", "mdf", "hdf", "hardboard", "chipboard", "particleboard", "fibreboard", "fiberboard", "multiplex":
			return true
		}
	}
	return false
}
