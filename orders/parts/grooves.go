package parts

import (
	"fmt"

	"batchwright/orders"
	"batchwright/orders/measure"
)

// placeGroove finds a groove's height among the fingers of both rows and how
// each wall is grooved there, or says why it cannot be.
//
// A groove that lies inside one finger, with the margin on both sides, runs
// out through the slots of one row and is stopped in the pins of the other. A
// groove that straddles two fingers is stopped in every wall. It is moved into
// one finger where that takes no more than may, and nothing inside depends on it.
func (f *frame) placeGroove(g orders.Groove, c Cells, may measure.Length) orders.Groove {
	if at, ok := f.nearestRoom(g, c, may); ok {
		g.Moved = at - g.From
		g.From, g.To = at, g.To+g.Moved
	}
	if g.From < f.set.Making.GrooveMargin || g.To > f.outside.Height-f.set.Making.GrooveMargin {
		g.Refused = fmt.Sprintf("the groove from %s to %s leaves less than %s at the edge of the wall", f.show(g.From), f.show(g.To), f.show(f.set.Making.GrooveMargin))
		return g
	}
	for _, name := range []string{"S1", "S2", "E1", "E2"} {
		if name == "E1" && !g.Front {
			continue
		}
		wall, why := f.grooveWall(name, g, c)
		if why != "" {
			g.Walls, g.Refused = nil, why
			return g
		}
		g.Walls = append(g.Walls, wall)
	}
	return g
}

// grooveWall decides about both ends of one wall.
func (f *frame) grooveWall(name string, g orders.Groove, c Cells) (wall orders.GrooveWall, why string) {
	wall.Wall = name
	cells, mate, cut := c.Side, f.end, g.EndCut
	if name[0] == 'E' {
		cells, mate, cut = c.End, f.side, g.SideCut
	}
	through := f.inSlot(cells, g)
	block, why := f.block(mate, cut)
	for i := range wall.Through {
		passed := !g.Front && name[0] == 'S' && mateOf(name, i+1) == "E1"
		if wall.Through[i] = through || passed; !wall.Through[i] {
			if why != "" {
				return wall, why
			}
			wall.Block[i] = block
		}
	}
	return wall, ""
}

// block is the distance from the cutter's center to the stop block for a
// groove stopped in a pin: the full width runs to where a square-cornered
// panel ends, the mate's thickness less its groove from the finished end, on a
// blank that still stands proud. The round end reaches a cutter radius
// farther; it must not break out of the pin. Where it would, the panel's
// corners are notched and the groove stops at the inside corner.
func (f *frame) block(mate, cut measure.Length) (measure.Length, string) {
	how := &f.set.Making
	switch {
	case mate-cut-how.CutterRadius >= how.GrooveMargin:
		return f.set.Proud + mate - cut, ""
	case mate-how.CutterRadius >= how.GrooveMargin:
		return f.set.Proud + mate, ""
	}
	return 0, fmt.Sprintf("a cutter of radius %s breaks out of a pin %s long: use a smaller one (setting Cutter radius), or nail the bottom on", f.show(how.CutterRadius), f.show(mate))
}

// notched reports whether a panel's corners must be notched at a stopped groove.
func (f *frame) notched(g orders.Groove) bool {
	how := &f.set.Making
	return min(f.end-g.EndCut, f.side-g.SideCut)-how.CutterRadius < how.GrooveMargin
}

// inSlot reports whether a groove lies in one slot of a row, margins and all.
func (f *frame) inSlot(cells []orders.Cell, g orders.Groove) bool {
	for _, c := range cells {
		if !c.Pin && f.lies(c, g.From, g.To) {
			return true
		}
	}
	return false
}

func (f *frame) lies(c orders.Cell, from, to measure.Length) bool {
	m := f.set.Making.GrooveMargin
	return from >= c.From+m && to <= c.To-m
}

// nearestRoom is the place nearest to the wanted one where the groove lies in
// one finger of both rows, if there is one near enough.
func (f *frame) nearestRoom(g orders.Groove, c Cells, may measure.Length) (measure.Length, bool) {
	width, m := g.To-g.From, f.set.Making.GrooveMargin
	best, found := may+1, false
	at := g.From
	for _, s := range c.Side {
		for _, e := range c.End {
			low, high := max(s.From, e.From)+m, min(s.To, e.To)-m-width
			if low > high {
				continue
			}
			place := min(max(g.From, low), high)
			if off := apart(place, g.From); off < best {
				best, at, found = off, place, true
			}
		}
	}
	return at, found
}

// mateOf is the wall that meets a side at one of its ends.
func mateOf(side string, mark int) string {
	for _, c := range Corners() {
		if c.Side == side && c.Mark == mark {
			return c.End
		}
	}
	return ""
}

func apart(a, b measure.Length) measure.Length { return max(a-b, b-a) }
