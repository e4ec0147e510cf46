package joint

import (
	"fmt"

	"batchwright/jigplan"
	"batchwright/orders/measure"
)

// dial is a both-rows candidate without a block: with m even half a period is
// a whole number of index units, so row B is cut as its own stack from a home
// that is reached by turning the wheel.
func (w workshop) dial(sh shape, c Candidate) (Pair, bool) {
	if sh.m()%2 != 0 || c.Mate != nil {
		return Pair{}, false
	}
	r := run{shape: sh, rows: jigplan.OnlyA}
	for _, h := range c.Program.Heights {
		origin := sh.lay(w.q.Settings.Layout, w.edgeOrigin(c.wanted()), h.Height).origin
		r.firstSlot = origin.Add(h.Shim)
		r.heights = append(r.heights, placed{height: h.Height, layout: h.Layout, origin: origin, shim: h.Shim})
	}
	a := w.card(r, w.q.RowB)
	r.rows = jigplan.OnlyB
	b := w.card(r, w.q.RowA)
	turns := b.Origin.Sub(a.Origin).Div(w.lead)
	return Pair{
		A: a, B: b, Turns: turns, FingerError: c.FingerError,
		Price: fmt.Sprintf("no spacer block: row B starts %s turns from row A's home; but A and B are then two stacks, %d cuts instead of %d, and the mates cannot be cut to match after a lost count",
			turns, a.TotalCuts+b.TotalCuts, c.Program.TotalCuts),
	}, true
}

func (c Candidate) wanted() measure.Length { return c.Program.Finger.Sub(c.FingerError).Length() }
