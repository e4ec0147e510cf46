package measure

import (
	"fmt"
	"strconv"
	"strings"
	"unicode"
)

// ParseMoney reads an amount such as "12.50", "$1,250" or, with a decimal
// comma, "12,50". More than two decimals are refused, never rounded.
func ParseMoney(value string, decimalComma bool) (Money, error) {
	group, mark := ",", "."
	if decimalComma {
		group, mark = mark, group
	}
	plain := strings.TrimSpace(strings.Trim(withoutCurrency(value), " $€£\u00a0"))
	whole, cents, _ := strings.Cut(strings.TrimSuffix(strings.TrimSuffix(plain, "-"), "–"), mark)
	cents = strings.TrimRight(cents, "0")
	if whole == "" && cents != "" {
		whole = "0"
	}
	groups := strings.Split(whole, group)
	for i, g := range groups {
		if g == "" || len(g) > 13 || strings.Trim(g, "0123456789") != "" || i > 0 && len(g) != 3 || len(groups) > 1 && len(groups[0]) > 3 {
			return 0, notMoney(value)
		}
	}
	if len(cents) > 2 || strings.Trim(cents, "0123456789") != "" {
		return 0, notMoney(value)
	}
	amount, err := strconv.ParseInt(strings.Join(groups, "")+(cents + "00")[:2], 10, 64)
	if err != nil || amount > 1e15 {
		return 0, notMoney(value)
	}
	return Money(amount), nil
}

// currencies are codes of ISO 4217 that people write beside an amount.
var currencies = []string{"USD", "EUR", "GBP", "CAD", "AUD", "NZD", "CHF", "SEK", "NOK", "DKK"}

func withoutCurrency(value string) string {
	value = strings.TrimSpace(value)
	for _, code := range currencies {
		value = strings.TrimSuffix(strings.TrimPrefix(value, code+" "), " "+code)
	}
	return value
}

func notMoney(value string) error {
	return fmt.Errorf("%q is not an amount of money with at most two decimals", value)
}

// In is the amount as a shop writes numbers: "12.50", "12,50".
func (m Money) In(unit Unit) string { return unit.Mark(m.String()) }

// With is the amount with its currency: "$217.95", "217.95 USD", "352,00 €". A
// symbol stands in front among decimal points and behind among decimal commas.
func (m Money) With(currency string, unit Unit) string {
	text := m.In(unit)
	switch {
	case currency == "":
		return text
	case unit.Comma() || strings.IndexFunc(currency, unicode.IsLetter) == 0:
		return text + " " + currency
	case m < 0:
		return "-" + currency + text[1:]
	}
	return currency + text
}
