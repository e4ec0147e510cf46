package draw

import "batchwright/reports"

// Box draws a box from the front, from the end and from above, side by side to
// one scale, no wider than wide mm and no taller than tall, with its outside
// sizes. End grain, where the other wall's fingers come through, is shaded.
func Box(b reports.BoxViews, width, tall float64) (Picture, error) {
	const room, gap, foot, under = 9.0, 9.0, 6.8, 4.4 // beneath a dimension and a text
	over := b.Lid.Over(b.Height)
	scale := min((width-room-2*gap-4)/(2*max(b.Length, b.Lid.Length)+max(b.Width, b.Lid.Width)),
		(tall-leastHead-foot)/max(b.Height+over, b.Width))
	l, w, h := b.Length*scale, b.Width*scale, b.Height*scale
	head := max(leastHead+over*scale, (wide(b.HeightText, measured)-h)/2+1)
	front := max(l, wide(b.LengthText, measured))
	end := max(w, wide(b.WidthText, measured))
	above := max(l, wide(fromAbove, named))
	if !insideFits(b, l, scale) {
		above = max(above, wide(b.InsideText, style{false, leastInside}))
	}
	c := newCanvas(room+front+end+above+2*gap+4, head+max(h+foot, w+under))
	x, y := room, head
	name := func(x float64, text string) { c.text(x, y-1.4-over*scale, text, named) }
	name(x, "front")
	drawWall(c, x, y, l, h, b.EndThickness*scale, spans(b.SideSlots, scale), b.Parting*scale)
	drawLid(c, b, x, y+h, b.Length, b.Lid.Length, b.Lid.LipLength, scale, false)
	drawGrooves(c, x, y+h, l, b.EndThickness*scale, spans(b.SideGrooves, scale))
	measureAcross(c, x, x+l, y+h+4, b.LengthText)
	measureDown(c, x-4, y, y+h, b.HeightText)
	ex := x + front + gap
	name(ex, "end")
	slots, top := spans(b.EndSlots, scale), 0.0
	if b.Lid.Lowered > 0 {
		slots, top = below(slots, b.Lid.Lowered*scale), h-b.Lid.Lowered*scale
	}
	drawWall(c, ex, y+top, w, h-top, b.SideThickness*scale, slots, b.Parting*scale)
	drawLid(c, b, ex, y+h, b.Width, b.Lid.Width, b.Lid.LipWidth, scale, true)
	drawGrooves(c, ex, y+h, w, b.SideThickness*scale, spans(b.EndGrooves, scale))
	measureAcross(c, ex, ex+w, y+h+4, b.WidthText)
	tx := ex + end + gap
	name(tx, fromAbove)
	c.box(tx, y, l, w, 0.5)
	c.box(tx+b.EndThickness*scale, y+b.SideThickness*scale, l-2*b.EndThickness*scale, w-2*b.SideThickness*scale, 0.35)
	drawDividers(c, b, tx, y, l, w, scale)
	sayInside(c, b, tx, y, l, w, scale)
	return c.picture()
}

// The texts of a box's views.
const (
	fromAbove                = "from above, open"
	leastHead                = 5.0
	leastInside, usualInside = 2.0, 2.4
)

var named, measured = style{false, 2.2}, style{true, 2.6}

// insideSize is how large the inside sizes are written into the view from above.
func insideSize(b reports.BoxViews, l, scale float64) float64 {
	return usualInside * min(1, (l-2*b.EndThickness*scale-2)/wide(b.InsideText, style{false, usualInside}))
}

// insideFits: not too small to read there, and on no dividers.
func insideFits(b reports.BoxViews, l, scale float64) bool {
	return b.InsideText == "" || insideSize(b, l, scale) >= leastInside && b.Along < 2 && b.Across < 2
}

// sayInside writes the inside sizes into the view from above, or beneath it.
func sayInside(c *canvas, b reports.BoxViews, x, y, l, w, scale float64) {
	switch {
	case b.InsideText == "":
	case insideFits(b, l, scale):
		c.centred(x+l/2, y+w/2, b.InsideText, style{false, insideSize(b, l, scale)})
	default:
		c.text(x, y+w+3.6, b.InsideText, style{false, leastInside})
	}
}

func spans(list [][2]float64, scale float64) [][2]float64 {
	out := make([][2]float64, len(list))
	for i, s := range list {
		out[i] = [2]float64{s[0] * scale, s[1] * scale}
	}
	return out
}

// drawWall draws a wall's face, its bottom edge below: where it has slots the
// mate's fingers come through.
func drawWall(c *canvas, x, y, w, h, mate float64, slots [][2]float64, parting float64) {
	for _, s := range slots {
		for _, at := range []float64{x, x + w - mate} {
			c.fill(at, y+h-s[1], mate, s[1]-s[0], pale)
			c.hatch(at, y+h-s[1], mate, s[1]-s[0], 0.9, 0.1, true)
			c.box(at, y+h-s[1], mate, s[1]-s[0], 0.25)
		}
	}
	if parting > 0 {
		c.across(x, x+w, y+h-parting, 0.5)
	}
	c.box(x, y, w, h, 0.5)
}

// drawGrooves shows where the inside face is grooved, in fine broken lines as
// what lies behind is drawn.
func drawGrooves(c *canvas, x, bottom, w, mate float64, grooves [][2]float64) {
	for _, g := range grooves {
		for _, at := range g {
			c.dashed(x+mate, x+w-mate, bottom-at)
		}
	}
}

func drawDividers(c *canvas, b reports.BoxViews, x, y, l, w, scale float64) {
	t, e, s := b.Divider*scale, b.EndThickness*scale, b.SideThickness*scale
	for i := 1; i < b.Along; i++ {
		c.box(x+e+(l-2*e)*float64(i)/float64(b.Along)-t/2, y+s, t, w-2*s, 0.2)
	}
	for i := 1; i < b.Across; i++ {
		c.box(x+e, y+s+(w-2*s)*float64(i)/float64(b.Across)-t/2, l-2*e, t, 0.2)
	}
}

// measureAcross is a dimension line with its text beneath.
func measureAcross(c *canvas, x1, x2, y float64, text string) {
	mid := (x1 + x2) / 2
	c.arrow(mid, x1, y-1.5, 1.4)
	c.arrow(mid, x2, y-1.5, 1.4)
	c.down(x1, y-3, y, 0.2)
	c.down(x2, y-3, y, 0.2)
	c.centred(max(mid, x1+wide(text, measured)/2), y+1.4, text, measured)
}

// measureDown is one at the left of what it measures.
func measureDown(c *canvas, x, y1, y2 float64, text string) {
	c.down(x+1.5, y1, y2, 0.3)
	c.across(x, x+3, y1, 0.2)
	c.across(x, x+3, y2, 0.2)
	c.upright(x-1.4, (y1+y2)/2, text, measured)
}

// below leaves of spans what is under a height.
func below(list [][2]float64, height float64) (out [][2]float64) {
	for _, s := range list {
		if s[0] < height {
			out = append(out, [2]float64{s[0], min(s[1], height)})
		}
	}
	return out
}

// drawLid draws the lid on a wall that long, its bottom edge at foot: above the
// wall in full lines, behind it in broken ones. A sliding lid shows over the
// lowered front, which is the end that is drawn.
func drawLid(c *canvas, b reports.BoxViews, x, foot, long, lid, lip, scale float64, end bool) {
	v := &b.Lid
	if v.Thickness == 0 {
		return
	}
	at := func(size float64) float64 { return x + (long-size)/2*scale }
	from := at(lid)
	if end && v.Flush {
		from = x + (long-lid)*scale
	}
	top := v.Above + v.Thickness
	switch {
	case v.Lowered > 0 && end:
		c.box(from, foot-top*scale, lid*scale, v.Thickness*scale, 0.4)
	case top <= b.Height:
		c.hidden(from, foot-top*scale, lid*scale, v.Thickness*scale)
	default:
		c.box(from, foot-top*scale, lid*scale, (top-b.Height)*scale, 0.5)
		if v.LipDepth > 0 {
			c.hidden(at(lip), foot-b.Height*scale, lip*scale, v.LipDepth*scale)
		}
	}
}
