package parts

import (
	"fmt"
	"slices"

	"batchwright/orders"
	"batchwright/orders/measure"
	"batchwright/orders/woods"
)

// warn adds what can be built, but should be looked at, and what was decided.
func (m *maker) warn(f *frame, build *orders.Build) {
	for _, note := range build.Notes {
		m.Findings = append(m.Findings, orders.Finding{Level: orders.Note, Source: f.box.Source, Read: f.box.Name, Did: note, Fix: asMeant})
	}
	if short := min(f.outside.Length, f.outside.Width) + 2*f.set.Proud + f.set.PartLength; f.mixedRun() && short < f.set.ShortestMachine {
		m.Findings = append(m.Findings, orders.Finding{Level: orders.Warning, Source: m.cell(f.box.Source, "Grain"), Read: "matched",
			Did: fmt.Sprintf("sides of %s and ends of %s come from one run of board, so each is planed separately, and the shorter, cut %s long, are shorter than the planer takes (%s)", f.show(f.side), f.show(f.end), f.show(short), f.show(f.set.ShortestMachine)),
			Fix: "use one thickness for sides and ends, or set Grain to any"})
	}
	m.warnSawnLid(f)
	for _, p := range build.Panels {
		m.warnPanel(f, p)
	}
}

// warnSawnLid finds a sawn-off lid deeper than the box under it, or so shallow
// that its strip may break.
func (m *maker) warnSawnLid(f *frame) {
	if f.box.Lid.Kind != orders.SawnOffLid {
		return
	}
	lid := f.set.Making.SawnLid
	warn := func(did, fix string) {
		m.Findings = append(m.Findings, orders.Finding{Level: orders.Warning, Source: m.cell(f.box.Source, "Lid"), Read: "sawn-off", Did: did, Fix: fix})
	}
	if lid > f.parting {
		warn(fmt.Sprintf("the lid is %s deep and the box below it %s: the lid is deeper than its box", f.show(lid), f.show(f.parting)),
			fmt.Sprintf("lower the setting Sawn-off lid height, or make the box at least %s high", f.show(2*lid+f.sawn())))
	}
	if lid < f.set.Making.LidStrip {
		warn(fmt.Sprintf("the lid is a strip only %s deep, under %s: it may break while it is sawn off", f.show(lid), f.show(f.set.Making.LidStrip)),
			"raise the setting Sawn-off lid height, or lower Thinnest lid strip if intended")
	}
}

// mixedRun reports whether the walls of one run are of two thicknesses.
func (f *frame) mixedRun() bool { return f.box.Matched && f.side != f.end }

// asMeant is the next step after what was decided as usual.
const asMeant = "OK if intended"

// warnPanel looks at how a solid panel will move.
func (m *maker) warnPanel(f *frame, p orders.Panel) {
	wood := f.woodOf(p.Role)
	if p.Role == orders.Divider || woods.IsSheet(wood) {
		return
	}
	m.sayUnknown(f, p.Role, wood)
	moves := f.room(p.Width, wood)
	held := f.grooved()
	switch {
	case slices.ContainsFunc(held, func(h orders.Panel) bool { return h.Role == p.Role }):
		if reach := f.sideGroove - f.set.Making.PanelGap - p.Room; reach < sliver {
			m.warning(f, p, fmt.Sprintf("it moves %s across its grain and may pull out of a groove %s deep in dry air", f.show(moves), f.show(f.sideGroove)), "take plywood, or a deeper groove (setting Groove depth)")
		}
	case p.Role == orders.BottomP && moves > sliver:
		m.warning(f, p, fmt.Sprintf("it is held fast and moves %s across its grain, which can split it or open the joints", f.show(moves)), "take plywood, or fasten it so that it can move (slotted holes, glue at the middle only)")
	}
}

func (m *maker) warning(f *frame, p orders.Panel, did, fix string) {
	m.Findings = append(m.Findings, orders.Finding{Level: orders.Warning, Source: m.cell(f.box.Source, headingOf(p.Role)),
		Read: fmt.Sprintf("%s, %s wide, of %s", p.What, f.show(p.Width), f.woodOf(p.Role)), Did: did, Fix: fix})
}

// sayUnknown tells once for each wood that its movement is not known.
func (m *maker) sayUnknown(f *frame, role orders.Role, wood string) {
	if c := f.known.coefficient(wood); c.Wood != "" || m.unknown[wood] {
		return
	}
	if m.unknown == nil {
		m.unknown = map[string]bool{}
	}
	m.unknown[wood] = true
	m.Findings = append(m.Findings, orders.Finding{Level: orders.Warning, Source: m.cell(f.box.Source, headingOf(role)), Read: wood,
		Did: "the movement of this wood is not known: its panels get as much room as the wood in the table that moves most",
		Fix: "check the spelling, or allow for its movement by hand"})
}

func (f *frame) woodOf(role orders.Role) string {
	switch role {
	case orders.BottomP:
		return orWood(f.box.Bottom.Wood, f.box.Wood)
	case orders.LidP:
		return orWood(f.box.Lid.Wood, f.box.Wood)
	}
	return orWood(f.set.Making.DividerWood, f.box.Wood)
}

// sliver is the narrowest feature that survives handling (common practice).
const sliver = measure.Inch / 16

// isSliver leaves out what the fit alone takes from a feature of just that width.
func isSliver(l measure.Length) bool { return l < sliver-measure.Inch/200 }
