package draw

import (
	"image"
	"math"
	"sync"

	"golang.org/x/image/font"
	"golang.org/x/image/font/gofont/gobold"
	"golang.org/x/image/font/gofont/goregular"
	"golang.org/x/image/font/opentype"
	"golang.org/x/image/math/fixed"
)

// style is a face at one height. Heights are those of a capital letter, in mm.
type style struct {
	bold   bool
	height float64
}

// capital is the height of a capital in the Go fonts, as a share of the em.
const capital = 0.723

// glyph is one letter as drawn: its mask, where it stands, how far it moves on.
type glyph struct {
	mask    *image.Alpha
	at      image.Point
	advance fixed.Int26_6
}

// shelf keeps the letters already drawn at one style.
type shelf struct {
	face   font.Face
	glyphs map[rune]glyph
}

// letters is shared by all drawings; the fonts are compiled in.
var letters = struct {
	sync.Mutex
	shelves map[style]*shelf
}{shelves: map[style]*shelf{}}

var regular, bold = mustParse(goregular.TTF), mustParse(gobold.TTF)

func mustParse(ttf []byte) *opentype.Font {
	f, err := opentype.Parse(ttf)
	if err != nil {
		panic("draw: built-in font: " + err.Error())
	}
	return f
}

func newShelf(s style) *shelf {
	f := regular
	if s.bold {
		f = bold
	}
	size := s.height / capital * dotsPerMM
	face, err := opentype.NewFace(f, &opentype.FaceOptions{Size: size, DPI: 72, Hinting: font.HintingFull})
	if err != nil {
		panic("draw: built-in font: " + err.Error())
	}
	return &shelf{face, map[rune]glyph{}}
}

// look finds the letters of a text at a style, drawing those not seen before.
func look(text string, s style) []glyph {
	s.height = math.Round(s.height*20) / 20
	letters.Lock()
	defer letters.Unlock()
	sh := letters.shelves[s]
	if sh == nil {
		sh = newShelf(s)
		letters.shelves[s] = sh
	}
	var out []glyph
	for _, r := range text {
		g, ok := sh.glyphs[r]
		if !ok {
			g = sh.draw(r)
			sh.glyphs[r] = g
		}
		out = append(out, g)
	}
	return out
}

func (s *shelf) draw(r rune) glyph {
	bounds, mask, at, advance, _ := s.face.Glyph(fixed.Point26_6{}, r)
	own := image.NewAlpha(image.Rectangle{Max: bounds.Size()})
	if alpha, ok := mask.(*image.Alpha); ok {
		for y := range bounds.Dy() {
			for x := range bounds.Dx() {
				own.SetAlpha(x, y, alpha.AlphaAt(at.X+x, at.Y+y))
			}
		}
	}
	return glyph{own, bounds.Min, advance}
}

// wide is the width of a text in mm.
func wide(text string, s style) float64 {
	var sum fixed.Int26_6
	for _, g := range look(text, s) {
		sum += g.advance
	}
	return float64(sum) / 64 / dotsPerMM
}

// text writes with its capitals' feet at y, from x on.
func (c *canvas) text(x, y float64, text string, s style) {
	pen := fixed.Int26_6(math.Round(x * dotsPerMM * 64))
	for _, g := range look(text, s) {
		c.stamp(g, pen.Round(), dots(y), false)
		pen += g.advance
	}
}

// centred writes with the middle of the text at (x, y).
func (c *canvas) centred(x, y float64, text string, s style) {
	c.text(x-wide(text, s)/2, y+s.height/2, text, s)
}

// upright writes from below to above, its middle at (x, y).
func (c *canvas) upright(x, y float64, text string, s style) {
	pen := fixed.Int26_6(math.Round((y + wide(text, s)/2) * dotsPerMM * 64))
	for _, g := range look(text, s) {
		c.stamp(g, dots(x+s.height/2), pen.Round(), true)
		pen -= g.advance
	}
}

func (c *canvas) stamp(g glyph, x, y int, turned bool) {
	for gy := range g.mask.Rect.Dy() {
		for gx := range g.mask.Rect.Dx() {
			shade := uint8(int(g.mask.AlphaAt(gx, gy).A) * black / 255)
			dx, dy := g.at.X+gx, g.at.Y+gy
			if turned {
				dx, dy = dy, -dx
			}
			if shade > 0 {
				c.set(x+dx, y+dy, shade)
			}
		}
	}
}
