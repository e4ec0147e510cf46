package reports

import (
	"batchwright/jigplan"
	"batchwright/orders"
)

// BoxViews is what a drawing of a box needs. Sizes are millimetres; slots are
// measured from the bottom edge.
type BoxViews struct {
	Length, Width, Height       float64 // outside
	SideThickness, EndThickness float64
	SideSlots, EndSlots         [][2]float64
	Parting                     float64 // height of the line a lid is sawn off at; 0: none
	Divider                     float64 // thickness
	Along, Across               int     // compartments

	LengthText, WidthText, HeightText, InsideText string
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
	w, out := Words{q.Order.Settings.Units}, o.Build.Outside
	v = BoxViews{
		Length: out.Length.Millimetres(), Width: out.Width.Millimetres(), Height: out.Height.Millimetres(),
		SideThickness: o.Build.SideThickness.Millimetres(), EndThickness: o.Build.EndThickness.Millimetres(),
		Divider: q.Order.Settings.Making.DividerThickness.Millimetres(), Along: max(1, o.Box.Dividers.Along), Across: max(1, o.Box.Dividers.Across),
		LengthText: w.Len(out.Length), WidthText: w.Len(out.Width), HeightText: w.Len(out.Height),
	}
	if v.Along == 1 && v.Across == 1 {
		v.InsideText = "inside " + sizeText(o.Build.Inside, w)
	}
	if o.Build.Parting != nil {
		v.Parting = o.Build.Parting.Low.Millimetres()
	}
	v.SideSlots, v.EndSlots = combOf(p, orders.Side), combOf(p, orders.End)
	return v, true
}

// combOf is the slots in the walls of one role, as the programs leave them.
func combOf(p *jigplan.Plan, role orders.Role) (slots [][2]float64) {
	part := firstWall(p, role)
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
