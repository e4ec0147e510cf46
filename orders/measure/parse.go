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

// Parse reads one length.
func Parse(text string, how Reading) (Length, error) {
	whole, frac, _ := strings.Cut(strings.TrimSpace(text), "-")
	r, err := ParseRatio(whole)
	if err != nil {
		return 0, err
	}
	if frac != "" {
		f, err := ParseRatio(frac)
		if err != nil {
			return 0, err
		}
		r = r.Add(f)
	}
	unit := how.Bare
	if unit == NoUnit {
		unit = Inches
	}
	r = r.Times(int64(unit.Ticks()))
	if !r.IsWhole() {
		return 0, fmt.Errorf("%q is no whole tick", text)
	}
	return Length(r.Num()), nil
}

// Fraction writes l in inches as a fraction.
func (l Length) Fraction() string { return l.Ratio().Over(int64(Inch)).String() }
