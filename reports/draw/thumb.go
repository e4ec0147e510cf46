package draw

import "batchwright/reports"

// Thumb is a small box seen from the front, its top and end going back: its
// proportions and its fingers, no figures. It fits into wide by tall mm.
func Thumb(b reports.BoxViews, wide, tall float64) (Picture, error) {
	const back = 0.35 // of the width, drawn at 45 degrees
	const edge = 0.3
	scale := min((wide-1)/(b.Length+back*b.Width), (tall-1)/(b.Height+back*b.Width))
	l, h, d := b.Length*scale, b.Height*scale, back*b.Width*scale
	c := newCanvas(wide, tall)
	x, y := (wide-l-d)/2, tall-0.5-h
	c.box(x, y, l, h, edge)
	for _, s := range spans(b.SideSlots, scale) {
		t := max(b.EndThickness*scale, 0.5)
		for _, at := range []float64{x, x + l - t} {
			c.fill(at, y+h-s[1], t, s[1]-s[0], pale+3)
			c.box(at, y+h-s[1], t, s[1]-s[0], 0.12)
		}
	}
	c.stroke(x, y, x+d, y-d, edge)
	c.stroke(x+l, y, x+l+d, y-d, edge)
	c.stroke(x+l, y+h, x+l+d, y+h-d, edge)
	c.across(x+d, x+l+d, y-d, edge)
	c.down(x+l+d, y-d, y-d+h, edge)
	if b.Parting > 0 {
		c.across(x, x+l, y+h-b.Parting*scale, edge)
	}
	return c.picture()
}

// stroke is a straight line between two points.
func (c *canvas) stroke(x1, y1, x2, y2, thick float64) {
	steps := max(1, dots(max(x2-x1, x1-x2, y2-y1, y1-y2)))
	for i := range steps + 1 {
		t := float64(i) / float64(steps)
		c.fill(x1+(x2-x1)*t-thick/2, y1+(y2-y1)*t-thick/2, thick, thick, black)
	}
}
