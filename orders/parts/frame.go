package parts

import (
	"batchwright/orders"
	"batchwright/orders/measure"
	"batchwright/orders/settings"
)

// frame is the four walls of a line's box with the sizes everything else is
// reckoned from.
type frame struct {
	box   *orders.Box
	set   *settings.Shop
	known knownWoods

	side, end measure.Length // thickness of the walls
	outside   measure.Size   // its height is the walls' as jointed, before a lid is sawn off
	inside    measure.Size

	bottom, lid           measure.Length // thickness; 0: none
	sideGroove, endGroove measure.Length // depth in a side and in an end
	sideRabbet, endRabbet measure.Length
	lip                   measure.Length
	parting               measure.Length // low side of what is sawn off with a lid
}

func newFrame(b *orders.Box, set *settings.Shop, known knownWoods) frame {
	how := &set.Making
	f := frame{box: b, set: set, known: known, side: b.Thickness, end: b.EndThickness}
	if f.end == 0 {
		f.end = f.side
	}
	f.bottom, f.lid = bottomThickness(b, how), lidThickness(b, how)
	f.sideGroove, f.endGroove = min(how.GrooveDepth, f.side/2), min(how.GrooveDepth, f.end/2)
	f.sideRabbet, f.endRabbet = min(how.Rabbet, f.side/2), min(how.Rabbet, f.end/2)
	if b.Lid.Kind == orders.LiftOffLid {
		f.lip = min(how.LidLip, f.lid/2)
	}
	f.measure()
	return f
}

// measure fills in outside and inside from whichever the row gives.
func (f *frame) measure() {
	given := measure.Size{Length: f.box.Length, Width: f.box.Width, Height: f.box.Height}
	walls := measure.Size{Length: 2 * f.end, Width: 2 * f.side, Height: f.below() + f.above()}
	if f.box.Inside {
		f.inside = given
		f.outside = measure.Size{Length: given.Length + walls.Length, Width: given.Width + walls.Width, Height: given.Height + walls.Height}
	} else {
		f.outside = given
		f.inside = measure.Size{Length: given.Length - walls.Length, Width: given.Width - walls.Width, Height: given.Height - walls.Height}
	}
	f.outside.Height += f.sawn()
	f.parting = f.outside.Height - f.set.Making.SawnLid - f.sawn()
}

// below is how much of the walls' height lies under the top of the bottom.
func (f *frame) below() measure.Length {
	switch f.box.Bottom.Kind {
	case orders.GrooveBottom:
		return f.set.Making.GrooveSetback + f.bottom
	case orders.RabbetBottom:
		return f.bottom
	}
	return 0
}

// above is how much of the walls' height lies over the underside of the lid.
func (f *frame) above() measure.Length {
	switch f.box.Lid.Kind {
	case orders.SlidingLid, orders.SawnOffLid:
		return f.set.Making.GrooveSetback + f.lid
	case orders.LiftOffLid:
		return f.lip
	}
	return 0
}

// sawn is what the saw and the cleaning-up take from the walls' height.
func (f *frame) sawn() measure.Length {
	if f.box.Lid.Kind != orders.SawnOffLid {
		return 0
	}
	return f.set.Making.PartingKerf + 2*f.set.Making.CleanUp
}

func bottomThickness(b *orders.Box, how *settings.Making) measure.Length {
	switch {
	case !hasBottom(b):
		return 0
	case b.Bottom.Thickness > 0:
		return b.Bottom.Thickness
	}
	return how.PanelThickness
}

func lidThickness(b *orders.Box, how *settings.Making) measure.Length {
	switch {
	case !hasLid(b):
		return 0
	case b.Lid.Thickness > 0:
		return b.Lid.Thickness
	case b.Lid.Kind == orders.LiftOffLid || b.Lid.Kind == orders.HingedLid:
		return how.LidThickness
	}
	return how.PanelThickness
}

func orWood(wood, box string) string {
	if wood == "" {
		return box
	}
	return wood
}
