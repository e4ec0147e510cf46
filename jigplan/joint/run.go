package joint

import (
	"fmt"

	"batchwright/jigplan"
	"batchwright/orders/measure"
)

// board is what one row's boards of one height occupy on the carriage.
type board struct{ low, high measure.Ratio }

// placed is a board height where it will stand.
type placed struct {
	height measure.Length
	layout string
	origin measure.Ratio // a slot of row A starts here, from the board's own edge
	shim   measure.Ratio // from the stop to the board's edge
}

// run is a program in the making: a shape laid on boards.
type run struct {
	shape
	rows      jigplan.Rows
	firstSlot measure.Ratio // a row A slot starts here, from the stop
	heights   []placed
}

// slotStart is where the first full kerf of slot i starts for the boards of
// this run, from the stop. A run of row B alone has no spacer in: its slots
// lie half a period back.
func (r run) slotStart(i int64) measure.Ratio {
	start := r.firstSlot.Add(r.period().Times(i))
	if r.rows == jigplan.OnlyB {
		return start.Sub(r.finger())
	}
	return start
}

// boards are the places of every height in every row this run cuts.
func (r run) boards() []board {
	var all []board
	for _, h := range r.heights {
		if r.rows == jigplan.BothRows || r.rows == jigplan.OnlyA {
			all = append(all, board{h.shim, h.shim.Add(h.height.Ratio())})
		}
		switch r.rows {
		case jigplan.BothRows:
			low := h.shim.Add(r.finger())
			all = append(all, board{low, low.Add(h.height.Ratio())})
		case jigplan.OnlyB:
			all = append(all, board{h.shim, h.shim.Add(h.height.Ratio())})
		}
	}
	return all
}

// slotRun is one slot to be cut, whole: its first kerf's start from the stop and
// the units between its cuts.
type slotRun struct {
	start measure.Ratio
	steps []int64
}

// width is the whole slot's.
func (s screw) width(t slotRun) measure.Ratio {
	units := int64(0)
	for _, step := range t.steps {
		units += step
	}
	return s.kerf.Add(s.widen).Add(s.unit().Times(units))
}

// kerfStarts are the slot's cuts, from the stop: of the second pass, where
// there is one.
func (s screw) kerfStarts(t slotRun) []measure.Ratio {
	starts := []measure.Ratio{t.start}
	units := int64(0)
	for _, step := range t.steps {
		units += step
		starts = append(starts, t.start.Add(s.unit().Times(units)))
	}
	return starts
}

// slotCuts is one slot's kerf starts, air cuts left out; skipped counts those
// left out before the first.
type slotCuts struct {
	starts  []measure.Ratio
	skipped int
	width   measure.Ratio // of the whole slot
}

// cutSlots lists the regular slots that the boards of this run need.
func (r run) cutSlots() []slotCuts {
	boards := r.boards()
	low, high := reach(boards)
	first := low.Sub(r.slot()).Sub(r.slotStart(0)).Div(r.period()).Floor()
	last := high.Sub(r.slotStart(0)).Div(r.period()).Ceil()
	var slots []slotRun
	for i := first; i <= last; i++ {
		slots = append(slots, slotRun{r.slotStart(i), r.steps})
	}
	return r.screw.trim(slots, boards, r.graze())
}

func reach(boards []board) (low, high measure.Ratio) {
	low, high = boards[0].low, boards[0].high
	for _, b := range boards[1:] {
		low, high = lesser(low, b.low), greater(high, b.high)
	}
	return low, high
}

// trim keeps the slots from the first that bites to the last. Of the outer
// two, passes that remove nothing a neighbouring pass does not remove as well
// are dropped.
func (s screw) trim(slots []slotRun, boards []board, graze measure.Ratio) []slotCuts {
	bites := func(t slotRun) bool { return len(s.bitten(t, boards, graze)) > 0 }
	for len(slots) > 1 && !bites(slots[0]) {
		slots = slots[1:]
	}
	for len(slots) > 1 && !bites(slots[len(slots)-1]) {
		slots = slots[:len(slots)-1]
	}
	var kept []slotCuts
	for i, t := range slots {
		starts := s.kerfStarts(t)
		skipped := 0
		if i == len(slots)-1 {
			starts = s.dropTrailing(starts, s.bitten(t, boards, graze))
		}
		if i == 0 {
			skipped = leading(starts, s.bitten(t, boards, graze))
		}
		kept = append(kept, slotCuts{starts[skipped:], skipped, s.width(t)})
	}
	return kept
}

// bitten are the boards that a slot takes more than a graze off.
func (s screw) bitten(t slotRun, boards []board, graze measure.Ratio) []board {
	var hit []board
	end := t.start.Add(s.width(t))
	for _, b := range boards {
		if end.Sub(b.low).Cmp(graze) > 0 && b.high.Sub(t.start).Cmp(graze) > 0 {
			hit = append(hit, b)
		}
	}
	return hit
}

// leading counts the first passes that the pass after them makes needless.
func leading(starts []measure.Ratio, hit []board) int {
	n := 0
	for n+1 < len(starts) && allBoards(hit, func(b board) bool { return starts[n+1].Cmp(b.low) <= 0 }) {
		n++
	}
	return n
}

func (s screw) dropTrailing(starts []measure.Ratio, hit []board) []measure.Ratio {
	for n := len(starts); n > 1; n = len(starts) {
		end := starts[n-2].Add(s.kerf).Add(s.widen)
		if !allBoards(hit, func(b board) bool { return end.Cmp(b.high) >= 0 }) {
			break
		}
		starts = starts[:n-1]
	}
	return starts
}

func allBoards(boards []board, is func(board) bool) bool {
	for _, b := range boards {
		if !is(b) {
			return false
		}
	}
	return true
}

// edges is what stands at a board's two edges, grazes left out of account.
// start is where some slot starts, from the board's own edge.
func (sh shape) edges(start measure.Ratio, height measure.Length) (low, high jigplan.Edge) {
	h := height.Ratio()
	return sh.lowEdge(start), sh.lowEdge(h.Sub(start.Add(sh.slot())))
}

// lowEdge is the feature at 0 when some slot starts at start. The high edge is
// the same question seen from the other side.
func (sh shape) lowEdge(start measure.Ratio) jigplan.Edge {
	first := start.Mod(sh.period()) // in [0, period): the first slot wholly inside
	notch := first.Add(sh.slot()).Sub(sh.period())
	if first.Sign() == 0 {
		return jigplan.Edge{Notch: true, Width: sh.slot()}
	}
	if notch.Cmp(sh.graze()) > 0 {
		return jigplan.Edge{Notch: true, Width: notch}
	}
	return jigplan.Edge{Width: first}
}

func lesser(a, b measure.Ratio) measure.Ratio {
	if b.Cmp(a) < 0 {
		return b
	}
	return a
}

func greater(a, b measure.Ratio) measure.Ratio {
	if b.Cmp(a) > 0 {
		return b
	}
	return a
}

// clock is where the wheel's handle stands, 12 being home: "12", "3", "1:30".
// A stop that falls between minutes is given to the nearest one.
func clock(turns measure.Ratio) string {
	minutes := turns.Sub(measure.Whole(turns.Floor())).Times(12*60).Round() % (12 * 60)
	hour := minutes / 60
	if hour == 0 {
		hour = 12
	}
	if minutes%60 == 0 {
		return fmt.Sprint(hour)
	}
	return fmt.Sprintf("%d:%02d", hour, minutes%60)
}
