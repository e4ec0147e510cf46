package cutting_test

import (
	"fmt"
	"strings"
	"testing"
	"time"

	"batchwright/nesting"
	"batchwright/nesting/cutting"
	"batchwright/orders"
	"batchwright/orders/measure"
	"batchwright/orders/settings"

	"pgregory.net/rapid"
)

// book is the four walls of one box, to be had from two leaves of one board.
func book(name, wood string, long, short, high, thick measure.Length) []orders.Part {
	wall := func(id, run string, place int, length measure.Length) orders.Part {
		return orders.Part{ID: name + "-" + id, Wood: wood, Grain: orders.AlongLength, Length: length, CutLength: length,
			Width: high, CutWidth: high, Thickness: thick, Run: name + "-" + run, Place: place, Book: name}
	}
	return []orders.Part{wall("S1", "a", 1, long), wall("E1", "a", 2, short), wall("S2", "b", 2, long), wall("E2", "b", 1, short)}
}

// thoughts leave out, mostly, to search for the boards to resaw.
var thoughts = []time.Duration{time.Millisecond, time.Millisecond, time.Millisecond, time.Millisecond, 3 * time.Millisecond}

// TestBooksPassTheCheck draws boxes with their grain matched around four corners
// among other parts, on racks of thick and thin boards.
func TestBooksPassTheCheck(t *testing.T) {
	t.Parallel()
	laid, alone := 0, 0
	rapid.Check(t, func(t *rapid.T) {
		job := drawJob(t)
		set := &job.Settings
		set.ResawUpTo = drawLength(t, "resaw up to", 4, 20)
		set.ResawKerf = drawLength(t, "resaw kerf", 0, 1) / 8
		set.ResawCleanUp = drawLength(t, "resaw clean-up", 0, 1) / 16
		wood := job.Parts[0].Wood
		for i := range rapid.IntRange(1, 6).Draw(t, "books") {
			job.Parts = append(job.Parts, book(fmt.Sprint("book", i), wood, drawLength(t, "long", 5, 14), drawLength(t, "short", 3, 9), drawLength(t, "high", 1, 5), inch*5/16)...)
		}
		for i := range job.Rack {
			if b := &job.Rack[i]; !b.Sheet && rapid.Bool().Draw(t, "thick") {
				b.Class, b.Thickness, b.Wood = "8/4", 0, wood
			}
		}
		l := cutting.Nest(job, nesting.Limits{Seed: 1, Think: rapid.SampledFrom(thoughts).Draw(t, "think")})
		verify(t, job, l)
		for _, b := range l.Boards {
			for _, p := range b.Pieces {
				switch {
				case strings.HasPrefix(p.Part, "book"):
					laid++
				case b.Leaf.Count > 0:
					alone++
				}
			}
		}
	})
	t.Logf("%d walls of books, %d other parts on leaves", laid, alone)
	if !testing.Short() && (laid == 0 || alone == 0) {
		t.Error("no book, or nothing else, was laid on leaves")
	}
}

// TestABookIsCutFromOneBoard, worked by hand: an 8/4 board gives two leaves at
// 13/16 in (common practice), and on a leaf 30 in long a run of 12 and 8 in with
// its kerf takes 20-1/8 in, so that of boards 6 in wide each gives two boxes 3 in
// high less a kerf, and the panels of the same thickness fill what is beyond.
func TestABookIsCutFromOneBoard(t *testing.T) {
	set := settings.Default()
	set.ResawUpTo, set.EndTrim, set.EdgeTrim = 8*inch, 0, 0
	set.ShortestRip = 0 // a panel 9 in long is ripped on its own
	board := func(id, class string, n int) orders.Board {
		return orders.Board{ID: id, Wood: "cherry", Class: class, Count: n, Length: 30 * inch, Width: 6*inch + set.RipKerf, Cost: 1000, CostKnown: true}
	}
	panel := func(i int) orders.Part {
		return orders.Part{ID: fmt.Sprint("panel", i), Wood: "cherry", Grain: orders.AlongLength, Length: 9 * inch, CutLength: 9 * inch, Width: 6 * inch, CutWidth: 6 * inch, Thickness: inch / 2}
	}
	boxes := func(n int) (out []orders.Part) {
		for i := range n {
			out = append(out, book(fmt.Sprint("box", i), "cherry", 12*inch, 8*inch, 3*inch, inch/2)...)
		}
		return out
	}
	for _, c := range []struct {
		why   string
		rack  []orders.Board
		parts []orders.Part
		saw   measure.Length
		cost  measure.Money
		short string
	}{
		{"two boxes of one board, nothing else", []orders.Board{board("K", "8/4", 3)}, boxes(2), 8 * inch, 1000, ""},
		{"a third takes another board", []orders.Board{board("K", "8/4", 3)}, boxes(3), 8 * inch, 2000, ""},
		{"two panels fill the two leaves beside two boxes", []orders.Board{board("K", "8/4", 3)}, append(boxes(2), panel(1), panel(2)), 8 * inch, 1000, ""},
		{"a 4/4 board has no two such leaves", []orders.Board{board("R", "4/4", 3)}, boxes(1), 8 * inch, 0, "no two leaves"},
		{"nor has a shop without a band saw", []orders.Board{board("K", "8/4", 3)}, boxes(1), 0, 0, "no band saw"},
		{"nor one whose band saw is too low", []orders.Board{board("K", "8/4", 3)}, boxes(1), 5 * inch, 0, "up to 5 in wide"},
		{"with no rack a typical thick board is brought", nil, boxes(1), 8 * inch, -1, ""},
	} {
		job := cutting.Job{Parts: c.parts, Rack: c.rack, Standard: c.rack == nil, Settings: set}
		job.Settings.ResawUpTo = c.saw
		l := cutting.Nest(job, nesting.Limits{Seed: 1})
		verify(t, job, l)
		switch {
		case c.short != "":
			if len(l.Short) != len(c.parts) || !strings.Contains(l.Short[0].Why, c.short) {
				t.Errorf("%s: short %v", c.why, l.Short)
			}
		case len(l.Short) > 0 || c.cost >= 0 && l.Cost != c.cost:
			t.Errorf("%s: costs %s, want %s; short %v", c.why, l.Cost, c.cost, l.Short)
		}
	}
}
