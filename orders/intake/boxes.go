package intake

import (
	"fmt"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"unicode"

	"batchwright/orders"
	"batchwright/orders/measure"
	"batchwright/orders/woods"
)

func (r *reader) readBoxes(t *table) {
	if !t.saysMeasured() {
		r.problem(orders.Error, orders.Source{Sheet: t.name, Cell: cellName(1, t.top)}, "", "no column Measured, so it is not clear whether sizes are inside or outside", "add a column headed Measured and write inside or outside in every row")
	}
	r.eachLine(t, func(l *line) int {
		box := l.box()
		if !l.bad {
			r.order.Boxes = append(r.order.Boxes, box)
		}
		return box.Count
	})
}

func (r *reader) readCatalog(t *table) {
	if !t.saysMeasured() {
		r.problem(orders.Error, orders.Source{Sheet: t.name, Cell: cellName(1, t.top)}, "", "no column Measured, so it is not clear whether sizes are inside or outside", "add a column headed Measured and write inside or outside in every row")
	}
	r.eachLine(t, func(l *line) int {
		c := l.candidate()
		if !l.bad {
			r.order.Candidates = append(r.order.Candidates, c)
		}
		return c.Count
	})
}

func (l *line) box() orders.Box {
	return l.boxWith(func() tally { return l.neededCount("Count") }, false)
}

// boxWith reads the columns that Boxes and Catalog share.
func (l *line) boxWith(count func() tally, woodElsewhere bool) orders.Box {
	b := orders.Box{Source: l.source("Box"), Name: l.text("Box")}
	if b.Name == "" {
		b.Name = fmt.Sprintf("row %d", l.row.num)
	}
	n := count()
	b.Count, b.Spare = n.total(), n.spare
	b.Length, b.Width, b.Height = l.size("Length"), l.size("Width"), l.size("Height")
	b.Inside = l.inside()
	b.Thickness = l.size("Thickness")
	b.EndThickness = b.Thickness
	if e, ok := l.length("End thickness"); ok {
		b.EndThickness = e
	}
	if woodElsewhere {
		b.Wood = l.wood("Wood")
	} else {
		b.Wood = l.neededWood()
	}
	b.Finger, b.Pattern = l.finger()
	b.HeightMayVary = l.plusMinus("Height may vary")
	b.Bottom, b.Lid, b.Dividers = l.bottom(), l.lid(), l.dividers()
	grain := l.choice("Grain", "any", grainOfBoxes)
	b.Opened = grain == "four corners"
	b.Matched = b.Opened || grain == "matched"
	b.Finish, b.Customer = l.text("Finish"), l.text("Customer")
	b.Due = l.date("Due")
	b.Price, _ = l.money("Price")
	b.Quantities = l.quantities()
	b.Notes = l.notes()
	if l.saidDate != "" {
		b.Notes = strings.TrimPrefix(b.Notes+"; due "+l.saidDate, "; ")
	}
	l.auditBox(&b)
	return b
}

var grainOfBoxes = map[string]string{
	"matched": "matched", "match": "matched", "yes": "matched", "y": "matched", "true": "matched", "continuous": "matched", "wrapped": "matched", "round the corners": "matched",
	"four corners": "four corners", "4 corners": "four corners", "all four": "four corners", "all four corners": "four corners", "all corners": "four corners", "bookmatched": "four corners", "book matched": "four corners", "book-matched": "four corners", "bookmatch": "four corners",
	"any": "any", "no": "any", "n": "any", "false": "any", "none": "any", "not matched": "any", "either": "any",
}

var measuredWords = map[string]string{
	"inside": "inside", "in": "inside", "internal": "inside", "inner": "inside", "i": "inside", "int": "inside", "interior": "inside", "ins": "inside", "id": "inside", "inside dims": "inside", "inside size": "inside",
	"outside": "outside", "out": "outside", "external": "outside", "outer": "outside", "o": "outside", "ext": "outside", "exterior": "outside", "outs": "outside", "od": "outside", "overall": "outside", "outside dims": "outside", "outside size": "outside",
}

// saysMeasured reports whether inside and outside are told apart by a column
// or by all three size headings.
func (t *table) saysMeasured() bool {
	return t.columns["Measured"] != nil || t.insideHeadings() != ""
}

// insideHeadings is "inside" or "outside" when the three size headings agree.
func (t *table) insideHeadings() string {
	says := ""
	for _, name := range []string{"Length", "Width", "Height"} {
		h := t.columns[name]
		if h == nil || h.inside == "" || says != "" && h.inside != says {
			return ""
		}
		says = h.inside
	}
	return says
}

// inside reads whether sizes are inside sizes. Nothing is taken for granted.
func (l *line) inside() bool {
	before := len(l.order.Findings)
	word := l.choice("Measured", "", measuredWords)
	heads := l.t.insideHeadings()
	switch {
	case word == "" && len(l.order.Findings) > before: // said already
	case word == "" && heads != "":
		return heads == "inside"
	case word == "":
		if l.t.columns["Measured"] != nil {
			l.fault("Measured", "", "inside or outside sizes? It is not given", "write inside or outside")
		}
		l.bad = true
	case heads != "" && heads != word:
		l.fault("Measured", word, "the headings say "+heads+" sizes", "make the heading and the column agree")
	}
	return word == "inside"
}

// plusMinus reads a tolerance: 1/8, ±1/8, +/- 1/8.
func (l *line) plusMinus(name string) measure.Length {
	h := l.t.columns[name]
	if h == nil {
		return 0
	}
	if c := l.row.at(h.col); c != nil && c.kind == textCell {
		plain := strings.TrimSpace(c.text)
		for _, sign := range []string{"±", "+/-", "+-", "+/−", "plus or minus"} {
			plain = strings.TrimPrefix(plain, sign)
		}
		switch foldHeading(plain) {
		case "no", "none", "fixed":
			l.understood(name, c.text, "not at all")
			return 0
		}
		c.text = strings.TrimSpace(plain)
	}
	value, _ := l.length(name)
	return value
}

// thickestPanel is where a bottom or a lid without a unit was surely meant in
// another one.
const thickestPanel = 2 * measure.Inch

// panel reads "groove 1/4 birch ply" or "groove, 1/4, birch ply": a kind, then
// a thickness and a wood, each or none.
func (l *line) panel(name string, kinds map[string]string) (kind string, thickness measure.Length, wood string) {
	c, ok := l.get(name)
	if !ok {
		return "none", 0, ""
	}
	if c.kind != textCell {
		l.fault(name, c.text, "cannot be read: a number without words", "write one of: "+strings.Join(distinct(kinds), ", ")+"; then thickness and wood, as in "+l.units().Either("groove 1/4 birch ply", "groove 6.5 birch ply"))
		return "none", 0, ""
	}
	kind, rest := takeWord(c.text, kinds)
	size, wood := splitSize(withoutJoiners(rest))
	switch {
	case kind == "" && name == "Bottom" && size != "" && woods.Find(wood) != nil:
		kind = "groove" // common practice for a box with fingers
		l.warn(name, c.text, "how the bottom is held is missing; planned in a groove", "write groove, rabbet or nailed before it")
	case kind == "":
		l.fault(name, c.text, "cannot be read: how it is made is missing", "write one of: "+strings.Join(distinct(kinds), ", ")+"; then thickness and wood, as in "+l.units().Either("groove 1/4 birch ply", "groove 6.5 birch ply"))
		return "none", 0, ""
	}
	if strings.ContainsAny(wood, digits) {
		l.fault(name, c.text, "cannot be read: more than one thickness, or none", "write how it is made, then thickness and wood, as in "+l.units().Either("groove 1/4 birch ply", "groove 6.5 birch ply"))
		return kind, 0, ""
	}
	if size != "" {
		value, err := measure.Parse(size, l.reading(name, c))
		if err != nil {
			l.lengthFault(name, size, err)
			return kind, 0, ""
		}
		if value > thickestPanel {
			l.fault(name, c.text, "a panel "+both(value, l.order.Settings.Units)+" thick is probably a mistake", "write the unit, as in groove 6 mm birch ply")
		}
		thickness = value
	}
	wood = l.properWood(name, wood)
	meaning := kind
	if thickness > 0 {
		meaning += ", " + both(thickness, l.order.Settings.Units)
	}
	if wood != "" {
		meaning += ", " + wood
	}
	l.understood(name, c.text, meaning)
	return kind, thickness, wood
}

// takeWord takes the first and longest known word or words out of a text,
// wherever they stand.
func takeWord(text string, words map[string]string) (meaning, rest string) {
	fields := strings.FieldsFunc(betweenDigits(text, ',', '\a'), func(r rune) bool { return strings.ContainsRune(" ,;:()\u00a0\n", r) })
	for i := range fields {
		for n := min(len(fields)-i, 3); n > 0; n-- {
			if m, ok := words[foldHeading(strings.Join(fields[i:i+n], " "))]; ok {
				return m, strings.ReplaceAll(strings.Join(slices.Delete(fields, i, i+n), " "), "\a", ",")
			}
		}
	}
	return "", strings.ReplaceAll(strings.Join(fields, " "), "\a", ",")
}

// betweenDigits puts another mark for each one that has a digit on either side:
// a decimal comma, which parts no words.
func betweenDigits(text string, mark, other rune) string {
	runes := []rune(text)
	digit := func(i int) bool { return i >= 0 && i < len(runes) && unicode.IsDigit(runes[i]) }
	for i, r := range runes {
		if r == mark && digit(i-1) && digit(i+1) {
			runes[i] = other
		}
	}
	return string(runes)
}

// withoutJoiners drops the name of the thing itself and the small words between
// what is told of it; "in" behind a number is its unit.
func withoutJoiners(text string) string {
	var kept []string
	for _, word := range strings.Fields(text) {
		switch plain := foldHeading(word); {
		case plain == "in" && len(kept) > 0 && strings.ContainsAny(kept[len(kept)-1], digits):
		case slices.Contains(joiners, plain):
			continue
		}
		kept = append(kept, word)
	}
	return strings.Join(kept, " ")
}

var joiners = []string{"bottom", "base", "floor", "panel", "lid", "top", "cover", "in", "a", "an", "the", "on", "into", "let", "set", "with", "of", "and", "thick"}

// digits are the characters that only a size holds.
const digits = "0123456789½¼¾⅛⅜⅝⅞⅓⅔⅙⅚⅕⅖⅗⅘"

// splitSize parts "1/4 in birch ply" or "birch ply 1/4 in" into the length and
// the wood. The length is as many words in front, else behind, as hold a digit
// or are a unit beside one.
func splitSize(text string) (size, wood string) {
	fields := strings.Fields(text)
	end := 0
	for end < len(fields) && (strings.ContainsAny(fields[end], digits) || end > 0 && unitOf(fields[end]) != measure.NoUnit) {
		end++
	}
	if end > 0 {
		return strings.Join(fields[:end], " "), strings.Join(fields[end:], " ")
	}
	start := len(fields)
	for start > 0 && (strings.ContainsAny(fields[start-1], digits) || unitOf(fields[start-1]) != measure.NoUnit) {
		start--
	}
	return strings.Join(fields[start:], " "), strings.Join(fields[:start], " ")
}

var bottomWords = map[string]string{
	"groove": "groove", "grooved": "groove", "in groove": "groove", "in a groove": "groove", "dado": "groove", "captured": "groove",
	"rabbet": "rabbet", "rabbeted": "rabbet", "rebate": "rabbet", "rebated": "rabbet", "rabbetted": "rabbet",
	"nailed": "nailed", "nail": "nailed", "nail on": "nailed", "nailed on": "nailed", "nail-on": "nailed", "pinned": "nailed",
	"none": "none", "no": "none", "no bottom": "none", "no base": "none", "no floor": "none", "without": "none", "open": "none",
}

func (l *line) bottom() orders.Bottom {
	kind, thickness, wood := l.panel("Bottom", bottomWords)
	return orders.Bottom{Kind: orders.BottomKind(kind), Thickness: thickness, Wood: wood}
}

var lidWords = map[string]string{
	"none": "none", "no": "none", "no lid": "none", "no top": "none", "no cover": "none", "without": "none", "open": "none",
	"lift off": "lift-off", "liftoff": "lift-off", "lift": "lift-off", "loose": "lift-off",
	"sliding": "sliding", "slide": "sliding", "slider": "sliding", "slides": "sliding",
	"sawn off": "sawn-off", "sawn": "sawn-off", "sawnoff": "sawn-off", "saw off": "sawn-off", "cut off": "sawn-off",
	"hinged": "hinged", "hinge": "hinged", "hinges": "hinged",
}

func (l *line) lid() orders.Lid {
	kind, thickness, wood := l.panel("Lid", lidWords)
	return orders.Lid{Kind: orders.LidKind(kind), Thickness: thickness, Wood: wood}
}

// rowsOf is "2 rows of 3": rows run along the box. cellsOf is "6 (2 x 3)".
var (
	rowsOf  = regexp.MustCompile(`^(\d+) rows? of (\d+)$`)
	cellsOf = regexp.MustCompile(`^\d+ *[:=]? *\((\d+ *x *\d+)\)$`)
)

// dividers reads "2 x 3".
func (l *line) dividers() orders.Dividers {
	c, ok := l.get("Dividers")
	if !ok || foldHeading(c.text) == "none" || foldHeading(c.text) == "no" {
		return orders.Dividers{}
	}
	plain := strings.ToLower(strings.NewReplacer("×", "x", "*", "x", "by", "x").Replace(strings.ToLower(c.text)))
	if m := rowsOf.FindStringSubmatch(plain); m != nil {
		plain = m[2] + "x" + m[1]
	} else if m := cellsOf.FindStringSubmatch(plain); m != nil {
		plain = m[1]
	}
	a, b, two := strings.Cut(plain, "x")
	along, err1 := strconv.Atoi(strings.TrimSpace(a))
	across, err2 := strconv.Atoi(strings.TrimSpace(b))
	if !two || err1 != nil || err2 != nil || along < 1 || across < 1 || along > 50 || across > 50 || c.kind == dateCell {
		l.fault("Dividers", c.text, "not compartments along x across", "write it like 2 x 3, or none")
		return orders.Dividers{}
	}
	l.understood("Dividers", c.text, fmt.Sprintf("%d compartments along the length by %d across", along, across))
	return orders.Dividers{Along: along, Across: across}
}

// quantities reads "10; 25; 50".
func (l *line) quantities() []int {
	c, ok := l.get("Quantities")
	if !ok {
		return nil
	}
	var out []int
	for part := range strings.FieldsFuncSeq(c.text, func(r rune) bool { return r == ';' || r == ',' || r == '/' || r == '|' || r == '\n' }) {
		n, err := parseCount(part, false)
		if err != nil || c.kind == dateCell {
			l.fault("Quantities", c.text, "not a list of counts", "write it like 10; 25; 50")
			return nil
		}
		out = append(out, n.total())
	}
	l.understood("Quantities", c.text, strings.Trim(fmt.Sprint(out), "[]"))
	return out
}

func (r *reader) readParts(t *table) {
	r.eachLine(t, func(l *line) int {
		p := orders.LoosePart{Source: l.source("Part"), Name: l.text("Part")}
		if p.Name == "" {
			p.Name = fmt.Sprintf("row %d", l.row.num)
		}
		p.Count = l.neededCount("Count").total()
		p.Length, p.Width, p.Thickness = l.size("Length"), l.size("Width"), l.size("Thickness")
		p.Wood = l.neededWood()
		p.Grain = orders.Grain(l.choice("Grain", "length", grainOfParts))
		p.Notes = l.notes()
		l.auditPart(&p)
		if !l.bad {
			r.order.Loose = append(r.order.Loose, p)
		}
		return p.Count
	})
}

var grainOfParts = map[string]string{
	"length": "length", "along": "length", "along length": "length", "lengthwise": "length", "long": "length", "along the length": "length", "l": "length",
	"either": "either", "any": "either", "no": "either", "none": "either", "free": "either", "any way": "either", "either way": "either",
}
