package parts

import (
	"fmt"
	"slices"
	"strings"

	"batchwright/orders"
	"batchwright/orders/measure"
)

// refusals are the reasons why a line's box cannot be built at all, each at
// its cell.
func (m *maker) refusals(f *frame) []orders.Finding {
	var out []orders.Finding
	refuse := func(heading string, read measure.Length, did, fix string) {
		out = append(out, orders.Finding{Level: orders.Error, Source: m.cell(f.box.Source, heading),
			Read: f.show(read), Did: did + "; the line is left out", Fix: fix})
	}
	b := f.box
	for _, size := range []struct {
		heading string
		l       measure.Length
	}{{"Length", b.Length}, {"Width", b.Width}, {"Height", b.Height}, {"Thickness", b.Thickness}} {
		if size.l <= 0 {
			refuse(size.heading, size.l, fmt.Sprintf("%s is not above zero", strings.ToLower(size.heading)), "give a size above zero")
		}
	}
	if f.end <= 0 {
		refuse("End thickness", f.end, "end thickness is not above zero", "give a thickness, or leave the cell blank for the sides' own")
	}
	if len(out) > 0 {
		return out
	}
	if f.inside.Length <= 0 {
		refuse("Length", b.Length, fmt.Sprintf("two ends of %s leave no space inside", f.show(f.end)), "make the box longer or its ends thinner")
	}
	if f.inside.Width <= 0 {
		refuse("Width", b.Width, fmt.Sprintf("two sides of %s leave no room inside", f.show(f.side)), "make the box wider or its sides thinner")
	}
	if f.inside.Height <= 0 {
		refuse("Height", b.Height, fmt.Sprintf("bottom and lid take %s of the height and leave no room inside", f.show(f.below()+f.above())), "make the box higher, or choose a nailed bottom or a thinner panel")
	}
	finger := max(b.Finger, slices.Min(m.set.FingerChoices))
	if f.outside.Height < 2*finger {
		refuse("Height", b.Height, fmt.Sprintf("the walls are lower than two fingers of %s", f.show(finger)), "make the box higher or its fingers narrower")
	}
	if len(out) > 0 {
		return out
	}
	m.refuseGroove(f, refuse)
	m.refuseLid(f, refuse)
	m.refuseDividers(f, refuse)
	return out
}

type refuser func(heading string, read measure.Length, did, fix string)

// refuseGroove finds a panel that would not reach into its groove.
func (m *maker) refuseGroove(f *frame, refuse refuser) {
	gap := f.set.Making.PanelGap
	for _, p := range f.grooved() {
		reach := min(f.endGroove-gap, f.sideGroove-gap-p.Room/2)
		if reach <= 0 || p.Length <= 0 || p.Width <= 0 {
			refuse(headingOf(p.Role), p.Width, fmt.Sprintf("with a gap of %s and %s of room to swell it does not reach into its groove", f.show(gap), f.show(p.Room)), "take plywood, a deeper groove (setting Groove depth), or a bottom that is nailed on")
		}
	}
}

// grooved are the panels held in grooves.
func (f *frame) grooved() []orders.Panel {
	var out []orders.Panel
	if f.box.Bottom.Kind == orders.GrooveBottom {
		out = append(out, f.bottomPanel())
	}
	if kind := f.box.Lid.Kind; kind == orders.SlidingLid || kind == orders.SawnOffLid {
		out = append(out, f.lidPanel())
	}
	return out
}

func headingOf(r orders.Role) string {
	if r == orders.LidP {
		return "Lid"
	}
	return "Bottom"
}

// refuseLid finds a parting line that would run through a panel or take the
// whole box.
func (m *maker) refuseLid(f *frame, refuse refuser) {
	if f.box.Lid.Kind != orders.SawnOffLid {
		return
	}
	how := &f.set.Making
	if how.SawnLid <= f.above() {
		refuse("Lid", how.SawnLid, fmt.Sprintf("a lid %s high is sawn through its own top, which reaches down %s", f.show(how.SawnLid), f.show(f.above())), "raise the setting Sawn-off lid height, or make the lid thinner")
	}
	if f.outside.Height-how.SawnLid-f.sawn() <= f.below() {
		refuse("Height", f.box.Height, fmt.Sprintf("a lid %s high leaves no box below it", f.show(how.SawnLid)), "make the box higher or lower the setting Sawn-off lid height")
	}
}

func (m *maker) refuseDividers(f *frame, refuse refuser) {
	how := &f.set.Making
	for _, way := range []struct {
		name   string
		n      int
		inside measure.Length
	}{{"length", f.box.Dividers.Along - 1, f.inside.Length}, {"width", f.box.Dividers.Across - 1, f.inside.Width}} {
		if way.n > 0 && f.cell(way.n, way.inside) <= how.DividerPlay+how.LapClearance {
			refuse("Dividers", way.inside, fmt.Sprintf("%s of %s fill the inside %s of %s", counted(way.n, "divider", "dividers"), f.show(how.DividerThickness), way.name, f.show(way.inside)), "ask for fewer compartments or set a thinner Divider thickness")
		}
	}
	for _, p := range f.dividers() {
		if p.Width <= 0 || p.Length <= 0 {
			refuse("Dividers", min(f.inside.Height, f.inside.Length, f.inside.Width), "the space inside is too small for dividers", "make the box larger or leave the dividers out")
			return
		}
	}
}

func (m *maker) looseRefusals(l *orders.LoosePart) []orders.Finding {
	var out []orders.Finding
	for _, size := range []struct {
		heading string
		l       measure.Length
	}{{"Length", l.Length}, {"Width", l.Width}, {"Thickness", l.Thickness}} {
		if size.l <= 0 {
			out = append(out, orders.Finding{Level: orders.Error, Source: m.cell(l.Source, size.heading),
				Read: size.l.ShowUnit(m.set.Units), Did: strings.ToLower(size.heading) + " is not above zero; the line is left out", Fix: "give a size above zero"})
		}
	}
	return out
}

// cell is where a line's column was read; the line's own cell when the
// reading is not known.
func (m *maker) cell(line orders.Source, heading string) orders.Source {
	if m.cells == nil {
		m.cells = map[string]orders.Source{}
		for _, r := range m.order.Readings {
			m.cells[cellKey(r.Source, r.Heading)] = r.Source
		}
	}
	if at, ok := m.cells[cellKey(line, heading)]; ok {
		return at
	}
	return line
}

func cellKey(s orders.Source, heading string) string {
	return s.Sheet + "!" + strings.TrimLeft(s.Cell, "ABCDEFGHIJKLMNOPQRSTUVWXYZ$") + "!" + heading
}
