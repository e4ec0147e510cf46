// Package setup groups jointed boards that are cut with one state of the saw
// into setups, and the boards of a setup into stacks. It leaves the program
// to joint, the running order to sequence and the minutes to pace.
package setup

import (
	"slices"
	"time"

	"batchwright/jigplan"
	"batchwright/orders"
	"batchwright/orders/measure"
	"batchwright/orders/settings"
)

// Input is what is to be cut, and with which programs.
type Input struct {
	Parts     []orders.Part // the jointed boards of a box in the order they go round it: S1, E1, S2, E2
	Programs  []jigplan.Program
	ProgramOf map[string]string // part id -> program id; a jointed part without one waits elsewhere
	Boxes     []orders.Box      // Order.Boxes, which Part.Line counts; their dates say which boards are cut first
	Settings  *settings.Shop
}

// Result is how the boards are cut. No board of a refused box is in a stack.
type Result struct {
	Setups  []jigplan.Setup // in the order of Input.Programs
	Stacks  []jigplan.Stack
	Refused []jigplan.Refusal

	// StackBound is proven: the accepted boards need at least so many stacks.
	StackBound int
}

// Group forms the setups and stacks of a batch. A stack holds boards of one
// program, one thickness and one end, never more than the carriage opening
// takes beside clamp and backing board or the shop could replace; the two ends
// of a corner that one program cuts lie in one stack. As all that lie together
// take equal room, filling each stack is the fewest stacks, and StackBound
// says so.
func Group(in Input) Result {
	g := newGrouping(in)
	var r Result
	r.Refused = g.refuse()
	for _, p := range in.Programs {
		g.cut(p, &r)
	}
	return r
}

// grouping is what Group knows about the boards.
type grouping struct {
	in       Input
	room     measure.Length // for boards, in the opening
	programs map[string]*jigplan.Program
	boxes    [][]*orders.Part // the jointed boards of each box, in the order they go round it
	refused  map[string]bool  // part ids

	shims   map[string]map[measure.Length]measure.Ratio // program id -> height -> shim
	boxesOf map[string][][]*orders.Part                 // program id -> the boxes it cuts at
}

// boxKey is one physical box: its line of the order, and which of that line.
type boxKey struct{ line, unit int }

func newGrouping(in Input) *grouping {
	s := in.Settings
	g := &grouping{
		in:       in,
		room:     s.Opening - s.ClampTakes - s.Backing,
		programs: map[string]*jigplan.Program{},
		refused:  map[string]bool{},
		shims:    map[string]map[measure.Length]measure.Ratio{},
		boxesOf:  map[string][][]*orders.Part{},
	}
	for i := range in.Programs {
		p := &in.Programs[i]
		g.programs[p.ID] = p
		g.shims[p.ID] = map[measure.Length]measure.Ratio{}
		for _, h := range p.Heights {
			g.shims[p.ID][h.Height] = h.Shim
		}
	}
	at := map[boxKey]int{}
	for i := range in.Parts {
		p := &in.Parts[i]
		if p.Joint == nil || in.ProgramOf[p.ID] == "" {
			continue
		}
		key := boxKey{p.Line, p.Unit}
		n, seen := at[key]
		if !seen {
			n = len(g.boxes)
			at[key] = n
			g.boxes = append(g.boxes, nil)
		}
		g.boxes[n] = append(g.boxes[n], p)
	}
	g.earliestFirst()
	g.indexBoxes()
	return g
}

// earliestFirst puts the boxes with the earliest dates into the first stacks,
// those without one into the last.
func (g *grouping) earliestFirst() {
	due := func(box []*orders.Part) time.Time {
		if line := box[0].Line; line < len(g.in.Boxes) && !g.in.Boxes[line].Due.IsZero() {
			return g.in.Boxes[line].Due
		}
		return time.Date(9999, 1, 1, 0, 0, 0, 0, time.UTC)
	}
	slices.SortStableFunc(g.boxes, func(a, b []*orders.Part) int { return due(a).Compare(due(b)) })
}

// indexBoxes notes for each program the boxes with a board it cuts.
func (g *grouping) indexBoxes() {
	for _, box := range g.boxes {
		noted := map[string]bool{}
		for _, b := range box {
			if id := g.in.ProgramOf[b.ID]; !noted[id] {
				noted[id] = true
				g.boxesOf[id] = append(g.boxesOf[id], box)
			}
		}
	}
}

// cut adds the setup of one program, when any board needs it.
func (g *grouping) cut(p jigplan.Program, r *Result) {
	first := len(r.Stacks)
	setup := jigplan.Setup{
		ID:          "U" + itoa(len(r.Setups)+1),
		Program:     p.ID,
		Blade:       BladeName(p.Kerf, g.in.Settings.Units),
		BladeHeight: p.MateThickness + g.in.Settings.Proud,
	}
	if p.Rows != jigplan.OnlyA {
		setup.Spacer = p.Spacer
	}
	batches := g.batches(&p)
	for _, batch := range batches {
		stacks, bound := g.fill(&p, batch)
		r.Stacks = append(r.Stacks, stacks...)
		if !g.mayShare(batches, batch) {
			r.StackBound += bound
		}
	}
	r.StackBound += g.sharedBound(batches)
	if len(r.Stacks) == first {
		return
	}
	for i := first; i < len(r.Stacks); i++ {
		r.Stacks[i].ID = setup.ID + "-" + itoa(i-first+1)
		r.Stacks[i].Setup = setup.ID
		setup.Stacks = append(setup.Stacks, r.Stacks[i].ID)
	}
	r.Setups = append(r.Setups, setup)
}
