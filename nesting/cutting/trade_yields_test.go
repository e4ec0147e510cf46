package cutting_test

import (
	"testing"

	"batchwright/orders/measure"
	"batchwright/orders/woods"
)

// TestWhatAClassYields: a part as thick as the class is surfaced on two sides is
// cut from it, one a tick thicker is not. Figures: hardwood thickness chart,
// rough to surfaced two sides, engineeringtoolbox.com, "Hardwood Lumber
// Dimensions"; the quarter names of 3/4, 7/4 and 14/4 are derived.
func TestWhatAClassYields(t *testing.T) {
	t.Parallel()
	for class, in32nds := range map[string]measure.Length{"3/8": 6, "1/2": 10, "5/8": 14, "3/4": 18, "4/4": 26, "5/4": 34,
		"6/4": 42, "7/4": 48, "8/4": 56, "12/4": 88, "14/4": 104, "16/4": 120} {
		for more, short := range []int{0, 1} {
			board := ashBoard("R", 30*inch, 5*inch, 100)
			board.Class = class
			job := tradeJob(board)
			part := ashPart("P", 20*inch, 4*inch)
			part.Thickness = inch/32*in32nds + measure.Length(more)
			job.Parts = append(job.Parts, part)
			if l := laid(t, job); len(l.Short) != short {
				t.Errorf("%s and %d/32 in and %d ticks: short %v, want %d", class, in32nds, more, l.Short, short)
			}
		}
	}
}

// TestWhatATrueThicknessYields, worked by hand: itself less the planing
// allowance of 1/16 in, and never more than its class; a manufactured sheet is
// not planed and gives its own thickness and no other.
func TestWhatATrueThicknessYields(t *testing.T) {
	t.Parallel()
	const sixteenth = inch / 16
	for _, c := range []struct {
		why   string
		class string
		thick measure.Length
		wood  string
		part  measure.Length
		laid  bool
	}{
		{"1 in gives 15/16", "", inch, "ash", 15 * sixteenth, true},
		{"and no tick more", "", inch, "ash", 15*sixteenth + 1, false},
		{"4/4 that has shrunk to 13/16 gives 3/4", "4/4", 13 * sixteenth, "ash", 12 * sixteenth, true},
		{"and no tick more, whatever its class says", "4/4", 13 * sixteenth, "ash", 12*sixteenth + 1, false},
		{"4/4 that is a full inch gives what its class does", "4/4", inch, "ash", 13 * sixteenth, true},
		{"and no more", "4/4", inch, "ash", 13*sixteenth + 1, false},
		{"a sheet gives its thickness", "", inch / 4, "birch plywood", inch / 4, true},
		{"and nothing thinner", "", inch / 4, "birch plywood", inch/4 - 1, false},
		{"nor thicker", "", inch / 4, "birch plywood", inch/4 + 1, false},
	} {
		board := ashBoard("R", 30*inch, 5*inch, 100)
		board.Class, board.Thickness, board.Wood, board.Sheet = c.class, c.thick, c.wood, woods.IsSheet(c.wood)
		job := tradeJob(board)
		part := ashPart("P", 20*inch, 4*inch)
		part.Thickness, part.Wood = c.part, c.wood
		job.Parts = append(job.Parts, part)
		if l := laid(t, job); (len(l.Short) == 0) != c.laid {
			t.Errorf("%s: short %v", c.why, l.Short)
		}
	}
}

// TestEveryLeafPaysKerfAndCleanUp: n leaves as thick as the rule of the trade
// allows are had of an 8/4 board, a tick more is not (common practice: n x
// finished + (n-1) x kerf + 2n x clean-up + cup <= class). Worked by hand with
// 1/16 in for each: 2 in less 2/16 is two of 15/16, less 2/16 each; less 3/16
// three of 29/48; less 4/16 four of 7/16.
func TestEveryLeafPaysKerfAndCleanUp(t *testing.T) {
	t.Parallel()
	const eighth = inch / 8
	for n, finished := range map[int]measure.Length{2: inch*15/16 - eighth, 3: inch*29/48 - eighth, 4: inch*7/16 - eighth} {
		for more, short := range []int{0, 1} {
			board := ashBoard("R", 30*inch, 4*inch, 100)
			board.Class = "8/4"
			job := tradeJob(board)
			job.Settings.ResawUpTo = 4 * inch
			for i := range n {
				part := ashPart(string(rune('a'+i)), 20*inch, 4*inch)
				part.Thickness = finished + measure.Length(more)
				job.Parts = append(job.Parts, part)
			}
			l := laid(t, job)
			if (len(l.Short) > 0) != (short > 0) || short == 0 && l.Boards[0].Leaf.Count != n {
				t.Errorf("%d leaves, %d ticks more: %v, short %v", n, more, boardsOf(l), l.Short)
			}
		}
	}
}

// TestATaperedBoardIsAsWideAsItsNarrowEnd (common practice), and is resawn only
// where the band saw takes its wide end.
func TestATaperedBoardIsAsWideAsItsNarrowEnd(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		why         string
		wide        measure.Length // of the part
		thick, saw  measure.Length
		parts, laid int
	}{
		{"as wide as the narrow end", 5 * inch, inch / 2, 0, 1, 1},
		{"a tick wider", 5*inch + 1, inch / 2, 0, 1, 0},
		{"two beside each other in the narrow end: 2-7/16 + 1/8 + 2-7/16", 39 * inch / 16, inch / 2, 0, 2, 2},
		{"two that only the wide end would take", 39*inch/16 + 1, inch / 2, 0, 2, 1},
		{"two thin ones from leaves, as the saw takes the wide end", 5 * inch, inch / 4, 8 * inch, 2, 2},
		{"none from leaves where it takes the narrow end alone", 5 * inch, inch / 4, 8*inch - 1, 2, 1},
	} {
		board := ashBoard("R", 30*inch, 5*inch, 100)
		board.WideEnd = 8 * inch
		job := tradeJob(board)
		job.Settings.ResawUpTo = c.saw
		for i := range c.parts {
			part := ashPart(string(rune('a'+i)), 20*inch, c.wide)
			part.Thickness = c.thick
			job.Parts = append(job.Parts, part)
		}
		if l := laid(t, job); len(l.Short) != c.parts-c.laid {
			t.Errorf("%s: short %v, want %d laid", c.why, l.Short, c.laid)
		}
	}
}
