package check

import (
	"fmt"

	"batchwright/jigplan"
	"batchwright/orders"
	"batchwright/orders/measure"
	"batchwright/orders/settings"
)

// Stacks goes through the setups and stacks of a plan: both ends of every
// jointed board cut exactly once, unless it is refused or lies on no board;
// no stack thicker than the opening takes; one thickness, one program and one
// end a stack; the boards of a corner that one program cuts together; every
// setup with the blade height and the spacer its program asks for.
func Stacks(p *jigplan.Plan) []error {
	c := newStackCheck(p)
	for _, s := range p.Setups {
		c.setup(s)
	}
	for _, s := range p.Stacks {
		c.stack(s)
	}
	c.everyEnd()
	c.corners()
	return c.found
}

type cutEnd struct {
	part string
	end  int
}

type stackCheck struct {
	plan     *jigplan.Plan
	settings settings.Shop
	parts    map[string]orders.Part
	programs map[string]jigplan.Program
	setups   map[string]jigplan.Setup
	listed   map[string]string       // stack -> the setup that lists it
	rows     map[string]jigplan.Rows // stack -> the rows its program cuts
	cut      map[cutEnd][]string
	found    []error
}

func newStackCheck(p *jigplan.Plan) *stackCheck {
	c := &stackCheck{plan: p, parts: map[string]orders.Part{}, programs: map[string]jigplan.Program{},
		setups: map[string]jigplan.Setup{}, listed: map[string]string{}, rows: map[string]jigplan.Rows{}, cut: map[cutEnd][]string{}}
	if p.Order != nil {
		c.settings = p.Order.Settings
	}
	for _, part := range p.Parts {
		c.parts[part.ID] = part
	}
	for _, program := range p.Programs {
		c.programs[program.ID] = program
	}
	return c
}

func (c *stackCheck) wrong(format string, a ...any) {
	c.found = append(c.found, fmt.Errorf(format, a...))
}

func (c *stackCheck) setup(s jigplan.Setup) {
	if _, twice := c.setups[s.ID]; twice {
		c.wrong("setup %q is listed twice", s.ID)
	}
	c.setups[s.ID] = s
	program, known := c.programs[s.Program]
	if !known {
		c.wrong("setup %q runs program %q, which does not exist", s.ID, s.Program)
		return
	}
	if want := program.MateThickness + c.settings.Proud; s.BladeHeight != want {
		c.wrong("setup %q: blade height %d, the mates and the proud ask for %d", s.ID, s.BladeHeight, want)
	}
	want := program.Spacer
	if program.Rows == jigplan.OnlyA {
		want = measure.Ratio{}
	}
	if s.Spacer.Cmp(want) != 0 {
		c.wrong("setup %q: spacer %s, program %q asks for %s", s.ID, s.Spacer, s.Program, want)
	}
	for _, id := range s.Stacks {
		if c.listed[id] != "" {
			c.wrong("stack %q is listed by setups %q and %q", id, c.listed[id], s.ID)
		}
		c.listed[id] = s.ID
	}
}

func (c *stackCheck) stack(s jigplan.Stack) {
	if c.listed[s.ID] != s.Setup {
		c.wrong("stack %q names setup %q, but setup %q lists it", s.ID, s.Setup, c.listed[s.ID])
	}
	delete(c.listed, s.ID)
	program := c.programs[c.setups[s.Setup].Program]
	c.rows[s.ID] = program.Rows
	if s.End != 1 && s.End != 2 {
		c.wrong("stack %q cuts end %d", s.ID, s.End)
	}
	var sum measure.Length
	for i, b := range s.Boards {
		part, known := c.parts[b.Part]
		if !known || part.Joint == nil {
			c.wrong("stack %q holds %q, which is no jointed part", s.ID, b.Part)
			continue
		}
		sum += part.Thickness
		c.cut[cutEnd{b.Part, s.End}] = append(c.cut[cutEnd{b.Part, s.End}], s.ID)
		if first := c.parts[s.Boards[0].Part]; i > 0 && first.Thickness != part.Thickness {
			c.wrong("stack %q: boards %q and %q are not equally thick", s.ID, first.ID, part.ID)
		}
		c.board(s, b, part, program)
	}
	if len(s.Boards) == 0 {
		c.wrong("stack %q is empty", s.ID)
	}
	if sum != s.Thickness {
		c.wrong("stack %q: thickness %d, its boards add up to %d", s.ID, s.Thickness, sum)
	}
	for _, b := range s.Boards {
		sum += b.Carrier
	}
	if room := c.settings.Opening - c.settings.ClampTakes - c.settings.Backing; sum > room {
		c.wrong("stack %q: boards and carriers %d thick, the opening leaves %d", s.ID, sum, room)
	}
	if most := c.settings.Replaceable; most > 0 && len(s.Boards) > max(most, 2) {
		c.wrong("stack %q: %d boards, the shop can replace %d", s.ID, len(s.Boards), most)
	}
}

// board checks one board of a stack against the program that cuts it.
func (c *stackCheck) board(s jigplan.Stack, b jigplan.StackBoard, part orders.Part, program jigplan.Program) {
	if b.Row != part.Joint.Row {
		c.wrong("stack %q: board %q stands in row %s, it is of row %s", s.ID, b.Part, b.Row, part.Joint.Row)
	}
	if program.Rows != jigplan.BothRows && string(program.Rows) != string(b.Row) {
		c.wrong("stack %q: board %q of row %s is cut by program %q of row %s", s.ID, b.Part, b.Row, program.ID, program.Rows)
	}
	if part.Joint.Mate != program.MateThickness {
		c.wrong("stack %q: board %q meets boards %d thick, program %q is for %d", s.ID, b.Part, part.Joint.Mate, program.ID, program.MateThickness)
	}
	short := part.Length < c.settings.ShortestClamp
	if short && c.settings.ShortBoards == "refuse" || part.Length > c.settings.LongestUp {
		c.wrong("stack %q: board %q, %d long, cannot be clamped upright", s.ID, b.Part, part.Length)
	}
	if short && b.Carrier != c.settings.Carrier || !short && b.Carrier != 0 {
		c.wrong("stack %q: board %q, %d long, is on a carrier of %d", s.ID, b.Part, part.Length, b.Carrier)
	}
	for _, h := range program.Heights {
		if h.Height == part.Width {
			if h.Shim.Cmp(b.Shim) != 0 {
				c.wrong("stack %q: board %q has shim %s, its height asks for %s", s.ID, b.Part, b.Shim, h.Shim)
			}
			return
		}
	}
	c.wrong("stack %q: program %q does not serve board %q, %d wide", s.ID, program.ID, b.Part, part.Width)
}

// everyEnd checks that each end is cut once, and that no listed stack is
// missing.
func (c *stackCheck) everyEnd() {
	for id, setup := range c.listed {
		c.wrong("setup %q lists stack %q, which does not exist", setup, id)
	}
	waits := map[string]bool{}
	for _, r := range c.plan.Refusals {
		for _, id := range r.Parts {
			waits[id] = true
		}
	}
	for _, s := range c.plan.Layout.Short {
		waits[s.Part] = true
	}
	for _, p := range c.plan.Parts {
		one, two := len(c.cut[cutEnd{p.ID, 1}]), len(c.cut[cutEnd{p.ID, 2}])
		if p.Joint == nil || one == 1 && two == 1 || waits[p.ID] && one == 0 && two == 0 {
			continue
		}
		c.wrong("board %q: end 1 is cut %d times, end 2 %d times", p.ID, one, two)
	}
}

// corners checks the boards that meet: the first side meets the first end
// with end 1 of both and the second end with end 2; the second side the other
// way round.
func (c *stackCheck) corners() {
	if c.plan.Recut {
		return // a board that is cut again meets one of an earlier stack
	}
	type box struct{ line, unit int }
	walls := map[box]map[orders.Role][]string{}
	for _, p := range c.plan.Parts {
		if p.Joint == nil {
			continue
		}
		b := box{p.Line, p.Unit}
		if walls[b] == nil {
			walls[b] = map[orders.Role][]string{}
		}
		walls[b][p.Role] = append(walls[b][p.Role], p.ID)
	}
	for b, w := range walls {
		sides, ends := w[orders.Side], w[orders.End]
		if len(sides) != 2 || len(ends) != 2 {
			c.wrong("box %d of line %d has %d jointed sides and %d ends", b.unit, b.line+1, len(sides), len(ends))
			continue
		}
		c.corner(sides[0], ends[0], 1)
		c.corner(sides[1], ends[1], 1)
		c.corner(sides[1], ends[0], 2)
		c.corner(sides[0], ends[1], 2)
	}
}

func (c *stackCheck) corner(side, end string, number int) {
	a, b := c.cut[cutEnd{side, number}], c.cut[cutEnd{end, number}]
	if len(a) != 1 || len(b) != 1 || a[0] == b[0] {
		return
	}
	if c.rows[a[0]] == jigplan.BothRows || c.rows[b[0]] == jigplan.BothRows {
		c.wrong("boards %q and %q meet at end %d but lie in stacks %q and %q", side, end, number, a[0], b[0])
	}
}
