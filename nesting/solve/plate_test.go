package solve

import (
	"fmt"
	"reflect"
	"testing"

	"pgregory.net/rapid"
)

// fatal is what tests and properties fail with.
type fatal interface{ Fatalf(string, ...any) }

// everyCut tries every cut at every whole position, which is slow and shares
// nothing with the search: reach lists all copies that a rectangle can yield,
// as sums of the parts' marks.
type everyCut struct {
	plate Plate
	parts []Part
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

func (e *everyCut) best() (value int64) {
	for m := range e.yields() {
		v := int64(0)
		for k, n := range e.digits(m) {
			v += int64(n) * e.parts[k].Value
		}
		value = max(value, v)
	}
	return value
}

// checkTree recomputes a cut tree: every node lies in its parent, the sides of
// a cut are a kerf apart, parts have their sizes and meet no defect.
func checkTree(t fatal, plate Plate, parts []Part, rules Rules, tree *Node) (made []int) {
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
func smallPlate(t *rapid.T) (Plate, []Part, Rules) {
	size := func(name string, low, high int64) int64 { return rapid.Int64Range(low, high).Draw(t, name) }
	plate := Plate{Length: size("length", 3, 8), Width: size("width", 3, 7)}
	if rapid.Bool().Draw(t, "defect") {
		plate.Defects = append(plate.Defects, Rect{size("dx", 0, 6), size("dy", 0, 5), size("dl", 1, 2), size("dw", 1, 2)})
	}
	parts := make([]Part, rapid.IntRange(1, 3).Draw(t, "parts"))
	for k := range parts {
		parts[k] = Part{
			Length: size("l", 1, 5), Width: size("w", 1, 5), Value: size("v", 1, 30),
			Max: rapid.IntRange(0, 3).Draw(t, "max"), Turn: rapid.Bool().Draw(t, "turn"),
		}
	}
	rules := Rules{KerfX: size("kx", 0, 1), KerfY: size("ky", 0, 1), Stages: rapid.SampledFrom([]int{0, 0, 2, 3}).Draw(t, "stages")}
	rules.First = rapid.SampledFrom([]Direction{Either, Across, Along}).Draw(t, "first")
	return plate, parts, rules
}

// TestFillPlateAgainstEveryCut: the value is the best that trying every cut
// finds, the bound is no less, and the tree is what it says.
func TestFillPlateAgainstEveryCut(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		plate, parts, rules := smallPlate(t)
		f := FillPlate(plate, parts, rules, Budget{})
		made := checkTree(t, plate, parts, rules, f.Tree)
		value := int64(0)
		for k, n := range made {
			if n != f.Made[k] || n > parts[k].Max {
				t.Fatalf("part %d: %d in the tree, %d said, %d allowed", k, n, f.Made[k], parts[k].Max)
			}
			value += int64(n) * parts[k].Value
		}
		e := everyCut{plate: plate, parts: parts, rules: rules}
		if best := e.best(); value != f.Value || value != best || f.Bound < best {
			t.Fatalf("value %d, counted %d, bound %d; every cut finds %d", f.Value, value, f.Bound, best)
		}
	})
}

// TestFillPlateKerfShift: sizes reduced by a kerf, and a blade that takes it,
// are the same problem.
func TestFillPlateKerfShift(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		plate, parts, rules := smallPlate(t)
		plate.Defects, rules.KerfX, rules.KerfY = nil, 0, 0
		k := rapid.Int64Range(1, 3).Draw(t, "kerf")
		scaled := func(v int64) int64 { return 4 * v }
		plate.Length, plate.Width = scaled(plate.Length), scaled(plate.Width)
		for i := range parts {
			parts[i].Length, parts[i].Width = scaled(parts[i].Length), scaled(parts[i].Width)
		}
		whole := FillPlate(plate, parts, rules, Budget{})
		plate.Length, plate.Width, rules.KerfX, rules.KerfY = plate.Length-k, plate.Width-k, k, k
		for i := range parts {
			parts[i].Length, parts[i].Width = parts[i].Length-k, parts[i].Width-k
		}
		if shaved := FillPlate(plate, parts, rules, Budget{}); shaved.Value != whole.Value {
			t.Fatalf("value %d with kerf %d, %d without", shaved.Value, k, whole.Value)
		}
	})
}

// cgcut1 is the first instance of N. Christofides and C. Whitlock, Operations
// Research 25 (1977) 30-44, as in the public-domain collection of Beasley's
// OR-Library.
var cgcut1 = []Part{
	{Length: 8, Width: 4, Max: 2, Value: 66}, {Length: 3, Width: 7, Max: 1, Value: 35},
	{Length: 8, Width: 2, Max: 3, Value: 24}, {Length: 3, Width: 4, Max: 5, Value: 17},
	{Length: 3, Width: 3, Max: 2, Value: 11}, {Length: 3, Width: 2, Max: 2, Value: 8},
	{Length: 2, Width: 1, Max: 1, Value: 2},
}

// TestFillPlatePublished: the optimum of cgcut1 on its 15 x 10 plate is 244, by
// the same paper.
func TestFillPlatePublished(t *testing.T) {
	plate := Plate{Length: 15, Width: 10}
	f := FillPlate(plate, cgcut1, Rules{}, Budget{})
	checkTree(t, plate, cgcut1, Rules{}, f.Tree)
	if f.Value != 244 || f.Bound != 244 || f.Stop != StopProven {
		t.Errorf("value %d, bound %d, %s; want 244 proven", f.Value, f.Bound, f.Stop)
	}
}

// TestFillPlateSame: the same question has the same answer, to the last cut.
func TestFillPlateSame(t *testing.T) {
	plate := Plate{Length: 40, Width: 23}
	a, b := FillPlate(plate, cgcut1, Rules{KerfX: 1}, Budget{}), FillPlate(plate, cgcut1, Rules{KerfX: 1}, Budget{})
	if !reflect.DeepEqual(a, b) {
		t.Error("two runs differ")
	}
}

// TestFillPlates: several plates keep the limits together.
func TestFillPlates(t *testing.T) {
	plate := Plate{Length: 15, Width: 10}
	run, value, bound, _ := FillPlates(plate, 3, cgcut1, Rules{}, Budget{})
	made, sum := make([]int, len(cgcut1)), int64(0)
	for _, f := range run {
		for k, n := range checkTree(t, plate, cgcut1, Rules{}, f.Tree) {
			made[k] += n
			sum += int64(n) * cgcut1[k].Value
		}
	}
	for k, n := range made {
		if n > cgcut1[k].Max {
			t.Errorf("part %d is made %d times of %d", k, n, cgcut1[k].Max)
		}
	}
	if sum != value || value > bound || value <= 244 {
		t.Errorf("value %d, counted %d, bound %d", value, sum, bound)
	}
}
