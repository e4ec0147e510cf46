package draw

import (
	"fmt"

	"batchwright/nesting"
	"batchwright/orders/measure"
)

// Tag is what is written on one piece, in the order of the board's pieces.
type Tag struct {
	Number string
	Lines  []string // in falling order of need; what finds no room is left out
}

// Board draws one board with its pieces, cuts in their order, defects, the way
// of the grain and what is left. wide and tall are the largest size in mm; size
// is the text of its dimensions. The marked end is to the left, the marked edge
// below.
func Board(b *nesting.Board, tags []Tag, size string, wide, tall float64) (Picture, error) {
	const left, right, top, bottom = 7.0, 2.0, 5.0, 6.5
	scale := min((wide-left-right)/b.Length.Millimetres(), (tall-top-bottom)/b.Width.Millimetres())
	d := &sheet{
		canvas: newCanvas(left+right+b.Length.Millimetres()*scale, top+bottom+b.Width.Millimetres()*scale),
		scale:  scale, left: left, foot: top + b.Width.Millimetres()*scale,
	}
	d.leftovers(b)
	d.pieces(b, tags)
	d.defects(b)
	d.kerfs(b)
	d.frame(b, size)
	d.numbers(b)
	return d.picture()
}

// sheet is a canvas with a board on it.
type sheet struct {
	*canvas
	scale      float64
	left, foot float64 // where the marked end and the marked edge meet
	taken      []spot  // where numbers stand
}

type spot struct{ x, y, r float64 }

func (s *sheet) x(l measure.Length) float64 { return s.left + l.Millimetres()*s.scale }
func (s *sheet) y(l measure.Length) float64 { return s.foot - l.Millimetres()*s.scale }

// area is a rectangle of the board on the paper: its upper left corner and size.
func (s *sheet) area(x, y, l, w measure.Length) (px, py, pw, ph float64) {
	return s.x(x), s.y(y + w), l.Millimetres() * s.scale, w.Millimetres() * s.scale
}

// leftovers shade waste, and name the offcuts that go back to the rack.
func (s *sheet) leftovers(b *nesting.Board) {
	px, py, pw, ph := s.area(0, 0, b.Length, b.Width)
	s.fill(px, py, pw, ph, pale)
	for _, o := range b.Offcuts {
		px, py, pw, ph := s.area(o.X, o.Y, o.Length, o.Width)
		if !o.Keep {
			continue
		}
		s.fill(px, py, pw, ph, white)
		s.box(px, py, pw, ph, 0.25)
		s.box(px+0.8, py+0.8, pw-1.6, ph-1.6, 0.25)
		s.label(px, py, pw, ph, Tag{Number: "keep"})
	}
}

func (s *sheet) pieces(b *nesting.Board, tags []Tag) {
	for i, p := range b.Pieces {
		px, py, pw, ph := s.area(p.X, p.Y, p.Length, p.Width)
		s.fill(px, py, pw, ph, white)
		s.box(px, py, pw, ph, 0.4)
		if i < len(tags) {
			s.label(px, py, pw, ph, tags[i])
		}
	}
}

// label writes a tag into a rectangle: the number large, the lines beneath it
// as long as there is room; along the longer way.
func (s *sheet) label(px, py, pw, ph float64, tag Tag) {
	along, across, write := pw, ph, s.centred
	if ph > pw*1.3 && wide(tag.Number, style{true, 3.4}) > pw-1 {
		along, across, write = ph, pw, s.upright
	}
	number := style{true, min(3.4, across*0.6)}
	for number.height > 1.2 && wide(tag.Number, number) > along-1 {
		number.height -= 0.2
	}
	small := style{false, 2.3}
	var fits []string
	room := across - number.height - 3.5
	for _, line := range tag.Lines {
		if room < small.height || wide(line, small) > along-4.4 { // cut numbers stand at both sides
			break
		}
		fits = append(fits, line)
		room -= small.height + 1
	}
	cx, cy := px+pw/2, py+ph/2
	if len(fits) == 0 && len(tag.Lines) > 0 && across >= 3.5 {
		s.besideEachOther(cx, cy, along, tag, number, small, write)
		return
	}
	total := number.height + float64(len(fits))*(small.height+1)
	at := cy - total/2 + number.height/2
	write(cx, at, tag.Number, number)
	for _, line := range fits {
		at += small.height/2 + 1 + number.height/2
		number = small
		write(cx, at, line, small)
	}
}

// besideEachOther writes number and first line in one row, where a strip is
// too thin for two.
func (s *sheet) besideEachOther(cx, cy, along float64, tag Tag, number, small style, write func(x, y float64, t string, st style)) {
	w1, w2 := wide(tag.Number, number), wide(tag.Lines[0], small)
	if w1+w2+2 > along-4.4 {
		write(cx, cy, tag.Number, number)
		return
	}
	from := cx - (w1+w2+2)/2
	s.text(from, cy+number.height/2, tag.Number, number)
	s.text(from+w1+2, cy+small.height/2, tag.Lines[0], small)
}

// defects are cross-hatched, so that they are told from waste without colour;
// sapwood is hatched one way, widely.
func (s *sheet) defects(b *nesting.Board) {
	for _, d := range b.Stock.Defects {
		l, w := min(d.Length, b.Length-d.X), min(d.Width, b.Width-d.Y)
		if l <= 0 || w <= 0 {
			continue
		}
		px, py, pw, ph := s.area(d.X, d.Y, l, w)
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

// kerfs are black strips of their true width, never thinner than a line.
func (s *sheet) kerfs(b *nesting.Board) {
	for _, c := range b.Cuts {
		thick := max(c.Kerf.Millimetres()*s.scale, 0.35)
		if c.Kind == nesting.Crosscut {
			s.fill(s.x(c.At), s.y(c.To), thick, s.y(c.From)-s.y(c.To), black)
		} else {
			s.fill(s.x(c.From), s.y(c.At)-thick, s.x(c.To)-s.x(c.From), thick, black)
		}
	}
}

func (s *sheet) frame(b *nesting.Board, size string) {
	px, py, pw, ph := s.area(0, 0, b.Length, b.Width)
	s.box(px-0.4, py-0.4, pw+0.8, ph+0.8, 0.7)
	s.fill(px-0.4, py+ph, pw+0.8, 1.2, black) // the marked edge
	s.fill(px-1.6, py-0.4, 1.2, ph+2, black)  // and end
	s.upright(px-4, py+ph/2, fitting("marked end", ph), style{true, 2.4})
	mark := "marked edge"
	s.text(px, py+ph+4.8, mark, style{true, 2.4})
	from := px + wide(mark, style{true, 2.4}) + 6
	s.arrow(from+12, from, py+ph+3.6, 2)
	s.arrow(from+10, from+24, py+ph+3.6, 2)
	s.text(from+26, py+ph+4.8, "grain", style{false, 2.4})
	s.text(px, py-1.6, size, style{true, 2.8})
}

// fitting leaves a text out where its room is too short for it.
func fitting(text string, room float64) string {
	if wide(text, style{true, 2.4}) > room {
		return ""
	}
	return text
}

// numbers put each cut's place in the order on its kerf, sliding along it until
// no other number is covered.
func (s *sheet) numbers(b *nesting.Board) {
	for _, c := range b.Cuts {
		text := fmt.Sprint(c.N)
		radius := max(2.0, wide(text, style{true, 2.2})/2+0.7)
		half := max(c.Kerf.Millimetres()*s.scale, 0.35) / 2
		x1, y1, x2, y2 := s.x(c.At)+half, s.y(c.To)+radius, s.x(c.At)+half, s.y(c.From)-radius
		if c.Kind == nesting.Rip {
			x1, y1, x2, y2 = s.x(c.From)+radius, s.y(c.At)-half, s.x(c.To)-radius, s.y(c.At)-half
		}
		at := s.free(x1, y1, x2, y2, radius)
		s.taken = append(s.taken, at)
		s.disc(at.x, at.y, radius)
		s.centred(at.x, at.y, text, style{true, 2.2})
	}
}

// free is the first place along the line that covers no number yet; its start
// when there is none.
func (s *sheet) free(x1, y1, x2, y2, r float64) spot {
	const tries = 60
	for i := range tries + 1 {
		t := float64(i) / tries
		p := spot{x1 + (x2-x1)*t, y1 + (y2-y1)*t, r}
		if !s.covers(p) {
			return p
		}
	}
	return spot{x1, y1, r}
}

func (s *sheet) covers(p spot) bool {
	for _, q := range s.taken {
		if dx, dy := p.x-q.x, p.y-q.y; dx*dx+dy*dy < (p.r+q.r)*(p.r+q.r) {
			return true
		}
	}
	return false
}
