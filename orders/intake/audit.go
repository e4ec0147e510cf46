package intake

import (
	"fmt"
	"slices"
	"strings"

	"batchwright/orders"
	"batchwright/orders/measure"
)

// wood reads a wood's name and marks one that is not known.
func (l *line) wood(name string) string {
	c, ok := l.get(name)
	if !ok {
		return ""
	}
	wood := l.properWood(name, c.text)
	l.understood(name, c.text, wood)
	return wood
}

// neededWood is a wood that must be there; a missing column was said before.
func (l *line) neededWood() string {
	before := len(l.order.Problems)
	wood := l.wood("Wood")
	if wood == "" {
		if l.t.columns["Wood"] != nil && len(l.order.Problems) == before {
			l.fault("Wood", "", "the wood is missing", "write the wood")
		}
		l.bad = true
	}
	return wood
}

// properWood is the name a wood goes by. A name that is a letter or two from a
// known wood is read as that one, and marked; one that is a board's own wood
// is taken as it is.
func (l *line) properWood(column, written string) string {
	if written == "" {
		return ""
	}
	wood := orders.WoodName(written)
	if orders.FindWood(written) != nil || l.onBoards(wood) || orders.IsSheetWood(wood) {
		return wood
	}
	if l.t.layout == &rackLayout || l.t.layout == &yardLayout {
		if near := orders.NearestWood(wood); near != "" {
			l.warn(column, written, "no wood is known by that name; used as it is written", "write "+near+" if that is meant")
		}
		return wood
	}
	near := orders.NearestWood(wood)
	if near == "" {
		l.warn(column, written, "no wood is known by that name; used as it is written, and only boards of that name fit", "check the spelling, or add boards of it")
		return wood
	}
	l.warn(column, written, "read as "+near, "write "+near+" if that is meant, else add boards of "+wood)
	return near
}

func (l *line) onBoards(wood string) bool {
	same := func(b orders.Board) bool { return b.Wood == wood }
	return slices.ContainsFunc(l.order.Rack, same) || slices.ContainsFunc(l.order.Yard, same)
}

// woods reads a list of woods.
func (l *line) woods(name string) []string {
	c, ok := l.get(name)
	if !ok {
		return nil
	}
	var out []string
	for part := range strings.FieldsFuncSeq(c.text, func(r rune) bool { return r == ';' || r == ',' || r == '/' || r == '\n' }) {
		if w := l.properWood(name, strings.TrimSpace(part)); w != "" {
			out = append(out, w)
		}
	}
	l.understood(name, c.text, strings.Join(out, ", "))
	return out
}

// auditBox looks for what is legal but odd in one box.
func (l *line) auditBox(b *orders.Box) {
	if l.bad {
		return
	}
	unit := l.order.Settings.Units
	if b.Length < b.Width {
		l.warn("Length", b.Length.ShowUnit(unit), "the length is less than the width "+b.Width.ShowUnit(unit)+"; planned as written", "swap the two if they were mixed up")
	}
	if b.Height > b.Length {
		l.warn("Height", b.Height.ShowUnit(unit), "the height is more than the length "+b.Length.ShowUnit(unit)+"; planned as written", "swap the two if they were mixed up")
	}
	if !b.Inside && (b.Length <= 2*b.EndThickness || b.Width <= 2*b.Thickness) {
		l.fault("Thickness", b.Thickness.ShowUnit(unit), "the walls leave no room inside", "check the sizes and their units")
	}
}

func (l *line) auditPart(p *orders.LoosePart) {
	if l.bad {
		return
	}
	unit := l.order.Settings.Units
	if p.Length < p.Width && p.Grain == orders.AlongLength {
		l.warn("Length", p.Length.ShowUnit(unit), "the length is less than the width "+p.Width.ShowUnit(unit)+", so the grain runs the short way; planned as written", "swap the two if they were mixed up")
	}
}

func (l *line) auditBoard(b *orders.Board) {
	if l.bad {
		return
	}
	unit := l.order.Settings.Units
	if b.Length < b.Width && !b.Sheet {
		l.warn("Length", b.Length.ShowUnit(unit), "the length is less than the width "+b.Width.ShowUnit(unit)+"; used as written", "swap the two if they were mixed up")
	}
}

// auditOrder looks at the order as a whole: too many parts, outliers, lines
// that say the same.
func (r *reader) auditOrder(tables []*table) {
	r.askForLines(tables)
	r.countLines()
	for _, t := range tables {
		r.auditTitles(t)
	}
	r.auditDuplicates()
	r.auditOutliers(tables)
}

// askForLines says so when there is nothing in the order at all.
func (r *reader) askForLines(tables []*table) {
	o := r.order
	if len(o.Boxes)+len(o.Loose)+len(o.Candidates)+len(o.Rack)+len(o.Yard) > 0 || o.HasShop || o.HasErrors() {
		return
	}
	at := orders.Source{}
	if len(tables) > 0 {
		at.Sheet = tables[0].name
	}
	r.problem(orders.Error, at, "", "there is no box, part or board in it", "fill in the Boxes sheet; batchwright new writes a blank order to start from")
}

// auditTitles asks about a title that names another unit than the one that
// sizes without a unit were read in.
func (r *reader) auditTitles(t *table) {
	usual := r.order.Settings.Units
	for _, title := range t.titles {
		unit := titleUnit(title.text)
		if unit == measure.NoUnit || unit == usual {
			continue
		}
		for _, name := range []string{"Length", "Width", "Height", "Thickness"} {
			if h := t.columns[name]; h != nil && h.unit == measure.NoUnit {
				r.problem(orders.Error, title.at, title.text, "it names a unit, but numbers without one were read in "+usual.String(),
					"write the unit in the headings, as in "+name+" ("+unit.String()+"), or set Units on the Shop sheet")
				return
			}
		}
	}
}

func (r *reader) countLines() {
	lines := len(r.order.Boxes) + len(r.order.Loose) + len(r.order.Rack) + len(r.order.Yard)
	if lines > MostRows {
		r.problem(orders.Error, orders.Source{}, fmt.Sprint(lines), fmt.Sprintf("the order has %d lines; at most %d are planned at once", lines, MostRows), "split the order")
	}
}

// auditDuplicates mentions lines that say the same; both stay.
func (r *reader) auditDuplicates() {
	boxes := map[sizeKey]orders.Source{}
	for _, b := range r.order.Boxes {
		k := sizeKey{"", b.Wood, b.Length, b.Width, b.Height, b.Thickness, b.Inside}
		r.mentionTwin(boxes, k, b.Source, b.Name)
	}
	parts := map[sizeKey]orders.Source{}
	for _, p := range r.order.Loose {
		k := sizeKey{p.Name, p.Wood, p.Length, p.Width, 0, p.Thickness, false}
		r.mentionTwin(parts, k, p.Source, p.Name)
	}
	ids := map[string]orders.Source{}
	for _, b := range r.order.Rack {
		if first, twice := ids[b.ID]; twice {
			r.problem(orders.Warning, b.Source, b.ID, "another board in "+first.String()+" has the same name; both are used", "give each board its own name")
		} else {
			ids[b.ID] = b.Source
		}
	}
}

func (r *reader) mentionTwin(seen map[sizeKey]orders.Source, k sizeKey, at orders.Source, name string) {
	if first, twice := seen[k]; twice {
		r.problem(orders.Note, at, name, "the same size and wood as in "+first.String()+"; both are planned", "remove one if it was entered twice")
		return
	}
	seen[k] = at
}

// auditOutliers warns of a size more than four times its column's median, the
// mark of millimetres among inches.
func (r *reader) auditOutliers(tables []*table) {
	type entry struct {
		at    orders.Source
		value measure.Length
	}
	check := func(what string, entries []entry) {
		if len(entries) < 4 {
			return
		}
		sorted := slices.Clone(entries)
		slices.SortFunc(sorted, func(a, b entry) int { return int(a.value/measure.Micrometre - b.value/measure.Micrometre) })
		median := sorted[len(sorted)/2].value
		unit := r.order.Settings.Units
		for _, e := range entries {
			if e.value > 4*median {
				r.problem(orders.Warning, e.at, e.value.ShowUnit(unit), fmt.Sprintf("more than four times the usual %s, %s; planned as written", what, median.ShowUnit(unit)), "check the unit: millimetres among inches look like this")
			}
		}
	}
	for _, column := range []struct {
		name string
		of   func(*orders.Box) measure.Length
	}{
		{"Length", func(b *orders.Box) measure.Length { return b.Length }},
		{"Width", func(b *orders.Box) measure.Length { return b.Width }},
		{"Height", func(b *orders.Box) measure.Length { return b.Height }},
		{"Thickness", func(b *orders.Box) measure.Length { return b.Thickness }},
	} {
		var entries []entry
		for i := range r.order.Boxes {
			b := &r.order.Boxes[i]
			entries = append(entries, entry{columnOf(tables, &boxesLayout, b.Source, column.name), column.of(b)})
		}
		check(strings.ToLower(column.name), entries)
	}
}

// columnOf is the cell of another column in the same row.
func columnOf(tables []*table, l *layout, at orders.Source, name string) orders.Source {
	_, row, _ := parseRef(at.Cell)
	for _, t := range tables {
		if h := t.columns[name]; t.layout == l && t.name == at.Sheet && h != nil {
			return orders.Source{Sheet: at.Sheet, Cell: cellName(h.col, row)}
		}
	}
	return at
}

type sizeKey struct {
	name, wood                       string
	length, width, height, thickness measure.Length
	inside                           bool
}
