package joint

import (
	"batchwright/jigplan"
	"batchwright/orders/measure"
)

// Offer is what one board height can have with a program's fingers, beside what
// the program gives it.
type Offer struct {
	Height  measure.Length
	Layouts []jigplan.Height // from the edge, centred symmetric, centred antisymmetric; each as if it stood alone
	Even    []Even           // heights within a finger that come out in whole fingers, nearest first
}

// Offers lists every height of a regular program.
func Offers(q Request, p jigplan.Program) []Offer {
	w, err := q.workshop()
	if err != nil || !p.Regular {
		return nil
	}
	w.widen = p.SecondPass
	finger := q.aimedAt(p)
	sh := shapeOfCard(p)
	origin := w.edgeOrigin(finger)
	var out []Offer
	for _, h := range p.Heights {
		o := Offer{Height: h.Height}
		for _, at := range []placement{sh.place(EdgeLayout, origin, h.Height), sh.symmetric(h.Height), sh.antisymmetric(h.Height)} {
			o.Layouts = append(o.Layouts, run{shape: sh}.heightOf(placed{height: h.Height, layout: at.layout, origin: at.origin}))
		}
		o.Even = EvenHeights(p.Finger, origin, h.Height, measure.Length(p.Finger.Ceil()))
		out = append(out, o)
	}
	return out
}

// aimedAt is the finger a program was made for: the one asked for, else the
// usual one nearest what came out.
func (q Request) aimedAt(p jigplan.Program) measure.Length {
	if q.Finger != 0 {
		return q.Finger
	}
	return nearestFirst(q.Settings.FingerChoices, p.Finger.Length())[0]
}

// shapeOfCard reads a regular program's shape back from its figures.
func shapeOfCard(p jigplan.Program) shape {
	s := screw{lead: p.Lead, stops: int64(p.StopsPerTurn), kerf: p.Kerf.Ratio(), widen: p.SecondPass}
	a := p.Slot.Sub(s.kerf).Sub(s.widen).Div(s.unit()).Round()
	u := p.Pin.Add(s.kerf).Add(s.widen).Div(s.unit()).Round()
	return shape{screw: s, a: a, u: u}
}
