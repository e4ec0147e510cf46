package parts

import (
	"fmt"

	"batchwright/orders"
	"batchwright/orders/measure"
)

// panels are one box's bottom, lid and dividers, as parts.
func (f *frame) panels(build *orders.Build) []orders.Part {
	ids := map[orders.Role]string{orders.BottomP: "BT", orders.LidP: "LD", orders.Divider: "D"}
	var out []orders.Part
	dividers := 0
	for _, panel := range build.Panels {
		for range panel.Count {
			id := ids[panel.Role]
			if panel.Role == orders.Divider {
				dividers++
				id += fmt.Sprint(dividers)
			}
			out = append(out, allow(orders.Part{
				ID: id, Source: f.box.Source, Box: f.box.Name, Role: panel.Role,
				Wood: f.woodOf(panel.Role), Grain: orders.AlongLength, Notes: panel.What,
				Length: panel.Length, Width: panel.Width, Thickness: panel.Thickness,
			}, f.set))
		}
	}
	return out
}

// bottomPanel is the bottom by its kind:
//
//	groove: inside + 2 x groove depth - 2 x gap, less room to swell
//	rabbet: inside + 2 x rabbet
//	nailed: outside + 2 x overhang
func (f *frame) bottomPanel() orders.Panel {
	how := &f.set.Making
	p := orders.Panel{Role: orders.BottomP, Count: 1, Thickness: f.bottom}
	switch f.box.Bottom.Kind {
	case orders.GrooveBottom:
		p.What, p.Above = "bottom, held in a groove", how.GrooveSetback
		f.captured(&p, orWood(f.box.Bottom.Wood, f.box.Wood))
	case orders.RabbetBottom:
		p.What = "bottom, in a rabbet; its corners rounded to the cutter"
		p.Length, p.Width = f.inside.Length+2*f.endRabbet, f.inside.Width+2*f.sideRabbet
	case orders.NailedBottom:
		p.What, p.Above = "bottom, nailed on", -f.bottom
		p.Length, p.Width = f.outside.Length+2*how.BottomOverhang, f.outside.Width+2*how.BottomOverhang
	}
	return p
}

// captured sizes a panel held in a groove all round.
func (f *frame) captured(p *orders.Panel, wood string) {
	gap := f.set.Making.PanelGap
	p.Length = f.inside.Length + 2*f.endGroove - 2*gap
	p.Width = f.inside.Width + 2*f.sideGroove - 2*gap
	p.Room = f.room(p.Width, wood)
	p.Width -= p.Room
}

// lidPanel is the lid by its kind:
//
//	sliding:  as long as the box inside, the groove in the back less its gap,
//	          and the front it passes over; as wide as a panel in a groove
//	sawn-off: as a bottom in a groove
//	lift-off: outside + 2 x overhang, rabbeted underneath for its lip
//	hinged:   outside, with the overhang at the front and both ends
func (f *frame) lidPanel() orders.Panel {
	how := &f.set.Making
	wood := orWood(f.box.Lid.Wood, f.box.Wood)
	p := orders.Panel{Role: orders.LidP, Count: 1, Thickness: f.lid, Above: f.outside.Height}
	switch f.box.Lid.Kind {
	case orders.SlidingLid:
		p.What, p.Above = "lid, sliding in a groove", f.outside.Height-f.above()
		f.captured(&p, wood)
		p.Length = f.inside.Length + f.endGroove - how.PanelGap + f.end
	case orders.SawnOffLid:
		p.What, p.Above = "top, held in a groove and sawn off with its walls", f.outside.Height-f.above()
		f.captured(&p, wood)
	case orders.LiftOffLid:
		p.What, p.Above = "lid, lifts off; rabbet it underneath for the lip", f.outside.Height-f.lip
		p.Length, p.Width = f.outside.Length+2*how.LidOverhang, f.outside.Width+2*how.LidOverhang
		p.Room = f.room(f.inside.Width, wood)
		p.LipLength, p.LipWidth = f.inside.Length-2*how.LidPlay, f.inside.Width-2*how.LidPlay-p.Room
		p.LipDepth = f.lip
	case orders.HingedLid:
		p.What = "lid, hinged"
		p.Length, p.Width = f.outside.Length+2*how.LidOverhang, f.outside.Width+how.LidOverhang
	}
	return p
}

// dividers are up to two families, lapped where they cross: those that run
// along the box are notched from the top, those across it from below.
func (f *frame) dividers() []orders.Panel {
	along, across := f.box.Dividers.Along-1, f.box.Dividers.Across-1
	var out []orders.Panel
	if across > 0 {
		p := f.divider(across, f.inside.Length)
		p.NotchFromTop = true
		f.lap(&p, along, f.inside.Length)
		out = append(out, p)
	}
	if along > 0 {
		p := f.divider(along, f.inside.Width)
		p.Across = true
		f.lap(&p, across, f.inside.Width)
		out = append(out, p)
	}
	return out
}

func (f *frame) divider(count int, room measure.Length) orders.Panel {
	how := &f.set.Making
	return orders.Panel{
		Role: orders.Divider, What: "divider", Count: count, Thickness: how.DividerThickness,
		Length: room - how.DividerPlay, Width: f.dividerRoom() - how.DividerPlay, Above: f.below(),
	}
}

// dividerRoom is how high a divider may be: to the lid, or of a box whose lid
// is sawn off to the line where that is done.
func (f *frame) dividerRoom() measure.Length {
	if f.box.Lid.Kind != orders.SawnOffLid || f.set.Making.SawnDividers == "full" {
		return f.inside.Height
	}
	return min(f.inside.Height, f.parting-f.below())
}

// lap cuts p's notches for the crossing dividers, half its height deep: as
// wide as a divider and the clearance, spaced so that every cell is
// (inside - n x thickness) / (n + 1).
func (f *frame) lap(p *orders.Panel, crossing int, inside measure.Length) {
	if crossing <= 0 {
		return
	}
	how := &f.set.Making
	p.Notch = how.DividerThickness + how.LapClearance
	p.NotchDepth = p.Width/2 + how.LapClearance
	for i := range crossing {
		p.NotchAt = append(p.NotchAt, f.cellEdge(i+1, crossing, inside)-how.DividerPlay/2-how.LapClearance/2)
	}
	p.What = fmt.Sprintf("divider, %s %s wide and %s deep from the %s", counted(crossing, "notch", "notches"), f.fine(p.Notch), f.fine(p.NotchDepth), edgeName(p.NotchFromTop))
}

// cellEdge is how far from the wall the i-th of n dividers begins.
func (f *frame) cellEdge(i, n int, inside measure.Length) measure.Length {
	free := inside - measure.Length(n)*f.set.Making.DividerThickness
	return measure.Frac(int64(free)*int64(i), int64(n+1)).Length() + measure.Length(i-1)*f.set.Making.DividerThickness
}

// cell is the clear size of each of the compartments n dividers make.
func (f *frame) cell(n int, inside measure.Length) measure.Length {
	free := inside - measure.Length(n)*f.set.Making.DividerThickness
	return measure.Frac(int64(free), int64(n+1)).Length()
}

// fine writes a length that is no fraction of an inch: to the thousandth.
func (f *frame) fine(l measure.Length) string {
	if f.set.Units.Metric() {
		return f.show(l)
	}
	return l.Ratio().Places(measure.Inches, 3) + " in"
}

func counted(n int, one, many string) string {
	if n == 1 {
		return "1 " + one
	}
	return fmt.Sprintf("%d %s", n, many)
}

func edgeName(top bool) string {
	if top {
		return "top"
	}
	return "bottom"
}
