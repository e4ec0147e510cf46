package solve

// defect is where no part may lie. A part that reaches from x to x+length, its
// kerf included, meets it along x when x < toX and x+length > fromX; likewise
// along y. With the kerf folded in, a defect narrower than the kerf has
// fromX > toX and still stops what spans it.
type defect struct{ fromX, toX, fromY, toY int64 }

func (b *board) addDefect(r Rect) {
	b.defects = append(b.defects, defect{
		r.X + b.rules.KerfX, r.X + r.Length,
		r.Y + b.rules.KerfY, r.Y + r.Width,
	})
}

// meets reports whether the rectangle r, kerf included, meets d.
func (d defect) meets(r Rect) bool {
	return r.X < d.toX && r.X+r.Length > d.fromX && r.Y < d.toY && r.Y+r.Width > d.fromY
}
