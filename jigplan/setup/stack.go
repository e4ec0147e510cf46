package setup

import (
	"strconv"

	"batchwright/jigplan"
	"batchwright/orders"
	"batchwright/orders/measure"
)

func itoa(n int) string { return strconv.Itoa(n) }

// unit is what may not be parted: a corner's two boards when one program cuts
// both rows, else one board.
type unit struct {
	boards []*orders.Part
}

// carriers counts the boards of a unit that do not reach the clamp.
func (g *grouping) carriers(u unit) int {
	n := 0
	for _, b := range u.boards {
		if g.carrier(b) > 0 {
			n++
		}
	}
	return n
}

// carrier is what the board behind a short one takes in the opening.
func (g *grouping) carrier(p *orders.Part) measure.Length {
	if p.Length >= g.in.Settings.ShortestClamp {
		return 0
	}
	return g.in.Settings.Carrier
}

// batch is units of one program that take equal room, by end.
type batch struct {
	batchKey
	ends [2][]unit
}

// batchKey is what units of equal room share.
type batchKey struct {
	thickness measure.Length
	carriers  int // boards of each unit that stand on a carrier
}

// batches collects the units of a program by thickness and carriers, the first seen
// first, each list in the order of the boxes so that a box's boards stay near.
func (g *grouping) batches(p *jigplan.Program) []batch {
	var out []batch
	at := map[batchKey]int{}
	for _, box := range g.boxesOf[p.ID] {
		for end := range 2 {
			for _, u := range g.units(p, box, end) {
				key := batchKey{u.boards[0].Thickness, g.carriers(u)}
				n, seen := at[key]
				if !seen {
					n = len(out)
					at[key] = n
					out = append(out, batch{batchKey: key})
				}
				out[n].ends[end] = append(out[n].ends[end], u)
			}
		}
	}
	return out
}

// units are the corners, or single boards, of a box that program p cuts at
// one end.
func (g *grouping) units(p *jigplan.Program, box []*orders.Part, end int) []unit {
	var out []unit
	for _, c := range corners(box, end) {
		switch first, second := g.cuts(p, c[0]), g.cuts(p, c[1]); {
		case first && second && p.Rows == jigplan.BothRows:
			out = append(out, unit{boards: c[:]})
		case first && second:
			out = append(out, unit{boards: c[:1]}, unit{boards: c[1:]})
		case first:
			out = append(out, unit{boards: c[:1]})
		case second:
			out = append(out, unit{boards: c[1:]})
		}
	}
	return out
}

func (g *grouping) cuts(p *jigplan.Program, b *orders.Part) bool {
	return g.in.ProgramOf[b.ID] == p.ID && !g.refused[b.ID]
}

// corners are the pairs of boards that meet at one end. Going round the box
// S1(1) meets E1(1), E1(2) S2(2), S2(1) E2(1) and E2(2) S1(2).
func corners(box []*orders.Part, end int) [][2]*orders.Part {
	var out [][2]*orders.Part
	for i := end; i < len(box); i += 2 {
		out = append(out, [2]*orders.Part{box[i], box[(i+1)%len(box)]})
	}
	return out
}

// fill packs a batch's units into stacks. All units of a batch take equal
// room, so no packing needs fewer stacks than the bound returned.
func (g *grouping) fill(p *jigplan.Program, b batch) (stacks []jigplan.Stack, bound int) {
	var chunks [2][][]unit
	for end, units := range b.ends {
		if len(units) == 0 {
			continue
		}
		fits := g.fits(b.batchKey, len(units[0].boards))
		for from := 0; from < len(units); from += fits {
			chunks[end] = append(chunks[end], units[from:min(from+fits, len(units))])
		}
		bound += ceilDiv(len(units), fits)
	}
	done := map[string]bool{} // boards whose first end is cut
	second := 0
	for _, chunk := range chunks[0] {
		stacks = append(stacks, g.stack(p, 1, chunk))
		for _, u := range chunk {
			for _, board := range u.boards {
				done[board.ID] = true
			}
		}
		for second < len(chunks[1]) && allDone(chunks[1][second], done) {
			stacks = append(stacks, g.stack(p, 2, chunks[1][second]))
			second++
		}
	}
	for ; second < len(chunks[1]); second++ {
		stacks = append(stacks, g.stack(p, 2, chunks[1][second]))
	}
	return stacks, bound
}

// fits is how many units of so many boards a stack takes: what the opening
// leaves room for, and no more than the shop could replace if the count were
// lost; a corner's two boards always stay together.
func (g *grouping) fits(key batchKey, boards int) int {
	takes := key.thickness*measure.Length(boards) + g.in.Settings.Carrier*measure.Length(key.carriers)
	n := int(g.room / takes)
	if most := g.in.Settings.Replaceable; most > 0 {
		n = min(n, max(1, most/boards))
	}
	return n
}

// mayShare reports whether another batch's boards are equally thick, so that
// boards of both could share a stack.
func (g *grouping) mayShare(all []batch, b batch) bool {
	for _, other := range all {
		if other.thickness == b.thickness && other.carriers != b.carriers {
			return true
		}
	}
	return false
}

// sharedBound is how many stacks the batches that may share need at least:
// what their boards and carriers take, over the room of a stack.
func (g *grouping) sharedBound(all []batch) (bound int) {
	var takes [2]map[measure.Length]measure.Length
	for end := range takes {
		takes[end] = map[measure.Length]measure.Length{}
		for _, b := range all {
			if !g.mayShare(all, b) {
				continue
			}
			for _, u := range b.ends[end] {
				takes[end][b.thickness] += b.thickness*measure.Length(len(u.boards)) + g.in.Settings.Carrier*measure.Length(b.carriers)
			}
		}
		for _, sum := range takes[end] {
			bound += int((sum + g.room - 1) / g.room)
		}
	}
	return bound
}

func allDone(chunk []unit, done map[string]bool) bool {
	for _, u := range chunk {
		for _, b := range u.boards {
			if !done[b.ID] {
				return false
			}
		}
	}
	return true
}

func (g *grouping) stack(p *jigplan.Program, end int, units []unit) jigplan.Stack {
	s := jigplan.Stack{End: end}
	for _, u := range units {
		for _, b := range u.boards {
			s.Boards = append(s.Boards, jigplan.StackBoard{Part: b.ID, Row: b.Joint.Row, Shim: g.shims[p.ID][b.Joint.Height], Carrier: g.carrier(b)})
			s.Thickness += b.Thickness
		}
	}
	return s
}

func ceilDiv(a, b int) int { return (a + b - 1) / b }
