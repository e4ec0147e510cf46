package plan

import (
	"fmt"
	"slices"

	"batchwright/jigplan/joint"
	"batchwright/orders"
	"batchwright/orders/measure"
	"batchwright/orders/parts"
	"batchwright/orders/settings"
)

// makeParts turns an order into parts. Where a box's height may vary it is moved to
// the nearest height, within what the row allows, that comes out in whole
// fingers; asMade has those heights, the order itself stays as it was written.
func makeParts(o *orders.Order) (made parts.Result, asMade *orders.Order) {
	made = parts.Make(o)
	changed := *o
	changed.Boxes = slices.Clone(o.Boxes)
	var notes []orders.Finding
	walls := firstWalls(made.Parts)
	for line := range changed.Boxes {
		b := &changed.Boxes[line]
		wall := walls[line]
		if b.HeightMayVary <= 0 || wall == nil || b.Pattern.Exact != "" {
			continue
		}
		delta, note := nudge(b, wall, &o.Settings)
		b.Height += delta
		notes = append(notes, note)
	}
	if len(notes) > 0 {
		made = parts.Make(&changed)
		made.Findings = append(made.Findings, notes...)
	}
	return made, &changed
}

// nudge is how far a box's height is moved, and what to say about it.
func nudge(b *orders.Box, wall *orders.Part, s *settings.Shop) (measure.Length, orders.Finding) {
	key := keyOf(wall)
	q := joint.Request{Finger: key.finger, RowA: key.rowA, RowB: key.rowB, Settings: *s}
	height := wall.Joint.Height
	unit := s.Units
	note := orders.Finding{Level: orders.Note, Source: b.Source, Read: "height may vary by " + b.HeightMayVary.Show(unit) + " " + unit.String(),
		Fix: "OK if intended"}
	even, _, ok := joint.Nudge(q, height, b.HeightMayVary)
	switch {
	case !ok:
		note.Did = "no height within that gives whole fingers: the height does not change"
		return 0, note
	case even.Height == height:
		note.Did = fmt.Sprintf("the height already gives %d whole fingers", even.Fingers)
		return 0, note
	}
	note.Did = fmt.Sprintf("the walls are made %s %s high instead of %s: %d whole fingers, and %s %s %s wood in the width of every wall",
		even.Height.BareOnRule(unit), unit, height.BareOnRule(unit), even.Fingers,
		max(even.Height-height, height-even.Height).BareOnRule(unit), unit, moreOrLess(even.Height > height))
	return even.Height - height, note
}

// firstWalls is the first jointed part of every line that has one.
func firstWalls(all []orders.Part) map[int]*orders.Part {
	walls := map[int]*orders.Part{}
	for i := range all {
		if p := &all[i]; p.Joint != nil && walls[p.Line] == nil {
			walls[p.Line] = p
		}
	}
	return walls
}

func moreOrLess(more bool) string {
	if more {
		return "more"
	}
	return "less"
}
