package measure

import (
	"math/big"
	"testing"
)

func TestParseMoney(t *testing.T) {
	for text, want := range map[string]Money{"12.50": 1250, "12.5": 1250, "12": 1200, "$1,250": 125_000, "1,250.75": 125_075, ".50": 50, "0": 0, "€ 9.10": 910, "12.500": 1250} {
		if got, err := ParseMoney(text, false); err != nil || got != want {
			t.Errorf("ParseMoney(%q) = %v, %v, want %v", text, got, err, want)
		}
	}
	for text, want := range map[string]Money{"12,50": 1250, "1.250": 125_000, "1.250,75": 125_075} {
		if got, err := ParseMoney(text, true); err != nil || got != want {
			t.Errorf("with a decimal comma ParseMoney(%q) = %v, %v, want %v", text, got, err, want)
		}
	}
	for _, text := range []string{"", "12,50", "1,25", "12.505", "-0.50", "-3", "1.2.3", "12e3", "free", "1,2,3", "99999999999999999999"} {
		if got, err := ParseMoney(text, false); err == nil {
			t.Errorf("ParseMoney(%q) = %v, want an error", text, got)
		}
	}
}

func TestMoneyAtRoundsHalfToEven(t *testing.T) {
	for _, c := range []struct {
		price    Money
		num, den int64
		want     Money
	}{{950, 13, 3, 4117}, {1, 1, 2, 0}, {3, 1, 2, 2}, {5, 1, 2, 2}, {100, 1, 3, 33}, {100, 2, 3, 67}} {
		if got := c.price.At(big.NewRat(c.num, c.den)); got != c.want {
			t.Errorf("%v at %d/%d = %v, want %v", c.price, c.num, c.den, got, c.want)
		}
	}
}
