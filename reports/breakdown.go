package reports

import (
	"slices"

	"batchwright/nesting"
	"batchwright/orders/measure"
)

// node is a rectangle of a board: what is left of it when some cuts are made.
// It is taken apart by its cut, or it is a part, an offcut or waste.
type node struct {
	x0, y0, x1, y1 measure.Length
	pieces         []int // indices into the layout's pieces
	keep           bool  // an offcut that goes back to the rack
	cut            *nesting.Cut
	before, after  *node  // of the cut; nil: none
	from           *node  // what it was cut from; nil: the board
	name           string // "strip 2", where it is taken apart in a stage of its own
}

// takeApart follows the cuts through the board: each takes apart the rectangle
// it goes through.
func (l *Layout) takeApart(b *nesting.CutBoard) {
	l.root = &node{x1: b.Length, y1: b.Width}
	l.fill(l.root, b)
	leaves := []*node{l.root}
	for i := range b.Cuts {
		c := &b.Cuts[i]
		s := CutSetting{Cut: c}
		for at, n := range leaves {
			if !n.holds(c) {
				continue
			}
			n.split(c)
			l.fill(n.before, b)
			l.fill(n.after, b)
			s.of = n
			leaves = append(append(append([]*node{}, leaves[:at]...), n.before, n.after), leaves[at+1:]...)
			break
		}
		l.Cuts = append(l.Cuts, s)
	}
	for i := range l.Cuts {
		l.Cuts[i].Gets = l.Cuts[i].gets()
	}
}

// gets is what is before the kerf, and what is after it where that is taken
// apart no further.
func (c *CutSetting) gets() []*node {
	if c.of == nil {
		return nil
	}
	out := []*node{c.of.before}
	if after := c.of.after; after.cut == nil && (len(after.pieces) > 0 || after.keep) {
		out = append(out, after)
	}
	return out
}

// fill notes which pieces lie in a rectangle, and whether it is kept.
func (l *Layout) fill(n *node, b *nesting.CutBoard) {
	for i, p := range l.Pieces {
		if n.around(p.X, p.Y, p.Length, p.Width) {
			n.pieces = append(n.pieces, i)
		}
	}
	for _, o := range b.Offcuts {
		if o.Keep && len(n.pieces) == 0 && n.around(o.X, o.Y, o.Length, o.Width) {
			n.keep = true
		}
	}
}

func (n *node) around(x, y, l, w measure.Length) bool {
	return x >= n.x0 && x+l <= n.x1 && y >= n.y0 && y+w <= n.y1
}

// holds reports whether the cut runs through the rectangle from side to side. A
// cut may take off less than its kerf: then it begins before the rectangle does.
func (n *node) holds(c *nesting.Cut) bool {
	if c.Kind == nesting.Crosscut {
		return c.At+c.Kerf > n.x0 && c.At < n.x1 && c.From == n.y0 && c.To == n.y1
	}
	return c.At+c.Kerf > n.y0 && c.At < n.y1 && c.From == n.x0 && c.To == n.x1
}

func (n *node) split(c *nesting.Cut) {
	before, after := *n, *n
	before.pieces, after.pieces, before.keep, after.keep = nil, nil, false, false
	before.from, after.from = n, n
	if c.Kind == nesting.Crosscut {
		before.x1, after.x0 = max(c.At, n.x0), min(c.At+c.Kerf, n.x1)
	} else {
		before.y1, after.y0 = max(c.At, n.y0), min(c.At+c.Kerf, n.y1)
	}
	n.cut, n.before, n.after = c, &before, &after
}

// Stage is a board, or one strip of it, taken apart: one drawing with its steps.
type Stage struct {
	Title               string // "strip 2"; empty: the whole board
	X, Y, Length, Width measure.Length
	Steps               []BoardStep
	Strips              []StripArea // what later stages take apart
	Pieces              []int       // drawn as parts
}

// StripArea is a rectangle of a board with a name.
type StripArea struct {
	Name                string
	X, Y, Length, Width measure.Length
}

// A stage with more cuts to set or more parts than this is taken apart further;
// so few parts are no stage of their own.
const (
	maxSteps   = 10
	maxInOne   = 14
	tooManyFew = 3
)

// Stages is how a board is taken apart: in one stage, or where that is too much
// for one drawing, into strips and then strip by strip.
func (l *Layout) Stages(names Names, w Words) []Stage {
	inside, named := map[*node][]CutSetting{}, 0
	for _, c := range l.Cuts {
		for _, n := range append(c.of.upTo(l.root), l.root) {
			inside[n] = append(inside[n], c)
		}
	}
	fits := func(n *node) bool {
		return len(n.pieces) <= maxInOne && len(l.steps(inside[n], names, w)) <= maxSteps
	}
	if fits(l.root) {
		return []Stage{l.stage(l.root, "", l.Cuts, nil, names, w)}
	}
	var out []Stage
	for open := []*node{l.root}; len(open) > 0; open = open[1:] {
		n := open[0]
		strips := l.stripsIn(n, inside, fits)
		rest := slices.Clone(inside[n])
		for _, strip := range strips {
			strip.name = strip.kind(l.root) + " " + letters(named)
			named++
			rest = slices.DeleteFunc(rest, func(c CutSetting) bool { return slices.Contains(c.of.upTo(n), strip) })
		}
		out = append(out, l.stage(n, n.name, rest, strips, names, w))
		open = append(open, strips...)
	}
	return out
}

// letters counts A, B ... Z, AA.
func letters(i int) string {
	if i < 26 {
		return string(rune('A' + i))
	}
	return letters(i/26-1) + letters(i%26)
}

// kind is what a rectangle is called: a length has the board's whole width.
func (n *node) kind(root *node) string {
	if n.y0 == root.y0 && n.y1 == root.y1 {
		return "length"
	}
	return "strip"
}

// upTo is the rectangle and those around it, up to one of them.
func (n *node) upTo(end *node) (out []*node) {
	for ; n != nil && n != end; n = n.from {
		out = append(out, n)
	}
	return out
}

// stripsIn finds the largest rectangles within one that have a stage of their
// own. A strip that is cut before the planing is none: its cuts would come late.
func (l *Layout) stripsIn(root *node, inside map[*node][]CutSetting, fits func(*node) bool) (out []*node) {
	if fits(root) {
		return nil
	}
	planed := 0
	for i := range l.mills {
		planed = max(planed, l.mills[i].AfterCut)
	}
	var walk func(n *node)
	walk = func(n *node) {
		switch {
		case n == nil || n.cut == nil || len(n.pieces) <= tooManyFew:
		case n != root && inside[n][0].N > planed && (fits(n) || !n.parts()):
			out = append(out, n)
		default:
			walk(n.before)
			walk(n.after)
		}
	}
	walk(root)
	return out
}

// parts reports whether a rectangle can be taken apart into two of which one
// is a strip of its own.
func (n *node) parts() bool {
	return len(n.before.pieces) > tooManyFew || len(n.after.pieces) > tooManyFew
}

func (l *Layout) stage(n *node, title string, cuts []CutSetting, strips []*node, names Names, w Words) Stage {
	s := Stage{Title: title, X: n.x0, Y: n.y0, Length: n.x1 - n.x0, Width: n.y1 - n.y0}
	in := map[int]bool{}
	for _, strip := range strips {
		s.Strips = append(s.Strips, StripArea{strip.name, strip.x0, strip.y0, strip.x1 - strip.x0, strip.y1 - strip.y0})
		for _, i := range strip.pieces {
			in[i] = true
		}
	}
	for _, i := range n.pieces {
		if !in[i] {
			s.Pieces = append(s.Pieces, i)
		}
	}
	s.Steps = l.withMilling(l.steps(cuts, names, w), n == l.root, names, w)
	return s
}
