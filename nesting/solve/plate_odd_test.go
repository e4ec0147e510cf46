package solve

import (
	"math"
	"testing"
	"time"
)

// oddParts are parts that no order should hold but some file will.
var oddParts = []struct {
	name    string
	parts   []PlatePart
	missing int // copies no plate of oddStock can give; -1: some
}{
	{"no size at all", []PlatePart{{Max: 3, Value: 1}, {Length: 10, Width: 10, Max: 2, Value: 1}}, 3},
	{"smaller than nothing", []PlatePart{{Length: -5, Width: 10, Max: 3, Value: 1}}, 3},
	{"fewer than none", []PlatePart{{Length: 5, Width: 10, Max: -3, Value: 1}}, 0},
	{"larger than every plate", []PlatePart{{Length: 500, Width: 10, Max: 7, Value: 1}, {Length: 10, Width: 500, Max: 2, Value: 9, Turn: true}}, 9},
	{"a million copies", []PlatePart{{Length: 9, Width: 7, Max: 1_000_000, Value: 1}, {Length: 30, Width: 20, Max: 5, Value: 3}}, 0},
	{"as many copies as a count can hold", []PlatePart{{Length: 9, Width: 7, Max: math.MaxInt32, Value: 1 << 30}, {Length: 8, Width: 7, Max: math.MaxInt32, Value: 1 << 30}}, 0},
	{"thinner than the blade", []PlatePart{{Length: 1, Width: 1, Max: 400, Value: 1}, {Length: 2, Width: 60, Max: 9, Value: 5}}, 0},
	{"nothing wanted", nil, 0},
}

var oddStock = []Stock{
	{Plate{Length: 100, Width: 80, Defects: []Rect{{X: 300, Y: -90, Length: 10, Width: 20}}}, Unlimited, 7}, // defect outside
	{Plate{Length: 60, Width: 60}, Unlimited, 4},
	{Plate{}, 5, 1}, // no size
}

// oddLimit is the time each odd case gets; a search that runs on for many times
// as long never ends.
const oddLimit, oddNever = 200 * time.Millisecond, 20 * time.Second

// TestOddParts: odd input is answered in the time allowed: what can be made is
// made, the rest is counted as missing, and no answer is false.
func TestOddParts(t *testing.T) {
	rules := Rules{KerfX: 4, KerfY: 4}
	for _, c := range oddParts {
		t.Run(c.name, func(t *testing.T) {
			start := time.Now()
			cover := Stock2D(oddStock, c.parts, rules, Budget{Deadline: start.Add(oddLimit)})
			missing := total(cover.Missing)
			if missing != c.missing || cover.Bound > cover.Cost {
				t.Errorf("%d missing, want %d; cost %d, bound %d", missing, c.missing, cover.Cost, cover.Bound)
			}
			for _, p := range cover.Plates {
				checkTree(t, oddStock[p.Stock].Plate, c.parts, rules, p.Tree)
			}
			if took := time.Since(start); took > oddNever {
				t.Errorf("took %v of %v", took, 2*oddLimit)
			}
		})
	}
}

// TestHugePlate: plates of the largest size, and parts of the smallest.
func TestHugePlate(t *testing.T) {
	stock := []Stock{{Plate{Length: 1 << 31, Width: 1 << 31}, Unlimited, 5}}
	parts := []PlatePart{{Length: 1, Width: 1, Max: 1000}, {Length: 1 << 30, Width: 1 << 31, Max: 3}}
	c := Stock2D(stock, parts, Rules{}, Budget{Deadline: time.Now().Add(oddLimit)})
	if c.Cost != 10 || c.Bound > c.Cost || total(c.Missing) > 0 {
		t.Errorf("cost %d, bound %d, missing %v; want two plates of 5", c.Cost, c.Bound, c.Missing)
	}
}
