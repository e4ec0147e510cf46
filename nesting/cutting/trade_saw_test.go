package cutting_test

import (
	"testing"

	"batchwright/nesting"
	"batchwright/orders/measure"
)

// TestTheFirstCutIsAsAsked: crosscut first where a board is long or crooked, rip
// first where it is wide (common practice); best keeps more. Worked by hand: of
// 30 x 8 in with a part of 20 x 3 in the end of 9-7/8 in is too short to keep,
// a strip of 4-7/8 in along the whole board is not; of 60 x 8 in crosscutting
// first loses a kerf of 8 + 20 in, ripping first one of 60 + 3 in.
func TestTheFirstCutIsAsAsked(t *testing.T) {
	t.Parallel()
	const eighth = inch / 8
	for _, c := range []struct {
		first string
		long  measure.Length
		kind  nesting.CutKind
		kept  []nesting.Offcut
	}{
		{"crosscut", 30 * inch, nesting.Crosscut, []nesting.Offcut{{X: 0, Y: 3*inch + eighth, Length: 20 * inch, Width: 5*inch - eighth, Keep: true}}},
		{"rip", 30 * inch, nesting.Rip, []nesting.Offcut{{X: 0, Y: 3*inch + eighth, Length: 30 * inch, Width: 5*inch - eighth, Keep: true}}},
		{"best", 30 * inch, nesting.Rip, []nesting.Offcut{{X: 0, Y: 3*inch + eighth, Length: 30 * inch, Width: 5*inch - eighth, Keep: true}}},
		{"crosscut", 60 * inch, nesting.Crosscut, []nesting.Offcut{{X: 20*inch + eighth, Y: 0, Length: 40*inch - eighth, Width: 8 * inch, Keep: true},
			{X: 0, Y: 3*inch + eighth, Length: 20 * inch, Width: 5*inch - eighth, Keep: true}}},
		{"rip", 60 * inch, nesting.Rip, []nesting.Offcut{{X: 20*inch + eighth, Y: 0, Length: 40*inch - eighth, Width: 3 * inch, Keep: true},
			{X: 0, Y: 3*inch + eighth, Length: 60 * inch, Width: 5*inch - eighth, Keep: true}}},
		{"best", 60 * inch, nesting.Crosscut, []nesting.Offcut{{X: 20*inch + eighth, Y: 0, Length: 40*inch - eighth, Width: 8 * inch, Keep: true},
			{X: 0, Y: 3*inch + eighth, Length: 20 * inch, Width: 5*inch - eighth, Keep: true}}},
	} {
		job := tradeJob(ashBoard("R", c.long, 8*inch, 100))
		job.Settings.CutFirst = c.first
		job.Parts = append(job.Parts, ashPart("P", 20*inch, 3*inch))
		l := laid(t, job)
		if got := l.Boards[0].Cuts[0].Kind; got != c.kind {
			t.Errorf("%s, %v in long: the first cut is a %s", c.first, c.long.Inches(), got)
		}
		if kept := keptOn(l); !sameOffcuts(kept, c.kept) {
			t.Errorf("%s, %v in long: keeps %v, want %v", c.first, c.long.Inches(), kept, c.kept)
		}
	}
}

// sameOffcuts compares them in any order.
func sameOffcuts(a, b []nesting.Offcut) bool {
	count := map[nesting.Offcut]int{}
	for _, o := range a {
		count[o]++
	}
	for _, o := range b {
		count[o]--
	}
	for _, n := range count {
		if n != 0 {
			return false
		}
	}
	return true
}

// TestShortPartsArePlanedAsAStrip: nothing shorter than 12 in goes through the
// planer (common practice), so that short parts are planed in one piece and
// crosscut afterwards, and two thicknesses share a board only where each has
// its 12 in: 24-1/8 in with the kerf between.
func TestShortPartsArePlanedAsAStrip(t *testing.T) {
	t.Parallel()
	half, quarter := measure.Length(inch/2), measure.Length(inch/4)
	for _, c := range []struct {
		why   string
		long  measure.Length
		thick []measure.Length // of parts 5 x 4 in
		laid  int
		rough int // cuts before planing
		kept  int
	}{
		{"a board that the planer does not take", 12*inch - 1, []measure.Length{half}, 0, 0, 0},
		{"one part of a board that it just takes", 12 * inch, []measure.Length{half}, 1, 0, 0},
		{"two parts of it, parted after planing", 12 * inch, []measure.Length{half, half}, 2, 0, 0},
		{"no end is cut off before, as it would be below 12 in", 24 * inch, []measure.Length{half}, 1, 0, 0},
		{"an end of 12 in is", 24*inch + inch/8, []measure.Length{half}, 1, 1, 1},
		{"two thicknesses with room for both", 24*inch + inch/8, []measure.Length{half, quarter}, 2, 1, 0},
		{"two thicknesses, a tick too little", 24*inch + inch/8 - 1, []measure.Length{half, quarter}, 1, 0, 0},
	} {
		job := tradeJob(ashBoard("R", c.long, 4*inch, 100))
		for i, thick := range c.thick {
			part := ashPart(string(rune('a'+i)), 5*inch, 4*inch)
			part.Thickness = thick
			job.Parts = append(job.Parts, part)
		}
		l := laid(t, job)
		rough := 0
		for _, b := range l.Boards {
			for _, cut := range b.Cuts {
				if cut.Rough {
					rough++
				}
			}
		}
		if got := len(c.thick) - len(l.Short); got != c.laid || rough != c.rough || len(keptOn(l)) != c.kept {
			t.Errorf("%s: %d laid, %d cuts before planing, kept %v; short %v", c.why, got, rough, keptOn(l), l.Short)
		}
	}
}
