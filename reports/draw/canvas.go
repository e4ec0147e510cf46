// Package draw makes the drawings of a plan as black-and-white pictures ready
// for print: boards with their cuts, and the mating ends of a joint. It leaves
// what they stand beside, and every figure in words, to workbook and page.
package draw

import (
	"image"
	"image/color"
	"math"
)

// Picture is a drawing as a PNG at 300 dots an inch, and its size on paper.
type Picture struct {
	PNG           []byte
	Width, Height float64 // mm
}

const dotsPerMM = 300 / 25.4

// Shades of the palette: 0 is white paper, 15 black ink.
const (
	white = 0
	pale  = 2 // waste
	black = 15
)

var greys = func() (p color.Palette) {
	for i := range 16 {
		p = append(p, color.Gray{uint8(255 - i*17)})
	}
	return p
}()

// canvas is measured in millimetres from its top left corner.
type canvas struct {
	img           *image.Paletted
	width, height float64
}

func newCanvas(width, height float64) *canvas {
	r := image.Rect(0, 0, int(math.Ceil(width*dotsPerMM)), int(math.Ceil(height*dotsPerMM)))
	return &canvas{image.NewPaletted(r, greys), width, height}
}

func (c *canvas) picture() (Picture, error) {
	png, err := encode(c.img)
	return Picture{png, c.width, c.height}, err
}

func dots(mm float64) int { return int(math.Round(mm * dotsPerMM)) }

// set darkens one dot; ink never lightens.
func (c *canvas) set(x, y int, shade uint8) {
	if !(image.Point{x, y}.In(c.img.Rect)) {
		return
	}
	at := c.img.PixOffset(x, y)
	c.img.Pix[at] = max(c.img.Pix[at], shade)
}

// fill covers a rectangle, whatever stood there.
func (c *canvas) fill(x, y, w, h float64, shade uint8) {
	c.cover(image.Rect(dots(x), dots(y), max(dots(x+w), dots(x)+1), max(dots(y+h), dots(y)+1)), shade)
}

func (c *canvas) cover(r image.Rectangle, shade uint8) {
	r = r.Intersect(c.img.Rect)
	if r.Empty() {
		return
	}
	first := c.img.Pix[c.img.PixOffset(r.Min.X, r.Min.Y):c.img.PixOffset(r.Max.X, r.Min.Y)]
	for x := range first {
		first[x] = shade
	}
	for y := r.Min.Y + 1; y < r.Max.Y; y++ {
		copy(c.img.Pix[c.img.PixOffset(r.Min.X, y):], first)
	}
}

// box draws an outline inside the rectangle, thick mm wide.
func (c *canvas) box(x, y, w, h, thick float64) {
	c.fill(x, y, w, thick, black)
	c.fill(x, y+h-thick, w, thick, black)
	c.fill(x, y, thick, h, black)
	c.fill(x+w-thick, y, thick, h, black)
}

// across and down are straight strokes centred on their coordinate.
func (c *canvas) across(x1, x2, y, thick float64) { c.fill(x1, y-thick/2, x2-x1, thick, black) }
func (c *canvas) down(x, y1, y2, thick float64)   { c.fill(x-thick/2, y1, thick, y2-y1, black) }

// dashed is a fine broken line across, as what is behind a face is drawn.
func (c *canvas) dashed(x1, x2, y float64) {
	const dash, space = 1.6, 1.0
	for from := x1; from < x2; from += dash + space {
		c.across(from, min(from+dash, x2), y, 0.15)
	}
}

// hidden is a rectangle behind a face.
func (c *canvas) hidden(x, y, w, h float64) {
	c.dashed(x, x+w, y)
	c.dashed(x, x+w, y+h)
	c.down(x, y, y+h, 0.15)
	c.down(x+w, y, y+h, 0.15)
}

// hatch draws slanted strokes, step mm apart; rising ones lean the other way,
// so that both together are a cross-hatch.
func (c *canvas) hatch(x, y, w, h, step, thick float64, rising bool) {
	x0, y0, x1, y1 := dots(x), dots(y), dots(x+w), dots(y+h)
	gap, stroke := max(dots(step), 2), max(dots(thick), 1)
	for py := y0; py < y1; py++ {
		for px := x0; px < x1; px++ {
			phase := px + py
			if rising {
				phase = px - py + 1<<20
			}
			if phase%gap < stroke {
				c.set(px, py, black)
			}
		}
	}
}

// disc is a white disc with a black rim: a cut's number stands in it.
func (c *canvas) disc(x, y, radius float64) {
	r, rim := radius*dotsPerMM, 0.25*dotsPerMM
	cx, cy := x*dotsPerMM, y*dotsPerMM
	for py := int(cy - r - 1); py <= int(cy+r+1); py++ {
		for px := int(cx - r - 1); px <= int(cx+r+1); px++ {
			d := math.Hypot(float64(px)-cx, float64(py)-cy)
			switch {
			case d > r || !(image.Point{px, py}.In(c.img.Rect)):
			case d > r-rim:
				c.img.Pix[c.img.PixOffset(px, py)] = black
			default:
				c.img.Pix[c.img.PixOffset(px, py)] = white
			}
		}
	}
}

// arrow points along x from x1 to x2 (either way), with a filled head.
func (c *canvas) arrow(x1, x2, y, head float64) {
	c.across(min(x1, x2), max(x1, x2), y, 0.3)
	back := head
	if x2 > x1 {
		back = -head
	}
	for i := 0.0; i <= head; i += 1 / dotsPerMM {
		half := i * 0.4
		c.fill(x2+back*i/head, y-half, 1/dotsPerMM, 2*half, black)
	}
}
