package nesting

import (
	"math/big"

	"batchwright/orders"
	"batchwright/orders/measure"
)

// Leftover is an offcut as a board of the rack: the wood, class and thickness
// of the board it came from (a leaf's own thickness), its share of the cost by area (half to even), and
// the defects that lie on it, measured from its own low corner. All its ends
// and edges are sawn. It has no ID and no place yet.
func (b *CutBoard) Leftover(o Offcut) orders.Board {
	left := b.Stock
	left.ID, left.Place = "", ""
	left.Source = orders.Source{}
	left.Origin, left.Count, left.Unlimited = orders.FromOffcut, 1, false
	left.Length, left.Width = o.Length, o.Width
	left.Cost, left.CostKnown = b.share(o), b.Stock.CostKnown
	if b.Leaf.Count > 0 {
		left.Class, left.Thickness = "", b.Thickness
	}
	left.Defects = nil
	for _, d := range b.Stock.Defects {
		x0, x1 := max(d.X, o.X), min(d.X+d.Length, o.X+o.Length)
		y0, y1 := max(d.Y, o.Y), min(d.Y+d.Width, o.Y+o.Width)
		if x0 < x1 && y0 < y1 {
			left.Defects = append(left.Defects, orders.Defect{X: x0 - o.X, Y: y0 - o.Y, Length: x1 - x0, Width: y1 - y0, Sapwood: d.Sapwood})
		}
	}
	return left
}

// share is the offcut's part of the board's cost, by area, half to even to the
// cent.
func (b *CutBoard) share(o Offcut) measure.Money {
	whole := b.Length.Times(b.Width)
	if whole == (measure.Area{}) {
		return 0
	}
	part := big.NewRat(int64(o.Length), int64(b.Length))
	return b.Cost.At(part.Mul(part, big.NewRat(int64(o.Width), int64(b.Width))))
}
