package solve

import "math"

// lineTable answers what a line through a board can be worth: the best set of
// parts it may cross, for every capacity at once. Worth is per unit of length
// along the stretch of lines.
type lineTable struct {
	parts  []LinePart
	shapes []lineShape
	step   int64 // sizes are rounded down to whole steps: the answer can only rise
	top    int   // capacity in steps, the largest
	kinds  int
	split  bool        // one kind a line: lines across
	best   [][]float64 // by kind (or one for each set of kinds) and capacity
	last   [][]int32   // the shape taken last, -1 none
	sets   map[string]int
}

// lineShape is a part as a line meets it: it takes size of the line and lies
// along extent of the lines beside it.
type lineShape struct {
	part   int
	size   int64 // in steps
	extent float64
	kind   int
}

// maxLineSteps bounds the steps of a table.
const maxLineSteps = 12000

// newLineTable prepares lines across the boards, or along them.
func newLineTable(p LineProblem, along bool) *lineTable {
	g := &lineTable{parts: p.Parts, split: !along, sets: map[string]int{}}
	longest := int64(1)
	divisor := int64(0)
	for _, b := range p.Boards {
		for _, w := range b.Ways {
			list := w.Across
			if along {
				list = w.Along
				g.set(w.Kinds)
			}
			for _, s := range list {
				for _, c := range s.Clear {
					longest = max(longest, c)
				}
			}
		}
	}
	g.eachShape(along, func(s lineShape) {
		divisor = gcd64(divisor, s.size)
		g.kinds = max(g.kinds, s.kind+1)
	})
	g.step = max(divisor, 1)
	if longest/g.step > maxLineSteps {
		g.step = (longest + maxLineSteps - 1) / maxLineSteps
	}
	g.top = int(longest / g.step)
	g.eachShape(along, func(s lineShape) {
		s.size = max(s.size/g.step, 1)
		if s.size <= int64(g.top) {
			g.shapes = append(g.shapes, s)
		}
	})
	n := g.kinds
	if !g.split {
		n = len(g.sets)
	}
	g.best, g.last = make([][]float64, n), make([][]int32, n)
	for i := range g.best {
		g.best[i], g.last[i] = make([]float64, g.top+1), make([]int32, g.top+1)
	}
	return g
}

func (g *lineTable) set(kinds []bool) int {
	key := kindsKey(kinds)
	if _, ok := g.sets[key]; !ok {
		g.sets[key] = len(g.sets)
	}
	return g.sets[key]
}

func (g *lineTable) eachShape(along bool, f func(lineShape)) {
	for i, part := range g.parts {
		if part.Count == 0 {
			continue
		}
		for _, lw := range [][2]int64{{part.Length, part.Width}, part.Turned} {
			extent, size := lw[0], lw[1]
			if along {
				size, extent = extent, size
			}
			if size > 0 {
				f(lineShape{i, size, float64(extent), part.Kind})
			}
		}
	}
}

// fill computes every best set for prices.
func (g *lineTable) fill(prices []float64) {
	if g.split {
		for k := range g.best {
			g.knapsack(k, prices, func(kind int) bool { return kind == k })
		}
		return
	}
	for key, i := range g.sets {
		g.knapsack(i, prices, func(kind int) bool { return kind < len(key) && key[kind] == '1' })
	}
}

// knapsack is the unbounded knapsack by capacity.
func (g *lineTable) knapsack(table int, prices []float64, allowed func(kind int) bool) {
	best, last := g.best[table], g.last[table]
	best[0], last[0] = 0, -1
	type entry struct {
		size  int
		worth float64
		shape int32
	}
	bySize := map[int]entry{}
	for j, s := range g.shapes {
		if w := prices[s.part] / s.extent; allowed(s.kind) && w > bySize[int(s.size)].worth {
			bySize[int(s.size)] = entry{int(s.size), w, int32(j)}
		}
	}
	var list []entry
	for j, s := range g.shapes { // in a fixed order
		if e, ok := bySize[int(s.size)]; ok && e.shape == int32(j) {
			list = append(list, e)
		}
	}
	for c := 1; c <= g.top; c++ {
		best[c], last[c] = best[c-1], -1
		for _, e := range list {
			if e.size <= c && best[c-e.size]+e.worth > best[c] {
				best[c], last[c] = best[c-e.size]+e.worth, e.shape
			}
		}
	}
}

// work is the cost of one fill in steps of its inner loop.
func (g *lineTable) work() int64 {
	n := int64(1)
	if !g.split {
		n = int64(len(g.sets))
	}
	return n * int64(g.top) * int64(len(g.shapes)+1)
}

// worth sums the stretches of a board. A line across it crosses one kind only.
func (g *lineTable) worth(list []Stretch, kinds []bool, oneKind bool) float64 {
	sum := 0.0
	for _, s := range list {
		best := 0.0
		if !oneKind {
			best = g.line(g.set(kinds), s.Clear)
		} else {
			for k, ok := range kinds {
				if ok && k < g.kinds {
					best = max(best, g.line(k, s.Clear))
				}
			}
		}
		sum += float64(s.Extent) * best
	}
	return sum
}

func (g *lineTable) line(table int, clear []int64) float64 {
	sum := 0.0
	if table >= len(g.best) {
		return math.Inf(1)
	}
	for _, c := range clear {
		sum += g.best[table][min(int(c/g.step), g.top)]
	}
	return sum
}

// taken lists the shapes of the best set at a capacity.
func (g *lineTable) taken(table, c int) []int32 {
	var out []int32
	for c > 0 {
		if s := g.last[table][c]; s >= 0 {
			out = append(out, s)
			c -= int(g.shapes[s].size)
		} else {
			c--
		}
	}
	return out
}

func gcd64(a, b int64) int64 {
	for b != 0 {
		a, b = b, a%b
	}
	return a
}
