package draw

import "batchwright/reports"

// LabelPage draws one sheet of labels, wide by tall mm, the grid in its middle;
// the first few places of the grid are left free. It gives back how many labels
// found a place.
func LabelPage(s reports.LabelSheet, labels []reports.PartLabel, skip int, wide, tall float64) (Picture, int, error) {
	c := newCanvas(wide, tall)
	left := (wide - float64(s.Columns)*s.Width - float64(s.Columns-1)*s.Gap) / 2
	top := (tall - float64(s.Rows)*s.Height - float64(s.Rows-1)*s.RowGap) / 2
	done := 0
	for at := skip; at < s.Columns*s.Rows && done < len(labels); at++ {
		x := left + float64(at%s.Columns)*(s.Width+s.Gap)
		y := top + float64(at/s.Columns)*(s.Height+s.RowGap)
		if s.Plain {
			c.box(x, y, s.Width, s.Height, 0.15)
		}
		c.oneLabel(x, y, s.Width, s.Height, labels[done])
		done++
	}
	pic, err := c.picture()
	return pic, done, err
}

// oneLabel writes a label: the box, the part and which one; its board and code;
// the corner marks at its two ends; a thick line for the marked edge.
func (c *canvas) oneLabel(x, y, w, h float64, l reports.PartLabel) {
	const margin, mark = 2.2, 8.0
	line := min(3.6, (h-2*margin-1.5)/5.4)
	inner := w - 2*margin
	from := x + margin
	if l.Left != "" {
		inner, from = inner-2*mark, from+mark
		big := style{true, min(6, h*0.3)}
		c.centred(x+margin+mark/2-1, y+h/2, l.Left, big)
		c.centred(x+w-margin-mark/2+1, y+h/2, l.Right, big)
		c.fill(x+margin, y+h-margin-0.4, w-2*margin, 1.0, black)
	}
	at := y + margin + line
	for i, text := range []string{l.Box, joinedWords(l.Part, l.Which), l.Size, "board " + l.Board + "   " + l.Code} {
		st := style{i < 2, line}
		if i >= 2 {
			st.height = line * 0.8
		}
		for st.height > 1.4 && wide(text, st) > inner {
			st.height -= 0.1
		}
		c.text(from, at, text, st)
		at += line * 1.38
	}
}

func joinedWords(a, b string) string {
	if a == "" || b == "" {
		return a + b
	}
	return a + ", " + b
}
