package parts

import (
	"fmt"

	"batchwright/orders"
	"batchwright/orders/measure"
)

// Cells is what the joint leaves on the ends of a side and of an end of full
// height, from the marked edge up, and the jig it is cut on.
type Cells struct {
	Side, End []orders.Cell
	Kerf      measure.Length // of the jig's blade
	Step      measure.Ratio  // carriage travel between two stops of the wheel; 0: no parting pin is reckoned
	Stops     int            // stops of the wheel in a turn
}

// Placed is a line's build once its fingers are known: grooves stand where
// they are cut, with their stop blocks; the parting line stands between
// fingers; the front of a sliding lid is looked at where it is ripped. Inside
// sizes, panels and steps follow. The build given is left as it was.
func Placed(o *orders.Order, b orders.Build, c Cells) (orders.Build, []orders.Finding) {
	f := newFrame(&o.Boxes[b.Line], &o.Settings, knownWoods{})
	out := b
	var problems []orders.Finding
	tell := func(level orders.Level, did, fix string) {
		problems = append(problems, orders.Finding{Level: level, Source: b.Source, Read: b.Box, Did: did, Fix: fix})
	}
	out.Grooves = nil
	for _, g := range f.grooves() {
		g = f.placeGroove(g, c, f.mayMove(g))
		out.Grooves = append(out.Grooves, g)
		switch {
		case g.Refused != "":
			tell(orders.Warning, "the "+g.For+"'s groove: "+g.Refused, "change the groove's settings, the finger or the kind of "+g.For)
		case g.Moved != 0:
			tell(orders.Note, fmt.Sprintf("the %s's groove is moved by %s, to %s, so that it is inside one finger", g.For, f.show(apart(g.Moved, 0)), f.show(g.From)), asMeant)
		}
	}
	f.follow(&out)
	if b.Parting != nil {
		out.Parting = f.placeParting(c)
		f.parting = out.Parting.Low
		f.lowerDividers(&out)
		f.tellParting(out.Parting, tell)
	}
	if b.Lowered > 0 {
		out.FrontTop = f.frontTop(b.Lowered, c, tell)
	}
	out.Notes, out.Steps = f.notes(&out), f.steps(&out)
	return out, problems
}

// mayMove is how far a groove may be moved to lie inside one finger: as far as
// its setback where sizes are outside sizes and no divider stands on it.
func (f *frame) mayMove(g orders.Groove) measure.Length {
	free := f.box.Dividers.Along <= 1 && f.box.Dividers.Across <= 1
	if f.box.Inside || !free || g.For != "bottom" {
		return 0
	}
	return f.set.Making.GrooveSetback
}

// follow carries a moved bottom's groove over to the panel and the inside.
func (f *frame) follow(b *orders.Build) {
	b.Inside = f.inside
	b.Panels = append([]orders.Panel(nil), b.Panels...)
	for _, g := range b.Grooves {
		if g.For != "bottom" {
			continue
		}
		b.Inside.Height -= g.Moved
		for i := range b.Panels {
			if b.Panels[i].Role == orders.BottomP {
				b.Panels[i].Above = g.From
			}
		}
	}
}

// lowerDividers makes the dividers end below a parting line that was moved.
func (f *frame) lowerDividers(b *orders.Build) {
	dividers := f.dividers()
	for i := range b.Panels {
		if b.Panels[i].Role == orders.Divider && len(dividers) > 0 {
			b.Panels[i], dividers = dividers[0], dividers[1:]
		}
	}
}

// frontTop is what is left of the front's top finger when it is ripped down to
// a height; 0 where it ends on a boundary or in a slot. A front is an end.
func (f *frame) frontTop(at measure.Length, c Cells, tell func(orders.Level, string, string)) measure.Length {
	for _, cell := range c.End {
		if !cell.Pin || cell.From >= at || cell.To < at {
			continue
		}
		left := at - cell.From
		if isSliver(left) {
			tell(orders.Warning, fmt.Sprintf("ripping the end E1 down to %s leaves a finger of only %s at its top", f.show(at), f.fine(left)),
				"change the setting Groove setback, the lid's thickness or the box's height by a little")
		}
		return left
	}
	return 0
}
