package joint

import (
	"strings"
	"testing"

	"pgregory.net/rapid"

	"batchwright/jigplan"
	"batchwright/orders/measure"
)

// counted is a program of twelve fingers, 3-3/8 in high, on 16 threads an inch.
func counted(t interface{ Fatal(...any) }) jigplan.Program {
	a, err := Solve(plainRequest(measure.Inch/4, measure.Inch*27/8))
	if err != nil || a.Refused != nil {
		t.Fatal(err, a.Refused)
	}
	return a.Best()
}

// TestSeveralSlips turns wrongly before two slots, reads the rule at every
// slot, follows the advice and puts the boards together: what a second slip
// does is neither taken for the first one's nor lost.
func TestSeveralSlips(t *testing.T) {
	p := counted(t)
	height := p.Heights[0].Height
	rapid.Check(t, func(t *rapid.T) {
		first := rapid.IntRange(2, 4).Draw(t, "first")
		second := rapid.IntRange(first+1, 6).Draw(t, "second")
		turns := map[int]int64{
			first:  rapid.SampledFrom([]int64{-2, -1, 1, 2}).Draw(t, "turns at the first"),
			second: rapid.SampledFrom([]int64{-2, -1, 1, 2}).Draw(t, "turns at the second"),
		}
		done := rapid.IntRange(second, len(p.Slots)).Draw(t, "done")
		var kerfs []measure.Ratio
		var count Count
		off := int64(0)
		for slot := 1; slot <= done; slot++ {
			off += turns[slot]
			for _, s := range p.Steps {
				if s.Slot == slot {
					kerfs = append(kerfs, p.Origin.Add(s.Travel).Add(p.Lead.Times(off)))
				}
			}
			travel := lost{p: p}.lastStep(slot).Travel.Add(p.Lead.Times(off)).Length()
			if slot%2 == 0 {
				count.Readings = append(count.Readings, SlotReading{slot, travel})
			} else {
				count.Far = append(count.Far, SlotReading{slot, travel + p.Origin.Length() + p.Kerf})
			}
		}
		loss, err := FindLost(p, count, measure.Inches)
		if err != nil {
			t.Fatal(err)
		}
		all := append([]Loss{loss}, loss.Later...)
		if len(all) != 2 || all[0].Slot != first || all[1].Slot != second || all[1].Turns.Cmp(measure.Whole(turns[second])) != 0 {
			t.Fatalf("found %+v, slipped %v", all, turns)
		}
		for _, slip := range all {
			for _, travel := range slip.Extra {
				kerfs = append(kerfs, p.Origin.Add(travel))
			}
		}
		if loss.Rest != nil {
			for _, s := range loss.Rest.Steps {
				kerfs = append(kerfs, loss.Rest.Origin.Add(s.Travel))
			}
		}
		slotsA, slotsB := sawn(kerfs, p.Kerf.Ratio(), measure.Ratio{}, height), sawn(kerfs, p.Kerf.Ratio(), p.Spacer, height)
		if clash := shared(wood(slotsA, height), wood(slotsB, height)); len(clash) > 0 {
			t.Fatalf("wood meets wood over %v after the cure %v", clash, loss.Say)
		}
		wide := 0
		for _, gap := range shared(slotsA, slotsB) {
			if gap.Cmp(p.Fit) > 0 {
				wide++
			}
			if gap.Cmp(p.Fit) > 0 && gap.Cmp(greater(all[0].Gap, all[1].Gap)) > 0 {
				t.Fatalf("a gap of %s, foretold %s and %s", gap, all[0].Gap, all[1].Gap)
			}
		}
		if wide > 2 {
			t.Fatalf("%d gaps stay, foretold two", wide)
		}
		if rest := loss.Rest; rest != nil {
			pins := wood(slotsA, height)
			last := pins[len(pins)-1]
			edge := rest.Heights[0].AHigh
			if onEdge := last.high.Cmp(height.Ratio()) == 0 && last.high.Sub(last.low).Cmp(p.Fit) > 0; onEdge == edge.Notch {
				t.Fatalf("the card of the rest shows %+v at the other edge, there is %v", edge, last)
			}
		}
	})
	if p.Heights[0] != counted(t).Heights[0] {
		t.Error("the program was changed")
	}
}

// TestLostCountSaysWhatIsKnown: what the maker hears where the figures do not
// agree, or tell less than they seem to.
func TestLostCountSaysWhatIsKnown(t *testing.T) {
	p := counted(t)
	at := func(slot int, turns int64) SlotReading {
		return SlotReading{slot, lost{p: p}.lastStep(slot).Travel.Add(p.Lead.Times(turns)).Length()}
	}
	onBoard := func(slot int, turns int64) SlotReading {
		r := at(slot, turns)
		r.Travel += p.Origin.Length() + p.Kerf
		return r
	}
	turns := func(n int64) *measure.Ratio { r := measure.Whole(n); return &r }
	for _, c := range []struct {
		reason    string
		count     Count
		says, not string
	}{
		{"the board tells as much as the rule", Count{Far: []SlotReading{onBoard(2, 0), onBoard(3, 1)}}, "the move to slot 3 was 1 turn too many", "somewhere"},
		{"a second slip that cancels the first", Count{Readings: []SlotReading{at(2, 0), at(3, 1), at(4, 0)}}, "the move to slot 4 was 1 turn too few", "everything since stands"},
		{"the wheel was wound back by as much as the slip", Count{Readings: []SlotReading{at(2, 0), at(3, 1)}, Done: 4, Returned: turns(31)}, "carry on with the new card", "something else"},
		{"it was not: the rest is not known", Count{Readings: []SlotReading{at(2, 0), at(3, 1)}, Done: 4, Returned: turns(30)}, "something else slipped", "carry on"},
		{"return turns alone name no slot", Count{Returned: turns(56)}, "1 turn too few", "after slot 0"},
		{"a slot that only row B shows is not asked for", Count{Returned: turns(56)}, "slot 6 should end 3.0955 in", "slot 7 should"},
		{"where a cure cuts is told by the rule too", Count{Readings: []SlotReading{at(2, 0), at(3, 1)}}, "rule at 1.1250 in (18 turns from home)", "saw's blade clear"},
		{"a pin that two turns too few leave thin", Count{Readings: []SlotReading{at(2, 0), at(3, -4)}}, "a pin of only 0.0295 in stays", "clash of"},
		{"one turn too many leaves enough everywhere", Count{Readings: []SlotReading{at(2, 0), at(3, 1)}}, "carry on", "a pin of only"},
	} {
		loss, err := FindLost(p, c.count, measure.Inches)
		all := strings.Join(loss.Say, "\n")
		if err != nil || !strings.Contains(all, c.says) || strings.Contains(all, c.not) {
			t.Errorf("%s: %v\n%s\nwant %q and no %q", c.reason, err, all, c.says, c.not)
		}
	}
	_, twice := FindLost(p, Count{Readings: []SlotReading{at(3, 0)}, Far: []SlotReading{onBoard(3, 1)}}, measure.Inches)
	if twice == nil || !strings.Contains(twice.Error(), "slot 3 was read twice, the rule says 1.3125 in and the board says 1.4705 in") {
		t.Errorf("a slot that was read twice: %v", twice)
	}
	_, err := FindLost(p, Count{Far: []SlotReading{{3, onBoard(3, 0).Travel + measure.Inch/32}}}, measure.Inches)
	if err == nil || !strings.Contains(err.Error(), "1.4080 in and 1.4705 in") {
		t.Errorf("a board measured between two stops: %v", err)
	}
}
