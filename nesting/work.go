package nesting

import (
	"math"
	"slices"

	"batchwright/orders/measure"
)

// Work is what the cuts of a layout ask of the saw.
type Work struct {
	Crosscuts, Rips, Straightedge int
	RipFeet                       float64
	Settings                      int // of stop or fence: boards cut alike are set for once
}

// Work counts the cuts, board after board in the order they are made.
func (l *Layout) Work() Work {
	var w Work
	var last Cut
	for i := range l.Boards {
		b := &l.Boards[i]
		again := i > 0 && slices.Equal(b.Cuts, l.Boards[i-1].Cuts)
		for _, c := range b.Cuts {
			w.add(c)
			if !again && !c.sameSetting(last) {
				w.Settings++
			}
			last = c
		}
	}
	return w
}

func (w *Work) add(c Cut) {
	if c.Guide == ByStraightedge {
		w.Straightedge++
	}
	if c.Kind == Crosscut {
		w.Crosscuts++
		return
	}
	w.Rips++
	w.RipFeet += float64(c.To-c.From) / float64(measure.Foot)
}

// sameSetting reports whether stop or fence stays where it was for the cut
// before. A straightedge is clamped for every cut.
func (c Cut) sameSetting(last Cut) bool {
	return c.Guide == last.Guide && c.Set == last.Set || c.Guide == ByStraightedge
}

// PriceWork sets what the minutes at the saw cost at an hourly rate.
func (l *Layout) PriceWork(rate measure.Money) {
	l.WorkCost = measure.Money(math.RoundToEven(l.CutMinutes * float64(rate) / 60))
}
