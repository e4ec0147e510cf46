package solve

import (
	"fmt"

	"pgregory.net/rapid"
)

// fatal is what tests and properties fail with.
type fatal interface{ Fatalf(string, ...any) }

// everyCut tries every cut at every whole position, which is slow and shares
// nothing with the search: reach lists all copies that a rectangle can yield,
// as sums of the parts' marks.
type everyCut struct {
	plate Plate
	parts []PlatePart
	rules Rules
	seen  map[string]map[int]bool
}

// marks of part k's copies: a digit to a base above any count.
const markBase = 8

func (e *everyCut) mark(k int) int {
	m := 1
	for range k {
		m *= markBase
	}
	return m
}

// digits reads the copies back.
func (e *everyCut) digits(m int) []int {
	out := make([]int, len(e.parts))
	for k := range out {
		out[k] = m % markBase
		m /= markBase
	}
	return out
}

// reach lists what r yields when stage more stages may be cut, the next one
// across or not; stage < 0 is free cutting.
func (e *everyCut) reach(r Rect, stage int, across bool) map[int]bool {
	key := fmt.Sprint(r, stage, across)
	if s, ok := e.seen[key]; ok {
		return s
	}
	out := map[int]bool{0: true}
	for k, p := range e.parts {
		if p.Max > 0 && (e.lies(r, p.Length, p.Width) || p.Turn && e.lies(r, p.Width, p.Length)) {
			out[e.mark(k)] = true
		}
	}
	e.seen[key] = out
	if stage > 0 {
		e.add(out, e.reach(r, stage-1, !across), map[int]bool{0: true})
	}
	for at := int64(0); at < r.Length && (stage < 0 || stage > 0 && across); at++ {
		low, high := r, r
		low.Length, high.X, high.Length = at, r.X+at+e.rules.KerfX, r.Length-at-e.rules.KerfX
		e.add(out, e.reach(low, stage, across), e.reach(high, stage, across))
	}
	for at := int64(0); at < r.Width && (stage < 0 || stage > 0 && !across); at++ {
		low, high := r, r
		low.Width, high.Y, high.Width = at, r.Y+at+e.rules.KerfY, r.Width-at-e.rules.KerfY
		e.add(out, e.reach(low, stage, across), e.reach(high, stage, across))
	}
	return out
}

// lies reports whether a part can lie somewhere in r, trimmed out.
func (e *everyCut) lies(r Rect, length, width int64) bool {
	for x := r.X; x+length <= r.X+r.Length; x++ {
		for y := r.Y; y+width <= r.Y+r.Width; y++ {
			if e.clear(x, y, length, width) {
				return true
			}
		}
	}
	return false
}

func (e *everyCut) clear(x, y, length, width int64) bool {
	for _, d := range e.plate.Defects {
		if x < d.X+d.Length && d.X < x+length && y < d.Y+d.Width && d.Y < y+width {
			return false
		}
	}
	return true
}

// add joins every yield of low with every yield of high, within the limits.
func (e *everyCut) add(out, low, high map[int]bool) {
	for a := range low {
		for b := range high {
			if e.allowed(a + b) {
				out[a+b] = true
			}
		}
	}
}

func (e *everyCut) allowed(m int) bool {
	for k, n := range e.digits(m) {
		if n > e.parts[k].Max {
			return false
		}
	}
	return true
}

// yields lists all that the plate can yield.
func (e *everyCut) yields() map[int]bool {
	e.seen = make(map[string]map[int]bool)
	whole := Rect{0, 0, e.plate.Length, e.plate.Width}
	if e.rules.Stages == 0 {
		return e.reach(whole, -1, false)
	}
	out := make(map[int]bool)
	for _, first := range e.rules.firsts() {
		for m := range e.reach(whole, e.rules.Stages, first == Across) {
			out[m] = true
		}
	}
	return out
}

// checkTree recomputes a cut tree: every node lies in its parent, the sides of
// a cut are a kerf apart, parts have their sizes and meet no defect.
func checkTree(t fatal, plate Plate, parts []PlatePart, rules Rules, tree *Node) (made []int) {
	made = make([]int, len(parts))
	if tree.Rect != (Rect{0, 0, plate.Length, plate.Width}) {
		t.Fatalf("the tree starts with %+v", tree.Rect)
	}
	tree.Walk(func(n *Node) {
		if n.Part >= 0 {
			p := parts[n.Part]
			if n.Turned {
				p.Length, p.Width = p.Width, p.Length
			}
			if n.Length != p.Length || n.Width != p.Width || n.Turned && !p.Turn || n.Cut != Either {
				t.Fatalf("part %d is cut as %+v", n.Part, n)
			}
			for _, d := range plate.Defects {
				if n.X < d.X+d.Length && d.X < n.X+n.Length && n.Y < d.Y+d.Width && d.Y < n.Y+n.Width {
					t.Fatalf("part %d lies on defect %+v", n.Part, d)
				}
			}
			made[n.Part]++
		}
		checkCutNode(t, n, rules)
	})
	return made
}

func checkCutNode(t fatal, n *Node, rules Rules) {
	if n.Cut == Either {
		return
	}
	low, high := n.Rect, n.Rect
	if n.Cut == Across {
		low.Length, high.X = n.At-n.X, n.At+rules.KerfX
		high.Length = n.X + n.Length - high.X
	} else {
		low.Width, high.Y = n.At-n.Y, n.At+rules.KerfY
		high.Width = n.Y + n.Width - high.Y
	}
	if n.Low.Rect != low || n.High != nil && n.High.Rect != high {
		t.Fatalf("cut %+v leaves %+v and %+v", n, n.Low, n.High)
	}
}

// smallPlate draws a plate, parts and rules that everyCut can settle.
func smallPlate(t *rapid.T) (Plate, []PlatePart, Rules) {
	size := func(name string, low, high int64) int64 { return rapid.Int64Range(low, high).Draw(t, name) }
	plate := Plate{Length: size("length", 3, 8), Width: size("width", 3, 7)}
	if rapid.Bool().Draw(t, "defect") {
		plate.Defects = append(plate.Defects, Rect{size("dx", 0, 6), size("dy", 0, 5), size("dl", 1, 2), size("dw", 1, 2)})
	}
	parts := make([]PlatePart, rapid.IntRange(1, 3).Draw(t, "parts"))
	for k := range parts {
		parts[k] = PlatePart{
			Length: size("l", 1, 5), Width: size("w", 1, 5), Value: size("v", 1, 30),
			Max: rapid.IntRange(0, 3).Draw(t, "max"), Turn: rapid.Bool().Draw(t, "turn"),
		}
	}
	rules := Rules{KerfX: size("kx", 0, 1), KerfY: size("ky", 0, 1), Stages: rapid.SampledFrom([]int{0, 0, 2, 3}).Draw(t, "stages")}
	rules.First = rapid.SampledFrom([]Direction{Either, Across, Along}).Draw(t, "first")
	return plate, parts, rules
}
