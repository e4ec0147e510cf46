package intake

import (
	"fmt"
	"slices"
	"strings"
	"unicode"

	"batchwright/orders"
	"batchwright/orders/measure"
	"batchwright/orders/woods"
)

// wood reads a wood's name and marks one that is not known.
func (l *line) wood(name string) string {
	c, ok := l.get(name)
	if !ok {
		return ""
	}
	switch {
	case !strings.ContainsFunc(c.text, unicode.IsLetter):
		l.fault(name, c.text, "this is not a wood: it has no letters", "write the wood; if the row has moved by a column, move it back")
		return ""
	case repeatsInPart(c.text):
		l.fault(name, c.text, "it repeats the wood above and adds something else", "write the wood itself")
		return ""
	}
	wood := l.properWood(name, c.text)
	l.understood(name, c.text, wood)
	return wood
}

// repeatsInPart knows a ditto with something behind it, as in same but walnut.
func repeatsInPart(text string) bool {
	return slices.ContainsFunc([]string{"same ", "ditto ", "as above "}, func(start string) bool {
		return len(text) > len(start) && strings.EqualFold(text[:len(start)], start)
	})
}

// neededWood is a wood that must be there; a missing column was said before.
func (l *line) neededWood() string {
	before := len(l.order.Findings)
	wood := l.wood("Wood")
	if wood == "" {
		if l.t.columns["Wood"] != nil && len(l.order.Findings) == before {
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
	wood := woods.Name(written)
	switch {
	case woods.Find(written) != nil || l.onBoards(wood):
		return wood
	case strings.ContainsAny(wood, digits):
		_, alone := splitSize(wood)
		l.warn(column, written, "the wood's name includes a size; used as written, and only boards of that name fit", "write "+woods.Name(alone)+" alone, and the size in its own column")
		return wood
	case woods.IsSheet(wood) && (isPlyOfKnown(wood) || woods.Nearest(wood) == ""):
		return wood
	}
	if l.t.layout == &rackLayout || l.t.layout == &yardLayout {
		if near := woods.Nearest(wood); near != "" {
			l.warn(column, written, "unknown wood; used as written", "write "+near+" if that is meant")
		}
		return wood
	}
	near := woods.Nearest(wood)
	if near == "" {
		l.warn(column, written, "unknown wood; used as written, and only boards of that name fit", "check the spelling, or add boards of it")
		return wood
	}
	l.warn(column, written, "read as "+near, "write "+near+" if you mean that, otherwise add boards of "+wood)
	return near
}

// isPlyOfKnown knows beech ply and the like: plywood of a known wood, which is
// no slip of the birch ply next to it.
func isPlyOfKnown(wood string) bool {
	face, _, ok := strings.Cut(wood, " ply")
	return ok && woods.Find(face) != nil
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
	unit := l.t.shows("Length", l.order.Settings.Units)
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
	unit := l.t.shows("Length", l.order.Settings.Units)
	if p.Length < p.Width && p.Grain == orders.AlongLength {
		l.warn("Length", p.Length.ShowUnit(unit), "the length is less than the width "+p.Width.ShowUnit(unit)+", so the grain runs the short way; planned as written", "swap the two if they were mixed up")
	}
}

func (l *line) auditBoard(b *orders.Board) {
	if l.bad {
		return
	}
	unit := l.t.shows("Length", l.order.Settings.Units)
	if b.Length < b.Width && !b.Sheet {
		l.warn("Length", b.Length.ShowUnit(unit), "the length is less than the width "+b.Width.ShowUnit(unit)+"; used as written", "swap the two if they were mixed up")
	}
}

// shows is the unit in which a size of the named column is said again: that of
// its heading, else the usual one.
func (t *table) shows(name string, usual measure.Unit) measure.Unit {
	if h := t.columns[name]; h != nil && (h.unit.Metric() || h.unit == measure.Centimetres) {
		return measure.Millimetres
	}
	return usual
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
	r.problem(orders.Error, at, "", "no boxes, parts or boards found", "fill in the Boxes sheet; batchwright new writes a blank order to start from")
}

// auditTitles asks about a title that names another unit than the one that
// sizes without a unit were read in.
func (r *reader) auditTitles(t *table) {
	usual := r.order.Settings.Units
	if t.columns[unitColumn] != nil {
		return
	}
	for _, title := range t.titles {
		unit := titleUnit(title.text)
		if unit == measure.NoUnit || unit == usual {
			continue
		}
		for _, name := range []string{"Length", "Width", "Height", "Thickness"} {
			if h := t.columns[name]; h != nil && h.unit == measure.NoUnit {
				r.problem(orders.Error, title.at, title.text, "it names a unit, but numbers without a unit were read as "+inWords(usual),
					"write the unit in the headings, as in "+name+" ("+unit.String()+"), or set Units on the Shop sheet")
				return
			}
		}
	}
}

func inWords(u measure.Unit) string {
	if u.Metric() {
		return "millimetres"
	}
	return "inches"
}

func (r *reader) countLines() {
	lines := len(r.order.Boxes) + len(r.order.Loose) + len(r.order.Rack) + len(r.order.Yard)
	if lines > MaxRows {
		r.problem(orders.Error, orders.Source{}, fmt.Sprint(lines), fmt.Sprintf("the order has %d lines; at most %d are planned at once", lines, MaxRows), "split the order")
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

type sizeKey struct {
	name, wood                       string
	length, width, height, thickness measure.Length
	inside                           bool
}
