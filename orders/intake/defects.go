package intake

import (
	"errors"
	"fmt"
	"slices"
	"strings"

	"batchwright/orders"
	"batchwright/orders/measure"
)

// defects reads "18 to 22; 40 to 43 across 0 to 1 1/2": from the marked end,
// and across from the marked edge, joined by semicolons. "Sapwood 0 to 96 across
// 0 to 1/2" is sound wood of another colour, "sapwood 1/2" a strip of it along
// the marked edge.
func (l *line) defects(b *orders.Board) []orders.Defect {
	c, ok := l.get("Defects")
	if !ok || slices.Contains([]string{"none", "no", "clear", "no defects", "no knots", "no faults", "nil"}, foldHeading(c.text)) {
		return nil
	}
	if c.kind == dateCell {
		l.fault("Defects", c.text, "the spreadsheet turned this into a date", "format the cell as text and write it like 18 to 22")
		return nil
	}
	var out []orders.Defect
	var meaning []string
	for part := range strings.FieldsFuncSeq(c.text, func(r rune) bool { return r == ';' || r == '\n' }) {
		if isBlank(part) {
			continue
		}
		d, err := parseDefect(part, l.reading("Defects", c), b)
		if err != nil {
			l.fault("Defects", strings.TrimSpace(part), "not a defect: "+err.Error(), l.units().Either("write it like 18 to 22, or 40 to 43 across 0 to 1 1/2, joined by semicolons", "write it like 450 to 520, or 1000 to 1080 across 0 to 40, joined by semicolons"))
			continue
		}
		if overrun(&d, b) {
			l.warn("Defects", strings.TrimSpace(part), "it runs past the board; cut off at the board's end or edge", "check the defect, and the length and width of the board")
		}
		out = append(out, d)
		unit, what := l.order.Settings.Units, ""
		if d.Sapwood {
			what = "sapwood "
		}
		meaning = append(meaning, fmt.Sprintf("%s%s to %s across %s to %s", what, d.X.ShowUnit(unit), (d.X+d.Length).ShowUnit(unit), d.Y.ShowUnit(unit), (d.Y+d.Width).ShowUnit(unit)))
	}
	l.understood("Defects", c.text, strings.Join(meaning, "; "))
	return out
}

func parseDefect(text string, how measure.Reading, b *orders.Board) (orders.Defect, error) {
	text, sapwood := strings.CutPrefix(withoutFault(strings.ToLower(strings.TrimSpace(text))), "sapwood ")
	if width, err := measure.Parse(strings.TrimSpace(text), how); sapwood && err == nil && width > 0 && width < b.Width {
		return orders.Defect{Length: b.Length, Width: width, Sapwood: true}, nil
	}
	along, across, both := strings.Cut(text, "across")
	from, to, err := parseStretch(along, how)
	if err != nil {
		return orders.Defect{}, err
	}
	low, high := measure.Length(0), b.Width
	if both {
		if low, high, err = parseStretch(across, how); err != nil {
			return orders.Defect{}, err
		}
	}
	switch {
	case to <= from || high <= low && b.Width > 0:
		return orders.Defect{}, errors.New("it ends before it begins")
	case b.Length > 0 && from >= b.Length || b.Width > 0 && low >= b.Width:
		return orders.Defect{}, errors.New("it is outside the board")
	}
	return orders.Defect{X: from, Y: low, Length: to - from, Width: high - low, Sapwood: sapwood}, nil
}

// overrun cuts a defect off at the end and edge of its board; over tells
// whether there was something to cut.
func overrun(d *orders.Defect, b *orders.Board) (over bool) {
	if over = b.Length > 0 && d.X+d.Length > b.Length; over {
		d.Length = b.Length - d.X
	}
	if b.Width > 0 && d.Y+d.Width > b.Width {
		d.Width, over = b.Width-d.Y, true
	}
	return over
}

// faultWords are what people write before a defect (common practice); all of
// them are cut round alike.
var faultWords = []string{"from", "knot", "knots", "split", "splits", "crack", "cracks", "check", "checks", "shake", "wane", "bark", "rot", "stain", "hole", "holes", "pitch", "worm"}

func withoutFault(text string) string {
	for {
		word, rest, ok := strings.Cut(text, " ")
		if !ok || !slices.Contains(faultWords, strings.TrimRight(word, ":")) {
			return text
		}
		text = strings.TrimSpace(rest)
	}
}

// parseStretch reads "18 to 22". A dash means "to" only between two plain
// numbers, with an inch mark or none, because 1-1/2 is one and a half.
func parseStretch(text string, how measure.Reading) (from, to measure.Length, err error) {
	a, b, ok := strings.Cut(text, " to ")
	if !ok {
		if a, b, ok = cutDash(text); !ok {
			return 0, 0, errors.New("the word \"to\" is missing between start and end")
		}
	}
	if bare := trailingUnit(b); bare != measure.NoUnit && trailingUnit(a) == measure.NoUnit {
		how.Bare = bare // "18 to 22 mm"
	}
	if from, err = measure.Parse(a, how); err == nil {
		to, err = measure.Parse(b, how)
	}
	return from, to, err
}

// cutDash parts "18-22" at its only dash when both sides are plain numbers.
func cutDash(text string) (a, b string, ok bool) {
	text = strings.NewReplacer("–", "-", "—", "-").Replace(text)
	a, b, ok = strings.Cut(text, "-")
	plain := func(s string) bool {
		s = strings.TrimRight(strings.TrimSpace(s), "\"″” ")
		return s != "" && strings.Trim(s, "0123456789.,") == ""
	}
	return a, b, ok && plain(a) && plain(b)
}

func trailingUnit(text string) measure.Unit {
	fields := strings.Fields(text)
	if len(fields) == 0 {
		return measure.NoUnit
	}
	last := fields[len(fields)-1]
	if i := strings.LastIndexAny(last, "0123456789"); i >= 0 {
		last = last[i+1:]
	}
	return headingUnits[strings.ToLower(strings.TrimRight(last, "."))]
}
