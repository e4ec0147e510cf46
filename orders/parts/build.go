package parts

import (
	"fmt"

	"batchwright/orders"
	"batchwright/orders/measure"
)

// build gathers everything a line's box comes to. Grooves stand where the
// shop's setback wants them; Place moves them when the fingers are known.
func (f *frame) build(line int) orders.Build {
	b := orders.Build{
		Source: f.box.Source, Line: line, Box: f.box.Name, Finger: f.box.Finger, Pattern: f.box.Pattern,
		Outside: f.outside, Inside: f.inside,
		SideThickness: f.side, EndThickness: f.end,
	}
	b.Outside.Height -= f.sawn()
	if hasBottom(f.box) {
		b.Panels = append(b.Panels, f.bottomPanel())
	}
	if hasLid(f.box) {
		b.Panels = append(b.Panels, f.lidPanel())
	}
	b.Panels = append(b.Panels, f.dividers()...)
	b.Grooves = f.grooves()
	b.Overall = f.overall(b.Outside)
	switch f.box.Lid.Kind {
	case orders.SlidingLid:
		b.Lowered = f.outside.Height - f.above()
	case orders.SawnOffLid:
		high := f.outside.Height - f.set.Making.SawnLid
		b.Parting = &orders.Parting{Low: high - f.sawn(), High: high}
	}
	b.Notes = f.notes(&b)
	b.Steps = f.steps(&b)
	return b
}

func (f *frame) grooves() []orders.Groove {
	var out []orders.Groove
	if f.box.Bottom.Kind == orders.GrooveBottom {
		from := f.set.Making.GrooveSetback
		out = append(out, orders.Groove{For: "bottom", From: from, To: from + f.bottom + f.set.Making.GroovePlay, SideCut: f.sideGroove, EndCut: f.endGroove, Front: true})
	}
	if kind := f.box.Lid.Kind; kind == orders.SlidingLid || kind == orders.SawnOffLid {
		from := f.outside.Height - f.above()
		out = append(out, orders.Groove{For: "lid", From: from, To: from + f.lid + f.set.Making.GroovePlay, SideCut: f.sideGroove, EndCut: f.endGroove, Front: kind == orders.SawnOffLid})
	}
	return out
}

// overall is the closed box with what stands out under and over its walls.
func (f *frame) overall(walls measure.Size) measure.Size {
	how := &f.set.Making
	all := walls
	if f.box.Bottom.Kind == orders.NailedBottom {
		all.Length, all.Width = all.Length+2*how.BottomOverhang, all.Width+2*how.BottomOverhang
		all.Height += f.bottom
	}
	switch f.box.Lid.Kind {
	case orders.LiftOffLid:
		all.Length, all.Width = max(all.Length, walls.Length+2*how.LidOverhang), max(all.Width, walls.Width+2*how.LidOverhang)
		all.Height += f.lid - f.lip
	case orders.HingedLid:
		all.Length, all.Width = max(all.Length, walls.Length+2*how.LidOverhang), max(all.Width, walls.Width+how.LidOverhang)
		all.Height += f.lid
	}
	return all
}

// notes says what the sizes of the row came to, where that is not plain from
// the row itself.
func (f *frame) notes(b *orders.Build) []string {
	var out []string
	if f.box.Inside {
		out = append(out, fmt.Sprintf("inside %s: outside size %s", f.size(b.Inside), f.size(b.Outside)))
	}
	if b.Overall != b.Outside {
		out = append(out, fmt.Sprintf("overall size with the lid on %s", f.size(b.Overall)))
	}
	if f.sawn() > 0 {
		out = append(out, fmt.Sprintf("make the sides and ends %s high; sawing off the lid and cleanup take %s", f.show(f.outside.Height), f.show(f.sawn())))
	}
	return out
}

func (f *frame) size(s measure.Size) string {
	return fmt.Sprintf("%s x %s x %s", s.Length.BareOnRule(f.set.Units), s.Width.BareOnRule(f.set.Units), f.show(s.Height))
}
