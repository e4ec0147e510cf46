package solve

// plan is a filling without coordinates: a shape, or two plans side by side.
type plan struct {
	cut       Direction // Either: one shape
	at        int64     // of the cut, kerfs included; 0: close to what lies in low
	shape     shape
	low, high *plan

	length, width int64 // its size, once asked for
}

// count adds the copies of each part in p to made.
func (p *plan) count(made []int) {
	switch {
	case p == nil:
	case p.cut == Either:
		made[p.shape.part]++
	default:
		p.low.count(made)
		p.high.count(made)
	}
}

// size returns the least rectangle, kerfs included, that p can be cut from.
func (p *plan) size() (length, width int64) {
	if p == nil {
		return 0, 0
	}
	if p.length > 0 {
		return p.length, p.width
	}
	if p.cut == Either {
		return p.shape.length, p.shape.width
	}
	l1, w1 := p.low.size()
	l2, w2 := p.high.size()
	p.length, p.width = max(l1, l2), w1+w2
	if p.cut == Across {
		p.length, p.width = l1+l2, max(w1, w2)
	}
	return p.length, p.width
}

// layout gives p its coordinates: how the whole plate is cut.
func (p *plan) layout(b *board) *Node {
	l := layouter{b}
	first := Either
	if b.rules.Stages > 0 && p != nil {
		first = p.cut
	}
	return l.node(p, Rect{0, 0, b.length, b.width}, first)
}

// layouter turns plans into nodes; its rectangles have the kerf in them until
// they are written to a node.
type layouter struct{ b *board }

// node cuts p from r. stage is the way cuts run at this stage, Either when any
// way is as good.
func (l layouter) node(p *plan, r Rect, stage Direction) *Node {
	if p == nil {
		return l.bare(r)
	}
	if p.at > 0 {
		return l.cut(r, p.cut, p.at, p.low, p.high, stage)
	}
	length, width := p.size()
	switch {
	case l.trimAcross(p, r, length, width, stage):
		return l.cut(r, Across, length, p, nil, stage)
	case l.trimAlong(p, r, length, width, stage):
		return l.cut(r, Along, width, p, nil, stage)
	case p.cut == Across:
		at, _ := p.low.size()
		return l.cut(r, Across, at, p.low, p.high, stage)
	case p.cut == Along:
		_, at := p.low.size()
		return l.cut(r, Along, at, p.low, p.high, stage)
	}
	n := l.bare(r)
	n.Part, n.Turned = p.shape.part, p.shape.turned
	return n
}

// trimAcross reports whether what lies beyond p's length is cut off now. Free
// cutting takes the larger piece off first; in stages a cut waits for its own.
func (l layouter) trimAcross(p *plan, r Rect, length, width int64, stage Direction) bool {
	if length == r.Length || stage == Along && p.cut != Either && width < r.Width {
		return false
	}
	if l.b.rules.Stages > 0 {
		return p.cut == Across || p.cut == Either && (stage != Along || width == r.Width)
	}
	return (r.Length-length)*r.Width >= (r.Width-width)*r.Length || width == r.Width
}

func (l layouter) trimAlong(p *plan, r Rect, length, width int64, stage Direction) bool {
	if width == r.Width {
		return false
	}
	if l.b.rules.Stages > 0 {
		return p.cut == Along || p.cut == Either && (stage == Along || length == r.Length)
	}
	return true
}

// cut splits r at distance at from its origin corner.
func (l layouter) cut(r Rect, cut Direction, at int64, low, high *plan, stage Direction) *Node {
	n := l.bare(r)
	n.Cut = cut
	next := stage
	if next != Either {
		next = cut
	}
	a, b := r, r
	if cut == Across {
		a.Length, b.X, b.Length = at, r.X+at, r.Length-at
		n.At = r.X + at - l.b.rules.KerfX
	} else {
		a.Width, b.Y, b.Width = at, r.Y+at, r.Width-at
		n.At = r.Y + at - l.b.rules.KerfY
	}
	n.Low = l.node(low, a, next)
	if b.Length > l.b.rules.KerfX && b.Width > l.b.rules.KerfY {
		n.High = l.node(high, b, next)
	}
	return n
}

// bare returns the node of r, nothing cut from it yet.
func (l layouter) bare(r Rect) *Node {
	r.Length -= l.b.rules.KerfX
	r.Width -= l.b.rules.KerfY
	return &Node{Rect: r, Part: -1}
}

// without returns p less the copies in excess, which it counts down.
func (p *plan) without(excess []int) *plan {
	if p == nil {
		return nil
	}
	if p.cut == Either {
		if k := p.shape.part; excess[k] > 0 {
			excess[k]--
			return nil
		}
		return p
	}
	low, high := p.low.without(excess), p.high.without(excess)
	switch {
	case low == nil && high == nil:
		return nil
	case low == nil && p.at == 0:
		return high
	case high == nil && p.at == 0:
		return low
	}
	return &plan{cut: p.cut, at: p.at, low: low, high: high}
}
