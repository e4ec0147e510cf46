package shop

import (
	"fmt"
	"strings"

	"batchwright/orders"
	"batchwright/orders/measure"
)

// ExactLength writes a length so that reading it gives the same length again: as a
// fraction or a decimal of the unit where it comes out even there, else in
// millimetres, where every length does.
func ExactLength(l measure.Length, unit measure.Unit) string {
	text := l.ShowUnit(unit)
	if !unit.Metric() && strings.HasPrefix(text, measure.About) {
		text = unit.Mark(l.DecimalInches()) + " in"
	}
	if strings.HasPrefix(text, measure.About) {
		text = unit.Mark(exactMillimetres(l))
	}
	return text
}

// exactMillimetres has up to eight places: a tick is 0.00000125 mm.
func exactMillimetres(l measure.Length) string {
	const perMM = int64(measure.Millimetre)
	sign, n := "", int64(l)
	if n < 0 {
		sign, n = "-", -n
	}
	places := strings.TrimRight(fmt.Sprintf("%08d", n%perMM*125), "0")
	if places == "" {
		return fmt.Sprintf("%s%d mm", sign, n/perMM)
	}
	return fmt.Sprintf("%s%d.%s mm", sign, n/perMM, places)
}

// DefectsText writes defects as an order's Rack sheet does.
func DefectsText(b orders.Board, unit measure.Unit) string {
	var out []string
	for _, d := range b.Defects {
		text := fmt.Sprintf("%s to %s", ExactLength(d.X, unit), ExactLength(d.X+d.Length, unit))
		if d.Sapwood {
			text = "sapwood " + text
		}
		if d.Y > 0 || d.Width < b.Width {
			text += fmt.Sprintf(" across %s to %s", ExactLength(d.Y, unit), ExactLength(d.Y+d.Width, unit))
		}
		out = append(out, text)
	}
	return strings.Join(out, "; ")
}

// ThicknessText is a board's class, true thickness, or both.
func ThicknessText(b orders.Board, unit measure.Unit) string {
	switch {
	case b.Thickness == 0:
		return b.Class
	case b.Class == "":
		return b.Thickness.ShowUnit(unit)
	}
	return b.Class + ", " + b.Thickness.ShowUnit(unit)
}

// DescribeBoard is a board in a few words: "walnut 4/4, 96 x 6-1/2 in".
func DescribeBoard(b orders.Board, unit measure.Unit) string {
	return fmt.Sprintf("%s %s, %s x %s", b.Wood, ThicknessText(b, unit), b.Length.Show(unit), b.Width.ShowUnit(unit))
}
