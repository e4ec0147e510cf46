package intake

import (
	"fmt"
	"slices"
	"strings"

	"batchwright/orders"
	"batchwright/orders/measure"
)

// finger reads the asked finger, or pattern of fingers; a blank leaves it to
// the program, and so does a word for that.
func (l *line) finger() (measure.Length, orders.Pattern) {
	if c, ok := l.get("Finger"); ok {
		switch foldHeading(c.text) {
		case "any", "auto", "automatic", "best", "free", "your choice", "as fits":
			l.understood("Finger", c.text, "chosen by the program")
			return 0, orders.Pattern{}
		}
		if c.kind == textCell {
			if p, isPattern := l.pattern(c); isPattern {
				return 0, p
			}
		}
	}
	value, _ := l.length("Finger")
	return value, orders.Pattern{}
}

// patternRules are the words that begin a pattern, with how many widths each
// takes and how it is written.
var patternRules = map[string]struct {
	least, most int
	like        string
}{
	"key":      {1, 1, "key 3/4"},
	"rising":   {2, 2, "rising 1/4 to 3/4"},
	"mirrored": {2, 2, "mirrored 1/4 to 3/4"},
	"repeat":   {1, 100, "repeat 1/4 1/2"},
}

// pattern reads a rule with its widths, or a list of widths from the marked
// edge up; "pin" before it starts with a pin. Isn't a pattern: one length, or
// nothing that can be read, which is then a finding about a length.
func (l *line) pattern(c cell) (p orders.Pattern, isPattern bool) {
	how := l.reading("Finger", c)
	if _, err := measure.Parse(c.text, how); err == nil {
		return p, false
	}
	words := patternWords(c.text, how.DecimalComma)
	var exact []string
	rule := ""
	for len(words) > 0 && (words[0] == "pin" || words[0] == "slot") {
		exact, words = append(exact, words[0]), words[1:]
	}
	if len(words) > 0 {
		if _, known := patternRules[words[0]]; known {
			rule = words[0]
			exact, words = append(exact, rule), words[1:]
		}
	}
	words = slices.DeleteFunc(words, func(w string) bool { return w == "to" })
	for _, word := range words {
		width, err := measure.Parse(word, how)
		if err != nil || width <= 0 {
			if rule != "" {
				l.fault("Finger", c.text, fmt.Sprintf("%q is not a width", word), "write it like "+patternRules[rule].like)
			}
			return p, rule != ""
		}
		exact = append(exact, width.Ratio().Decimal()+"mm")
	}
	if r := patternRules[rule]; rule != "" && (len(words) < r.least || len(words) > r.most) {
		l.fault("Finger", c.text, fmt.Sprintf("%s takes %s", rule, widthsOf(r.least, r.most)), "write it like "+r.like)
		return p, true
	}
	if rule == "" && len(words) < 2 {
		return p, false
	}
	p = orders.Pattern{Text: strings.TrimSpace(c.text), Exact: strings.Join(exact, " ")}
	l.understood("Finger", c.text, "a pattern of fingers: "+p.Exact)
	return p, true
}

func widthsOf(least, most int) string {
	switch {
	case most == 1:
		return "one width"
	case least == most:
		return "two widths"
	}
	return "one width or more"
}

// patternWords are the words and widths of a pattern; a comma parts them
// unless it is the decimal mark, and so does a dash between two widths.
func patternWords(text string, decimalComma bool) []string {
	text = strings.ToLower(strings.NewReplacer(";", " ", "–", " to ", "…", " to ", "\"", " ").Replace(text))
	if !decimalComma {
		text = strings.ReplaceAll(text, ",", " ")
	}
	return strings.Fields(text)
}
