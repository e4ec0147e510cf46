package joint

import (
	"fmt"
	"slices"

	"batchwright/jigplan"
	"batchwright/orders/measure"
)

// sayThin warns of pins that a slip leaves too thin to live, on whichever
// board, and corrects what the card of the rest says of the other edge.
func (l lost) sayThin(slips []Loss, rest *jigplan.Program, done int) []string {
	kerfs := l.kerfsAfter(slips, rest, done)
	var thin measure.Ratio // the thinnest
	for i, h := range l.p.Heights {
		rowA := pinsOf(kerfs, l.p.Kerf.Ratio(), h.Shim, h.Height.Ratio())
		rowB := pinsOf(kerfs, l.p.Kerf.Ratio(), h.Shim.Add(l.p.Spacer), h.Height.Ratio())
		for _, pin := range slices.Concat(rowA, rowB) {
			width := pin.high.Sub(pin.low)
			if width.Cmp(greater(l.p.Fit, measure.Ratio{})) > 0 && width.Cmp(thinnest.Ratio()) < 0 && (thin.Sign() == 0 || width.Cmp(thin) < 0) {
				thin = width
			}
		}
		if rest != nil {
			rest.Heights[i].AHigh = l.otherEdge(rowA, h.Height.Ratio())
			rest.Heights[i].BHigh = l.otherEdge(rowB, h.Height.Ratio())
		}
	}
	if thin.Sign() == 0 {
		return nil
	}
	return []string{fmt.Sprintf("a pin of only %s stays on some boards, beside the slip or at the other edge: it may break off; glue it or its place up with the gap", l.say(thin))}
}

// kerfsAfter is where every kerf of the stack starts once it is saved, from
// the stop: what was cut with its slips, the passes that cure them, the rest.
func (l lost) kerfsAfter(slips []Loss, rest *jigplan.Program, done int) []measure.Ratio {
	var travels []measure.Ratio
	for _, s := range l.p.Steps {
		if s.Slot > done {
			break
		}
		at := s.Travel
		for _, slip := range slips {
			off := slip.Turns.Mul(l.p.Lead)
			switch {
			case s.Slot > slip.Slot || s.Slot == slip.Slot && slip.Kind == MoveSlip:
				at = at.Add(off)
			case s.Slot == slip.Slot && s.Travel == l.lastStep(s.Slot).Travel:
				travels = append(travels, at) // too many: cut as well; too few: the passes that cure it end here
				at = at.Add(off)
			}
		}
		travels = append(travels, at)
	}
	for _, slip := range slips {
		travels = append(travels, slip.Extra...)
	}
	if rest != nil {
		for _, s := range rest.Steps {
			travels = append(travels, s.Travel)
		}
	}
	for i := range travels {
		travels[i] = travels[i].Add(l.p.Origin)
	}
	return travels
}

// pinsOf is the wood that kerfs leave of a board which stands so far from the
// stop, from its marked edge.
func pinsOf(starts []measure.Ratio, kerf, setback, height measure.Ratio) []board {
	sorted := slices.SortedFunc(slices.Values(starts), measure.Ratio.Cmp)
	var out []board
	var at measure.Ratio
	for _, start := range sorted {
		low := start.Sub(setback)
		if low.Cmp(height) >= 0 {
			break
		}
		if low.Cmp(at) > 0 {
			out = append(out, board{at, low})
		}
		at = greater(at, low.Add(kerf))
	}
	if at.Cmp(height) < 0 {
		out = append(out, board{at, height})
	}
	return out
}

// otherEdge is what stands at a board's edge away from the stop, grazes left
// out of account.
func (l lost) otherEdge(pins []board, height measure.Ratio) jigplan.Edge {
	graze := greater(l.p.Fit, measure.Ratio{})
	for _, pin := range slices.Backward(pins) {
		switch width := pin.high.Sub(pin.low); {
		case pin.high != height:
			return jigplan.Edge{Notch: true, Width: height.Sub(pin.high)}
		case width.Cmp(graze) > 0:
			return jigplan.Edge{Width: width}
		}
	}
	return jigplan.Edge{Notch: true, Width: height}
}
