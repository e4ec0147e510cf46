package cutting_test

import (
	"strings"
	"testing"

	"batchwright/orders/measure"
	"batchwright/orders/settings"
)

// TestWhatCannotBeCutSafely, worked by hand: a part 6 x 3 in of a board 14 x 6 in
// is ripped 14 in long and crosscut afterwards; of a board 11 in long it cannot
// be. A part 9 in wide of a board 20 in wide needs a fence setting of 9 in, or of
// 10-7/8 in from the far edge.
func TestWhatCannotBeCutSafely(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		why         string
		board, part [2]measure.Length
		change      func(s *settings.Shop)
		short       string
	}{
		{"ripped long", [2]measure.Length{14 * inch, 6 * inch}, [2]measure.Length{6 * inch, 3 * inch}, func(*settings.Shop) {}, ""},
		{"the board is too short", [2]measure.Length{11 * inch, 6 * inch}, [2]measure.Length{6 * inch, 3 * inch},
			func(s *settings.Shop) { s.ShortestMachine = 0 }, "too short to rip"},
		{"no limit", [2]measure.Length{11 * inch, 6 * inch}, [2]measure.Length{6 * inch, 3 * inch},
			func(s *settings.Shop) { s.ShortestMachine, s.ShortestRip = 0, 0 }, ""},
		{"the fence reaches", [2]measure.Length{40 * inch, 20 * inch}, [2]measure.Length{30 * inch, 9 * inch},
			func(s *settings.Shop) { s.FenceReaches = 9 * inch }, ""},
		{"the fence does not reach", [2]measure.Length{40 * inch, 20 * inch}, [2]measure.Length{30 * inch, 9 * inch},
			func(s *settings.Shop) { s.FenceReaches = 9*inch - 1 }, "setting Fence reaches"},
		{"the longest shortest rip", [2]measure.Length{40 * inch, 6 * inch}, [2]measure.Length{6 * inch, 3 * inch},
			func(s *settings.Shop) { s.ShortestRip = 41 * inch }, "too short to rip"},
	} {
		job := tradeJob(ashBoard("R", c.board[0], c.board[1], 100))
		c.change(&job.Settings)
		job.Parts = append(job.Parts, ashPart("P", c.part[0], c.part[1]))
		l := laid(t, job)
		switch {
		case c.short == "" && len(l.Short) > 0:
			t.Errorf("%s: %v", c.why, l.Short)
		case c.short != "" && (len(l.Short) == 0 || !strings.Contains(l.Short[0].Why, c.short)):
			t.Errorf("%s: says %v, want %q", c.why, l.Short, c.short)
		}
	}
}
