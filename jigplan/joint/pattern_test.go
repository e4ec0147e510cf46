package joint

import (
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"batchwright/jigplan/check"
	"batchwright/orders/measure"
)

var inches = measure.Reading{Bare: measure.Inches}

// nominal16 is a pattern in sixteenths as a kerf of 3/32 on 16 threads an inch
// can show it: such fingers are odd multiples of 1/32.
func sixteenths(units ...int64) []measure.Length {
	var out []measure.Length
	for _, n := range units {
		out = append(out, measure.Length(n)*measure.Inch/32)
	}
	return out
}

// TestPatternMating: which ways of making row B a pattern allows. The first is
// the trade's own example of a pattern that mates by a spacer.
func TestPatternMating(t *testing.T) {
	for _, c := range []struct {
		reason string
		widths []measure.Length
		height measure.Length
		want   []Mating
	}{
		{"slot 1 pin 2 slot 3, pin 1 slot 2 pin 3: shifted by half it is its opposite", sixteenths(9, 15, 21, 9, 15, 21), measure.Inch * 90 / 32, []Mating{BySpacer, ByTwoPrograms}},
		{"graduated widths that rise and fall, even count: read backwards it is its opposite", sixteenths(9, 15, 21, 21, 15, 9), measure.Inch * 90 / 32, []Mating{ByTurning, ByTwoPrograms}},
		{"a key in the middle", sixteenths(9, 9, 25, 9, 9), measure.Inch * 61 / 32, []Mating{ByTwoPrograms}},
		{"plain fingers, even count: every way works", sixteenths(9, 9, 9, 9), measure.Inch * 36 / 32, []Mating{BySpacer, ByTurning, ByTwoPrograms}},
	} {
		q := plainRequest(measure.Inch/4, c.height)
		a, err := SolvePattern(q, Pattern{Widths: c.widths})
		if err != nil || a.Refused != nil {
			t.Errorf("%s: %v %+v", c.reason, err, a.Refused)
			continue
		}
		if !slices.Equal(a.Mating, c.want) {
			t.Errorf("%s: %v, want %v", c.reason, a.Mating, c.want)
		}
		for i, f := range a.Features {
			if f.Cmp(c.widths[i].Ratio()) != 0 {
				t.Errorf("%s: feature %d is %s, want %s", c.reason, i+1, f, c.widths[i].Ratio())
			}
		}
		soundPattern(t, a)
	}
}

// TestFeaturesAreThoseOfTheBoard: what is told of a pattern adds up to the
// tallest board and begins as its marked edge does, also where a centred list
// reaches past the edges.
func TestFeaturesAreThoseOfTheBoard(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		text := rapid.SampledFrom([]string{"key 3/4", "key 1", "pin key 3/4", "rising 1/4 to 3/4", "mirrored 1/4 to 3/4", "repeat 1/4 1/2", "pin repeat 1/4 1/2 3/4"}).Draw(t, "pattern")
		height := measure.Length(rapid.Int64Range(32, 112).Draw(t, "height")) * measure.Inch / 16
		q := plainRequest(measure.Inch/4, height)
		p, err := ParsePattern(text, q.Finger, height, inches)
		if err != nil {
			t.Fatal(err)
		}
		a, err := SolvePattern(q, p)
		if err != nil || a.Refused != nil {
			t.Skip("refused")
		}
		sum := measure.Ratio{}
		for _, f := range a.Features {
			sum = sum.Add(f)
		}
		graze := a.Candidate.Program.Fit.Times(2)
		if sum.Sub(height.Ratio()).Abs().Cmp(graze) > 0 {
			t.Errorf("%s on %s: features add up to %s", text, say(height.Ratio(), measure.Inches), say(sum, measure.Inches))
		}
		edge := a.Candidate.Program.Heights[0].ALow
		if edge.Notch == a.PinFirst || edge.Width.Sub(a.Features[0]).Abs().Cmp(graze) > 0 {
			t.Errorf("%s on %s: pin first %v, %s; the edge is %+v", text, say(height.Ratio(), measure.Inches), a.PinFirst, say(a.Features[0], measure.Inches), edge)
		}
	})
}

func soundPattern(t interface{ Errorf(string, ...any) }, a PatternAnswer) {
	sound(t, a.Candidate.Programs()...)
	if a.Turned != nil {
		for _, fault := range check.Turned(*a.Turned) {
			t.Errorf("turned: %v", fault)
		}
	}
}

// TestEveryPatternIsSound cuts random patterns kerf by kerf.
func TestEveryPatternIsSound(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		q := anyRequest(t)
		q.Heights = q.Heights[:1+rapid.IntRange(0, len(q.Heights)-1).Draw(t, "more heights")]
		q.Settings.FitAtMost = q.Settings.BladeKerf / 2
		p := Pattern{
			PinFirst: rapid.Bool().Draw(t, "pin first"),
			Repeats:  rapid.Bool().Draw(t, "repeats"),
			Centred:  rapid.Bool().Draw(t, "centred"),
		}
		for range rapid.IntRange(1, 12).Draw(t, "features") {
			p.Widths = append(p.Widths, measure.Length(rapid.Int64Range(6, 32).Draw(t, "width"))*measure.Inch/32)
		}
		if rapid.Bool().Draw(t, "palindrome") {
			back := slices.Clone(p.Widths)
			slices.Reverse(back)
			p.Widths = append(p.Widths, back...)
		}
		a, err := SolvePattern(q, p)
		if err != nil {
			t.Fatal(err)
		}
		if a.Refused != nil {
			if a.Refused.Why == "" || a.Refused.Nearest == "" {
				t.Fatalf("a refusal without reason or way out: %+v", a.Refused)
			}
			return
		}
		if (a.Turned != nil) != slices.Contains(a.Mating, ByTurning) || (a.Candidate.Mate == nil) != slices.Contains(a.Mating, BySpacer) {
			t.Fatalf("%v, but turned %v and a mate %v", a.Mating, a.Turned != nil, a.Candidate.Mate != nil)
		}
		soundPattern(t, a)
	})
}

// TestParsePattern reads lists and rules.
func TestParsePattern(t *testing.T) {
	for _, c := range []struct {
		text, first string
		count       int
		pinFirst    bool
	}{
		{"1/4 1/2 3/4", "1/4", 3, false},
		{"pin 1/4, 1/2", "1/4", 2, true},
		{"repeat 1/4 1/2 3/4", "1/4", 3, false},
		{"key 3/4", "1/4", 11, false},
		{"key 1/2", "1/2", 11, false},
		{"rising 1/4 to 3/4", "1/4", 6, false},
		{"mirrored 1/4 to 3/4", "1/4", 6, false},
	} {
		p, err := ParsePattern(c.text, measure.Inch/4, 3*measure.Inch, inches)
		if err != nil || len(p.Widths) != c.count || p.PinFirst != c.pinFirst || p.Widths[0].Fraction() != c.first {
			t.Errorf("%q: %+v (%v)", c.text, p, err)
		}
	}
	for text, hint := range map[string]string{
		"": "between 1", "wavy": "wavy", "key": "key 3/4", "rising 1/4": "rising 1/4 to 3/4", "1/4 0": "more than 0",
		"1/4 200": "at most 12", "rising 1/1000 to 1/1000": "between 1",
	} {
		if _, err := ParsePattern(text, measure.Inch/4, 3*measure.Inch, inches); err == nil || !strings.Contains(err.Error(), hint) {
			t.Errorf("%q: %v, want a word about %q", text, err, hint)
		}
	}
}

// TestPatternRefusals say what would work.
func TestPatternRefusals(t *testing.T) {
	for _, c := range []struct {
		reason string
		widths []measure.Length
		height measure.Length
		why    string
	}{
		{"a feature too narrow for one cut", sixteenths(9, 1, 9), measure.Inch * 19 / 32, "even one cut makes it 0.0938 in"},
		{"a pattern too short for its board", sixteenths(9, 9), measure.Inch, "add features of 0.4375 in"},
		{"an edge that would break off", sixteenths(9, 9, 9), measure.Inch * 19 / 32, "heights that come out even are 0.5625 in and 0.8438 in"},
		{"one feature alone", sixteenths(40), measure.Inch, "no slot"},
	} {
		a, err := SolvePattern(plainRequest(measure.Inch/4, c.height), Pattern{Widths: c.widths})
		if err != nil || a.Refused == nil || !strings.Contains(a.Refused.Why, c.why) || a.Refused.Nearest == "" {
			t.Errorf("%s: %v %+v, want %q", c.reason, err, a.Refused, c.why)
		}
	}
}
