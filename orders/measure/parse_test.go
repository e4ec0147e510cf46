package measure

import (
	"errors"
	"fmt"
	"strings"
	"testing"
)

// in64 is n 64ths of an inch.
func in64(n int64) Length { return Length(n) * Inch / 64 }

func TestParseReadsEverySpelling(t *testing.T) {
	bare := Reading{Bare: Inches}
	comma := Reading{Bare: Inches, DecimalComma: true}
	metric := Reading{Bare: Millimetres}
	cases := []struct {
		text string
		how  Reading
		want Length
		why  string
	}{
		{"3-1/2", bare, in64(224), "a fraction after a hyphen is added, not taken away"},
		{"3 1/2", bare, in64(224), "a space joins as well"},
		{"3½", bare, in64(224), "one character for the fraction"},
		{"3-½", bare, in64(224), "hyphen and one character"},
		{"3 ½\"", bare, in64(224), "inch mark"},
		{"3.5", bare, in64(224), "a decimal"},
		{"3.50", bare, in64(224), "zeros behind it"},
		{"03.5", bare, in64(224), "zeros before it"},
		{".5", bare, in64(32), "no zero before the point"},
		{"5.", bare, in64(320), "nothing behind the point"},
		{"7/2 in", bare, in64(224), "an improper fraction alone"},
		{"3 4/8", bare, in64(224), "not reduced"},
		{"3⁄8", bare, in64(24), "fraction slash U+2044"},
		{"3³⁄₈", bare, in64(216), "raised and lowered digits"},
		{"3 + 1/2", bare, in64(224), "plus"},
		{"3 and 1/2", bare, in64(224), "and"},
		{"3 & 1/2 in", bare, in64(224), "ampersand"},
		{"3–1/2", bare, in64(224), "en dash"},
		{"3‑1/2", bare, in64(224), "non-breaking hyphen"},
		{"3\u00a01/2\u00a0in", bare, in64(224), "non-breaking spaces"},
		{"3\u20091/2", bare, in64(224), "thin space"},
		{" 3 1/2 ", bare, in64(224), "spaces around"},
		{"3 1/2 in.", bare, in64(224), "abbreviated with a point"},
		{"3 1/2 IN", bare, in64(224), "capitals"},
		{"3 1/2 inches", bare, in64(224), "written out"},
		{"3 1/2''", bare, in64(224), "two single quotes for the inch mark"},
		{"3 1/2″", bare, in64(224), "double prime"},
		{"3 1/2”", bare, in64(224), "curly quote"},
		{"1'", bare, Foot, "a foot"},
		{"1' 4\"", bare, 16 * Inch, "feet and inches"},
		{"1'4", bare, 16 * Inch, "what follows feet is inches"},
		{"1'-4\"", bare, 16 * Inch, "a hyphen between feet and inches"},
		{"1' - 4\"", bare, 16 * Inch, "with spaces"},
		{"1' 4 3/8\"", bare, in64(1048), "and a fraction"},
		{"1'-4-3/8\"", bare, in64(1048), "two hyphens"},
		{"1′ 4⅜″", bare, in64(1048), "primes"},
		{"1’ 4 3/8”", bare, in64(1048), "curly quotes"},
		{"1 ft 4 in", bare, 16 * Inch, "words"},
		{"1ft4in", bare, 16 * Inch, "no spaces"},
		{"1 ft., 4 in.", bare, 16 * Inch, "points and a comma"},
		{"1 foot 4 inches", bare, 16 * Inch, "written out"},
		{"1/2 ft", bare, 6 * Inch, "half a foot"},
		{"1/3 ft", bare, 4 * Inch, "a third of a foot is whole inches"},
		{"89 mm", bare, 89 * Millimetre, "a unit beats the column's"},
		{"89mm", bare, 89 * Millimetre, "no space"},
		{"8.9 cm", bare, 89 * Millimetre, "centimetres"},
		{"0.089 m", bare, 89 * Millimetre, "metres"},
		{"89 millimetres", bare, 89 * Millimetre, "written out"},
		{"89", metric, 89 * Millimetre, "a bare number takes the column's unit"},
		{"3-1/2", metric, 3*Millimetre + Millimetre/2, "a fraction too"},
		{"3 1/2 in", metric, in64(224), "inches among millimetres"},
		{"1' 4", metric, 16 * Inch, "after feet come inches, whatever the column"},
		{"3,5", comma, in64(224), "a decimal comma where the sheet uses it"},
		{"8,9 cm", comma, 89 * Millimetre, "with a unit"},
		{"1 ft, 4 in", comma, 16 * Inch, "a comma that is none"},
		{"0.0955", bare, 955 * Inch / 10_000, "a measured kerf"},
		{"95.5 thou", bare, 955 * Inch / 10_000, "in thousandths"},
		{"1/256", bare, Inch / 256, "the finest fraction that is whole"},
		{"0.0001", bare, Inch / 10_000, "a ten-thousandth"},
		{"0.001 mm", bare, Micrometre, "a micrometre"},
		{"0", bare, 0, "nothing is a length; whether it may stand is for others"},
		{"100 m", bare, Longest, "the longest"},
		{"2 yd", bare, 72 * Inch, "yards"},
		{"３ １/２", bare, in64(224), "wide digits"},
		{"3\u200b", bare, 3 * Inch, "a space of no width"},
		{"8", Reading{}, 8 * Inch, "no unit anywhere: inches"},
		{"8", Reading{Bare: Centimetres}, 80 * Millimetre, "a column in centimetres"},
		{"8", Reading{Bare: Feet}, 8 * Foot, "a column in feet"},
	}
	for _, c := range cases {
		got, err := Parse(c.text, c.how)
		if err != nil || got != c.want {
			t.Errorf("Parse(%q) = %v (%s), %v, want %s: %s", c.text, got, got.DecimalInches(), err, c.want.DecimalInches(), c.why)
		}
	}
}

func TestParseRefusesWhatIsNoLength(t *testing.T) {
	bare := Reading{Bare: Inches}
	comma := Reading{Bare: Inches, DecimalComma: true}
	cases := []struct {
		text string
		how  Reading
		says string
	}{
		{"", bare, "no number"},
		{"   ", bare, "no number"},
		{"\"", bare, "start with a number"},
		{"in", bare, "start with a number"},
		{"-3", bare, "below zero"},
		{"−3", bare, "minus sign"},
		{"3−1/2", bare, "minus sign"},
		{"(3)", bare, "does not belong"},
		{"+3", bare, "starts with a sign"},
		{"3 - 1/2", bare, "dash"},
		{"3 -1/2", bare, "dash"},
		{"3-4", bare, "dash"},
		{"18 to 22", bare, "word to"},
		{"about 6", bare, "word about"},
		{"~6", bare, "does not belong"},
		{"6 in tall", bare, "word tall"},
		{"3 x 4", bare, "word x"},
		{"3 4", bare, "more than one number"},
		{"3 4 1/2", bare, "more than one number"},
		{"3.5.1", bare, "more than one number"},
		{"3.5 1/2", bare, "more than one number"},
		{"1/2 1/4", bare, "more than one number"},
		{"3/8/2026", bare, "slash"},
		{"3/0", bare, "as denominator"},
		{"3/", bare, "not finished"},
		{"/8", bare, "start with a number"},
		{"3 9/8", bare, "less than 1"},
		{"3,5", bare, "decimal mark"},
		{"1,200 mm", bare, "decimal mark"},
		{"1.200 mm", comma, "decimal mark"},
		{"1 200 mm", bare, "more than one number"},
		{"1' 14\"", bare, "12 inches or more"},
		{"1'200", bare, "12 inches or more"},
		{"1' 4 mm", bare, "after feet come inches"},
		{"1.5' 4\"", bare, "more than one number"},
		{"3 in mm", bare, "more than one unit"},
		{"3 in 5 mm", bare, "more than one number"},
		{"1e3", bare, "word e"},
		{"0x10", bare, "word x"},
		{"1/2/3", bare, "slash"},
		{"½3", bare, "more than one number"},
		{"12345678901234567890", bare, "too many digits"},
		{"101 m", bare, "longer than 100 m"},
		{"NaN", bare, "word nan"},
		{"3;4", bare, "does not belong"},
		{"#REF!", bare, "does not belong"},
		{"=1+1", bare, "does not belong"},
		{"٣", bare, "does not belong"},
		{strings.Repeat("1", 500), bare, "too long"},
		{"5 µm", bare, "not a unit of length"},
		{"1/99999", bare, "too many digits"},
	}
	for _, c := range cases {
		got, err := Parse(c.text, c.how)
		var unreadable *UnreadableError
		if !errors.As(err, &unreadable) || !strings.Contains(err.Error(), c.says) {
			t.Errorf("Parse(%q) = %v, %v, want an UnreadableError that says %q", c.text, got, err, c.says)
		}
	}
}

func TestParseShowsTheGuessForLetters(t *testing.T) {
	for text, guess := range map[string]string{
		"1O": "10", "l2": "12", "I2 in": "12 in", "3.5O": "3.50", "1o mm": "10 mm", "O.5": "0.5", "3 l/2": "3 1/2", "|2": "12", "1Oin": "10in", "1Omm": "10mm",
	} {
		_, err := Parse(text, Reading{Bare: Inches})
		var unreadable *UnreadableError
		if !errors.As(err, &unreadable) || unreadable.Guess != guess {
			t.Errorf("Parse(%q): %v, want the guess %q", text, err, guess)
		}
	}
	for _, text := range []string{"foot", "Oil", "tool"} {
		_, err := Parse(text, Reading{Bare: Inches})
		var unreadable *UnreadableError
		if errors.As(err, &unreadable) && unreadable.Guess != "" {
			t.Errorf("Parse(%q) guesses %q at a word", text, unreadable.Guess)
		}
	}
}

// What is no whole tick is refused, and both neighbours, written as the error
// prints them, are lengths one tick apart.
func TestParseNamesBothNeighbours(t *testing.T) {
	for _, text := range []string{"1/3", "0.333333333333333", "3-1/7", "1/1024 in", "0.000001 mm", "0.00001 in", "2/3 mm", "1' 1/3\""} {
		_, err := Parse(text, Reading{Bare: Inches})
		var inexact *InexactError
		if !errors.As(err, &inexact) {
			t.Errorf("Parse(%q): %v, want an InexactError", text, err)
			continue
		}
		if inexact.Above != inexact.Below+1 {
			t.Errorf("%q lies between %d and %d, want neighbours", text, inexact.Below, inexact.Above)
		}
		for _, l := range []Length{inexact.Below, inexact.Above} {
			written := l.Ratio().Decimal() + " mm"
			if got, err := Parse(written, Reading{}); err != nil || got != l || !strings.Contains(inexact.Error(), written) {
				t.Errorf("neighbour %q of %q reads as %d, %v, want %d", written, text, got, err, l)
			}
		}
	}
}

// Three hundred forms: every sixteenth from 1/16 to 3 in, six ways each, and
// half a turn of metric ones; each is right or refused, never wrong.
func TestThreeHundredForms(t *testing.T) {
	n := 0
	check := func(text string, how Reading, want Length) {
		n++
		if got, err := Parse(text, how); err != nil || got != want {
			t.Errorf("Parse(%q) = %d, %v, want %d", text, got, err, want)
		}
	}
	for sixteenths := int64(1); sixteenths <= 48; sixteenths++ {
		want := Length(sixteenths) * Inch / 16
		fraction := want.Fraction()
		check(fraction, Reading{}, want)
		check(strings.Replace(fraction, "-", " ", 1)+"\"", Reading{}, want)
		check(fmt.Sprintf("%d/16 in", sixteenths), Reading{Bare: Millimetres}, want)
		check(want.DecimalInches(), Reading{}, want)
		check(strings.Replace(want.DecimalInches(), ".", ",", 1)+" in", Reading{DecimalComma: true}, want)
		check(want.Ratio().Decimal()+" mm", Reading{}, want)
		check("2' "+fraction+"\"", Reading{}, want+2*Foot)
	}
	if n < 300 {
		t.Errorf("%d forms, want 300", n)
	}
}

func FuzzParse(f *testing.F) {
	for _, s := range []string{"3-1/2", "1' 4 3/8\"", "89 mm", "3³⁄₈", "7/2 in", "1O", "999999 9999/10000 yd", "0.999999999999999 m", "3,5"} {
		f.Add(s, true)
		f.Add(s, false)
	}
	f.Fuzz(func(t *testing.T, text string, comma bool) {
		got, err := Parse(text, Reading{Bare: Inches, DecimalComma: comma})
		var inexact *InexactError
		var unreadable *UnreadableError
		switch {
		case err == nil && (got < 0 || got > Longest):
			t.Errorf("Parse(%q) = %d, out of bounds", text, got)
		case err == nil:
			back, err := Parse(got.Ratio().Decimal()+" mm", Reading{})
			if err != nil || back != got {
				t.Errorf("Parse(%q) = %d, printed and read again %d, %v", text, got, back, err)
			}
		case errors.As(err, &inexact):
			if inexact.Above != inexact.Below+1 {
				t.Errorf("Parse(%q): neighbours %d and %d", text, inexact.Below, inexact.Above)
			}
		case !errors.As(err, &unreadable):
			t.Errorf("Parse(%q): %T", text, err)
		}
	})
}
