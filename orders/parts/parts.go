// Package parts turns the boxes of an order into their parts: corners and
// their marks, bottoms, lids, dividers, allowances, and the order of work. It
// leaves fingers to the joint stage and boards to the nesting.
//
// The sizes of a row are those of the four walls. An outside size is theirs as
// it stands; from an inside size
//
//	outside length = inside length + 2 x end thickness
//	outside width  = inside width  + 2 x side thickness
//	wall height    = inside height + bottom + lid
//
// where the bottom takes nothing when it is nailed beneath the walls, its
// thickness when it lies in a rabbet, and the groove setback with its thickness
// when it stands in a groove; and the lid takes nothing when it is hinged on
// top, its lip when it lifts off, and setback with thickness when it slides in
// a groove or is sawn off. A sawn-off lid adds what the saw and the cleaning-up
// take, whichever way the row was measured. These rules are common practice.
package parts

import (
	"fmt"

	"batchwright/orders"
	"batchwright/orders/measure"
	"batchwright/orders/settings"
)

// Most is the largest number of parts one order may have.
const Most = 100_000

// Result is every part of an order, how each line is built, and what was
// found. A line with an error has no parts and no build.
type Result struct {
	Parts    []orders.Part // boxes in the order of their lines and units, then loose parts
	Builds   []orders.Build
	Findings []orders.Finding
}

// Make turns an order into its parts. It changes nothing in the order.
func Make(o *orders.Order) Result {
	n := count(o)
	if n > Most {
		return Result{Findings: []orders.Finding{tooMany(o, n)}}
	}
	m := maker{order: o, set: &o.Settings, names: names{}, known: knownWoods{}}
	m.Parts = make([]orders.Part, 0, n)
	for line := range o.Boxes {
		m.box(line)
	}
	for line := range o.Loose {
		m.loose(line)
	}
	return m.Result
}

// maker gathers the result while the lines are worked through.
type maker struct {
	Result
	order *orders.Order
	set   *settings.Shop
	names names
	known knownWoods
	cells map[string]orders.Source // of the readings, made at the first problem

	unknown map[string]bool // woods whose movement is not known and was said
}

// box adds one line's parts, unit by unit.
func (m *maker) box(line int) {
	b := &m.order.Boxes[line]
	f := newFrame(b, m.set, m.known)
	if wrong := m.refusals(&f); len(wrong) > 0 {
		m.Findings = append(m.Findings, wrong...)
		return
	}
	build := f.build(line)
	m.Builds = append(m.Builds, build)
	m.warn(&f, &build)
	one := append(f.walls(), f.panels(&build)...)
	stem := m.names.stem("B", b.Source, line)
	for unit := 1; unit <= b.Count; unit++ {
		m.Parts = append(m.Parts, stamp(one, stem, line, unit)...)
	}
}

// loose adds one line of the Parts sheet.
func (m *maker) loose(line int) {
	l := &m.order.Loose[line]
	if wrong := m.looseRefusals(l); len(wrong) > 0 {
		m.Findings = append(m.Findings, wrong...)
		return
	}
	stem := m.names.stem("P", l.Source, line)
	for unit := 1; unit <= l.Count; unit++ {
		p := m.cut(orders.Part{
			ID: fmt.Sprintf("%s-%d", stem, unit), Source: l.Source, Line: line, Unit: unit,
			Role: orders.Loose, Wood: l.Wood, Grain: l.Grain, Notes: l.Notes,
			Length: l.Length, Width: l.Width, Thickness: l.Thickness,
		})
		if p.Grain == "" {
			p.Grain = orders.AlongLength
		}
		m.Parts = append(m.Parts, p)
	}
}

func (m *maker) cut(p orders.Part) orders.Part { return allow(p, m.set) }

// allow gives a part its cut size: finished size, twice Proud on the length
// where its ends are jointed, and the part allowances.
func allow(p orders.Part, set *settings.Shop) orders.Part {
	p.CutLength = p.Length + set.PartLength
	p.CutWidth = p.Width + set.PartWidth
	if p.Joint != nil {
		p.CutLength += 2 * set.Proud
	}
	return p
}

// stamp copies one box's parts for a unit. Every part gets its own Joint, so
// that a later stage may note something on one board alone.
func stamp(one []orders.Part, stem string, line, unit int) []orders.Part {
	out := make([]orders.Part, len(one))
	for i, p := range one {
		p.ID = fmt.Sprintf("%s-%d-%s", stem, unit, p.ID)
		p.Line, p.Unit = line, unit
		if p.Joint != nil {
			joint := *p.Joint
			p.Joint = &joint
		}
		switch box := fmt.Sprintf("%s-%d", stem, unit); {
		case p.Book != "":
			p.Run, p.Book = box+"-"+p.Run, box
		case p.Run != "":
			p.Run = box
		}
		out[i] = p
	}
	return out
}

// count is how many parts the order asks for.
func count(o *orders.Order) int {
	n := 0
	for i := range o.Boxes {
		n += max(0, o.Boxes[i].Count) * partsOfOne(&o.Boxes[i])
	}
	for i := range o.Loose {
		n += max(0, o.Loose[i].Count)
	}
	return n
}

func partsOfOne(b *orders.Box) int {
	n := 4 + max(0, b.Dividers.Along-1) + max(0, b.Dividers.Across-1)
	if hasBottom(b) {
		n++
	}
	if hasLid(b) {
		n++
	}
	return n
}

func hasBottom(b *orders.Box) bool { return b.Bottom.Kind != orders.NoBottom && b.Bottom.Kind != "" }
func hasLid(b *orders.Box) bool    { return b.Lid.Kind != orders.NoLid && b.Lid.Kind != "" }

func tooMany(o *orders.Order, n int) orders.Finding {
	p := orders.Finding{Level: orders.Error, Read: fmt.Sprintf("%d parts", n),
		Did: fmt.Sprintf("nothing is planned: an order may have %d parts at most", Most),
		Fix: "split the order in two"}
	if len(o.Boxes) > 0 {
		p.Source = o.Boxes[0].Source
	}
	return p
}

// show writes a length the way this shop reads it.
func (f *frame) show(l measure.Length) string { return l.OnRule(f.set.Units) }
