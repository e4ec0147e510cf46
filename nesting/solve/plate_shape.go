package solve

// board is a plate made ready for search: the kerf is folded into the sizes
// (a plate and a part each grow by one kerf, which leaves the same problem with
// a blade that takes nothing), turned parts stand as shapes of their own, and
// limits are cut to what a plate can hold.
type board struct {
	length, width int64 // grown by the kerf
	rules         Rules
	shapes        []shape
	limit         []int // per part: copies a plate can hold and may
	free          bool  // no limit binds: a plate's area does
	value         []int64
	defects       []defect
	grid          *grid
	at            []cell // of each shape: the grid cell it fills
	roots         []cell // whole plates: of this one, or of several that share its grid
}

// shape is one way a part can lie, grown by the kerf.
type shape struct {
	length, width int64
	part          int
	turned        bool
}

// cell is a place in the grid's table of sizes.
type cell struct{ i, j int }

// newBoard makes ready plate and parts, with at most most sizes an axis.
func newBoard(p Plate, parts []PlatePart, r Rules, most int) *board {
	return newBoards([]Plate{p}, parts, r, most)
}

// newBoards makes ready several plates and parts on one grid, each plate a root
// of it. Defects are those of the first: plates with defects stand alone.
func newBoards(ps []Plate, parts []PlatePart, r Rules, most int) *board {
	b := newPlainBoard(ps[0], r)
	for _, p := range ps {
		b.length, b.width = max(b.length, p.Length+r.KerfX), max(b.width, p.Width+r.KerfY)
	}
	b.limit, b.free = make([]int, len(parts)), true
	b.value = make([]int64, len(parts))
	for k, part := range parts {
		b.value[k] = part.Value
		b.addShapes(k, part)
	}
	b.layGrid(ps, most)
	return b
}

// newPlainBoard returns the board of a plate without parts.
func newPlainBoard(p Plate, r Rules) *board {
	b := &board{length: p.Length + r.KerfX, width: p.Width + r.KerfY, rules: r}
	for _, d := range p.Defects {
		b.addDefect(d)
	}
	return b
}

// addShapes adds the ways part k fits the board and settles its limit.
func (b *board) addShapes(k int, p PlatePart) {
	if p.Max <= 0 || p.Length <= 0 || p.Width <= 0 {
		return
	}
	first := len(b.shapes)
	b.addShape(shape{p.Length + b.rules.KerfX, p.Width + b.rules.KerfY, k, false})
	if p.Turn && p.Length != p.Width {
		b.addShape(shape{p.Width + b.rules.KerfX, p.Length + b.rules.KerfY, k, true})
	}
	for _, s := range b.shapes[first:] {
		perArea := float64(b.length) * float64(b.width) / (float64(s.length) * float64(s.width))
		b.limit[k] = max(b.limit[k], int(perArea))
	}
	b.free = b.free && p.Max >= b.limit[k]
	b.limit[k] = min(b.limit[k], p.Max)
}

func (b *board) addShape(s shape) {
	if s.length <= b.length && s.width <= b.width {
		b.shapes = append(b.shapes, s)
	}
}

// layGrid builds the grid of sizes and finds each shape's and plate's cell.
func (b *board) layGrid(ps []Plate, most int) {
	var along, across []run
	for _, s := range b.shapes {
		n := b.limit[s.part]
		along = append(along, run{s.length, min(n, int(b.length/s.length))})
		across = append(across, run{s.width, min(n, int(b.width/s.width))})
	}
	var lengths, widths []int64
	for _, p := range ps {
		lengths, widths = append(lengths, p.Length+b.rules.KerfX), append(widths, p.Width+b.rules.KerfY)
	}
	g := &grid{xs: newAxis(lengths, along, most), ys: newAxis(widths, across, most)}
	g.nx, g.ny = len(g.xs.at), len(g.ys.at)
	b.grid = g
	for _, s := range b.shapes {
		b.at = append(b.at, cell{g.xs.floor(s.length), g.ys.floor(s.width)})
	}
	for k := range ps {
		b.roots = append(b.roots, cell{g.xs.floor(lengths[k]), g.ys.floor(widths[k])})
	}
}
