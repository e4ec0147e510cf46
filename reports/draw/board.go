package draw

import (
	"batchwright/nesting"
	"batchwright/orders/measure"
)

// View is what is drawn of a board: all of it or one strip, with the names of
// its pieces, the strips that are drawn elsewhere, and where steps begin.
type View struct {
	X, Y, Length, Width measure.Length
	Whole               bool             // draws the board's own ends and edges
	Pieces              map[int][]string // by their index: what is written on each, in falling order of need
	Strips              []Area
	Steps               map[int]string // by the number of a cut: the step that begins with it
	Size                string         // text of its dimensions
}

// Area is a named rectangle of a board.
type Area struct {
	Name                string
	X, Y, Length, Width measure.Length
}

// Board draws a view of a board with its pieces, cuts, defects, the way of the
// grain and what is left. wide and tall are the largest size in mm; a narrow
// board is drawn wider than it is, so that names find room. The marked end is to
// the left, the marked edge below.
func Board(b *nesting.CutBoard, v View, wide, tall float64) (Picture, error) {
	const left, right, bottom, low, narrow = 6.0, 1.0, 5.5, 15.0, 34.0
	top := 1.0
	if v.Size != "" {
		top = 4.5
	}
	sx := min((wide-left-right)/v.Length.Millimetres(), (tall-top-bottom)/v.Width.Millimetres())
	sy := max(sx, min(low, tall-top-bottom)/v.Width.Millimetres())
	sx = max(sx, min(narrow, wide-left-right)/v.Length.Millimetres())
	d := &sheet{
		canvas: newCanvas(left+right+max(v.Length.Millimetres()*sx, v.captionWide()), top+bottom+v.Width.Millimetres()*sy),
		view:   &v, sx: sx, sy: sy, left: left, foot: top + v.Width.Millimetres()*sy,
	}
	d.leftovers(b)
	d.pieces(b)
	d.defects(b)
	d.kerfs(b)
	d.frame()
	d.numbers(b)
	return d.picture()
}

// caption is how the view's size is written above it.
var caption = style{true, 2.5}

func (v *View) captionWide() float64 { return wide(v.Size, caption) }

// sheet is a canvas with a board on it.
type sheet struct {
	*canvas
	view       *View
	sx, sy     float64 // mm of paper for a mm of wood
	left, foot float64 // where the view's low end and edge meet
	taken      []spot  // where numbers stand
}

type spot struct{ x, y, r float64 }

func (s *sheet) x(l measure.Length) float64 { return s.left + (l-s.view.X).Millimetres()*s.sx }
func (s *sheet) y(l measure.Length) float64 { return s.foot - (l-s.view.Y).Millimetres()*s.sy }

// area is the part of a rectangle of the board that the view shows, on the
// paper: its upper left corner and size; not seen where nothing of it is left.
func (s *sheet) area(x, y, l, w measure.Length) (px, py, pw, ph float64, seen bool) {
	v := s.view
	x0, x1 := max(x, v.X), min(x+l, v.X+v.Length)
	y0, y1 := max(y, v.Y), min(y+w, v.Y+v.Width)
	if x0 >= x1 || y0 >= y1 {
		return 0, 0, 0, 0, false
	}
	return s.x(x0), s.y(y1), (x1 - x0).Millimetres() * s.sx, (y1 - y0).Millimetres() * s.sy, true
}

// leftovers shade waste, and name the offcuts that go back to the rack.
func (s *sheet) leftovers(b *nesting.CutBoard) {
	px, py, pw, ph, _ := s.area(s.view.X, s.view.Y, s.view.Length, s.view.Width)
	s.fill(px, py, pw, ph, pale)
	for _, o := range b.Offcuts {
		px, py, pw, ph, seen := s.area(o.X, o.Y, o.Length, o.Width)
		if !o.Keep || !seen {
			continue
		}
		s.fill(px, py, pw, ph, white)
		s.box(px, py, pw, ph, 0.25)
		s.box(px+0.8, py+0.8, pw-1.6, ph-1.6, 0.25)
		s.label(px, py, pw, ph, []string{"keep"})
	}
}

func (s *sheet) pieces(b *nesting.CutBoard) {
	for i, p := range b.Pieces {
		lines, drawn := s.view.Pieces[i]
		px, py, pw, ph, seen := s.area(p.X, p.Y, p.Length, p.Width)
		if !drawn || !seen {
			continue
		}
		s.fill(px, py, pw, ph, white)
		s.box(px, py, pw, ph, 0.35)
		s.label(px, py, pw, ph, lines)
	}
	for _, a := range s.view.Strips {
		px, py, pw, ph, _ := s.area(a.X, a.Y, a.Length, a.Width)
		s.fill(px, py, pw, ph, white)
		s.box(px, py, pw, ph, 0.5)
		s.label(px, py, pw, ph, []string{a.Name})
	}
}

// Letters on a board are as large as the piece allows, between these heights.
const (
	largeLetters = 3.0 // mm
	smallLetters = 1.9
)

// label writes lines into a rectangle: all of them as large as they fit, lying
// or upright, else fewer of them. The last of them is left out first.
func (s *sheet) label(px, py, pw, ph float64, lines []string) {
	for n := len(lines); n > 0; n-- {
		lying, upright := fitted(lines[:n], pw-1.4, ph-1.2), fitted(lines[:n], ph-1.4, pw-1.2)
		if lying == 0 && upright == 0 {
			continue
		}
		cx, cy := px+pw/2, py+ph/2
		size := max(lying, upright)
		step := size * 1.45
		for i, line := range lines[:n] {
			at := (float64(i) - float64(n-1)/2) * step
			if lying >= upright || lying >= 2.3 {
				s.centred(cx, cy+at, line, style{i == 0, min(size, lying)})
			} else {
				s.upright(cx+at, cy, line, style{i == 0, size})
			}
		}
		return
	}
}

// fitted is the height of the largest letters at which lines fit; 0: at none.
func fitted(lines []string, along, across float64) float64 {
	for size := largeLetters; size >= smallLetters; size -= 0.2 {
		if float64(len(lines))*size*1.45-size*0.45 > across {
			continue
		}
		fits := true
		for i, line := range lines {
			fits = fits && wide(line, style{i == 0, size}) <= along
		}
		if fits {
			return size
		}
	}
	return 0
}

// defects are cross-hatched, so that they are told from waste without color;
// sapwood is hatched one way, widely.
func (s *sheet) defects(b *nesting.CutBoard) {
	for _, d := range b.Stock.Defects {
		px, py, pw, ph, seen := s.area(d.X, d.Y, min(d.Length, b.Length-d.X), min(d.Width, b.Width-d.Y))
		if !seen {
			continue
		}
		if d.Sapwood {
			s.hatch(px, py, pw, ph, 4, 0.2, true)
			s.box(px, py, pw, ph, 0.2)
			continue
		}
		s.hatch(px, py, pw, ph, 1.6, 0.2, false)
		s.hatch(px, py, pw, ph, 1.6, 0.2, true)
		s.box(px, py, pw, ph, 0.3)
	}
}

// kerf is a cut on the paper: a strip of its true width, never thinner than a
// line; not seen where the view does not show it, or a named strip covers it.
func (s *sheet) kerf(c *nesting.Cut) (px, py, pw, ph float64, seen bool) {
	x, y, l, w := c.At, c.From, c.Kerf, c.To-c.From
	if c.Kind == nesting.Rip {
		x, y, l, w = c.From, c.At, c.To-c.From, c.Kerf
	}
	for _, a := range s.view.Strips {
		if x < a.X+a.Length && x+l > a.X && y < a.Y+a.Width && y+w > a.Y {
			return 0, 0, 0, 0, false
		}
	}
	px, py, pw, ph, seen = s.area(x, y, max(l, 1), max(w, 1))
	const line = 0.35
	return px, py, max(pw, line), max(ph, line), seen
}

func (s *sheet) kerfs(b *nesting.CutBoard) {
	for i := range b.Cuts {
		if px, py, pw, ph, seen := s.kerf(&b.Cuts[i]); seen {
			s.fill(px, py, pw, ph, black)
		}
	}
}

func (s *sheet) frame() {
	px, py, pw, ph, _ := s.area(s.view.X, s.view.Y, s.view.Length, s.view.Width)
	s.box(px-0.4, py-0.4, pw+0.8, ph+0.8, 0.6)
	s.text(px, py-1.6, s.view.Size, caption)
	from := px
	if s.view.Whole {
		s.fill(px-0.4, py+ph, pw+0.8, 1.0, black)  // the marked edge
		s.fill(px-1.4, py-0.4, 1.0, ph+1.4, black) // and end
		s.upright(px-3.6, py+ph/2, fitting("marked end", ph), style{true, 2.2})
		s.text(px, py+ph+4.2, "marked edge", style{true, 2.2})
		from += wide("marked edge", style{true, 2.2}) + 5
	}
	s.arrow(from+10, from, py+ph+3.2, 1.8)
	s.arrow(from+8, from+20, py+ph+3.2, 1.8)
	s.text(from+22, py+ph+4.2, "grain", style{false, 2.2})
}

// fitting leaves a text out where its room is too short for it.
func fitting(text string, room float64) string {
	if wide(text, style{true, 2.2}) > room {
		return ""
	}
	return text
}

// numbers put each step's number on the kerf it begins with, sliding along it
// until no other number is covered; one that finds no place is left out.
func (s *sheet) numbers(b *nesting.CutBoard) {
	for i := range b.Cuts {
		c := &b.Cuts[i]
		text := s.view.Steps[c.N]
		px, py, pw, ph, seen := s.kerf(c)
		if text == "" || !seen {
			continue
		}
		radius := max(1.9, wide(text, style{true, 2.2})/2+0.6)
		x1, y1, x2, y2 := px+pw/2, py+radius, px+pw/2, py+ph-radius
		if c.Kind == nesting.Rip {
			x1, y1, x2, y2 = px+pw-radius, py+ph/2, px+radius, py+ph/2
		}
		at, free := s.free(x1, y1, x2, y2, radius)
		if !free {
			continue
		}
		s.taken = append(s.taken, at)
		s.disc(at.x, at.y, radius)
		s.centred(at.x, at.y, text, style{true, 2.2})
	}
}

// free is the first place along the line that covers no number yet.
func (s *sheet) free(x1, y1, x2, y2, r float64) (spot, bool) {
	const tries = 60
	for i := range tries + 1 {
		t := float64(i) / tries
		p := spot{min(max(x1+(x2-x1)*t, r), s.width-r), y1 + (y2-y1)*t, r}
		if !s.covers(p) {
			return p, true
		}
	}
	return spot{}, false
}

func (s *sheet) covers(p spot) bool {
	for _, q := range s.taken {
		if dx, dy := p.x-q.x, p.y-q.y; dx*dx+dy*dy < (p.r+q.r)*(p.r+q.r) {
			return true
		}
	}
	return false
}
