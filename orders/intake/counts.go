package intake

import (
	"errors"
	"slices"
	"strconv"
	"strings"
	"unicode"

	"batchwright/orders/measure"
)

// countWords multiply what stands before them.
var countWords = map[string]int{
	"doz": 12, "dozen": 12, "dz": 12, "dozens": 12,
	"pr": 2, "pair": 2, "pairs": 2, "prs": 2,
	"gross": 144, "score": 20,
	"pcs": 1, "pc": 1, "piece": 1, "pieces": 1, "ea": 1, "each": 1, "off": 1, "no": 1, "nos": 1,
	"box": 1, "boxes": 1, "board": 1, "boards": 1, "part": 1, "parts": 1, "x": 1, "×": 1, "units": 1, "unit": 1,
}

const maxCount = 10_000_000

// parseCount reads 12, 12.0, 1 doz, 2 pr, 6+1 spare. Halves, zero and less are
// refused.
func parseCount(text string, decimalComma bool) (tally, error) {
	base, extra, two := strings.Cut(strings.ReplaceAll(strings.ToLower(text), " plus ", "+"), "+")
	n, _, err := wholeCount(base, decimalComma)
	if err != nil {
		return tally{}, err
	}
	if n < 1 {
		return tally{}, errors.New("a count starts at 1")
	}
	t := tally{make: n}
	if two {
		m, word, err := wholeCount(extra, decimalComma)
		if err != nil {
			return tally{}, err
		}
		switch {
		case !isSpareWord(word):
			return tally{}, errors.New("only spares are added with a plus, as in 6+1 spare")
		case m < 0:
			return tally{}, errors.New("a count starts at 1")
		}
		t.spare = m
	}
	return t, nil
}

func isSpareWord(word string) bool {
	return slices.Contains([]string{"", "spare", "spares", "extra", "extras"}, word)
}

// wholeCount reads a whole number and the word behind it.
func wholeCount(text string, decimalComma bool) (n int, word string, err error) {
	text = strings.TrimSpace(text)
	if rest, ok := strings.CutPrefix(text, "x"); ok {
		text = strings.TrimSpace(rest)
	}
	end := strings.IndexFunc(text, func(r rune) bool { return !(r >= '0' && r <= '9' || r == '.' || r == ',') })
	if end < 0 {
		end = len(text)
	}
	digits, word := text[:end], strings.Trim(strings.TrimSpace(text[end:]), ".")
	times := 1
	if m, ok := countWords[word]; ok {
		times, word = m, ""
	} else if digits == "" && (strings.HasPrefix(word, "a ") || strings.HasPrefix(word, "one ")) {
		if m, ok := countWords[word[strings.IndexByte(word, ' ')+1:]]; ok && m > 1 {
			return m, "", nil
		}
	}
	if digits == "" {
		return 0, word, errors.New("start with a number")
	}
	if word != "" && !isSpareWord(word) {
		return 0, word, errors.New("the word " + firstWord(word) + " is not a count")
	}
	value, err := wholeNumber(digits, decimalComma)
	if err == nil && value > maxCount/times {
		err = errors.New("it is more than an order may have")
	}
	return value * times, word, err
}

func firstWord(s string) string {
	word, _, _ := strings.Cut(s, " ")
	return strings.Map(func(r rune) rune {
		if unicode.IsPrint(r) {
			return r
		}
		return -1
	}, word)
}

// wholeNumber reads 12, 12.0 and 1,200 (or, with a decimal comma, 12,0 and
// 1.200).
func wholeNumber(digits string, decimalComma bool) (int, error) {
	group, mark := ",", "."
	if decimalComma {
		group, mark = mark, group
	}
	whole, part, _ := strings.Cut(digits, mark)
	if strings.Trim(part, "0") != "" {
		return 0, errors.New("it is not a whole number")
	}
	if strings.Contains(whole, group) {
		groups := strings.Split(whole, group)
		for i, g := range groups {
			if i > 0 && len(g) != 3 || i == 0 && (len(g) > 3 || g == "" || g == "0") {
				return 0, errors.New("its " + group + " is out of place")
			}
		}
		whole = strings.Join(groups, "")
	}
	n, err := strconv.Atoi(whole)
	if err != nil || n > maxCount {
		return 0, errors.New("it is not a count")
	}
	return n, nil
}

func distinct(words map[string]string) []string {
	var out []string
	for _, meaning := range words {
		if !slices.Contains(out, meaning) {
			out = append(out, meaning)
		}
	}
	slices.Sort(out)
	return out
}

// smallNumbers are counts as they are spelt out.
var smallNumbers = strings.Fields("one two three four five six seven eight nine ten eleven twelve")

// countGuess is what a count that cannot be read was probably meant to be: six,
// or a letter for a digit as in 1O; empty when there is no telling.
func countGuess(text string) string {
	if i := slices.Index(smallNumbers, strings.ToLower(text)); i >= 0 {
		return strconv.Itoa(i + 1)
	}
	var unreadable *measure.UnreadableError
	if _, err := measure.Parse(text, measure.Reading{}); !errors.As(err, &unreadable) {
		return ""
	}
	if _, err := parseCount(unreadable.Guess, false); err != nil {
		return ""
	}
	return unreadable.Guess
}
