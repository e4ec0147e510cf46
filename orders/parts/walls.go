package parts

import (
	"batchwright/orders"
)

// walls are the four jointed boards in the order they lie along a matched
// run: S1, E1, S2, E2.
//
// Marks. End 1 of every board is cut in the first run, end 2 in the second,
// and going round the box S1(1) meets E1(1), E1(2) S2(2), S2(1) E2(1) and
// E2(2) S1(2): ends that meet carry equal marks, and boards cut in one run
// mate only one another. Along a matched run the end at high x is end 1 of a
// side and end 2 of an end, so that the grain runs around three corners; the
// fourth, E2 to S1, belongs at the back. Where two leaves are opened like a
// book, neighbours on a leaf meet with end 1 and the outer ends are end 2.
func (f *frame) walls() []orders.Part {
	side := f.wall(orders.Side)
	end := f.wall(orders.End)
	out := []orders.Part{side, end, side, end}
	for i, id := range []string{"S1", "E1", "S2", "E2"} {
		joint := *out[i].Joint
		out[i].ID, out[i].Joint = id, &joint
		out[i].Run, out[i].Place, out[i].Book = f.run(i)
	}
	return out
}

// run is where a wall lies in its run. Of two leaves opened like a book one is
// the other's mirror image: S1 and E1 follow each other on the first, E2 and S2
// on the second, and read from E1 on it is S2 that comes next, then E2, then S1.
func (f *frame) run(wall int) (run string, place int, book string) {
	switch {
	case f.box.Opened:
		return [...]string{"a", "a", "b", "b"}[wall], [...]int{1, 2, 2, 1}[wall], "book"
	case f.box.Matched:
		return "run", wall + 1, ""
	}
	return "", 0, ""
}

func (f *frame) wall(role orders.Role) orders.Part {
	p := orders.Part{
		Source: f.box.Source, Box: f.box.Name, Role: role, Wood: f.box.Wood,
		Grain: orders.AlongLength, Notes: f.box.Notes, Width: f.outside.Height,
	}
	joint := orders.Joint{Row: f.row(role), Finger: f.box.Finger, Pattern: f.box.Pattern, Height: f.outside.Height, Ends: [2]int{1, 2}}
	if role == orders.Side {
		p.Length, p.Thickness, joint.Mate = f.outside.Length, f.side, f.end
	} else {
		p.Length, p.Thickness, joint.Mate = f.outside.Width, f.end, f.side
	}
	p.Joint = &joint
	return allow(p, f.set)
}

// row is A for the boards that stand at the stop: the sides, unless the shop
// lets a side start with a pin.
func (f *frame) row(role orders.Role) orders.Row {
	if (role == orders.Side) == (f.set.SideStarts != "pin") {
		return orders.RowA
	}
	return orders.RowB
}

// Corner is one corner of a box: the two part ids of a unit without their
// stem, and the mark both ends carry.
type Corner struct {
	Side, End string
	Mark      int
	Matched   bool // the grain runs on round it in a matched run
}

// Corners goes round the box.
func Corners() []Corner {
	return []Corner{
		{"S1", "E1", 1, true},
		{"S2", "E1", 2, true},
		{"S2", "E2", 1, true},
		{"S1", "E2", 2, false},
	}
}
