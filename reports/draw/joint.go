package draw

import "fmt"

// End is the end of one board, measured in mm from its marked edge.
type End struct {
	Name   string // "A  side"
	Height float64
	Slots  [][2]float64 // from, to
	Low    string       // what stands at the marked edge: "notch 9/32"
	High   string       // and at the other
}

// fullSize is the tallest board that is drawn as large as it is, in mm; with
// its margins it still fits beside the narrowest print area.
const fullSize = 146.0

// JointScale is how much smaller than life a joint of that height is drawn; 1
// is full size.
func JointScale(height float64) float64 { return max(1, height/fullSize) }

// Joint shows two mating ends face to face, the marked edge to the left, the
// slots numbered from there; a nil end is left out. A bar of known length tells
// whether the print is to scale.
func Joint(upper, lower *End, bar float64, barText string) (Picture, error) {
	const left, body, depth, gap, top = 8.0, 9.0, 10.0, 3.0, 2.0
	tallest, tall := 0.0, top
	for _, e := range []*End{upper, lower} {
		if e != nil {
			tallest, tall = max(tallest, e.Height), tall+body+depth+gap
		}
	}
	scale := JointScale(tallest)
	broad := max(tallest/scale, bar/scale+2+wide(barText, style{false, 2.4}))
	c := newCanvas(left+broad+2, tall+7)
	y := top
	if upper != nil {
		drawEnd(c, upper, left, y, body, depth, scale, true)
		y += body + depth + gap
	}
	if lower != nil {
		drawEnd(c, lower, left, y, body, depth, scale, false)
	}

	// The marked edge: a thick line, the same for both boards.
	c.down(left-1.6, top-1, tall-gap+1, 1.2)
	c.upright(left-5, (top+tall-gap)/2, fitting("marked edge", tall-gap-top), style{true, 2.4})
	foot := c.height - 2.5
	c.across(left, left+bar/scale, foot, 0.5)
	c.down(left, foot-1.5, foot+1.5, 0.4)
	c.down(left+bar/scale, foot-1.5, foot+1.5, 0.4)
	c.text(left+bar/scale+2, foot+1.2, barText, style{false, 2.4})
	return c.picture()
}

// drawEnd draws one board end; down means its fingers point down.
func drawEnd(c *canvas, e *End, x, y, body, depth, scale float64, down bool) {
	across := e.Height / scale
	bodyY, fingerY := y, y+body
	if !down {
		bodyY, fingerY = y+depth, y
	}
	c.box(x, min(bodyY, fingerY), across, body+depth, 0.5)
	for i, slot := range e.Slots {
		from, to := x+slot[0]/scale, x+slot[1]/scale
		carve(c, from, to, fingerY, depth, slot[0] <= 0, slot[1] >= e.Height, down)
		if to-from > 2 {
			c.centred((from+to)/2, fingerY+depth/2, fmt.Sprint(i+1), style{false, min(2.6, (to-from)*0.45)})
		}
	}
	c.centred(x+across/2, bodyY+body/2, e.Name, style{true, 3})
	if textWide(e.Low)+textWide(e.High)+12 > across { // the table beside has them
		return
	}
	c.text(x+1.5, bodyY+body/2+1.1, e.Low, style{false, 2.2})
	c.text(x+across-1.5-textWide(e.High), bodyY+body/2+1.1, e.High, style{false, 2.2})
}

func textWide(s string) float64 { return wide(s, style{false, 2.2}) }

// carve takes a slot out of a board's end: it opens the end's edge, and the
// board's own edge where the slot lies there.
func carve(c *canvas, from, to, y, depth float64, atLow, atHigh, down bool) {
	const line = 0.5
	open, floor := y, y+depth-line
	if down {
		open, floor = y+line, y
	}
	left, right := from, to
	if atLow {
		left -= 0.1
	}
	if atHigh {
		right += 0.1
	}
	c.fill(left, open, right-left, depth-line, white)
	c.fill(from, floor, to-from, line, black)
	if !atLow {
		c.fill(from-line/2, y, line, depth, black)
	}
	if !atHigh {
		c.fill(to-line/2, y, line, depth, black)
	}
}
