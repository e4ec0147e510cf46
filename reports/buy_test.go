package reports

import (
	"slices"
	"strings"
	"testing"

	"batchwright/jigplan"
	"batchwright/nesting"
	"batchwright/orders"
	"batchwright/orders/measure"
	"batchwright/orders/settings"
)

func lines(t Table) (out []string) {
	for _, r := range t.Rows {
		out = append(out, strings.Join(r, " | "))
	}
	return out
}

// Bought for the worked examples of surface measure in a lumber guide (NHLA):
// 8 in x 12 ft is 8, 10 in x 13 ft is 11. In 5/4 a bundle of both and of a
// 6-1/2 in x 8 ft board (4) is 23 x 1.25 = 28.75, tallied as 29: rounded
// once, not board by board (10 + 13.75 + 5).
func TestYardTallyRoundsABundleOnce(t *testing.T) {
	p := &jigplan.Plan{Order: &orders.Order{Settings: settings.Default()}}
	buy := func(class string, w, l measure.Length, n int) {
		p.Buy = append(p.Buy, jigplan.Purchase{What: "ash", Kind: "wood", Count: n, Board: orders.Board{Wood: "ash", Class: class, Width: w, Length: l}})
	}
	buy("5/4", 8*in, 144*in, 1)
	buy("5/4", 10*in, 156*in, 1)
	buy("5/4", 6*in+in/2, 96*in, 1)
	buy("4/4", 8*in, 144*in, 2)
	p.Buy = append(p.Buy, jigplan.Purchase{What: "wood glue", Kind: "glue", Quantity: "40 g"},
		jigplan.Purchase{What: "birch ply", Kind: "wood", Count: 2, Board: orders.Board{Wood: "birch ply", Sheet: true, Thickness: in / 4, Length: 96 * in, Width: 48 * in}})
	want := []string{"ash | 5/4 | 3 | 23 | 29", "ash | 4/4 | 2 | 16 | 16", "birch ply | 1/4 in | 2 | 64 | ", "All boards |  | 5 | 39 | 45"}
	if got := lines(YardTally(p)); !slices.Equal(got, want) {
		t.Errorf("got\n%s\nwant\n%s", strings.Join(got, "\n"), strings.Join(want, "\n"))
	}
	measures := []string{"10 board feet", "13.75 board feet", "5 board feet", "16 board feet", "", "64 sq ft"}
	for i, r := range Buy(p).Rows {
		if r[4] != measures[i] {
			t.Errorf("line %d is %q, want %q", i, r[4], measures[i])
		}
	}
}

// A run is one clear piece from its first part to its last, kerf between and
// all; parts of no run are apart. The board of plates is 30 x 6 in: its two
// parts of 12 in and the kerf of 1/8 in between are 24-1/8 in.
func TestClearPiecesFollowRunsAndTypicalBoards(t *testing.T) {
	p := plates()
	if got := lines(ClearPieces(p)); got != nil {
		t.Errorf("boards of the rack are not looked for at a yard: %v", got)
	}
	for i := range p.Layout.Boards {
		p.Layout.Boards[i].Stock.Origin = orders.FromTypical
	}
	p.Parts[0].Run, p.Parts[1].Run = "T-1", "T-1"
	want := []string{"☐ | ash | 4/4 | 25 in | 3 in | 1 | 1", "☐ | ash | 4/4 | 12 in | 3 in | 2 | 1"}
	if got := lines(ClearPieces(p)); !slices.Equal(got, want) {
		t.Errorf("got %q, want %q", got, want)
	}
	p.Layout.Boards = append(p.Layout.Boards, nesting.CutBoard{ID: "T9", Stock: orders.Board{Origin: orders.FromTypical, Wood: "birch ply", Sheet: true, Thickness: in / 4}})
	if got := lines(ClearPieces(p)); !slices.Equal(got, want) {
		t.Errorf("a sheet has no clear pieces: %q", got)
	}
}

// The note beneath the list says why it is short: nothing needed, nothing made,
// or parts that have no board.
func TestBuySaysWhyNothingIsBought(t *testing.T) {
	plan := func(boards, short int) *jigplan.Plan {
		p := &jigplan.Plan{Order: &orders.Order{Settings: settings.Default()}}
		p.Layout.Boards = make([]nesting.CutBoard, boards)
		p.Layout.Short = make([]nesting.Short, short)
		return p
	}
	for _, c := range []struct {
		boards, short int
		want          string
	}{
		{2, 0, "the rack has the wood"},
		{0, 0, "no box of this order can be made"},
		{0, 4, "no box of this order can be made"},
		{2, 1, "1 part has no board and is not on this list"},
		{2, 3, "3 parts have no board and are not on this list"},
	} {
		notes := strings.Join(Buy(plan(c.boards, c.short)).Notes, " ")
		if !strings.Contains(notes, c.want) || c.boards == 0 && strings.Contains(notes, "rack") {
			t.Errorf("%d boards, %d parts short: %q", c.boards, c.short, notes)
		}
	}
}
