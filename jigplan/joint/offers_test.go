package joint

import (
	"testing"

	"pgregory.net/rapid"

	"batchwright/orders/measure"
)

// TestOffersHoldTheChosenLayout: what a height stands at is among what it is
// offered, and every even height that is named comes out even.
func TestOffersHoldTheChosenLayout(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		q := anyRequest(t)
		a, err := Solve(q)
		if err != nil || a.Refused != nil {
			t.Skip("no joint")
		}
		p := a.Best()
		offers := Offers(q, p)
		if len(offers) != len(p.Heights) {
			t.Fatalf("%d offers for %d heights", len(offers), len(p.Heights))
		}
		w, _ := q.workshop()
		for i, o := range offers {
			found := false
			for _, h := range o.Layouts {
				chosen := p.Heights[i]
				found = found || h.Layout == chosen.Layout && h.ALow == chosen.ALow && h.AHigh == chosen.AHigh && h.BLow == chosen.BLow && h.BHigh == chosen.BHigh
			}
			if !found {
				t.Errorf("height %s stands %s, which it is not offered: %+v", o.Height.Fraction(), p.Heights[i].Layout, o.Layouts)
			}
			for _, e := range o.Even {
				whole := p.Finger.Times(e.Fingers).Add(w.edgeOrigin(a.Finger)).Sub(e.Height.Ratio())
				if whole.Sign() < 0 || whole.Cmp(measure.Whole(1)) >= 0 {
					t.Errorf("%d fingers of %s do not make %s", e.Fingers, p.Finger, e.Height.Fraction())
				}
				if distance(e.Height, o.Height).Ratio().Cmp(p.Finger.Add(measure.Whole(1))) > 0 {
					t.Errorf("even height %s is not near %s", e.Height.Fraction(), o.Height.Fraction())
				}
			}
		}
	})
}

// TestEveryHeightHasHalfAFinger walks through a whole period of heights, after
// which the layouts repeat: at every one of them, the kinks among them, the
// better centred layout leaves half a finger, less a quarter of the fit by
// which slots are wider than pins.
func TestEveryHeightHasHalfAFinger(t *testing.T) {
	const steps = 480
	for _, s := range []screw{
		{lead: measure.Inch.Ratio().Over(16), stops: 1, kerf: (955 * measure.Inch / 10_000).Ratio()},
		{lead: measure.Inch.Ratio().Over(16), stops: 1, kerf: (measure.Inch * 3 / 32).Ratio()},
		{lead: measure.Millimetre.Ratio().Times(3).Over(2), stops: 1, kerf: (3050 * measure.Micrometre).Ratio()},
		{lead: measure.Inch.Ratio().Over(5), stops: 4, kerf: (126 * measure.Inch / 1000).Ratio()},
	} {
		for a := range int64(9) {
			sh := shapeOf(s, a, s.mFor(measure.Ratio{}))
			least := sh.finger().Over(2).Sub(sh.clearance().Over(4))
			for i := range int64(steps) {
				height := measure.Length(sh.period().Times(2).Add(sh.period().Times(i).Over(steps)).Floor())
				if lay := sh.centred(height); lay.smallest.Cmp(least) < 0 {
					t.Fatalf("lead %s kerf %s a %d: height %s leaves %s %s", s.lead, s.kerf, a, height.Fraction(), lay.smallest, lay.layout)
				}
			}
		}
	}
}
