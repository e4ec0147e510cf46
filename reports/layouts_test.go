package reports

import (
	"fmt"
	"slices"
	"testing"

	"batchwright/jigplan"
	"batchwright/nesting"
	"batchwright/orders"
	"batchwright/orders/measure"
	"batchwright/orders/settings"
)

const in = measure.Inch

// strip is a board 30 x 6 in: trimmed at an end, ripped once into a strip of
// two parts and a shaving, then parted.
func strip(id string, unit int) nesting.CutBoard {
	kerf := in / 8
	return nesting.CutBoard{ID: id, Length: 30 * in, Width: 6 * in, Stock: orders.Board{Wood: "ash", Class: "4/4"},
		Pieces: []nesting.Piece{
			{Part: fmt.Sprintf("T-%d-S1", unit), X: in, Y: 0, Length: 12 * in, Width: 3 * in},
			{Part: fmt.Sprintf("T-%d-S2", unit), X: 13*in + kerf, Y: 0, Length: 12 * in, Width: 3 * in}},
		Cuts: []nesting.Cut{
			{N: 1, Kind: nesting.Crosscut, At: 7 * in / 8, To: 6 * in, Kerf: kerf, Guide: nesting.ByStop, Reference: nesting.MarkedEnd, Set: 7 * in / 8, Takes: in},
			{N: 2, Kind: nesting.Rip, At: 3 * in, From: in, To: 30 * in, Kerf: kerf, Guide: nesting.ByFence, Reference: nesting.MarkedEdge, Set: 3 * in},
			{N: 3, Kind: nesting.Rip, At: 3*in + in/16, From: in, To: 30 * in, Kerf: kerf, Guide: nesting.ByFence, Reference: nesting.FarEdge, Set: 2*in + 13*in/16, Takes: in / 16},
			{N: 4, Kind: nesting.Crosscut, At: 13 * in, From: 0, To: 3 * in, Kerf: kerf, Guide: nesting.ByStop, Reference: nesting.FreshEnd, Set: 12 * in},
			{N: 5, Kind: nesting.Crosscut, At: 25*in + kerf, From: 0, To: 3 * in, Kerf: kerf, Guide: nesting.ByStop, Reference: nesting.FreshEnd, Set: 12 * in, Takes: 5*in - kerf}},
		Offcuts: []nesting.Offcut{{X: in, Y: 3*in + 3*in/16, Length: 29 * in, Width: 2*in + 13*in/16, Keep: true}}}
}

func plates() *jigplan.Plan {
	p := &jigplan.Plan{Order: &orders.Order{Settings: settings.Default()}}
	for unit := 1; unit <= 2; unit++ {
		for _, label := range []string{"S1", "S2"} {
			p.Parts = append(p.Parts, orders.Part{ID: fmt.Sprintf("T-%d-%s", unit, label), Box: "T", Unit: unit, Role: orders.Side, Length: 12 * in, Width: 3 * in})
		}
		p.Layout.Boards = append(p.Layout.Boards, strip(fmt.Sprintf("R%d", unit), unit))
	}
	return p
}

// What each cut of the board above finishes and takes off, followed by hand.
func TestCutSettings(t *testing.T) {
	l := Layouts(plates())
	if len(l) != 1 || len(l[0].Boards) != 2 {
		t.Fatalf("%d layouts: boards that are cut alike stand apart", len(l))
	}
	for i, want := range []struct {
		gets []int // pieces before the kerf
		trim measure.Length
		why  string
	}{
		{nil, in, "a trim of 1 in holds its kerf of 1/8 in"},
		{[]int{0, 1}, 0, "the strip of both parts"},
		{nil, 0, "a cut may shave less than its kerf; the offcut is finished with it"},
		{[]int{0}, 0, "the first part"},
		{[]int{1}, 0, "the second; what it takes off the end needs no setting"},
	} {
		got := l[0].Cuts[i]
		if !slices.Equal(got.Gets[0].pieces, want.gets) || got.trim() != want.trim {
			t.Errorf("cut %d: pieces %v, trims %s; want %v, %s: %s", i+1, got.Gets[0].pieces, got.trim().Fraction(), want.gets, want.trim.Fraction(), want.why)
		}
	}
}

// The same board as it is read at the saw: equal cuts are one row, a trim is in
// the row of the cut it is for, and parts have names.
func TestBoardSteps(t *testing.T) {
	p := plates()
	l, w := Layouts(p)[0], WordsOf(p)
	stages := l.Stages(NamesOf(p), w)
	if len(stages) != 1 {
		t.Fatalf("%d stages for a board of five cuts", len(stages))
	}
	want := []BoardStep{
		{"Crosscut", "7/8", "marked end", "the trim takes off 1 in", []int{1}},
		{"Rip", "3", "marked edge", "strip: T: sides of boxes 1-2", []int{2}},
		{"Rip; push stick", "2-13/16", "far edge", "offcut to keep", []int{3}}, // 2-7/8 in wide: under 6 in
		{"Crosscut, 2 times", "12", "fresh end", "T: sides of boxes 1-2", []int{4, 5}},
	}
	if got := stages[0].Steps; fmt.Sprint(got) != fmt.Sprint(want) {
		t.Errorf("steps\n%v, want\n%v", got, want)
	}
}

// Settings that take turns are one row: side, end, side, end.
func TestSettingsThatTakeTurns(t *testing.T) {
	cut := func(set measure.Length) CutSetting {
		return CutSetting{Cut: &nesting.Cut{Kind: nesting.Crosscut, Set: set}}
	}
	for why, c := range map[string]struct {
		sets          []measure.Length
		period, count int
	}{
		"two in turn, three times":       {[]measure.Length{5, 3, 5, 3, 5, 3}, 2, 3},
		"equal ones, then another":       {[]measure.Length{5, 5, 5, 3}, 1, 3},
		"nothing repeats":                {[]measure.Length{5, 3, 4}, 1, 1},
		"what covers most is taken":      {[]measure.Length{5, 5, 3, 5, 5, 3}, 3, 2},
		"the shortest of those as large": {[]measure.Length{5, 5, 5, 5}, 1, 4},
	} {
		var cuts []CutSetting
		for _, set := range c.sets {
			cuts = append(cuts, cut(set))
		}
		if period, count := repeats(cuts); period != c.period || count != c.count {
			t.Errorf("%s: %d x %d, want %d x %d", why, period, count, c.period, c.count)
		}
	}
}

func TestLayoutsDifferByWhatIsSeen(t *testing.T) {
	for why, change := range map[string]func(*nesting.CutBoard){
		"a defect":       func(b *nesting.CutBoard) { b.Stock.Defects = []orders.Defect{{X: in, Length: in, Width: in}} },
		"another wood":   func(b *nesting.CutBoard) { b.Stock.Wood = "oak" },
		"a longer board": func(b *nesting.CutBoard) { b.Length += in },
		"a turned piece": func(b *nesting.CutBoard) { b.Pieces[0].Turned = true },
		"another cut":    func(b *nesting.CutBoard) { b.Cuts = b.Cuts[:4] },
	} {
		p := plates()
		change(&p.Layout.Boards[1])
		if n := len(Layouts(p)); n != 2 {
			t.Errorf("%s: %d layouts, want 2", why, n)
		}
	}
}

// A thousand equal boxes are as many lines as one, and no part is lost.
func TestCutListGroupsEqualParts(t *testing.T) {
	p := plates()
	p.Parts = nil
	for unit := 1; unit <= 1000; unit++ {
		for _, role := range []orders.Role{orders.Side, orders.End} {
			for n := 1; n <= 2; n++ {
				label := string(role[0]-'a'+'A') + fmt.Sprint(n)
				p.Parts = append(p.Parts, orders.Part{ID: fmt.Sprintf("T-%d-%s", unit, label), Unit: unit, Role: role, Length: 12 * in})
			}
		}
	}
	p.Layout.Short = []nesting.Short{{Part: "T-7-S2", Why: "no board"}}
	list := CutList(p)
	if len(list) != 2 || list[0].Count != 2000 || list[1].Count != 2000 {
		t.Fatalf("%d lines, the first of %d parts", len(list), list[0].Count)
	}
	if l := list[0]; l.Label != "T-n-S1, S2" || l.Units != "1-1000" || l.Short != 1 {
		t.Errorf("line %q of boxes %q, %d short", l.Label, l.Units, l.Short)
	}
}

func TestRanges(t *testing.T) {
	for want, numbers := range map[string][]int{"1-4, 6": {6, 1, 2, 3, 4}, "2": {2, 2}, "": {}, "1, 3": {3, 1}} {
		if got := Ranges(numbers); got != want {
			t.Errorf("%v reads %q, want %q", numbers, got, want)
		}
	}
}
