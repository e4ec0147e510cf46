package draw

import (
	"math"

	"batchwright/reports"
)

// Sizes of a grid's cells on paper, in mm.
const (
	gridTall   = 5.0
	gridLetter = 2.1
	gridHead   = 16.0 // column names stand upright
	gridMargin = 1.0
)

// Grid draws a map of short texts, at most wide mm across: dead cells hatched,
// the best ones bold and framed.
func Grid(g reports.Grid, most float64) (Picture, error) {
	plain, strong := style{false, gridLetter}, style{true, gridLetter}
	names := wide(g.Corner, strong)
	for _, r := range g.Rows {
		names = math.Max(names, wide(r.Name, plain))
	}
	names += 2 * gridMargin
	cell := math.Min(14, (most-names)/math.Max(1, float64(len(g.Columns))))
	c := newCanvas(names+cell*float64(len(g.Columns))+0.4, gridHead+gridTall*float64(len(g.Rows))+0.4)
	c.text(gridMargin, gridHead-gridMargin, g.Corner, strong)
	for i, name := range g.Columns {
		c.upright(names+cell*(float64(i)+0.5), gridHead/2, name, plain)
	}
	for j, r := range g.Rows {
		y := gridHead + gridTall*float64(j)
		c.text(gridMargin, y+(gridTall+gridLetter)/2, r.Name, plain)
		for i, entry := range r.Cells {
			c.entry(names+cell*float64(i), y, cell, entry)
		}
		c.across(0, c.width, y, 0.1)
	}
	c.box(0, gridHead, c.width, gridTall*float64(len(g.Rows))+0.3, 0.3)
	return c.picture()
}

func (c *canvas) entry(x, y, wide float64, e reports.GridCell) {
	switch e.Mark {
	case reports.DeadCell:
		c.hatch(x, y, wide, gridTall, 1.2, 0.1, false)
	case reports.BestCell:
		c.box(x+0.2, y+0.2, wide-0.4, gridTall-0.4, 0.3)
		c.centred(x+wide/2, y+gridTall/2, e.Text, style{true, gridLetter})
	default:
		c.centred(x+wide/2, y+gridTall/2, e.Text, style{false, gridLetter})
	}
	c.down(x, y, y+gridTall, 0.1)
}
