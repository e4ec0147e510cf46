package joint

import (
	"slices"

	"batchwright/orders/measure"
)

// Even is a board height that comes out in whole fingers.
type Even struct {
	Height  measure.Length
	Fingers int64
}

// EvenHeights are the heights from around - vary to around + vary that hold a
// whole number of the program's fingers, counted from its edge origin; the
// nearest to around first, the lower in a tie. A height that is no whole tick
// is the tick below it, a shortfall no saw can show.
func EvenHeights(finger, edgeOrigin measure.Ratio, around, vary measure.Length) []Even {
	if finger.Sign() <= 0 || vary < 0 {
		return nil
	}
	var found []Even
	low := max(around-vary, 1).Ratio().Sub(edgeOrigin)
	high := (around + vary).Ratio().Sub(edgeOrigin)
	for n := max(2, low.Div(finger).Ceil()); n <= high.Div(finger).Floor(); n++ {
		height := measure.Length(finger.Times(n).Add(edgeOrigin).Floor())
		if height >= around-vary {
			found = append(found, Even{height, n})
		}
	}
	slices.SortStableFunc(found, func(a, b Even) int { return int(distance(a.Height, around) - distance(b.Height, around)) })
	return found
}

// Nudge finds the height nearest to the one asked for, within plus or minus
// vary, at which the joint comes out in whole fingers with its best program;
// ok is false when there is none.
func Nudge(q Request, height, vary measure.Length) (even Even, c Candidate, ok bool) {
	q.Heights = []measure.Length{height}
	a, err := Solve(q)
	if err != nil || a.Refused != nil {
		return Even{}, Candidate{}, false
	}
	w, err := q.workshop()
	if err != nil {
		return Even{}, Candidate{}, false
	}
	for _, e := range EvenHeights(a.Best().Finger, w.edgeOrigin(a.Finger), height, vary) {
		q.Heights = []measure.Length{e.Height}
		b, err := Solve(q)
		if err == nil && b.Refused == nil && b.Best().Finger.Cmp(a.Best().Finger) == 0 {
			return e, b.Candidates[0], true
		}
	}
	return Even{}, Candidate{}, false
}
