package main

import (
	"errors"
	"reflect"
	"testing"
)

// TestShift: reduced by the kerf, the same pieces fit the same stock; where a
// piece is no larger than the kerf all sizes are made larger first. Worked by
// hand.
func TestShift(t *testing.T) {
	for _, c := range []struct {
		name         string
		cuts         string
		stock, item  [2]int64
		kerf         int64
		board, piece [2]int64
	}{
		{"two dimensions", "guillotine_free", [2]int64{40, 30}, [2]int64{20, 10}, 3, [2]int64{37, 27}, [2]int64{17, 7}},
		{"lengths alone", "1d", [2]int64{100, 1}, [2]int64{50, 1}, 3, [2]int64{97, 1}, [2]int64{47, 1}},
		{"no larger than the kerf", "guillotine_free", [2]int64{10, 10}, [2]int64{1, 5}, 2, [2]int64{28, 28}, [2]int64{1, 13}},
	} {
		in := instance{cuts: c.cuts, stocks: []cuttingStock{{length: c.stock[0], width: c.stock[1]}},
			items: []cuttingItem{{length: c.item[0], width: c.item[1]}}}
		out := in.shift(c.kerf)
		board := [2]int64{out.stocks[0].length, out.stocks[0].width}
		piece := [2]int64{out.items[0].length, out.items[0].width}
		if !reflect.DeepEqual(board, c.board) || piece != c.piece || out.kerf != c.kerf {
			t.Errorf("%s: stock %v, item %v, kerf %d; want %v, %v", c.name, board, piece, out.kerf, c.board, c.piece)
		}
		if in.stocks[0].length != c.stock[0] || in.items[0].length != c.item[0] {
			t.Errorf("%s: the instance itself was changed", c.name)
		}
	}
}

// TestBeats: only a valid answer counts as better, and better is less or more as
// the goal says.
func TestBeats(t *testing.T) {
	known := reference{value: 10, given: true, meaning: "optimal"}
	for _, c := range []struct {
		why  string
		o    outcome
		want bool
	}{
		{"fewer plates", outcome{ours: 9, solved: true}, true},
		{"as many", outcome{ours: 10, solved: true}, false},
		{"more value", outcome{ours: 11, solved: true, maximise: true}, true},
		{"less value", outcome{ours: 9, solved: true, maximise: true}, false},
		{"an invalid plan", outcome{ours: 9, solved: true, invalid: errors.New("parts overlap")}, false},
		{"no plan", outcome{}, false},
	} {
		if got := c.o.beats(known); got != c.want {
			t.Errorf("%s: %v, want %v", c.why, got, c.want)
		}
	}
}
