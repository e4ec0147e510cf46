package workbook

import "github.com/xuri/excelize/v2"

// style is how a cell looks. The zero value is plain text at the body size.
type style struct {
	size   float64 // points; 0: bodySize
	bold   bool
	grey   bool // a light ground, under headings
	across align
	middle bool   // centred between top and bottom; else at the top
	top    bool   // at the top in spite of its lines
	single bool   // one line: not wrapped
	shrink bool   // one line, made smaller rather than cut
	rim    rim    // lines round it
	indent bool   // a little room at the side it is aligned to
	format string // of numbers
}

type align string

const (
	left   align = ""
	centre align = "center"
	right  align = "right"
)

type rim int

const (
	none  rim = iota
	thin      // all round
	below     // a hairline under it
	thick     // all round
	ruled     // a line under it
	heavy     // a heavy line under it
	over      // a hairline above it
)

const bodySize = 10.0

// styleID registers a style once.
func (b *book) styleID(s style) (int, error) {
	if id, ok := b.styles[s]; ok {
		return id, nil
	}
	if s.size == 0 {
		s.size = bodySize
	}
	x := &excelize.Style{
		Font:      &excelize.Font{Family: font, Size: s.size, Bold: s.bold, Color: "000000"},
		Alignment: &excelize.Alignment{Horizontal: string(s.across), Vertical: "top", WrapText: !s.single && !s.shrink, ShrinkToFit: s.shrink},
		Border:    borders(s.rim),
	}
	if s.indent {
		x.Alignment.Indent = 1
		if s.across == left {
			x.Alignment.Horizontal = "left" // without it programs leave the indent out
		}
	}
	if s.middle || s.rim != none { // a letter must not touch the line above it
		x.Alignment.Vertical = "center"
	}
	if s.top {
		x.Alignment.Vertical = "top"
	}
	if s.grey {
		x.Fill = excelize.Fill{Type: "pattern", Pattern: 1, Color: []string{"E4E4E4"}}
	}
	if s.format != "" {
		x.CustomNumFmt = &s.format
	}
	id, err := b.file.NewStyle(x)
	key := s
	if s.size == bodySize {
		key.size = 0
		b.styles[key] = id
		key.size = bodySize
	}
	b.styles[key] = id
	return id, err
}

func borders(r rim) []excelize.Border {
	line := map[rim]int{thin: 1, below: 4, thick: 2, ruled: 1, heavy: 2, over: 4}[r]
	var out []excelize.Border
	sides := []string{"left", "right", "top", "bottom"}
	switch r {
	case none:
		return nil
	case below, ruled, heavy:
		sides = sides[3:]
	case over:
		sides = sides[2:3]
	}
	for _, side := range sides {
		out = append(out, excelize.Border{Type: side, Color: "000000", Style: line})
	}
	return out
}
