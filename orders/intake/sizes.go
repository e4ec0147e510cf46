package intake

import (
	"slices"
	"strings"
	"unicode"

	"batchwright/orders"
	"batchwright/orders/measure"
)

// A column such as Size (L x W x H) holds several sizes in one cell. Its
// heading is parted into one heading a size, all over the same column.

// sizeWords head such a column; they say nothing of which size comes first.
var sizeWords = []string{"size", "sizes", "dimension", "dimensions", "dims", "dim", "measurements", "box", "part", "board", "overall", "finished", "x", "by", "and", "in"}

// sizeNames are the sizes a heading may list. Depth is the one of Width and
// Height that is not listed beside it.
var sizeNames = map[string]string{
	"l": "Length", "len": "Length", "length": "Length", "long": "Length",
	"w": "Width", "wd": "Width", "width": "Width", "wide": "Width",
	"h": "Height", "ht": "Height", "height": "Height", "high": "Height",
	"t": "Thickness", "thk": "Thickness", "thick": "Thickness", "thickness": "Thickness",
	"d": "depth", "depth": "depth", "deep": "depth",
}

// sizesOf reads a folded heading as a list of sizes; bare is true for a
// heading that names sizes but not their order.
func (l *layout) sizesOf(plain string) (sizes []string, bare bool) {
	for word := range strings.FieldsSeq(plain) {
		if slices.Contains(sizeWords, word) {
			bare = bare || word != "x" && word != "by" && word != "and" && word != "in"
			continue
		}
		for part := range strings.SplitSeq(word, "x") {
			name := sizeNames[part]
			if name == "" || slices.Contains(sizes, name) {
				return nil, false
			}
			sizes = append(sizes, name)
		}
	}
	if sizes = l.withoutDepth(sizes); len(sizes) > 1 {
		return sizes, false
	}
	return nil, bare && len(sizes) == 0 && (plain != "box" && plain != "part" && plain != "board")
}

// withoutDepth says which size a listed depth is: nil when it may be either,
// or when a size is no column of this sheet.
func (l *layout) withoutDepth(sizes []string) []string {
	has := func(name string) bool { return slices.Contains(sizes, name) }
	for i, name := range sizes {
		switch {
		case name == "depth" && has("Length") && has("Width") && !has("Height"):
			sizes[i] = "Height"
		case name == "depth" && has("Length") && has("Height") && !has("Width"):
			sizes[i] = "Width"
		}
		if !l.has(sizes[i]) {
			return nil
		}
	}
	return sizes
}

// lacksOrder reports whether a column of sizes cannot be read, because nothing
// says which size stands first.
func (t *table) lacksOrder(h *heading) bool {
	return h.unordered && (t.columns["Length"] == nil || t.columns["Width"] == nil)
}

// takeSizes finds out whether a heading that is no column's own holds several.
// Among boxes, length by width by height is how sizes are told (common
// practice); boards and loose parts are told in either order, so there the
// heading must say.
func (l *layout) takeSizes(h *heading, plain string) {
	sizes, bare := l.sizesOf(plain)
	switch {
	case sizes != nil:
		h.sizes = sizes
	case bare && l.has("Height"):
		h.sizes, h.guessed = []string{"Length", "Width", "Height"}, true
	case l.has("Length") && (bare || strings.Count(" "+plain+" ", " x ") > 1):
		h.unordered = true
	}
}

// partSizes gives each size of a combined column its own heading, when no
// column of its own holds it.
func (t *table) partSizes() {
	for i := range t.headings {
		h := t.headings[i]
		own := func(n string) bool { return t.columns[n] != nil }
		if h.guessed {
			h.sizes = slices.DeleteFunc(slices.Clone(h.sizes), own) // Size beside Height is length and width
		}
		if h.name != "" || len(h.sizes) < 2 || slices.ContainsFunc(h.sizes, own) {
			continue
		}
		for n, name := range h.sizes {
			one := h
			one.name, one.piece, one.pieces = name, n, len(h.sizes)
			if n == 0 {
				t.headings[i] = one
			} else {
				t.headings = append(t.headings, one)
			}
		}
		for j := range t.headings {
			if one := &t.headings[j]; one.pieces > 0 && one.col == h.col {
				t.columns[one.name] = one
			}
		}
		return // a second such column says the same again
	}
}

// pieceOf takes one size out of a cell such as 12 x 8 x 3 1/2; a unit behind
// the last holds for those that have none. What is wrong with the whole cell
// is said once, at its first size.
func (l *line) pieceOf(h *heading, c cell) (cell, bool) {
	fault := func(did, fix string) (cell, bool) {
		if h.piece == 0 {
			l.fault(h.name, c.text, did, fix)
		}
		l.bad = true
		return cell{}, false
	}
	var sizes []string
	if c.kind == textCell {
		sizes = splitSizes(c.text)
	}
	if len(sizes) != h.pieces {
		example := []string{"12 x 8", "12 x 8 x 3-1/2", "12 x 8 x 3-1/2 x 1/2"}[h.pieces-2]
		return fault("not read as "+strings.ToLower(strings.Join(h.sizes, " x ")), "write it like "+example+", in that order")
	}
	sizes, named := byName(sizes, h.sizes)
	l.t.orderTaken = l.t.orderTaken || h.guessed && !named
	common, unit := writtenUnit(sizes[len(sizes)-1])
	with := slices.IndexFunc(sizes, func(s string) bool { _, w := writtenUnit(s); return w != "" })
	without := slices.IndexFunc(sizes, func(s string) bool { _, w := writtenUnit(s); return w == "" && roughClass(s) == "" })
	switch {
	case with >= 0 && without >= 0 && common == measure.NoUnit:
		return fault("a size in it has no unit, and others have one", "write one unit behind the last size, or a unit behind each")
	case without >= 0 && common != measure.NoUnit:
		if _, own := writtenUnit(sizes[h.piece]); own == "" && sizes[h.piece] != "" {
			sizes[h.piece] += " " + unit
		}
	}
	c.text = sizes[h.piece]
	return c, c.text != ""
}

// splitSizeName parts 12" L or 8 wide into the size and its name; the name is
// "" when none is written.
func splitSizeName(text string) (size, name string) {
	end := strings.TrimRightFunc(text, unicode.IsLetter)
	return sizeAndName(text, end, text[len(end):])
}

// nameBeforeSize parts L12 or H: 4" in the same way.
func nameBeforeSize(text string) (size, name string) {
	start := strings.TrimLeftFunc(text, unicode.IsLetter)
	return sizeAndName(text, strings.TrimLeft(start, " =:"), text[:len(text)-len(start)])
}

func sizeAndName(text, size, word string) (string, string) {
	name := sizeNames[strings.ToLower(word)]
	if name == "" || !strings.ContainsAny(size, digits) {
		return text, ""
	}
	return strings.TrimSpace(size), name
}

// withoutSizeName takes the name of its own column from behind a size; another
// column's stays, and is refused with the length. So does a small l at a digit,
// which may be a 1.
func withoutSizeName(column string, c cell) string {
	size, name := splitSizeName(c.text)
	if c.kind == textCell && c.text != size+"l" && (name == column || name == "depth" && (column == "Width" || column == "Height")) {
		return size
	}
	return c.text
}

// byName puts sizes that all have their names beside them into the order of
// the heading, without the names; named is false when one has none.
func byName(sizes, order []string) (out []string, named bool) {
	out = make([]string, len(order))
	for _, s := range sizes {
		size, name := splitSizeName(s)
		if name == "" {
			size, name = nameBeforeSize(s)
		}
		i := slices.Index(order, name)
		if i < 0 || out[i] != "" {
			return sizes, false
		}
		out[i] = size
	}
	return out, true
}

// splitSizes parts "12 x 8 x 3" at its crosses.
func splitSizes(text string) []string {
	plain := strings.NewReplacer("×", "x", "✕", "x", "*", "x", "X", "x", " by ", " x ", " BY ", " x ").Replace(text)
	sizes := strings.Split(plain, "x")
	for i := range sizes {
		sizes[i] = strings.TrimSpace(sizes[i])
	}
	return sizes
}

// writtenUnit is the unit behind a size, and how it is written.
func writtenUnit(size string) (unit measure.Unit, written string) {
	end := strings.LastIndexFunc(size, func(r rune) bool {
		return r >= '0' && r <= '9' || strings.ContainsRune("½¼¾⅛⅜⅝⅞⅓⅔⅙⅚⅕⅖⅗⅘", r)
	})
	if end < 0 {
		return measure.NoUnit, ""
	}
	_, written, _ = strings.Cut(size[end:], string([]rune(size[end:])[0]))
	written = strings.TrimSpace(written)
	return headingUnits[strings.ToLower(strings.TrimRight(written, "."))], written
}

// reportOrderTaken warns of a heading that does not say in which order sizes
// stand, when a cell beneath it does not say so either.
func (r *reader) reportOrderTaken(t *table) {
	for i := range t.headings {
		if h := &t.headings[i]; t.orderTaken && h.pieces > 0 && h.piece == 0 && h.guessed {
			of := strings.Join(h.sizes, " x ")
			r.problem(orders.Warning, t.placeOf(h), h.text, "read as "+strings.ToLower(of)+", in that order", "write Size ("+of+") as the heading to be sure, or give each size its own column")
		}
	}
}

// reportSizes says why a combined column was not taken apart.
func (r *reader) reportSizes(t *table, h *heading, at orders.Source) {
	third := "T"
	if t.layout.has("Height") {
		third = "H"
	}
	if t.lacksOrder(h) {
		r.problem(orders.Error, at, h.text, "the heading does not say which size is which; column skipped", "write the order in the heading, as in Size (L x W x "+third+"), or give each size its own column")
	}
}
