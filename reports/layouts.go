package reports

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"batchwright/jigplan"
	"batchwright/nesting"
	"batchwright/orders"
	"batchwright/orders/measure"
)

// Layout is one way of cutting up a board, and all the boards cut so.
type Layout struct {
	Boards []*nesting.Board // equal in size, defects, pieces and cuts
	Pieces []LayoutPiece
	Cuts   []CutSetting
	Kept   []nesting.Offcut
	Used   float64 // share of the board that becomes parts, 0 to 1
}

// LayoutPiece is one piece of a layout; N is its number in the drawing. Part
// is the one on the first board.
type LayoutPiece struct {
	N    int
	Part *orders.Part
	*nesting.Piece
}

// CutSetting is a cut, set as the plan says, and what it sets free.
type CutSetting struct {
	*nesting.Cut
	Yields Yield
}

// Yield is what lies between the stop or fence and the kerf: a piece, a strip
// of several, or what is no part at all.
type Yield struct {
	Pieces []int  // numbers of the layout
	Else   string // "offcut to keep", "trim or waste"; empty where pieces lie
}

// CutRun is cuts that follow each other at one setting: the stop or fence is
// set once.
type CutRun struct {
	First  CutSetting
	Last   int // number of the last cut of the run
	Yields []Yield
}

// Runs joins neighbouring cuts of one kind and setting.
func (l Layout) Runs() []CutRun {
	var out []CutRun
	for _, c := range l.Cuts {
		n := len(out)
		if n > 0 && out[n-1].goesOn(c) {
			out[n-1].Last = c.N
			out[n-1].Yields = append(out[n-1].Yields, c.Yields)
			continue
		}
		out = append(out, CutRun{c, c.N, []Yield{c.Yields}})
	}
	return out
}

func (r CutRun) goesOn(c CutSetting) bool {
	f := r.First
	return f.Kind == c.Kind && f.Guide == c.Guide && f.Set == c.Set && f.Reference == c.Reference &&
		r.Trim() == c.trim() && f.Rough == c.Rough && r.Last+1 == c.N
}

// Trim is what the first cut takes off where no part lies below it, else 0.
func (r CutRun) Trim() measure.Length { return r.First.trim() }

func (c CutSetting) trim() measure.Length {
	if len(c.Yields.Pieces) > 0 {
		return 0
	}
	return c.Takes
}

// Numbers is "4", or "4-7" for a run of several.
func (r CutRun) Numbers() string {
	if r.Last == r.First.N {
		return strconv.Itoa(r.First.N)
	}
	return fmt.Sprintf("%d-%d", r.First.N, r.Last)
}

// Off is what comes off at the cuts of the run, equal names once.
func (r CutRun) Off() string {
	var single []int
	var rest []string
	for _, y := range r.Yields {
		text := y.Else
		switch len(y.Pieces) {
		case 0:
		case 1:
			single = append(single, y.Pieces[0])
			continue
		default:
			text = "strip of " + Ranges(y.Pieces)
		}
		if !slices.Contains(rest, text) {
			rest = append(rest, text)
		}
	}
	switch len(single) {
	case 0:
	case 1:
		rest = append(rest, fmt.Sprintf("piece %d", single[0]))
	default:
		rest = append(rest, "pieces "+Ranges(single))
	}
	return strings.Join(rest, ", ")
}

// Layouts groups the boards that are cut alike, in the plan's order.
func Layouts(p *jigplan.Plan) []Layout {
	parts := map[string]*orders.Part{}
	for i := range p.Parts {
		parts[p.Parts[i].ID] = &p.Parts[i]
	}
	index := map[string]int{}
	var out []Layout
	for i := range p.Layout.Boards {
		b := &p.Layout.Boards[i]
		key := layoutKey(b, parts)
		at, ok := index[key]
		if !ok {
			at = len(out)
			index[key] = at
			out = append(out, newLayout(b, parts))
		}
		out[at].Boards = append(out[at].Boards, b)
	}
	return out
}

// layoutKey is equal for boards that are cut alike into like parts.
func layoutKey(b *nesting.Board, parts map[string]*orders.Part) string {
	var key strings.Builder
	fmt.Fprint(&key, b.Stock.Wood, b.Stock.Class, b.Length, b.Width, b.Thickness, b.Leaf.Count, b.Stock.Defects, b.Cuts, b.Offcuts)
	for _, piece := range b.Pieces {
		fmt.Fprint(&key, piece.X, piece.Y, piece.Length, piece.Width, piece.Turned)
		if part := parts[piece.Part]; part != nil {
			key.WriteString(Label(part))
		}
	}
	return key.String()
}

func newLayout(b *nesting.Board, parts map[string]*orders.Part) Layout {
	l := Layout{}
	var used measure.Area
	for i := range b.Pieces {
		piece := &b.Pieces[i]
		part := parts[piece.Part]
		if part == nil {
			part = &orders.Part{ID: piece.Part}
		}
		l.Pieces = append(l.Pieces, LayoutPiece{i + 1, part, piece})
		used = used.Add(piece.Length.Times(piece.Width))
	}
	for _, o := range b.Offcuts {
		if o.Keep {
			l.Kept = append(l.Kept, o)
		}
	}
	if whole := b.Length.Times(b.Width).SquareMillimetres(); whole > 0 {
		l.Used = used.SquareMillimetres() / whole
	}
	l.Cuts = settingsInOrder(b, l.Pieces)
	return l
}

// region is a rectangle of board that has not been cut further.
type region struct{ x0, y0, x1, y1 measure.Length }

// settingsInOrder follows the cuts through the board: each takes the region it
// goes through apart.
func settingsInOrder(b *nesting.Board, pieces []LayoutPiece) []CutSetting {
	regions := []region{{0, 0, b.Length, b.Width}}
	var out []CutSetting
	for i := range b.Cuts {
		c := &b.Cuts[i]
		s := CutSetting{Cut: c}
		for at, r := range regions {
			if !r.holds(c) {
				continue
			}
			before, after := r.split(c)
			s.Yields = before.what(b, pieces)
			regions = append(append(append([]region{}, regions[:at]...), before, after), regions[at+1:]...)
			break
		}
		out = append(out, s)
	}
	return out
}

// holds reports whether the cut runs through the region from side to side. A
// cut may take off less than its kerf: then it begins before the region does.
func (r region) holds(c *nesting.Cut) bool {
	if c.Kind == nesting.Crosscut {
		return c.At+c.Kerf > r.x0 && c.At < r.x1 && c.From == r.y0 && c.To == r.y1
	}
	return c.At+c.Kerf > r.y0 && c.At < r.y1 && c.From == r.x0 && c.To == r.x1
}

func (r region) split(c *nesting.Cut) (before, after region) {
	before, after = r, r
	if c.Kind == nesting.Crosscut {
		before.x1, after.x0 = max(c.At, r.x0), min(c.At+c.Kerf, r.x1)
	} else {
		before.y1, after.y0 = max(c.At, r.y0), min(c.At+c.Kerf, r.y1)
	}
	return before, after
}

// what names a region: the pieces that lie in it, an offcut, a trim or waste.
func (r region) what(b *nesting.Board, pieces []LayoutPiece) Yield {
	var inside []int
	for _, p := range pieces {
		if p.X >= r.x0 && p.X+p.Length <= r.x1 && p.Y >= r.y0 && p.Y+p.Width <= r.y1 {
			inside = append(inside, p.N)
		}
	}
	if len(inside) > 0 {
		return Yield{Pieces: inside}
	}
	for _, o := range b.Offcuts {
		if o.Keep && o.X >= r.x0 && o.X+o.Length <= r.x1 && o.Y >= r.y0 && o.Y+o.Width <= r.y1 {
			return Yield{Else: "offcut to keep"}
		}
	}
	return Yield{Else: "trim or waste"}
}
