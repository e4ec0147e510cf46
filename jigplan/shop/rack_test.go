package shop

import (
	"errors"
	"fmt"
	"path/filepath"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"batchwright/nesting"
	"batchwright/orders"
	"batchwright/orders/measure"
)

func change(t *testing.T, s *File, do func(*Tx) error) error {
	t.Helper()
	return s.Update(ctx, "anna", func(tx *Tx) (string, error) { return "test", do(tx) })
}

func rackShop(t *testing.T, boards ...orders.Board) *File {
	t.Helper()
	s, err := Open(ctx, filepath.Join(t.TempDir(), "shop.db"), Options{})
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { _ = s.Close() })
	if err := change(t, s, func(tx *Tx) error {
		if _, err := tx.Exec("INSERT INTO jobs (id, name, state, accepted, revision) VALUES (1, 'one', 'open', 'x', 1), (2, 'two', 'open', 'x', 1)"); err != nil {
			return err
		}
		_, refused, err := PutBoards(tx, boards, measure.Inches)
		if len(refused) > 0 {
			t.Errorf("refused: %+v", refused)
		}
		return err
	}); err != nil {
		t.Fatal(err)
	}
	return s
}

func board(id string) orders.Board {
	return orders.Board{ID: id, Count: 1, Wood: "walnut", Class: "4/4", Length: 96 * measure.Inch, Width: 6 * measure.Inch}
}

// What is written for people reads back to the same length.
func TestExactReadsBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		l := rapid.OneOf(
			rapid.Map(rapid.Int64Range(0, 1<<36), func(n int64) measure.Length { return measure.Length(n) }),
			rapid.Map(rapid.Int64Range(0, 10000), func(n int64) measure.Length { return measure.Inch / 256 * measure.Length(n) }),
			rapid.Map(rapid.Int64Range(0, 100000), func(n int64) measure.Length { return measure.Micrometre * measure.Length(n) }),
		).Draw(t, "length")
		unit := rapid.SampledFrom([]measure.Unit{measure.Inches, measure.Millimetres}).Draw(t, "unit")
		text := ExactLength(l, unit)
		back, err := measure.Parse(text, measure.Reading{Bare: measure.Inches})
		if err != nil || back != l {
			t.Fatalf("%d ticks written %q, read back %d, %v", l, text, back, err)
		}
	})
}

func TestBoardsSortAsPeopleCount(t *testing.T) {
	want := []string{"R1", "R2", "R2#2", "R2#10", "R2.1", "R10", "R010", "W", "W1"}
	got := []string{"W1", "R10", "R2#10", "W", "R2", "R010", "R1", "R2.1", "R2#2"}
	slices.SortFunc(got, CompareBoardIDs)
	if CompareBoardIDs("R10", "R010") == 0 {
		t.Error("two names compare equal")
	}
	want[5], want[6] = got[5], got[6] // either order, as long as it is one
	if !slices.Equal(got, want) {
		t.Errorf("%q, want %q", got, want)
	}
}

// What may become of a board whose name is known.
func TestPut(t *testing.T) {
	free, held, used, gone := board("free"), board("held"), board("used"), board("gone")
	s := rackShop(t, free, held, used, gone)
	if err := change(t, s, func(tx *Tx) error {
		err := errors.Join(Reserve(tx, 1, []orders.Board{held, used}), useBoards(tx, 1, []string{"used"}))
		_, _, err2 := RemoveBoards(tx, []string{"gone"}, "split")
		return errors.Join(err, err2)
	}); err != nil {
		t.Fatal(err)
	}
	shorter := func(b orders.Board) orders.Board { b.Length -= measure.Inch; return b }
	moved := func(b orders.Board) orders.Board { b.Place = "B2"; return b }
	tests := []struct {
		name    string
		board   orders.Board
		what    string // empty: nothing
		refused bool
	}{
		{"the same again", free, "", false},
		{"a free board's size", shorter(free), "corrected", false},
		{"a place, although a job holds it", moved(held), "corrected", false},
		{"a size that a job counts on", shorter(held), "", true},
		{"a board that is sawn up", used, "", true},
		{"a board that was removed", gone, "put back", false},
		{"a new one", board("new"), "added", false},
	}
	for _, tt := range tests {
		errUndo := errors.New("undo")
		err := change(t, s, func(tx *Tx) error {
			changes, refused, err := PutBoards(tx, []orders.Board{tt.board}, measure.Inches)
			if err != nil {
				return err
			}
			if (len(refused) > 0) != tt.refused || len(changes) > 0 != (tt.what != "") || len(changes) > 0 && changes[0].What != tt.what {
				t.Errorf("%s: %+v, refused %+v", tt.name, changes, refused)
			}
			b, err := FindBoard(tx, tt.board.ID)
			if err == nil && !tt.refused && !SameBoard(b.Board, tt.board) {
				t.Errorf("%s: the board is %+v", tt.name, b)
			}
			return errors.Join(err, errUndo)
		})
		if !errors.Is(err, errUndo) {
			t.Errorf("%s: %v", tt.name, err)
		}
	}
	if err := change(t, s, func(tx *Tx) error {
		_, refused, err := PutBoards(tx, []orders.Board{board("twice"), board("twice")}, measure.Inches)
		if len(refused) != 1 {
			t.Errorf("one name twice: %+v", refused)
		}
		return err
	}); err != nil {
		t.Fatal(err)
	}
}

func TestReserve(t *testing.T) {
	s := rackShop(t, board("A"), board("B"))
	reserve := func(job int64, b orders.Board) error {
		return change(t, s, func(tx *Tx) error { return Reserve(tx, job, []orders.Board{b}) })
	}
	if err := reserve(1, board("A")); err != nil {
		t.Fatal(err)
	}
	if err := reserve(1, board("A")); err != nil {
		t.Errorf("a job's own board again: %v", err)
	}
	longer := board("B")
	longer.Length++
	for name, tt := range map[string]struct {
		board orders.Board
		state BoardState
	}{"another job's": {board("A"), BoardReserved}, "another size by now": {longer, BoardFree}, "no board": {board("C"), ""}} {
		var taken *TakenError
		if err := reserve(2, tt.board); !errors.As(err, &taken) || taken.State != tt.state {
			t.Errorf("%s: %v", name, err)
		}
	}
}

func TestCount(t *testing.T) {
	s := rackShop(t, board("A"), board("B"), board("C"))
	if err := change(t, s, func(tx *Tx) error {
		if _, _, err := RemoveBoards(tx, []string{"C"}, "lost"); err != nil {
			return err
		}
		tally, err := CountRack(tx, []string{"A", "C", "X"})
		if !slices.Equal(tally.Found, []string{"A"}) || len(tally.Missing) != 1 || tally.Missing[0].ID != "B" ||
			!slices.Equal(tally.Extra, []string{"X"}) || len(tally.Back) != 1 || tally.Back[0].ID != "C" {
			t.Errorf("%+v", tally)
		}
		return err
	}); err != nil {
		t.Fatal(err)
	}
}

func TestLeftovers(t *testing.T) {
	b := nesting.CutBoard{ID: "A", Stock: board("A"), Length: 96 * measure.Inch, Width: 6 * measure.Inch, Cost: 9600,
		Offcuts: []nesting.Offcut{{Length: measure.Inch, Width: measure.Inch}, {X: 48 * measure.Inch, Length: 24 * measure.Inch, Width: 6 * measure.Inch, Keep: true}}}
	b.Stock.Origin, b.Stock.Cost, b.Stock.CostKnown = orders.FromRack, 9600, true
	b.Stock.Defects = []orders.Defect{{X: 50 * measure.Inch, Y: 0, Length: 2 * measure.Inch, Width: measure.Inch}}
	bought := b
	bought.Stock.Origin = orders.FromYard
	left := Leftovers([]nesting.CutBoard{b, bought}, 3)
	if len(left) != 2 || left[1].Name != "3-A.1" || left[1].Parent != "" || left[0].Name != "A.1" || left[0].Board.Cost != 2400 || left[0].Board.Defects[0].X != 2*measure.Inch || left[0].Board.From != "offcut of A, job 3" {
		t.Errorf("%+v", left)
	}
	if got := DefectsWithin(left[0].Board.Defects, measure.Inch, measure.Inch); len(got) != 0 {
		t.Errorf("a defect beyond the end stayed: %+v", got)
	}
}

// What is written of defects, in the file and for people, keeps sapwood apart.
func TestSapwoodIsKept(t *testing.T) {
	b := board("S1")
	b.Defects = []orders.Defect{{Length: 96 * measure.Inch, Width: measure.Inch / 2, Sapwood: true}, {X: measure.Inch, Length: measure.Inch, Width: measure.Inch}}
	s := rackShop(t, b)
	if err := s.View(ctx, func(tx *Tx) error {
		got, err := FindBoard(tx, "S1")
		if err == nil && !slices.Equal(got.Defects, b.Defects) {
			t.Errorf("%+v, want %+v", got.Defects, b.Defects)
		}
		return err
	}); err != nil {
		t.Fatal(err)
	}
	if got, want := DefectsText(b, measure.Inches), "sapwood 0 in to 96 in across 0 in to 1/2 in; 1 in to 2 in across 0 in to 1 in"; got != want {
		t.Errorf("%q, want %q", got, want)
	}
}

// Two people correct the same list: the second is told what stands there now,
// unless both say the same or the job alone moved the board.
func TestASecondCorrectionIsRefused(t *testing.T) {
	for name, c := range map[string]struct {
		first, second func(*orders.Board)
		moved         bool // a job held the board and let it go
		refused       bool
	}{
		"another length":          {func(b *orders.Board) { b.Length = 90 * measure.Inch }, func(b *orders.Board) { b.Place = "north" }, false, true},
		"the same correction":     {func(b *orders.Board) { b.Place = "north" }, func(b *orders.Board) { b.Place = "north" }, false, false},
		"nobody else":             {func(*orders.Board) {}, func(b *orders.Board) { b.Place = "north" }, false, false},
		"nobody else, but a job":  {func(*orders.Board) {}, func(b *orders.Board) { b.Place = "north" }, true, false},
		"the second says nothing": {func(b *orders.Board) { b.Place = "north" }, func(b *orders.Board) { b.Listed, b.Place = "", "south" }, false, false},
	} {
		b := board("W1")
		s := rackShop(t, b)
		one, two := b, b
		one.Listed, two.Listed = BoardListed(b), BoardListed(b)
		c.first(&one)
		c.second(&two)
		if err := change(t, s, func(tx *Tx) error {
			_, no, err := PutBoards(tx, []orders.Board{one}, measure.Inches)
			if len(no) > 0 {
				t.Errorf("%s: the first is refused: %+v", name, no)
			}
			if c.moved {
				err = errors.Join(err, Reserve(tx, 1, []orders.Board{b}))
				_, err2 := Release(tx, 1)
				err = errors.Join(err, err2)
			}
			_, no, err2 := PutBoards(tx, []orders.Board{two}, measure.Inches)
			if (len(no) > 0) != c.refused {
				t.Errorf("%s: refused %+v, want refused %v", name, no, c.refused)
			}
			return errors.Join(err, err2)
		}); err != nil {
			t.Fatal(err)
		}
	}
}

// Two leaves of one board are one board to the rack: it is used up once, and
// what is left of either is named after it, at the leaf's thickness.
func TestOffcutsOfLeavesAreOfTheirBoard(t *testing.T) {
	k := board("K1")
	k.Class, k.Origin = "8/4", orders.FromRack
	leaf := func(n int, stock orders.Board) nesting.CutBoard {
		return nesting.CutBoard{ID: fmt.Sprintf("%s/%d", stock.ID, n), Stock: stock, Leaf: nesting.Leaf{Of: stock.ID, N: n, Count: 2}, Length: k.Length, Width: k.Width,
			Thickness: measure.Inch * 3 / 4, Offcuts: []nesting.Offcut{{Length: 20 * measure.Inch, Width: 6 * measure.Inch, Keep: true}}}
	}
	bought := k
	bought.ID, bought.Origin = "Y1", orders.FromYard
	var got []string
	for _, r := range Leftovers([]nesting.CutBoard{leaf(1, k), leaf(2, k), leaf(1, bought), leaf(2, bought)}, 3) {
		got = append(got, r.Name+" of "+r.Parent+": "+ThicknessText(r.Board, measure.Inches))
	}
	want := []string{"K1.1 of K1: 3/4 in", "K1.2 of K1: 3/4 in", "3-Y1.1 of : 3/4 in", "3-Y1.2 of : 3/4 in"}
	if !slices.Equal(got, want) {
		t.Errorf("%q, want %q", got, want)
	}
}
