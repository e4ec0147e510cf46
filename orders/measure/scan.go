package measure

import (
	"strings"
	"unicode"
	"unicode/utf8"
)

type tokenKind int

const (
	wholeToken tokenKind = iota
	decimalToken
	vulgarToken // one character, such as ½
	slashToken
	dashToken
	plusToken // "and", "&", "+" between a whole number and its fraction
	commaToken
	unitToken
)

// Bounds on what is written keep every product of a number and a unit within
// 64 bits.
const (
	largest            = 1_000_000
	largestDenominator = 10_000
	mostDigits         = 15
	smallestScale      = 1_000_000_000_000_000_000
)

type token struct {
	kind  tokenKind
	value Ratio  // of a number
	ticks Length // of a unit
	tight bool   // a dash with no space on either side
}

// unitWords are the units people write out.
var unitWords = map[string]Length{
	"in": Inch, "ins": Inch, "inch": Inch, "inches": Inch,
	"ft": Foot, "foot": Foot, "feet": Foot,
	"mm": Millimetre, "millimetre": Millimetre, "millimetres": Millimetre, "millimeter": Millimetre, "millimeters": Millimetre,
	"cm": Centimetre, "centimetre": Centimetre, "centimetres": Centimetre, "centimeter": Centimetre, "centimeters": Centimetre,
	"m": 1000 * Millimetre, "metre": 1000 * Millimetre, "metres": 1000 * Millimetre, "meter": 1000 * Millimetre, "meters": 1000 * Millimetre,
	"yd": 3 * Foot, "yard": 3 * Foot, "yards": 3 * Foot,
	"thou": Inch / 1000,
}

var vulgar = map[rune]Ratio{
	'½': {1, 2}, '⅓': {1, 3}, '⅔': {2, 3}, '¼': {1, 4}, '¾': {3, 4},
	'⅕': {1, 5}, '⅖': {2, 5}, '⅗': {3, 5}, '⅘': {4, 5}, '⅙': {1, 6}, '⅚': {5, 6},
	'⅐': {1, 7}, '⅛': {1, 8}, '⅜': {3, 8}, '⅝': {5, 8}, '⅞': {7, 8}, '⅑': {1, 9}, '⅒': {1, 10},
}

// scan splits a text into tokens; why is empty when all of it could be read.
func scan(text string, decimalComma bool) (tokens []token, why string) {
	if len(text) > 200 {
		return nil, "it is too long"
	}
	s := scanner{rest: []rune(plainMarks(text)), mark: '.', other: ','}
	if decimalComma {
		s.mark, s.other = ',', '.'
	}
	for len(s.rest) > 0 && why == "" {
		why = s.next()
	}
	return s.tokens, why
}

// plainMarks writes one character for each of the many that look alike:
// spaces, primes, quotes, slashes, hyphens, raised and lowered digits.
func plainMarks(text string) string {
	if strings.IndexFunc(text, func(r rune) bool { return r >= utf8.RuneSelf }) < 0 {
		return text
	}
	var out strings.Builder
	raised := false
	for _, r := range text {
		digit, up := raisedDigit(r)
		if up && !raised {
			out.WriteByte(' ') // 3³⁄₈ is 3 3/8
		}
		if raised = up; digit != 0 {
			r = digit
		}
		out.WriteRune(plainMark(r))
	}
	return out.String()
}

func plainMark(r rune) rune {
	switch r {
	case '′', '’', '‘', 'ʹ', '´', '`', '‵', 'ʼ', '＇':
		return '\''
	case '″', '”', '“', '˝', 'ʺ', '〃', '‶', '„', '‟', '＂':
		return '"'
	case '⁄', '∕', '／', '÷':
		return '/'
	case '‐', '‑', '‒', '–', '—', '﹣', '－', '\u00ad':
		return '-'
	case '，':
		return ','
	case '．':
		return '.'
	case '\u200b', '\u200c', '\u200d', '\u2060', '\ufeff', '\u200e', '\u200f':
		return ' '
	}
	switch {
	case unicode.IsSpace(r):
		return ' '
	case r >= '０' && r <= '９':
		return r - '０' + '0'
	}
	return r
}

// raisedDigit gives the plain digit of a raised or lowered one, 0 for any
// other character; up is true for a raised one.
func raisedDigit(r rune) (digit rune, up bool) {
	switch {
	case r == '¹':
		return '1', true
	case r == '²' || r == '³':
		return r - '²' + '2', true
	case r == '⁰' || r >= '⁴' && r <= '⁹':
		return r - '⁰' + '0', true
	case r >= '₀' && r <= '₉':
		return r - '₀' + '0', false
	}
	return 0, false
}

type scanner struct {
	rest        []rune
	mark, other rune // the decimal mark, and the mark it is not
	tokens      []token
	spaced      bool // a space stands before what comes next
}

func (s *scanner) next() (why string) {
	r := s.rest[0]
	switch {
	case r == ' ' || r == '\t' || r == '\n' || r == '\r':
		s.rest, s.spaced = s.rest[1:], true
		return ""
	case isDigit(r) || r == s.mark && len(s.rest) > 1 && isDigit(s.rest[1]):
		return s.number()
	case unicode.IsLetter(r):
		return s.word()
	}
	if v, ok := vulgar[r]; ok {
		s.add(1, token{kind: vulgarToken, value: v})
		return ""
	}
	return s.sign(r)
}

func (s *scanner) sign(r rune) (why string) {
	switch r {
	case '/':
		s.add(1, token{kind: slashToken})
	case '-':
		s.add(1, token{kind: dashToken, tight: !s.spaced && len(s.rest) > 1 && s.rest[1] != ' '})
	case '+', '&':
		if len(s.tokens) == 0 {
			return "it starts with a sign"
		}
		s.add(1, token{kind: plusToken})
	case '"':
		s.add(1, token{kind: unitToken, ticks: Inch})
	case '\'':
		if len(s.rest) > 1 && s.rest[1] == '\'' {
			s.add(2, token{kind: unitToken, ticks: Inch})
		} else {
			s.add(1, token{kind: unitToken, ticks: Foot})
		}
	case ',':
		s.add(1, token{kind: commaToken})
	case '−':
		return "it has a minus sign; write a fraction with a hyphen"
	default:
		return "the character " + string(r) + " does not belong there"
	}
	return ""
}

func (s *scanner) add(runes int, t token) {
	s.tokens, s.rest, s.spaced = append(s.tokens, t), s.rest[runes:], false
}

// number reads digits with at most one decimal mark.
func (s *scanner) number() (why string) {
	if n := len(s.tokens); n > 0 && !s.spaced {
		if k := s.tokens[n-1].kind; k == wholeToken || k == decimalToken || k == vulgarToken {
			return "there is more than one number in it"
		}
	}
	value, scale, digits, decimal := int64(0), int64(1), 0, false
	i := 0
	for ; i < len(s.rest); i++ {
		r := s.rest[i]
		if r == s.mark && !decimal {
			decimal = true
			continue
		}
		if !isDigit(r) {
			break
		}
		if value = value*10 + int64(r-'0'); value > 0 {
			digits++
		}
		if decimal {
			scale *= 10
		}
		if digits > mostDigits || scale == smallestScale {
			return "it has too many digits"
		}
	}
	if i+1 < len(s.rest) && s.rest[i] == s.other && isDigit(s.rest[i+1]) {
		if !decimal && s.pointAmongCommas(i) {
			s.rest[i] = s.mark
			return s.number()
		}
		return "the decimal mark here is " + string(s.mark) + ", not " + string(s.other) + "; change the number or the Decimal mark setting"
	}
	t := token{kind: wholeToken, value: Frac(value, scale)}
	if decimal {
		t.kind = decimalToken
	}
	if t.value.Cmp(Whole(largest)) > 0 {
		return "it has too many digits"
	}
	s.add(i, t)
	return ""
}

// pointAmongCommas reports whether the mark at place i of the rest can only be a
// decimal point, though the shop writes commas.
func (s *scanner) pointAmongCommas(i int) bool {
	end := i + 1
	for end < len(s.rest) && isDigit(s.rest[end]) {
		end++
	}
	if end < len(s.rest) && (s.rest[end] == s.mark || s.rest[end] == s.other) {
		return false
	}
	return Reading{DecimalComma: s.mark == ','}.otherMark(string(s.rest[:end]), string(s.other))
}

func (s *scanner) word() (why string) {
	i := 0
	for i < len(s.rest) && unicode.IsLetter(s.rest[i]) {
		i++
	}
	word := strings.ToLower(string(s.rest[:i]))
	if word == "and" && len(s.tokens) > 0 {
		s.add(i, token{kind: plusToken})
		return ""
	}
	ticks, ok := unitWords[word]
	if !ok {
		return "the word " + word + " is not a unit of length"
	}
	if i < len(s.rest) && s.rest[i] == '.' {
		i++
	}
	s.add(i, token{kind: unitToken, ticks: ticks})
	return ""
}

func isDigit(r rune) bool { return r >= '0' && r <= '9' }
