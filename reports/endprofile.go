package reports

import (
	"sort"

	"batchwright/jigplan"
	"batchwright/orders"
	"batchwright/orders/measure"
)

// Span is a stretch of a board's height, measured from its marked edge.
type Span struct{ From, To measure.Ratio }

// EndProfile is the end of one board as the blade leaves it: its slots from the
// marked edge up. What stands between two slots, or between a slot and an
// edge, is a pin.
type EndProfile struct {
	Height measure.Length
	Slots  []Span
}

// EndOf is what a program's cuts leave of a board's end: the union of its
// kerfs, cut off at the edges. It knows nothing of slots and pins as the
// program names them, so it shows what is really cut.
func EndOf(p *jigplan.Program, h *jigplan.Height, row orders.Row) EndProfile {
	setback := h.Shim
	if row == orders.RowB && p.Rows == jigplan.BothRows {
		setback = setback.Add(p.Spacer)
	}
	kerfs := make([]Span, len(p.Steps))
	for i := range p.Steps {
		from := p.Origin.Add(p.Steps[i].Travel).Sub(setback)
		kerfs[i] = Span{from.Sub(p.SecondPass), from.Add(p.Kerf.Ratio())}
	}
	return EndProfile{h.Height, clip(union(kerfs), h.Height.Ratio())}
}

// union joins spans that touch or overlap.
func union(spans []Span) []Span {
	sort.Slice(spans, func(i, j int) bool { return spans[i].From.Cmp(spans[j].From) < 0 })
	var out []Span
	for _, s := range spans {
		last := len(out) - 1
		switch {
		case last < 0 || s.From.Cmp(out[last].To) > 0:
			out = append(out, s)
		case s.To.Cmp(out[last].To) > 0:
			out[last].To = s.To
		}
	}
	return out
}

func clip(spans []Span, height measure.Ratio) []Span {
	var out []Span
	for _, s := range spans {
		if s.From.Sign() < 0 {
			s.From = measure.Ratio{}
		}
		if s.To.Cmp(height) > 0 {
			s.To = height
		}
		if s.From.Cmp(s.To) < 0 {
			out = append(out, s)
		}
	}
	return out
}

// Pins are the stretches the blade leaves.
func (c EndProfile) Pins() []Span {
	var out []Span
	at := measure.Ratio{}
	for _, s := range append(append([]Span{}, c.Slots...), Span{c.Height.Ratio(), c.Height.Ratio()}) {
		if at.Cmp(s.From) < 0 {
			out = append(out, Span{at, s.From})
		}
		at = s.To
	}
	return out
}

// Fingers counts the pins wider than least: what is thinner is a graze at an
// edge, or a fin to be broken off, and no finger.
func (c EndProfile) Fingers(least measure.Ratio) int {
	n := 0
	for _, pin := range c.Pins() {
		if pin.To.Sub(pin.From).Cmp(least) > 0 {
			n++
		}
	}
	return n
}

// Wide is the width of the span.
func (s Span) Wide() measure.Ratio { return s.To.Sub(s.From) }
