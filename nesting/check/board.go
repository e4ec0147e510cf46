package check

import (
	"cmp"
	"slices"

	"batchwright/nesting"
	"batchwright/orders"
	"batchwright/orders/measure"
	"batchwright/orders/woods"
)

// box is a rectangle by its corners.
type box struct{ x0, y0, x1, y1 measure.Length }

func boxAt(x, y, l, w measure.Length) box { return box{x, y, x + l, y + w} }

func (b box) overlaps(o box) bool {
	return b.x0 < o.x1 && o.x0 < b.x1 && b.y0 < o.y1 && o.y0 < b.y1
}

func (b box) inside(o box) bool {
	return b.x0 >= o.x0 && b.y0 >= o.y0 && b.x1 <= o.x1 && b.y1 <= o.y1
}

func (c *checker) checkBoard(b *nesting.CutBoard) {
	c.sizes(b)
	c.insideTrims(b)
	c.kerfs(b)
	c.defects(b)
	c.offcuts(b)
	c.sawing(b)
}

// sizes: a piece is its part's cut size, turned only when its grain allows,
// from its own wood, and thin enough to be had from the board.
func (c *checker) sizes(b *nesting.CutBoard) {
	for _, p := range b.Pieces {
		part := c.parts[p.Part]
		if part == nil {
			continue
		}
		l, w := part.CutLength, part.CutWidth
		if p.Turned {
			l, w = w, l
			if part.Grain != orders.EitherWay || part.Run != "" {
				c.fault(b.ID, "grain", "part %q is turned and its grain runs along its length", p.Part)
			}
		}
		if p.Length != l || p.Width != w {
			c.fault(b.ID, "size", "part %q is cut %v x %v, not %v x %v", p.Part,
				p.Length.Millimetres(), p.Width.Millimetres(), l.Millimetres(), w.Millimetres())
		}
		if !woods.Same(part.Wood, b.Stock.Wood) {
			c.fault(b.ID, "wood", "part %q is %q and the board is %q", p.Part, part.Wood, b.Stock.Wood)
		}
		c.thickness(b, part)
	}
}

// thickness: a class yields up to its surfaced-two-sides figure, a true
// thickness up to itself less the planing allowance, a sheet exactly itself,
// and a leaf no more than itself less the clean-up of both faces.
func (c *checker) thickness(b *nesting.CutBoard, part *orders.Part) {
	if b.Stock.Sheet {
		if part.Thickness != b.Thickness {
			c.fault(b.ID, "thickness", "part %q is %v mm thick, the sheet %v mm", part.ID,
				part.Thickness.Millimetres(), b.Thickness.Millimetres())
		}
		return
	}
	most := measure.Length(0)
	for _, class := range c.set.Classes() {
		if class.Name == b.Stock.Class {
			most = class.Surfaced
		}
	}
	if t := b.Stock.Thickness; t > 0 && (most == 0 || t-c.set.Planing < most) {
		most = t - c.set.Planing
	}
	if b.Leaf.Count > 0 {
		most = min(most, b.Thickness-2*c.set.ResawCleanUp)
	}
	if part.Thickness > most {
		c.fault(b.ID, "thickness", "part %q is %v mm thick, the board yields %v mm", part.ID,
			part.Thickness.Millimetres(), most.Millimetres())
	}
}

// insideTrims: no piece reaches into a raw end or edge. An offcut has none.
func (c *checker) insideTrims(b *nesting.CutBoard) {
	end, edge := c.set.EndTrim, c.set.EdgeTrim
	if b.Stock.Origin == orders.FromOffcut {
		end, edge = 0, 0
	}
	sound := box{end, edge, b.Length - end, b.Width - edge}
	for _, p := range b.Pieces {
		if !boxAt(p.X, p.Y, p.Length, p.Width).inside(sound) {
			c.fault(b.ID, "trim", "part %q reaches beyond the sound part of the board", p.Part)
		}
	}
}

// kerfs: any two pieces are a kerf apart, along the board or across it.
func (c *checker) kerfs(b *nesting.CutBoard) {
	byX := slices.Clone(b.Pieces)
	slices.SortFunc(byX, func(p, q nesting.Piece) int { return cmp.Compare(p.X, q.X) })
	for i, p := range byX {
		near := boxAt(p.X, p.Y-c.set.RipKerf, p.Length+c.set.CrosscutKerf, p.Width+2*c.set.RipKerf)
		for _, q := range byX[i+1:] {
			if q.X >= near.x1 {
				break
			}
			if near.overlaps(boxAt(q.X, q.Y, q.Length, q.Width)) {
				c.fault(b.ID, "kerf", "parts %q and %q lie nearer than a kerf", p.Part, q.Part)
			}
		}
	}
}

func (c *checker) defects(b *nesting.CutBoard) {
	for _, d := range b.Stock.Defects {
		if d.Sapwood && c.set.Sapwood == "allowed" {
			continue
		}
		bad := boxAt(d.X, d.Y, d.Length, d.Width)
		for _, p := range b.Pieces {
			if bad.overlaps(boxAt(p.X, p.Y, p.Length, p.Width)) {
				c.fault(b.ID, "defect", "part %q lies on a defect", p.Part)
			}
		}
	}
}

// offcuts: inside the board, apart from pieces and each other, and kept only
// at the size the shop keeps.
func (c *checker) offcuts(b *nesting.CutBoard) {
	whole := box{0, 0, b.Length, b.Width}
	for i, o := range b.Offcuts {
		r := boxAt(o.X, o.Y, o.Length, o.Width)
		if o.Length <= 0 || o.Width <= 0 || !r.inside(whole) {
			c.fault(b.ID, "offcut", "offcut %d does not lie on the board", i+1)
		}
		if o.Keep && (o.Length < c.set.KeepLength || o.Width < c.set.KeepWidth) {
			c.fault(b.ID, "offcut", "offcut %d is kept and is smaller than what is kept", i+1)
		}
		for _, p := range b.Pieces {
			if r.overlaps(boxAt(p.X, p.Y, p.Length, p.Width)) {
				c.fault(b.ID, "offcut", "offcut %d overlaps part %q", i+1, p.Part)
			}
		}
		for j, q := range b.Offcuts[:i] {
			if r.overlaps(boxAt(q.X, q.Y, q.Length, q.Width)) {
				c.fault(b.ID, "offcut", "offcuts %d and %d overlap", j+1, i+1)
			}
		}
	}
}
