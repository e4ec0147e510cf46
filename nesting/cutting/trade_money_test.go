package cutting_test

import (
	"slices"
	"testing"

	"batchwright/nesting"
	"batchwright/orders"
	"batchwright/orders/measure"
)

// TestWhatIsKeptAndWhatIsBinned: an offcut goes back to the rack from the size
// the shop keeps, as clear wood somewhere in it; the rest is waste. Of a board
// of 40 x 4 in with a part of 20 in, 19-7/8 in are left.
func TestWhatIsKeptAndWhatIsBinned(t *testing.T) {
	t.Parallel()
	left := measure.Length(20*inch - inch/8)
	for _, c := range []struct {
		why          string
		length, wide measure.Length // kept from
		knot         measure.Length // an inch of the whole width, from here; 0: none
		kept         bool
	}{
		{"as long as the shop keeps", left, 2 * inch, 0, true},
		{"a tick shorter", left + 1, 2 * inch, 0, false},
		{"as wide as the shop keeps", 12 * inch, 4 * inch, 0, true},
		{"a tick narrower", 12 * inch, 4*inch + 1, 0, false},
		{"a knot leaves 12 in clear", 12 * inch, 2 * inch, 32*inch + inch/8, true},
		{"a knot leaves a tick less on either side", 12 * inch, 2 * inch, 32*inch + inch/8 - 1, false},
	} {
		board := ashBoard("R", 40*inch, 4*inch, 100)
		if c.knot > 0 {
			board.Defects = []orders.Defect{{X: c.knot, Length: inch, Width: 4 * inch}}
		}
		job := tradeJob(board)
		job.Settings.KeepLength, job.Settings.KeepWidth = c.length, c.wide
		job.Parts = append(job.Parts, ashPart("P", 20*inch, 4*inch))
		l := laid(t, job)
		used := (40 * inch).Times(4 * inch)
		if c.kept {
			used = (20*inch + inch/8).Times(4 * inch)
		}
		if kept := len(keptOn(l)) == 1; kept != c.kept || l.AreaUsed != used {
			t.Errorf("%s: kept %v, uses %v mm2, want %v", c.why, keptOn(l), l.AreaUsed.SquareMillimetres(), used.SquareMillimetres())
		}
	}
}

// TestWhatIsKeptDecidesBetweenEqualCosts: of boards that cost the same the one
// is cut that leaves something for the rack; a cheaper one goes before that.
func TestWhatIsKeptDecidesBetweenEqualCosts(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		why  string
		cost measure.Money // of the long board
		want string
	}{
		{"9-7/8 in of the short board would be waste", 1000, "long"},
		{"a cent less for the short one", 1001, "short"},
	} {
		job := tradeJob(ashBoard("short", 30*inch, 4*inch, 1000), ashBoard("long", 40*inch, 4*inch, c.cost))
		job.Parts = append(job.Parts, ashPart("P", 20*inch, 4*inch))
		if l := laid(t, job); !slices.Equal(boardsOf(l), []string{c.want}) {
			t.Errorf("%s: cut from %v", c.why, boardsOf(l))
		}
	}
}

// TestTheRackGoesBeforeTheYard: what lies on the rack is used up before the same
// is bought for the same money, and what is bought for less is bought.
func TestTheRackGoesBeforeTheYard(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		why        string
		rack, yard measure.Money
		onRack     int
		parts      int
		fromRack   int
	}{
		{"the same money: the rack", 1200, 1200, 5, 3, 3},
		{"the rack first, then the yard", 1200, 1200, 2, 5, 2},
		{"a cent less in the yard", 1200, 1199, 5, 3, 0},
		{"a cent more in the yard", 1199, 1200, 5, 3, 3},
		{"the dearer rack only where the yard has no more", 1200, 1199, 5, 13, 3},
	} {
		rack, yard := ashBoard("R", 30*inch, 4*inch, c.rack), ashBoard("Y", 30*inch, 4*inch, c.yard)
		rack.Count, yard.Count = c.onRack, 10
		job := tradeJob(rack)
		job.Yard = []orders.Board{yard}
		for i := range c.parts {
			job.Parts = append(job.Parts, ashPart(string(rune('a'+i)), 20*inch, 4*inch))
		}
		l := laid(t, job)
		fromRack := 0
		for _, b := range l.Boards {
			if b.Stock.Origin == orders.FromRack {
				fromRack++
			}
		}
		if fromRack != c.fromRack || len(l.Boards) != c.parts {
			t.Errorf("%s: %d of %d boards from the rack, want %d: %v", c.why, fromRack, len(l.Boards), c.fromRack, boardsOf(l))
		}
	}
}

// TestWhatIsBoughtDecidesBeforeWhatIsKept: for the same money the board on the
// rack is cut, also where one from the yard would leave an offcut worth keeping.
// Resawn it is the same: two parts from the leaves of one board of either.
func TestWhatIsBoughtDecidesBeforeWhatIsKept(t *testing.T) {
	t.Parallel()
	for _, resawn := range []bool{false, true} {
		job := tradeJob(ashBoard("R", 30*inch, 4*inch, 1200))
		job.Yard = []orders.Board{ashBoard("Y", 40*inch, 4*inch, 1200)}
		job.Parts = []orders.Part{ashPart("P", 20*inch, 4*inch)}
		want := []string{"R"}
		if resawn {
			job.Settings.ResawUpTo = 4 * inch
			job.Parts = append(job.Parts, ashPart("Q", 20*inch, 4*inch))
			job.Parts[0].Thickness, job.Parts[1].Thickness = inch/4, inch/4
			want = []string{"R/1", "R/2"}
		}
		if l := laid(t, job); !slices.Equal(boardsOf(l), want) {
			t.Errorf("resawn %v: cut from %v, want %v", resawn, boardsOf(l), want)
		}
	}
}

// TestMatchedGrainIsOneRun, worked by hand: the four walls of a box of 12 x 8 in
// follow each other, 2 x (12 + 8) in and three kerfs of 1/8 in, so that their run
// takes the long board at 50.00. With the grain free the walls lie two by two on
// short boards of 20-1/8 in at 10.00: matching costs 30.00.
func TestMatchedGrainIsOneRun(t *testing.T) {
	t.Parallel()
	run := measure.Length(40*inch + 3*inch/8)
	for _, c := range []struct {
		why     string
		matched bool
		long    measure.Length
		cost    measure.Money
		short   int
	}{
		{"matched", true, run, 5000, 0},
		{"matched, and the board a tick too short", true, run - 1, 0, 4},
		{"free", false, run, 2000, 0},
	} {
		short := ashBoard("short", 20*inch+inch/8, 4*inch, 1000)
		short.Count = 2
		job := tradeJob(ashBoard("long", c.long, 4*inch, 5000), short)
		for i, length := range []measure.Length{12 * inch, 8 * inch, 12 * inch, 8 * inch} {
			part := ashPart(string(rune('a'+i)), length, 4*inch)
			if c.matched {
				part.Run, part.Place = "round the box", i+1
			}
			job.Parts = append(job.Parts, part)
		}
		l := laid(t, job)
		if l.Cost != c.cost || len(l.Short) != c.short {
			t.Errorf("%s: costs %s, short %v", c.why, l.Cost, l.Short)
		}
		if c.cost == 5000 {
			runAt(t, l.Boards[0].Pieces, 0, 12*inch+inch/8, 20*inch+inch/4, 32*inch+3*inch/8)
		}
	}
}

// runAt wants pieces a, b, c, d at these places along the board, on one line.
func runAt(t *testing.T, pieces []nesting.Piece, at ...measure.Length) {
	t.Helper()
	for _, p := range pieces {
		if want := at[p.Part[0]-'a']; p.X != want || p.Y != 0 {
			t.Errorf("part %q lies at %v, %v in, want %v, 0", p.Part, p.X.Inches(), p.Y.Inches(), want.Inches())
		}
	}
}
