package joint

import (
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"batchwright/jigplan"
	"batchwright/orders/measure"
	"batchwright/orders/settings"
)

// sawn is what a list of kerfs leaves of one board: its slots, merged.
func sawn(kerfs []measure.Ratio, kerf, setback measure.Ratio, height measure.Length) []board {
	var slots []board
	sorted := slices.SortedFunc(slices.Values(kerfs), func(a, b measure.Ratio) int { return a.Cmp(b) })
	for _, at := range sorted {
		low, high := greater(at.Sub(setback), measure.Ratio{}), lesser(at.Add(kerf).Sub(setback), height.Ratio())
		if high.Cmp(low) <= 0 {
			continue
		}
		if n := len(slots); n > 0 && low.Cmp(slots[n-1].high) <= 0 {
			slots[n-1].high = greater(slots[n-1].high, high)
			continue
		}
		slots = append(slots, board{low, high})
	}
	return slots
}

// wood is the rest of the board.
func wood(slots []board, height measure.Length) []board {
	var out []board
	at := measure.Ratio{}
	for _, s := range slots {
		if s.low.Cmp(at) > 0 {
			out = append(out, board{at, s.low})
		}
		at = s.high
	}
	if height.Ratio().Cmp(at) > 0 {
		out = append(out, board{at, height.Ratio()})
	}
	return out
}

// shared lists the widths that two lists of stretches have in common.
func shared(a, b []board) []measure.Ratio {
	var out []measure.Ratio
	for _, x := range a {
		for _, y := range b {
			if w := lesser(x.high, y.high).Sub(greater(x.low, y.low)); w.Sign() > 0 {
				out = append(out, w)
			}
		}
	}
	return out
}

// slipped is a program run with one slip in it, as far as slot done.
type slipped struct {
	kerfs   []measure.Ratio // from the stop
	reading measure.Length
	width   measure.Length
}

// runWithSlip turns off stops too far before slot at (a move), or makes one
// pass more or fewer inside it.
func runWithSlip(p jigplan.Program, kind Slip, at, done int, off measure.Ratio) slipped {
	var out slipped
	for _, s := range p.Steps {
		start := p.Origin.Add(s.Travel)
		if s.Slot > at || s.Slot == at && kind == MoveSlip {
			start = start.Add(off)
		}
		last := s.Slot == at && s.Cut == p.CutsPerSlot
		if s.Slot > done || last && kind == PassSlip && off.Sign() < 0 {
			continue
		}
		out.kerfs = append(out.kerfs, start)
		if last && kind == PassSlip {
			out.kerfs = append(out.kerfs, start.Add(off))
		}
	}
	l := lost{p: p}
	out.reading = l.lastStep(at).Travel.Add(off).Length()
	out.width = l.width(at).Length()
	if kind == PassSlip {
		out.width = l.width(at).Add(off).Length()
	}
	return out
}

// TestRescueSavesEveryStack slips anywhere by up to three stops, follows the
// advice, and puts the boards together: no wood may meet wood, and at most one
// gap may stay, of the size that was foretold.
func TestRescueSavesEveryStack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := settings.Default()
		s.BladeKerf = measure.Length(rapid.SampledFrom([]int64{955, 940, 1260}).Draw(t, "kerf")) * 2032
		s.FitAtMost = measure.Inch / 16
		s.Layout = rapid.SampledFrom([]string{"best", "centred"}).Draw(t, "layout")
		height := measure.Length(rapid.Int64Range(2000, 6000).Draw(t, "height")) * measure.Inch / 1000
		finger := measure.Length(rapid.SampledFrom([]int64{4, 6, 8}).Draw(t, "finger")) * measure.Inch / 16
		a, err := Solve(Request{Finger: finger, Heights: []measure.Length{height}, RowA: 1, RowB: 1, Settings: s})
		if err != nil || a.Refused != nil {
			t.Skip("no program")
		}
		p := a.Best()
		if len(p.Slots) < 4 {
			t.Skip("few slots")
		}
		kind := rapid.SampledFrom([]Slip{MoveSlip, PassSlip}).Draw(t, "kind")
		at := rapid.IntRange(2, len(p.Slots)-1).Draw(t, "slot")
		stops := rapid.Int64Range(1, 3).Draw(t, "stops")
		if kind == PassSlip {
			stops = 1
		}
		off := p.Lead.Times(stops * rapid.SampledFrom([]int64{-1, 1}).Draw(t, "sign"))
		if kind == PassSlip && (p.CutsPerSlot < 2 || p.Slots[at-1].Cuts < p.CutsPerSlot) {
			t.Skip("no pass to lose")
		}
		done := rapid.IntRange(at, len(p.Slots)).Draw(t, "done")
		ran := runWithSlip(p, kind, at, done, off)
		readings := []SlotReading{{at, ran.reading}}
		if at > 1 {
			readings = append(readings, SlotReading{at - 1, lost{p: p}.lastStep(at - 1).Travel.Length()})
		}
		loss, err := FindLost(p, Count{Readings: readings, Done: done, Width: ran.width}, measure.Inches)
		if err != nil {
			t.Fatal(err)
		}
		if loss.Kind != kind || loss.Slot != at || loss.Turns.Cmp(off.Div(p.Lead)) != 0 {
			t.Fatalf("found %+v, slipped %s at %d by %s", loss, kind, at, off.Div(p.Lead))
		}
		if loss.Rest != nil && loss.Rest.Slots[0].N != done+1 && loss.Rest.Slots[0].N != done {
			t.Fatalf("slot %d was cut last, the new card starts with %d", done, loss.Rest.Slots[0].N)
		}
		kerfs := ran.kerfs
		for _, travel := range loss.Extra {
			kerfs = append(kerfs, p.Origin.Add(travel))
		}
		if loss.Rest != nil {
			for _, step := range loss.Rest.Steps {
				kerfs = append(kerfs, loss.Rest.Origin.Add(step.Travel))
			}
		}
		slotsA := sawn(kerfs, p.Kerf.Ratio(), measure.Ratio{}, height)
		slotsB := sawn(kerfs, p.Kerf.Ratio(), p.Spacer, height)
		if clash := shared(wood(slotsA, height), wood(slotsB, height)); len(clash) > 0 {
			t.Fatalf("wood meets wood over %v after the cure %v", clash, loss.Say)
		}
		wide := 0
		for _, gap := range shared(slotsA, slotsB) {
			if gap.Cmp(p.Fit) > 0 {
				wide++
			}
			if gap.Cmp(loss.Gap) > 0 && gap.Cmp(p.Fit) > 0 {
				t.Fatalf("a gap of %s, foretold %s", gap, loss.Gap)
			}
		}
		if wide > 1 {
			t.Fatalf("%d gaps stay, foretold one", wide)
		}
	})
}

// TestLostCountFigures holds the trade's own figures for one turn on 16
// threads an inch with a kerf of 0.0955 in, exact arithmetic.
func TestLostCountFigures(t *testing.T) {
	s := settings.Default()
	s.BladeKerf = 955 * 2032
	a, err := Solve(Request{Finger: measure.Inch / 4, Heights: []measure.Length{measure.Inch * 27 / 8}, RowA: 1, RowB: 1, Settings: s})
	if err != nil || a.Refused != nil {
		t.Fatal(err, a.Refused)
	}
	p := a.Best()
	at := func(slot int, turns int64) SlotReading {
		return SlotReading{slot, lost{p: p}.lastStep(slot).Travel.Add(p.Lead.Times(turns)).Length()}
	}
	short, err := FindLost(p, Count{Readings: []SlotReading{at(2, 0), at(3, -1)}}, measure.Inches)
	if err != nil || say(short.Gap, measure.Inches) != "0.0643 in" && say(short.Gap, measure.Inches) != "0.0642 in" {
		t.Errorf("short by one turn: gap %s, want 0.06425 in (%v)", say(short.Gap, measure.Inches), err)
	}
	long, err := FindLost(p, Count{Readings: []SlotReading{at(2, 0), at(3, 1)}}, measure.Inches)
	if err != nil || say(long.Clash, measure.Inches) != "0.0608 in" || len(long.Extra) != 1 {
		t.Errorf("long by one turn: clash %s, want 0.06075 in, %d passes (%v)", say(long.Clash, measure.Inches), len(long.Extra), err)
	}
	back := p.ReturnTurns.Sub(measure.Whole(1))
	unknown, err := FindLost(p, Count{Returned: &back}, measure.Inches)
	if err != nil || unknown.Kind != NotTold || !strings.Contains(strings.Join(unknown.Say, " "), "1 turn too few") {
		t.Errorf("return turns alone: %+v (%v)", unknown, err)
	}
	if _, err := FindLost(p, Count{Readings: []SlotReading{{3, lost{p: p}.lastStep(3).Travel.Length() + measure.Inch/32}}}, measure.Inches); err == nil {
		t.Error("a reading between two stops was believed")
	}
}
