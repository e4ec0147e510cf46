package parts

import (
	"cmp"
	"fmt"
	"slices"

	"batchwright/orders"
	"batchwright/orders/measure"
)

// placeParting finds the line nearest the wanted one, at most one finger away,
// that leaves the widest pieces of finger beside it: on a boundary between two
// fingers a plain line leaves finger less half of what it takes, in the middle
// of one only half of what remains.
func (f *frame) placeParting(c Cells) *orders.Parting {
	takes := f.sawn()
	high := f.outside.Height - f.set.Making.SawnLid
	wanted := orders.Parting{Low: high - takes, High: high}
	f.left(&wanted, c)
	near := []orders.Parting{wanted}
	most := least(wanted)
	for _, at := range f.lines(c) {
		p := orders.Parting{Low: at - takes/2, High: at - takes/2 + takes}
		p.Moved = p.Low - wanted.Low
		if apart(p.Moved, 0) <= widest(c) && f.clear(&p) {
			f.left(&p, c)
			near, most = append(near, p), max(most, least(p))
		}
	}
	near = slices.DeleteFunc(near, func(p orders.Parting) bool { return least(p) < most-asGood })
	best := slices.MinFunc(near, func(a, b orders.Parting) int { return cmp.Compare(apart(a.Moved, 0), apart(b.Moved, 0)) })
	best.PinTurns, best.Pin = partingPin(widest(c), takes, c)
	return &best
}

func least(p orders.Parting) measure.Length { return min(p.Below, p.Above) }

// asGood is how much less of a finger may be left before a nearer line loses:
// the fit makes boundaries of the two rows differ by a hair.
const asGood = measure.Inch / 64

// lines are the heights a parting line may be centred on: every boundary and
// every middle of both rows' fingers.
func (f *frame) lines(c Cells) []measure.Length {
	var out []measure.Length
	for _, cells := range [][]orders.Cell{c.Side, c.End} {
		for _, cell := range cells {
			out = append(out, cell.From, (cell.From+cell.To)/2)
		}
	}
	return out
}

// clear reports whether a line misses the bottom and the top panel.
func (f *frame) clear(p *orders.Parting) bool {
	return p.Low > f.below() && p.High < f.outside.Height-f.above()
}

// left fills in the narrowest piece of a finger below and above the line.
// Where the line takes a whole boundary, the fingers beyond it count as they
// stand.
func (f *frame) left(p *orders.Parting, c Cells) {
	p.Below, p.Above = f.outside.Height, f.outside.Height
	for _, cells := range [][]orders.Cell{c.Side, c.End} {
		for _, cell := range cells {
			if cell.From < p.Low && cell.To >= p.Low {
				p.Below = min(p.Below, p.Low-cell.From)
			}
			if cell.From <= p.High && cell.To > p.High {
				p.Above = min(p.Above, cell.To-p.High)
			}
		}
	}
}

// partingPin is the pin that a sawn line can pass through and leave a whole
// finger on both sides: u = (2 x finger + line + kerf) / step stops past it,
// rounded up. It takes two programs, one a row.
func partingPin(finger, takes measure.Length, c Cells) (turns measure.Ratio, width measure.Length) {
	if c.Step.Sign() <= 0 || c.Stops < 1 {
		return measure.Ratio{}, 0
	}
	units := (2*finger + takes + c.Kerf).Ratio().Div(c.Step).Ceil()
	width = c.Step.Times(units).Length() - c.Kerf
	return measure.Frac(units, int64(c.Stops)), width
}

// widest is the widest finger of both rows that has a neighbour on each side;
// of a joint of two fingers, the widest of all.
func widest(c Cells) measure.Length {
	var inner, any measure.Length
	for _, cells := range [][]orders.Cell{c.Side, c.End} {
		for i, cell := range cells {
			any = max(any, cell.To-cell.From)
			if i > 0 && i < len(cells)-1 {
				inner = max(inner, cell.To-cell.From)
			}
		}
	}
	if inner == 0 {
		return any
	}
	return inner
}

func (f *frame) tellParting(p *orders.Parting, tell func(orders.Level, string, string)) {
	line := fmt.Sprintf("the lid is sawn off between %s and %s, leaving %s of a finger below the line and %s above", f.show(p.Low), f.show(p.High), f.show(p.Below), f.show(p.Above))
	if p.Moved != 0 {
		line += fmt.Sprintf("; the line is moved by %s to suit the fingers", f.show(apart(p.Moved, 0)))
	}
	if p.PinTurns.Sign() > 0 {
		line += fmt.Sprintf("; a pin %s wide there, %s turns past its slot, would leave whole fingers on both sides, but each row needs its own program", f.fine(p.Pin), p.PinTurns)
	}
	if isSliver(least(*p)) {
		tell(orders.Warning, line, "change the setting Sawn-off lid height, or the box's height")
		return
	}
	tell(orders.Note, line, asMeant)
}
