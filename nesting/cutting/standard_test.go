package cutting_test

import (
	"testing"

	"batchwright/nesting"
	"batchwright/nesting/cutting"
	"batchwright/orders"
	"batchwright/orders/measure"
	"batchwright/orders/settings"
)

// TestOtherTypicalBoards, worked by hand in board feet, 4/4 tallied as 1 in: two
// parts of 30 x 4-1/2 in with a kerf take 60-1/8 in of length. Of boards of 96 x 6
// in (4 board feet) that is one; a board of 64 x 5 in (2.2) holds both as well, one
// of 48 x 5 in (1.7) only one, and two of those are 3.3.
func TestOtherTypicalBoards(t *testing.T) {
	flat := func(l, w int) settings.Flat {
		return settings.Flat{Length: measure.Length(l) * inch, Width: measure.Length(w) * inch}
	}
	for _, c := range []struct {
		why   string
		other []settings.Flat
		l, w  int // of the board taken
		n     int
	}{
		{"none but the usual one", nil, 96, 6, 1},
		{"the smaller one holds both", []settings.Flat{flat(48, 5), flat(64, 5)}, 64, 5, 1},
		{"two short ones are less than one long one", []settings.Flat{flat(48, 5)}, 48, 5, 2},
		{"too narrow for any", []settings.Flat{flat(64, 4)}, 96, 6, 1},
	} {
		set := settings.Default()
		set.OtherTypical, set.EdgeTrim = c.other, 0
		set.KeepLength = 200 * inch // nothing goes back
		part := func(id string) orders.Part {
			return orders.Part{ID: id, Wood: "ash", Grain: orders.AlongLength, Length: 30 * inch, CutLength: 30 * inch, Width: 9 * inch / 2, CutWidth: 9 * inch / 2, Thickness: inch / 2}
		}
		job := cutting.Job{Parts: []orders.Part{part("a"), part("b")}, Settings: set, Standard: true}
		l := cutting.Nest(job, nesting.Limits{Seed: 1})
		verify(t, job, l)
		if len(l.Boards) != c.n || l.Boards[0].Length != measure.Length(c.l)*inch || l.Boards[0].Width != measure.Length(c.w)*inch {
			t.Errorf("%s: %d boards, the first %v x %v mm", c.why, len(l.Boards), l.Boards[0].Length.Millimetres(), l.Boards[0].Width.Millimetres())
		}
	}
}
