package measure

import (
	"fmt"
	"strconv"
	"strings"
)

// NotNumberError says why a text is no number.
type NotNumberError struct {
	Text string
	Why  string
}

func (e *NotNumberError) Error() string { return fmt.Sprintf("%q is not a number: %s", e.Text, e.Why) }

// Number reads a plain decimal number, such as 37.5, with the shop's decimal
// mark, and a minus sign or none. Among decimal commas a point is read too where
// it can only be a decimal mark; 2.500 there may mean 2,5 or 2500 and is refused.
func (how Reading) Number(text string) (float64, error) {
	plain, why := how.PlainDecimal(text)
	if why == "" {
		if f, err := strconv.ParseFloat(plain, 64); err == nil {
			return f, nil
		}
		why = "write digits, such as " + how.example("9.5")
	}
	return 0, &NotNumberError{strings.TrimSpace(text), why}
}

func (how Reading) example(decimal string) string {
	if how.DecimalComma {
		return strings.Replace(decimal, ".", ",", 1)
	}
	return decimal
}

// PlainDecimal is a number's text with a decimal point; why says what is wrong
// with it and is empty when nothing is.
func (how Reading) PlainDecimal(text string) (plain, why string) {
	plain = strings.Join(strings.Fields(plainMarks(strings.Replace(text, "−", "-", 1))), "")
	digits := strings.TrimLeft(plain, "+-")
	if digits == "" || len(digits) > 40 || strings.Trim(digits, "0123456789.,") != "" || len(plain)-len(digits) > 1 {
		return "", "write digits, such as " + how.example("9.5")
	}
	mark, other := ".", ","
	if how.DecimalComma {
		mark, other = other, mark
	}
	switch {
	case strings.Count(digits, mark) > 1:
		return "", "it has more than one decimal mark"
	case !strings.Contains(digits, other):
		return strings.Replace(plain, mark, ".", 1), ""
	case strings.Contains(digits, mark) || strings.Count(digits, other) > 1 || !how.otherMark(digits, other):
		return "", "leave out the thousands mark; the decimal mark is " + mark
	}
	return strings.Replace(plain, other, ".", 1), ""
}

// otherMark reports whether a number with the mark that is not the shop's can
// only be a decimal: 2.83 among decimal commas, not 2.500, which may be 2500.
func (how Reading) otherMark(digits, other string) bool {
	whole, rest, _ := strings.Cut(digits, other)
	return how.DecimalComma && (len(rest) != 3 || strings.Trim(whole, "0") == "" || len(whole) > 3)
}

// Plain is a text whose decimal commas, where the shop writes commas, are points.
func (how Reading) Plain(text string) string {
	if how.DecimalComma {
		return strings.Replace(text, ",", ".", 1)
	}
	return text
}
