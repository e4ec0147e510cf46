package measure

import (
	"fmt"
	"strings"
)

// Reading is how a sheet writes lengths.
type Reading struct {
	Bare         Unit // what a number without a unit means; NoUnit: inches
	DecimalComma bool
}

// Longest is the longest length that is read: 100 m. It keeps every product of
// lengths within reach of exact arithmetic.
const Longest = 100_000 * Millimetre

// UnreadableError says why a text is no length.
type UnreadableError struct {
	Text  string
	Why   string
	Guess string // what was probably meant; empty: no guess
}

func (e *UnreadableError) Error() string {
	if e.Guess != "" {
		return fmt.Sprintf("%q is not a length: %s; did you mean %q?", e.Text, e.Why, e.Guess)
	}
	return fmt.Sprintf("%q is not a length: %s", e.Text, e.Why)
}

// InexactError is a length that falls between two ticks. Below and Above are
// its neighbours: either can be written instead, exactly.
type InexactError struct {
	Text         string
	Below, Above Length
}

func (e *InexactError) Error() string {
	return fmt.Sprintf("%q cannot be stored exactly; nearest values: %s mm and %s mm. Write one of them",
		e.Text, e.Below.Ratio().Decimal(), e.Above.Ratio().Decimal())
}

// Parse reads one length as people write it: 3-1/2, 3 1/2", 3½, 3.5, 1' 4 3/8",
// 1 ft 4 in, 89 mm, 8.9 cm, 7/2 in. A fraction after a hyphen is added, so
// 3-1/2 is three and a half. Nothing is rounded: what is no whole tick is an
// *InexactError, what is no length an *UnreadableError.
func Parse(text string, how Reading) (Length, error) {
	tokens, why := scan(text, how.DecimalComma)
	if why == "" {
		var feet Length
		var ticks Ratio
		if feet, ticks, why = sum(tokens, how.Bare); why == "" {
			return wholeTicks(text, feet, ticks)
		}
	}
	e := &UnreadableError{Text: strings.TrimSpace(text), Why: why}
	if guess := withDigits(text); guess != text {
		if _, err := Parse(guess, how); err == nil {
			e.Why, e.Guess = "it has a letter in place of a digit", strings.TrimSpace(guess)
		}
	}
	return 0, e
}

func wholeTicks(text string, feet Length, ticks Ratio) (Length, error) {
	below := feet + Length(ticks.Floor())
	if ticks.IsWhole() {
		return below, nil
	}
	return 0, &InexactError{Text: strings.TrimSpace(text), Below: below, Above: below + 1}
}

// sum reads "3 1/2 in", or whole feet and then inches; why says what is wrong
// with it and is empty when nothing is. The two parts are added by the caller,
// where they are whole.
func sum(tokens []token, bare Unit) (feet Length, ticks Ratio, why string) {
	first, rest, why := takeNumber(tokens)
	if why != "" {
		return 0, Ratio{}, why
	}
	if bare == NoUnit {
		bare = Inches
	}
	unit := bare.Ticks()
	if len(rest) > 0 && rest[0].kind == unitToken {
		unit, rest = rest[0].ticks, rest[1:]
	}
	ticks = first.Times(int64(unit))
	if len(rest) > 0 && unit == Foot && first.IsWhole() {
		feet = Length(ticks.Num())
		if ticks, rest, why = inchesAfterFeet(rest); why != "" {
			return 0, Ratio{}, why
		}
	}
	switch {
	case len(rest) > 0:
		return 0, Ratio{}, leftOver(rest[0])
	case feet > Longest || ticks.Cmp(Longest.Ratio()) > 0:
		return 0, Ratio{}, "it is longer than 100 m"
	}
	return feet, ticks, ""
}

func inchesAfterFeet(tokens []token) (ticks Ratio, rest []token, why string) {
	if k := tokens[0].kind; k == dashToken || k == commaToken {
		tokens = tokens[1:]
	}
	inches, rest, why := takeNumber(tokens)
	if why != "" {
		return Ratio{}, nil, why
	}
	if inches.Cmp(Whole(12)) >= 0 {
		return Ratio{}, nil, "12 inches or more after the feet"
	}
	if len(rest) > 0 && rest[0].kind == unitToken {
		if rest[0].ticks != Inch {
			return Ratio{}, nil, "after feet come inches"
		}
		rest = rest[1:]
	}
	return inches.Times(int64(Inch)), rest, ""
}

// takeNumber reads a whole number, a decimal, a fraction, or a whole number
// and a fraction, and gives back what follows it.
func takeNumber(tokens []token) (n Ratio, rest []token, why string) {
	if len(tokens) == 0 {
		return Ratio{}, nil, "there is no number in it"
	}
	switch t := tokens[0]; t.kind {
	case decimalToken:
		return t.value, tokens[1:], ""
	case vulgarToken:
		return t.value, tokens[1:], ""
	case dashToken:
		return Ratio{}, nil, "it is below zero"
	case wholeToken:
	default:
		return Ratio{}, nil, "start with a number"
	}
	if f, rest, why := takeFraction(tokens); f.found || why != "" {
		return f.value, rest, why
	}
	whole, after := tokens[0].value, tokens[1:]
	joined := after
	if len(joined) > 0 && (joined[0].kind == dashToken && joined[0].tight || joined[0].kind == plusToken) {
		joined = joined[1:]
	}
	f, rest, why := takeFraction(joined)
	switch {
	case why != "":
		return Ratio{}, nil, why
	case !f.found:
		return whole, after, ""
	case f.value.Cmp(Whole(1)) >= 0:
		return Ratio{}, nil, "the fraction after a whole number must be less than 1"
	}
	return whole.Add(f.value), rest, ""
}

type fraction struct {
	value Ratio
	found bool
}

// takeFraction reads "3/8" or "⅜"; not found is no fault.
func takeFraction(tokens []token) (f fraction, rest []token, why string) {
	if len(tokens) > 0 && tokens[0].kind == vulgarToken {
		return fraction{tokens[0].value, true}, tokens[1:], ""
	}
	if len(tokens) < 2 || tokens[0].kind != wholeToken || tokens[1].kind != slashToken {
		return fraction{}, tokens, ""
	}
	if len(tokens) < 3 || tokens[2].kind != wholeToken {
		return fraction{}, nil, "the fraction is not finished"
	}
	over, under := tokens[0].value.Num(), tokens[2].value.Num()
	switch {
	case under == 0:
		return fraction{}, nil, "a fraction has 0 as denominator"
	case over > largest || under > largestDenominator:
		return fraction{}, nil, "the fraction has too many digits"
	}
	return fraction{Frac(over, under), true}, tokens[3:], ""
}

func leftOver(t token) string {
	switch t.kind {
	case slashToken:
		return "a slash is out of place"
	case dashToken:
		return "a dash is out of place; write 3-1/2 without spaces, or one length alone"
	case wholeToken, decimalToken, vulgarToken:
		return "there is more than one number in it"
	case unitToken:
		return "there is more than one unit in it"
	}
	return "something follows the length"
}

// withDigits writes digits for the letters O, l and I in words that hold
// nothing but such letters, digits and marks, with a unit or without.
func withDigits(text string) string {
	var out strings.Builder
	for word := range strings.FieldsFuncSeq(text+" ", func(r rune) bool { return r == ' ' }) {
		if out.Len() > 0 {
			out.WriteByte(' ')
		}
		out.WriteString(wordWithDigits(word))
	}
	return out.String()
}

func wordWithDigits(word string) string {
	end := len(word)
	for end > 0 && !strings.ContainsRune("0123456789OolI|", rune(word[end-1])) {
		end--
	}
	number := word[:end]
	if strings.Trim(number, "0123456789OolI|.,/-'") != "" || !strings.ContainsAny(number, "OolI|") {
		return word
	}
	number = strings.NewReplacer("O", "0", "o", "0", "l", "1", "I", "1", "|", "1").Replace(number)
	return number + word[end:]
}
