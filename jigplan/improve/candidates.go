package improve

import (
	"fmt"
	"reflect"
	"slices"
	"strconv"
	"strings"

	"batchwright/orders"
	"batchwright/orders/measure"
)

// Kind is what a change is about.
type Kind string

// The kinds of change, in the order they are tried.
const (
	Heights Kind = "heights" // finger-friendly, or shared with another box
	Lengths Kind = "lengths" // lengths and widths
	Counts  Kind = "counts"  // a box more or fewer
	Woods   Kind = "woods"   // another wood on the rack
	Bottoms Kind = "bottoms" // another way to hold the bottom
	Grain   Kind = "grain"   // grain free where it is matched
	Spares  Kind = "spares"  // no spare boxes or blanks
	Stacks  Kind = "stacks"  // stacks as large as the opening takes
	Tools   Kind = "tools"   // another rod or blade that the shop owns
	Several Kind = "several" // a set of changes
)

// Kinds are all that can be asked for.
var Kinds = []Kind{Heights, Lengths, Counts, Woods, Bottoms, Grain, Spares, Stacks, Tools}

// Change is one thing to try.
type Change struct {
	Kind  Kind
	Line  int // index into Order.Boxes; -1: the whole order
	Edits []orders.Edit
	Boxes int            // boxes more (1) or fewer (-1)
	Moves measure.Length // how far a size moves, without its sign
	parts []Change       // of Several
}

// subject is what the change is about: two changes of one subject exclude each
// other.
func (c *Change) subject() string {
	if len(c.Edits) == 0 {
		return ""
	}
	e := &c.Edits[0]
	if c.Boxes != 0 {
		return fmt.Sprint("boxes ", c.Line, c.Boxes)
	}
	return e.Sheet + "!" + e.Cell + " " + e.Column
}

// done reports whether reading the changed order changed what was meant and
// nothing else: a cell may be repeated below, or hold more than one fact.
func (c *Change) done(before, after *orders.Order) bool {
	if len(c.Edits) == 0 {
		return true
	}
	if len(before.Boxes) != len(after.Boxes) || len(before.Loose) != len(after.Loose) {
		return false
	}
	meant := map[int]bool{c.Line: true}
	for _, p := range c.parts {
		meant[p.Line] = true
	}
	changed := false
	for i := range before.Boxes {
		same := reflect.DeepEqual(before.Boxes[i], after.Boxes[i])
		if !same && !meant[i] {
			return false
		}
		changed = changed || !same
	}
	return changed || meant[-1]
}

// lister gathers the changes of an order.
type lister struct {
	order  *orders.Order
	limits Limits
	out    map[Kind][]Change
}

// Candidates lists every change of the kinds within the limits. The kinds take
// turns, the smallest changes first, so that any number of them from the start
// is a fair sample.
func Candidates(o *orders.Order, limits Limits, kinds []Kind) []Change {
	l := &lister{order: o, limits: limits, out: map[Kind][]Change{}}
	for i := range o.Boxes {
		l.sizes(i)
		l.counts(i)
		l.woods(i)
		l.bottoms(i)
		l.grain(i)
	}
	l.settings()
	if len(kinds) == 0 {
		kinds = Kinds
	}
	var out []Change
	for turn := 0; ; turn++ {
		before := len(out)
		for _, k := range kinds {
			list := l.out[k]
			slices.SortStableFunc(list, func(a, b Change) int { return int(a.Moves - b.Moves) })
			take := 1
			if k == Heights || k == Lengths {
				take = 2
			}
			out = append(out, list[min(turn*take, len(list)):min((turn+1)*take, len(list))]...)
		}
		if len(out) == before {
			return out
		}
	}
}

func (l *lister) add(c Change) {
	if len(c.Edits) > 0 {
		l.out[c.Kind] = append(l.out[c.Kind], c)
	}
}

// sizes moves one size of a box, in steps of a sixteenth of an inch or of a
// millimetre.
func (l *lister) sizes(i int) {
	b := &l.order.Boxes[i]
	limit := l.limits.Height
	if b.HeightMayVary > 0 {
		limit = b.HeightMayVary
	}
	l.moves(i, Heights, "Height", b.Height, limit)
	for k := range l.order.Boxes { // a height that another box has
		other := l.order.Boxes[k].Height
		if d := distance(other, b.Height); k != i && d > 0 && d <= limit && d%l.step(b.Height) != 0 {
			l.size(i, Heights, "Height", b.Height, other)
		}
	}
	if !b.Inside {
		l.moves(i, Lengths, "Length", b.Length, l.limits.Length)
		l.moves(i, Lengths, "Width", b.Width, l.limits.Width)
	}
}

// step is a sixteenth of an inch, or a millimetre for metric sizes.
func (l *lister) step(size measure.Length) measure.Length {
	if l.unit(size).Metric() {
		return measure.Millimetre
	}
	return measure.Inch / 16
}

// unit is the one a size was written in, as far as the number tells.
func (l *lister) unit(size measure.Length) measure.Unit {
	switch {
	case l.order.Settings.Units.Metric():
		return measure.Millimetres
	case size%(measure.Inch/64) != 0:
		return measure.Millimetres
	case size%(measure.Millimetre/2) != 0:
		return measure.Inches
	}
	return l.order.Settings.Units
}

func (l *lister) moves(i int, kind Kind, column string, size, limit measure.Length) {
	step := l.step(size)
	for d := step; d <= limit && d < size; d += step {
		l.size(i, kind, column, size, size-d)
		l.size(i, kind, column, size, size+d)
	}
}

func (l *lister) size(i int, kind Kind, column string, from, to measure.Length) {
	c := Change{Kind: kind, Line: i, Moves: distance(to, from)}
	c.Edits = l.edit(i, column, l.lengthText(to))
	l.add(c)
}

// lengthText is a length with its unit, as a person writes it.
func (l *lister) lengthText(size measure.Length) string {
	unit := l.order.Settings.Units.In(l.unit(size))
	if unit.Metric() {
		return unit.Mark(size.Decimal()) + " mm"
	}
	return size.ShowUnit(unit)
}

// exactText is a measured length: no unit loses anything of it.
func (l *lister) exactText(size measure.Length) string {
	text := size.Decimal() + " mm"
	if l.order.Settings.DecimalMark == "," {
		text = strings.Replace(text, ".", ",", 1)
	}
	return text
}

// edit writes a column of a box's row. A cell that holds several sizes is
// written whole, and cells below that repeat it are given what they repeated.
func (l *lister) edit(i int, column, text string) []orders.Edit {
	r, ok := l.reading(i, column)
	if !ok {
		return nil
	}
	e := orders.Edit{Sheet: r.Sheet, Cell: r.Cell, Column: column, From: r.Text, To: text}
	if shared := l.sharing(r); len(shared) > 1 {
		b := &l.order.Boxes[i]
		var sizes []string
		for _, name := range shared {
			size, known := map[string]measure.Length{"Length": b.Length, "Width": b.Width, "Height": b.Height}[name]
			switch {
			case name == column:
				sizes = append(sizes, text)
			case known:
				sizes = append(sizes, l.lengthText(size))
			default:
				return nil
			}
		}
		e.To = strings.Join(sizes, " x ")
	}
	return append([]orders.Edit{e}, l.repeats(r, column)...)
}

// reading is the cell of a box's row under a heading.
func (l *lister) reading(i int, column string) (orders.Reading, bool) {
	at := l.order.Boxes[i].Source
	for _, r := range l.order.Readings {
		if r.Sheet == at.Sheet && r.Heading == column && rowOf(r.Cell) == rowOf(at.Cell) {
			return r, true
		}
	}
	return orders.Reading{}, false
}

// sharing are the columns that were read from one cell, in order.
func (l *lister) sharing(at orders.Reading) (columns []string) {
	for _, r := range l.order.Readings {
		if r.Source == at.Source && !slices.Contains(columns, r.Heading) {
			columns = append(columns, r.Heading)
		}
	}
	return columns
}

// repeats spells out the ditto marks straight below a cell.
func (l *lister) repeats(at orders.Reading, column string) (out []orders.Edit) {
	value, last := at.Text, rowOf(at.Cell)
	if at.Ditto {
		return nil // what it repeats is not in this cell: the next ones may repeat it
	}
	for _, r := range l.order.Readings {
		if r.Sheet != at.Sheet || r.Heading != column || rowOf(r.Cell) <= last {
			continue
		}
		if !r.Ditto {
			return out
		}
		last = rowOf(r.Cell)
		out = append(out, orders.Edit{Sheet: r.Sheet, Cell: r.Cell, Column: column, From: r.Text, To: value})
	}
	return out
}

func rowOf(cell string) int {
	n, _ := strconv.Atoi(strings.TrimLeft(cell, "ABCDEFGHIJKLMNOPQRSTUVWXYZ"))
	return n
}

func distance(a, b measure.Length) measure.Length { return max(a-b, b-a) }

func (l *lister) counts(i int) {
	b := &l.order.Boxes[i]
	for _, d := range []int{1, -1} {
		if b.Count+d > b.Spare && b.Count+d > 0 {
			l.add(Change{Kind: Counts, Line: i, Boxes: d, Edits: l.edit(i, "Count", countText(b.Count+d, b.Spare))})
		}
	}
	if b.Spare > 0 && b.Count > b.Spare {
		l.add(Change{Kind: Spares, Line: i, Edits: l.edit(i, "Count", countText(b.Count-b.Spare, 0))})
	}
}

func countText(n, spare int) string {
	if spare > 0 {
		return fmt.Sprintf("%d+%d spare", n-spare, spare)
	}
	return strconv.Itoa(n)
}

// woods tries the other solid woods on the rack.
func (l *lister) woods(i int) {
	seen := map[string]bool{strings.ToLower(l.order.Boxes[i].Wood): true}
	for k := range l.order.Rack {
		wood := l.order.Rack[k].Wood
		if !l.order.Rack[k].Sheet && !seen[strings.ToLower(wood)] {
			seen[strings.ToLower(wood)] = true
			l.add(Change{Kind: Woods, Line: i, Edits: l.edit(i, "Wood", wood)})
		}
	}
}

func (l *lister) bottoms(i int) {
	b := &l.order.Boxes[i]
	if b.Bottom.Kind == orders.NoBottom || b.Bottom.Kind == "" {
		return
	}
	for _, kind := range []orders.BottomKind{orders.GrooveBottom, orders.RabbetBottom, orders.NailedBottom} {
		if kind == b.Bottom.Kind {
			continue
		}
		words := []string{string(kind)}
		if b.Bottom.Thickness > 0 {
			words = append(words, l.lengthText(b.Bottom.Thickness))
		}
		words = append(words, b.Bottom.Wood)
		l.add(Change{Kind: Bottoms, Line: i, Edits: l.edit(i, "Bottom", strings.TrimSpace(strings.Join(words, " ")))})
	}
}

func (l *lister) grain(i int) {
	b := &l.order.Boxes[i]
	if b.Opened {
		l.add(Change{Kind: Grain, Line: i, Edits: l.edit(i, "Grain", "matched")})
	}
	if b.Matched || b.Opened {
		l.add(Change{Kind: Grain, Line: i, Edits: l.edit(i, "Grain", "any")})
	}
}

// settings tries what the shop could do otherwise for the whole order.
func (l *lister) settings() {
	s := &l.order.Settings
	if s.Replaceable > 0 {
		l.setting(Stacks, "Largest stack", strconv.Itoa(s.Replaceable), "0")
	}
	if s.SpareBlanks > 0 {
		l.setting(Spares, "Spares per stack", strconv.Itoa(s.SpareBlanks), "0")
	}
	for _, own := range s.OwnBlades {
		if own.Size > 0 && own.Size != s.BladeKerf {
			l.setting(Tools, "Blade kerf", l.exactText(s.BladeKerf), l.exactText(own.Size))
		}
	}
	for _, own := range s.OwnRods {
		if own.Name != s.Rod {
			l.setting(Tools, "Rod", s.Rod, own.Name)
		}
	}
}

func (l *lister) setting(kind Kind, name, from, to string) {
	e := orders.Edit{Column: name, From: from, To: to}
	for _, at := range l.order.Readings {
		if at.Heading != "Setting" || !strings.EqualFold(at.Text, name) {
			continue
		}
		for _, r := range l.order.Readings {
			if r.Heading == "Value" && r.Sheet == at.Sheet && rowOf(r.Cell) == rowOf(at.Cell) {
				e.Sheet, e.Cell, e.From = r.Sheet, r.Cell, r.Text
			}
		}
	}
	l.add(Change{Kind: kind, Line: -1, Edits: []orders.Edit{e}})
}
