package setup

import (
	"fmt"

	"batchwright/jigplan"
	"batchwright/orders"
	"batchwright/orders/measure"
)

// refuse finds the boxes with a board that cannot stand in a stack. All
// jointed boards of such a box wait: a wall without its mates joins nothing.
func (g *grouping) refuse() []jigplan.Refusal {
	var out []jigplan.Refusal
	for _, box := range g.boxes {
		why, nearest := g.wrong(box)
		if why == "" {
			continue
		}
		r := jigplan.Refusal{Source: box[0].Source, Why: why, Nearest: nearest}
		for _, p := range box {
			r.Parts = append(r.Parts, p.ID)
			g.refused[p.ID] = true
		}
		out = append(out, r)
	}
	return out
}

// wrong says why a box's boards cannot be cut; empty: they can.
func (g *grouping) wrong(box []*orders.Part) (why, nearest string) {
	for _, p := range box {
		if why, nearest = g.wrongBoard(p); why != "" {
			return why, nearest
		}
	}
	return g.wrongCorners(box)
}

func (g *grouping) wrongBoard(p *orders.Part) (why, nearest string) {
	s := g.in.Settings
	program, known := g.programs[g.in.ProgramOf[p.ID]]
	_, served := g.shims[g.in.ProgramOf[p.ID]][p.Joint.Height]
	show := func(l measure.Length) string { return l.ShowUnit(s.Units) }
	switch {
	case !known:
		return fmt.Sprintf("board %s asks for program %q, which does not exist", p.ID, g.in.ProgramOf[p.ID]), ""
	case p.Length < s.ShortestClamp && s.ShortBoards == "refuse":
		return fmt.Sprintf("board %s is %s long, too short to clamp; minimum %s", p.ID, show(p.Length), show(s.ShortestClamp)),
			"set Short boards to carrier, or make it at least " + show(s.ShortestClamp) + " long"
	case p.Length > s.LongestUp:
		return fmt.Sprintf("board %s is %s long, too long to stand on the sled; maximum %s", p.ID, show(p.Length), show(s.LongestUp)),
			"make it at most " + show(s.LongestUp) + " long, or raise the setting \"Longest board upright\" if the ceiling allows it"
	case p.Thickness <= 0:
		return fmt.Sprintf("board %s has no thickness", p.ID), ""
	case p.Thickness > g.room:
		return fmt.Sprintf("board %s is %s thick; the carriage opening leaves %s beside clamp and backing board", p.ID, show(p.Thickness), show(g.room)),
			"use thinner wood, or set \"Carriage opening\" to what the carriage really takes"
	case p.Thickness+g.carrier(p) > g.room:
		return fmt.Sprintf("board %s and its carrier are %s thick; the carriage opening leaves %s beside clamp and backing board", p.ID, show(p.Thickness+g.carrier(p)), show(g.room)),
			"use a thinner Carrier board, or set \"Carriage opening\" to what the carriage really takes"
	case p.Joint.Mate != program.MateThickness:
		return fmt.Sprintf("board %s meets boards %s thick, but program %s cuts for %s", p.ID, show(p.Joint.Mate), program.ID, show(program.MateThickness)), ""
	case program.Rows != jigplan.BothRows && string(program.Rows) != string(p.Joint.Row):
		return fmt.Sprintf("board %s is of row %s, but program %s cuts row %s", p.ID, p.Joint.Row, program.ID, program.Rows), ""
	case !served:
		return fmt.Sprintf("board %s is %s wide, a height program %s does not serve", p.ID, show(p.Joint.Height), program.ID), ""
	}
	return "", ""
}

// wrongCorners looks at the corners that one program cuts: each needs a board
// of either row, equally thick, with room for both.
func (g *grouping) wrongCorners(box []*orders.Part) (why, nearest string) {
	if len(box)%2 != 0 {
		return fmt.Sprintf("box %s %d has %d jointed boards: they come in pairs around a box", box[0].Box, box[0].Unit, len(box)), ""
	}
	for end := range 2 {
		for _, c := range corners(box, end) {
			if why, nearest = g.wrongCorner(c[0], c[1], end); why != "" {
				return why, nearest
			}
		}
	}
	return "", ""
}

func (g *grouping) wrongCorner(a, b *orders.Part, end int) (why, nearest string) {
	show := func(l measure.Length) string { return l.ShowUnit(g.in.Settings.Units) }
	program := g.in.ProgramOf[a.ID]
	shared := program == g.in.ProgramOf[b.ID] && g.programs[program].Rows == jigplan.BothRows
	switch {
	case a.Joint.Row == b.Joint.Row:
		return fmt.Sprintf("boards %s and %s meet but are both of row %s", a.ID, b.ID, a.Joint.Row), ""
	case a.Joint.Ends[end] != b.Joint.Ends[end]:
		return fmt.Sprintf("boards %s and %s meet at end %d but carry marks %d and %d", a.ID, b.ID, end+1, a.Joint.Ends[end], b.Joint.Ends[end]), ""
	case shared && a.Thickness != b.Thickness:
		return fmt.Sprintf("boards %s and %s meet but are %s and %s thick: one program cannot cut both", a.ID, b.ID, show(a.Thickness), show(b.Thickness)),
			"give each row its own program"
	case shared && a.Thickness+b.Thickness+g.carrier(a)+g.carrier(b) > g.room:
		return fmt.Sprintf("boards %s and %s must be cut in one stack and are %s thick together, carriers included; the carriage opening leaves %s beside clamp and backing board",
				a.ID, b.ID, show(a.Thickness+b.Thickness+g.carrier(a)+g.carrier(b)), show(g.room)),
			"use thinner wood, or set \"Carriage opening\" to what the carriage really takes"
	}
	return "", ""
}
