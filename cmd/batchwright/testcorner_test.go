package main

import (
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"batchwright/jigplan"
	"batchwright/jigplan/joint"
	"batchwright/orders/measure"
	"batchwright/orders/settings"
	"batchwright/reports"
)

var (
	scrapWidth = regexp.MustCompile(`no wider than (\S+) in`)
	slotToTell = regexp.MustCompile(`measure slot (\d+)(?: of ([AB]))?`)
)

// TestTestCornerCloses does as the card says: cuts so many slots in two pieces
// of scrap so wide, and puts them together. No wood may meet wood, and the slot
// to be measured stands whole in its piece.
func TestTestCornerCloses(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := settings.Default()
		s.BladeKerf = measure.Length(rapid.SampledFrom([]int64{955, 945, 1260}).Draw(t, "kerf")) * 2032
		s.Layout = rapid.SampledFrom([]string{"best", "centred", "edge"}).Draw(t, "layout")
		q := joint.Request{
			Finger:  measure.Inch * measure.Length(rapid.Int64Range(1, 8).Draw(t, "finger")) / 8,
			Heights: []measure.Length{measure.Inch * measure.Length(rapid.Int64Range(8, 80).Draw(t, "height")) / 16},
			RowA:    measure.Inch / 2, RowB: measure.Inch / 2, Settings: s,
		}
		if rapid.Bool().Draw(t, "unequal") {
			q.RowB = measure.Inch * 3 / 8
		}
		a, err := joint.Solve(q)
		if err != nil || a.Refused != nil {
			t.Skip("refused")
		}
		programs := named(a.Candidates[0])
		cards := []reports.Card{reports.CardOf(&programs[0], nil, &s)}
		if len(programs) == 2 {
			cards = []reports.Card{reports.CardOf(&programs[0], &programs[1], &s), reports.CardOf(&programs[1], &programs[0], &s)}
		}
		cutTrial(t, q.Heights[0], cards)
	})
}

// cutTrial follows one card for both rows, or each row's own.
func cutTrial(t *rapid.T, width measure.Length, cards []reports.Card) {
	var kerfs [2][]stretch
	for i, card := range cards {
		p := card.Program
		text := strings.Join(card.TestCorner(), " ")
		slots := len(p.Slots)
		if m := scrapWidth.FindStringSubmatch(text); m != nil {
			slots = 3
			var err error
			if width, err = measure.Parse(m[1], measure.Reading{}); err != nil {
				t.Fatal(err)
			}
		}
		for _, step := range p.Steps {
			if step.Slot > slots {
				continue
			}
			at := p.Origin.Add(step.Travel)
			kerfs[i] = append(kerfs[i], stretch{at, at.Add(p.Kerf.Ratio())})
			if p.Rows == jigplan.BothRows {
				kerfs[1] = append(kerfs[1], stretch{at.Sub(p.Spacer), at.Sub(p.Spacer).Add(p.Kerf.Ratio())})
			}
		}
	}
	if width < measure.Inch/4 {
		t.Fatalf("scrap of %s cannot be held", width.Fraction())
	}
	woodA, woodB := leftOf(kerfs[0], width), leftOf(kerfs[1], width)
	for _, a := range woodA {
		for _, b := range woodB {
			if low, high := larger(a.low, b.low), smaller(a.high, b.high); high.Cmp(low) > 0 {
				t.Fatalf("scrap %s wide: wood meets wood from %s to %s\n%s", width.Fraction(), low, high, strings.Join(cards[0].TestCorner(), "\n"))
			}
		}
	}
	for i, card := range cards {
		m := slotToTell.FindStringSubmatch(strings.Join(card.TestCorner(), " "))
		if m == nil {
			continue
		}
		n, _ := strconv.Atoi(m[1])
		wood := [2][]stretch{woodA, woodB}[i]
		if m[2] == "B" {
			wood = woodB
		}
		if !hasGap(wood, card.Program.Slots[n-1].Width) {
			t.Fatalf("no slot of %s stands whole: %s", card.Program.Slots[n-1].Width, m[0])
		}
	}
}

// stretch is wood or air across the fingers.
type stretch struct{ low, high measure.Ratio }

func leftOf(kerfs []stretch, width measure.Length) []stretch {
	sorted := slices.SortedFunc(slices.Values(kerfs), func(a, b stretch) int { return a.low.Cmp(b.low) })
	var out []stretch
	var at measure.Ratio
	for _, k := range sorted {
		if high := smaller(k.low, width.Ratio()); high.Cmp(at) > 0 {
			out = append(out, stretch{at, high})
		}
		at = larger(at, k.high)
	}
	if width.Ratio().Cmp(at) > 0 {
		out = append(out, stretch{at, width.Ratio()})
	}
	return out
}

// hasGap reports a gap of a width with wood on both sides.
func hasGap(wood []stretch, gap measure.Ratio) bool {
	for i := 1; i < len(wood); i++ {
		if wood[i].low.Sub(wood[i-1].high).Cmp(gap) == 0 {
			return true
		}
	}
	return false
}

func smaller(a, b measure.Ratio) measure.Ratio {
	if b.Cmp(a) < 0 {
		return b
	}
	return a
}

func larger(a, b measure.Ratio) measure.Ratio {
	if b.Cmp(a) > 0 {
		return b
	}
	return a
}
