package reports

import (
	"fmt"
	"regexp"
	"strings"

	"batchwright/jigplan"
	"batchwright/nesting"
	"batchwright/orders"
	"batchwright/orders/measure"
)

// PartLabel is what is stuck on one part.
type PartLabel struct {
	Box, Part, Which  string // "Recipe box", "side 1", "box 3 of 6"
	Left, Right       string // corner marks of its ends, seen from the show face, marked edge down; empty: none
	Board, Size, Code string
}

// PartLabels are the labels of all parts, board by board as they lie on
// them.
func PartLabels(p *jigplan.Plan) (out []PartLabel) {
	w, names := WordsOf(p), NamesOf(p)
	parts := map[string]*orders.Part{}
	for i := range p.Parts {
		parts[p.Parts[i].ID] = &p.Parts[i]
	}
	for i := range p.Layout.Boards {
		b := &p.Layout.Boards[i]
		for k := range b.Pieces {
			if part := parts[b.Pieces[k].Part]; part != nil {
				out = append(out, labelOf(part, b, names, w))
			}
		}
	}
	return out
}

func labelOf(part *orders.Part, b *nesting.CutBoard, names Names, w Words) PartLabel {
	n := names.Of(part.ID)
	l := PartLabel{Box: n.Box, Part: n.Part(), Which: n.Which(), Board: b.ID, Code: part.ID,
		Size: w.Bare(part.Length) + " x " + w.Bare(part.Width) + " x " + w.Len(part.Thickness)}
	if part.Joint != nil {
		l.Left, l.Right, _ = strings.Cut(Marks(part), " | ")
	}
	return l
}

// LabelSheet is a sheet of labels: so many columns and rows, in mm.
type LabelSheet struct {
	Columns, Rows int
	Width, Height float64
	Gap, RowGap   float64 // between them
	Plain         bool    // plain paper: lines to cut along
}

// ParseLabelSheet reads "3 x 10, 66.7 x 25.4 mm", with ", gaps 3.2 x 0 mm" after
// it where the labels do not touch, and "plain" before it for plain paper.
func ParseLabelSheet(text string) (s LabelSheet, err error) {
	bad := fmt.Errorf("Label sheet %q is not a sheet of labels: write columns x rows, then the size of a label, for example 3 x 10, 66.7 x 25.4 mm", text)
	rest, plain := strings.CutPrefix(strings.TrimSpace(strings.ToLower(text)), "plain")
	s.Plain = plain
	fields := strings.FieldsFunc(decimalPoints(rest), func(r rune) bool { return r == ',' || r == ';' })
	if len(fields) < 2 || len(fields) > 3 {
		return s, bad
	}
	if n, err := fmt.Sscanf(strings.ReplaceAll(fields[0], " ", ""), "%dx%d", &s.Columns, &s.Rows); err != nil || n != 2 {
		return s, bad
	}
	var ok bool
	if s.Width, s.Height, ok = pair(fields[1]); !ok {
		return s, bad
	}
	if len(fields) == 3 {
		if s.Gap, s.RowGap, ok = pair(strings.TrimPrefix(strings.TrimSpace(fields[2]), "gaps")); !ok {
			return s, bad
		}
	}
	if s.Columns < 1 || s.Rows < 1 || s.Columns > 20 || s.Rows > 60 || s.Width < 15 || s.Height < 8 {
		return s, bad
	}
	return s, nil
}

// decimalPoints makes points of the commas between two digits.
func decimalPoints(text string) string {
	return decimalComma.ReplaceAllString(text, "$1.$2")
}

var decimalComma = regexp.MustCompile(`(\d),(\d)`)

// pair reads "66.7 x 25.4 mm", in mm or inches.
func pair(text string) (a, b float64, ok bool) {
	unit := measure.Millimetres
	text = strings.TrimSpace(text)
	if t, inches := strings.CutSuffix(text, "in"); inches {
		unit, text = measure.Inches, t
	}
	text = strings.TrimSuffix(text, "mm")
	first, second, found := strings.Cut(text, "x")
	x, err1 := measure.Parse(strings.TrimSpace(first), measure.Reading{Bare: unit})
	y, err2 := measure.Parse(strings.TrimSpace(second), measure.Reading{Bare: unit})
	if err1 != nil && strings.TrimSpace(first) == "0" {
		x, err1 = 0, nil
	}
	if err2 != nil && strings.TrimSpace(second) == "0" {
		y, err2 = 0, nil
	}
	return x.Millimetres(), y.Millimetres(), found && err1 == nil && err2 == nil
}
