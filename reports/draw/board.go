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
// the left, the marked edge below. Where a cut runs out of the board its number
// stands beside it.
func Board(b *nesting.CutBoard, v View, wide, tall float64) (Picture, error) {
	const left, right, narrow = 6.0, 1.0, 34.0
	top, bottom, low := 1.0, 1.4, 17.0
	if v.Whole {
		bottom = 5.5
	}
	if len(v.Pieces) == 0 {
		low = 11
	}
	above, beside := v.outside(b)
	beyond := right
	if above > 0 || v.Size != "" {
		top += 2*disc + 0.3
	}
	if beside > 0 {
		beyond += 2*disc + 0.4
	}
	across := (wide - left - beyond) / v.Length.Millimetres()
	if crowded := v.captionWide() + 2.5*disc*float64(above); above > 0 && v.Size != "" && crowded > wide/2 {
		top += caption.height + 1.4
	}
	sx := min(across, (tall-top-bottom)/v.Width.Millimetres())
	sy := max(sx, min(low, tall-top-bottom)/v.Width.Millimetres())
	sx = max(min(across, stretch*sy), min(narrow/v.Length.Millimetres(), across))
	d := &sheet{
		canvas: newCanvas(left+max(v.Length.Millimetres()*sx+beyond, v.captionWide()), top+bottom+v.Width.Millimetres()*sy),
		view:   &v, sx: sx, sy: sy, left: left, top: top, foot: top + v.Width.Millimetres()*sy,
	}
	d.leftovers(b)
	d.pieces(b)
	d.defects(b)
	d.kerfs(b)
	d.frame()
	d.numbers(b)
	d.caption()
	return d.picture()
}

// stretch is how much longer than true a board may be drawn.
const stretch = 1.8

// disc is the radius of the disc that a step's number stands in.
const disc = 2.1

// outside is how many numbers stand above and beside the view.
func (v *View) outside(b *nesting.CutBoard) (above, beside int) {
	for i := range b.Cuts {
		c := &b.Cuts[i]
		switch {
		case v.Steps[c.N] == "" || !v.runsOut(c):
		case c.Kind == nesting.Crosscut:
			above++
		default:
			beside++
		}
	}
	return above, beside
}

// runsOut reports whether a cut ends at the view's upper edge or far end.
func (v *View) runsOut(c *nesting.Cut) bool {
	if c.Kind == nesting.Crosscut {
		return c.To >= v.Y+v.Width
	}
	return c.To >= v.X+v.Length
}

// caption is how the view's size is written above it.
var caption = style{true, 2.6}

func (v *View) captionWide() float64 { return wide(v.Size, caption) }

// sheet is a canvas with a board on it.
type sheet struct {
	*canvas
	view       *View
	sx, sy     float64 // mm of paper for a mm of wood
	left, foot float64 // where the view's low end and edge meet
	top        float64 // where its far edge is
	taken      []spot  // where numbers stand
	names      []box   // where names stand
}

// box is a rectangle of the paper: its upper left corner and its size.
type box struct{ x, y, w, h float64 }

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
	largeLetters = 3.4 // mm
	smallLetters = 2.0
)

// label writes lines into a rectangle: all of them as large as they fit, lying
// or upright, else fewer of them. The last of them is left out first.
func (s *sheet) label(px, py, pw, ph float64, lines []string) {
	for n := len(lines); n > 0; n-- {
		lying, upright := fitted(lines[:n], pw-1.4, ph-1.4), fitted(lines[:n], ph-1.4, pw-1.4)
		if lying == 0 && upright == 0 {
			continue
		}
		cx, cy := px+pw/2, py+ph/2
		size := max(lying, upright)
		step := size * 1.45
		for i, line := range lines[:n] {
			at := (float64(i)-float64(n-1)/2)*step - size/8 // room for what hangs below the line
			if st := (style{i == 0, size}); lying >= upright || lying >= 2.3 {
				st.height = min(size, lying)
				s.centred(cx, cy+at, line, st)
				s.names = append(s.names, around(cx, cy+at, wide(line, st), st.height))
			} else {
				s.upright(cx+at, cy, line, st)
				s.names = append(s.names, around(cx+at, cy, st.height, wide(line, st)))
			}
		}
		return
	}
}

func around(cx, cy, w, h float64) box { return box{cx - w/2, cy - h/2, w, h} }

// fitted is the height of the largest letters at which lines fit; 0: at none.
func fitted(lines []string, along, across float64) float64 {
	for size := largeLetters; size >= smallLetters; size -= 0.2 {
		if float64(len(lines))*size*1.45-size*0.2 > across {
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

// frame is the view's outline, and of a whole board where to begin.
func (s *sheet) frame() {
	px, py, pw, ph, _ := s.area(s.view.X, s.view.Y, s.view.Length, s.view.Width)
	s.box(px-0.4, py-0.4, pw+0.8, ph+0.8, 0.6)
	if !s.view.Whole {
		return
	}
	s.fill(px-0.4, py+ph, pw+0.8, 1.0, black)  // the marked edge
	s.fill(px-1.4, py-0.4, 1.0, ph+1.4, black) // and end
	s.upright(px-3.6, py+ph/2, fitting("marked end", ph), style{true, 2.2})
	s.text(px, py+ph+4.2, "marked edge", style{true, 2.2})
	from := px + wide("marked edge", style{true, 2.2}) + 5
	s.arrow(from+10, from, py+ph+3.2, 1.8)
	s.arrow(from+8, from+20, py+ph+3.2, 1.8)
	s.text(from+22, py+ph+4.2, "grain", style{false, 2.2})
}

// caption writes the view's size above it, between the numbers.
func (s *sheet) caption() {
	long := s.view.captionWide()
	if long == 0 {
		return
	}
	y, at := caption.height/2+0.6, s.left
	if s.top < 2*disc+2 {
		y = s.top - disc - 0.5
	}
	for x := s.left; x+long <= s.width; x++ {
		if !s.meets(box{x - 1, y - disc, long + 2, 2 * disc}) {
			at = x
			break
		}
	}
	s.text(at, y+caption.height/2, s.view.Size, caption)
}

func (s *sheet) meets(b box) bool {
	for _, q := range s.taken {
		if q.x+q.r > b.x && q.x-q.r < b.x+b.w && q.y+q.r > b.y && q.y-q.r < b.y+b.h {
			return true
		}
	}
	return false
}

// fitting leaves a text out where its room is too short for it.
func fitting(text string, room float64) string {
	if wide(text, style{true, 2.2}) > room {
		return ""
	}
	return text
}

// numbers put each step's number beside the kerf it begins with, where that runs
// out of the view; else on it, where no name or number is covered. One that
// finds no place is left out.
func (s *sheet) numbers(b *nesting.CutBoard) {
	for i := range b.Cuts {
		c := &b.Cuts[i]
		text := s.view.Steps[c.N]
		px, py, pw, ph, seen := s.kerf(c)
		if text == "" || !seen {
			continue
		}
		radius := max(disc, wide(text, style{true, 2.5})/2+0.5)
		at, free := s.place(c, box{px, py, pw, ph}, radius)
		if !free {
			continue
		}
		s.taken = append(s.taken, at)
		s.disc(at.x, at.y, radius)
		s.centred(at.x, at.y, text, style{true, 2.5})
	}
}

func (s *sheet) place(c *nesting.Cut, k box, r float64) (spot, bool) {
	x1, y1, x2, y2 := k.x+k.w/2, k.y+r, k.x+k.w/2, k.y+k.h-r
	out := spot{x1, s.top - r - 0.5, r}
	if c.Kind == nesting.Rip {
		x1, y1, x2, y2 = k.x+k.w-r, k.y+k.h/2, k.x+r, k.y+k.h/2
		out = spot{k.x + k.w + r + 0.6, min(y1, s.height-r-0.1), r}
	}
	if s.view.runsOut(c) && !s.covers(out, true) {
		return out, true
	}
	if at, free := s.free(x1, y1, x2, y2, r, true); free {
		return at, true
	}
	return s.free(x1, y1, x2, y2, r, false)
}

// free is the first place along the line that covers no number yet, and no name.
func (s *sheet) free(x1, y1, x2, y2, r float64, names bool) (spot, bool) {
	const tries = 60
	for i := range tries + 1 {
		t := float64(i) / tries
		p := spot{min(max(x1+(x2-x1)*t, r), s.width-r), y1 + (y2-y1)*t, r}
		if !s.covers(p, names) {
			return p, true
		}
	}
	return spot{}, false
}

func (s *sheet) covers(p spot, names bool) bool {
	for _, q := range s.taken {
		if dx, dy := p.x-q.x, p.y-q.y; dx*dx+dy*dy < (p.r+q.r)*(p.r+q.r) {
			return true
		}
	}
	for _, n := range s.names {
		dx, dy := p.x-min(max(p.x, n.x), n.x+n.w), p.y-min(max(p.y, n.y), n.y+n.h)
		if names && dx*dx+dy*dy < p.r*p.r {
			return true
		}
	}
	return false
}
