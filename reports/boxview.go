package reports

import (
	"batchwright/jigplan"
	"batchwright/orders"
	"batchwright/orders/settings"
)

// BoxViews is what a drawing of a box needs. Sizes are millimetres; slots are
// measured from the bottom edge.
type BoxViews struct {
	Length, Width, Height       float64 // outside
	SideThickness, EndThickness float64
	SideSlots, EndSlots         [][2]float64
	SideGrooves, EndGrooves     [][2]float64 // in the inside faces
	Parting                     float64      // height of the line a lid is sawn off at; 0: none
	Lid                         LidView
	Divider                     float64 // thickness
	Along, Across               int     // compartments

	LengthText, WidthText, HeightText, InsideText string
}

// LidView is a lid where it is on the closed box: sizes in millimetres, Above
// from the bottom edge of the walls to its underside. Thickness 0: no lid.
type LidView struct {
	Length, Width, Thickness, Above float64
	LipLength, LipWidth, LipDepth   float64 // 0: no lip
	Flush                           bool    // hinged: it ends at the back wall, and overhangs the front alone
	Lowered                         float64 // a sliding lid: the height of the front it passes over
}

// Over is how far the lid is over walls of a height.
func (v *LidView) Over(height float64) float64 {
	if v.Thickness == 0 {
		return 0
	}
	return max(0, v.Above+v.Thickness-height)
}

// Views is an option as it is drawn, its joint as it will be cut; not ok where
// there is no box or no plan of it.
func Views(q *jigplan.Quote, o *jigplan.Option) (v BoxViews, ok bool) {
	var p *jigplan.Plan
	for i := range o.Offers {
		if o.Offers[i].Plan != nil && o.Offers[i].Cannot == "" {
			p = o.Offers[i].Plan
			break
		}
	}
	if o.Line < 0 || p == nil {
		return v, false
	}
	v = viewsOf(&o.Build, &o.Box, &q.Order.Settings)
	v.SideSlots, v.EndSlots = combOf(p, firstWall(p, orders.Side)), combOf(p, firstWall(p, orders.End))
	return v, true
}

// BuildViews is one line's box as a plan makes it, grooves and all.
func BuildViews(p *jigplan.Plan, b *orders.Build) BoxViews {
	v := viewsOf(b, &p.Order.Boxes[b.Line], &p.Order.Settings)
	for i := range p.Parts {
		part := &p.Parts[i]
		switch {
		case part.Line != b.Line || part.Joint == nil:
		case part.Role == orders.Side && v.SideSlots == nil:
			v.SideSlots = combOf(p, part)
		case part.Role == orders.End && v.EndSlots == nil:
			v.EndSlots = combOf(p, part)
		}
	}
	for _, g := range b.Grooves {
		at := [2]float64{g.From.Millimetres(), g.To.Millimetres()}
		v.SideGrooves = append(v.SideGrooves, at)
		if g.Front {
			v.EndGrooves = append(v.EndGrooves, at)
		}
	}
	return v
}

func viewsOf(b *orders.Build, box *orders.Box, s *settings.Shop) BoxViews {
	w, out, dividers := Words{s.Units}, b.Outside, box.Dividers
	v := BoxViews{
		Length: out.Length.Millimetres(), Width: out.Width.Millimetres(), Height: out.Height.Millimetres(),
		SideThickness: b.SideThickness.Millimetres(), EndThickness: b.EndThickness.Millimetres(),
		Divider: s.Making.DividerThickness.Millimetres(), Along: max(1, dividers.Along), Across: max(1, dividers.Across),
		LengthText: w.Len(out.Length), WidthText: w.Len(out.Width), HeightText: w.Len(out.Height),
	}
	if v.Along == 1 && v.Across == 1 {
		v.InsideText = "inside " + sizeText(b.Inside, w)
	}
	for i := range b.Panels {
		if p := &b.Panels[i]; p.Role == orders.LidP {
			v.Lid = LidView{Length: p.Length.Millimetres(), Width: p.Width.Millimetres(), Thickness: p.Thickness.Millimetres(), Above: p.Above.Millimetres(),
				LipLength: p.LipLength.Millimetres(), LipWidth: p.LipWidth.Millimetres(), LipDepth: p.LipDepth.Millimetres(),
				Lowered: b.Lowered.Millimetres(), Flush: box.Lid.Kind == orders.HingedLid}
		}
	}
	if b.Parting != nil {
		v.Parting = b.Parting.Low.Millimetres()
	}
	return v
}

// combOf is the slots in a wall, as the programs leave them.
func combOf(p *jigplan.Plan, part *orders.Part) (slots [][2]float64) {
	if part == nil {
		return nil
	}
	for i := range p.Programs {
		prog := &p.Programs[i]
		if prog.Rows == jigplan.OnlyA && part.Joint.Row != orders.RowA || prog.Rows == jigplan.OnlyB && part.Joint.Row != orders.RowB {
			continue
		}
		for k := range prog.Heights {
			if h := &prog.Heights[k]; h.Height == part.Joint.Height {
				for _, s := range EndOf(prog, h, part.Joint.Row).Slots {
					slots = append(slots, [2]float64{s.From.Length().Millimetres(), s.To.Length().Millimetres()})
				}
				return slots
			}
		}
	}
	return nil
}

func firstWall(p *jigplan.Plan, role orders.Role) *orders.Part {
	for i := range p.Parts {
		if p.Parts[i].Role == role && p.Parts[i].Joint != nil {
			return &p.Parts[i]
		}
	}
	return nil
}
