package measure

import (
	"strconv"
	"strings"
)

// A Unit's higher bits say how the shop writes numbers and dates.
const (
	unitMask  Unit = 1<<4 - 1
	commaMark Unit = 1 << 4
	dateShift      = 5
	dateMask  Unit = 3 << dateShift
)

// Plain is the unit alone: a decimal point, dates as the unit's users write them.
func (u Unit) Plain() Unit { return u & unitMask }

// Metric reports whether lengths are printed in millimetres.
func (u Unit) Metric() bool { return u.Plain() == Millimetres }

// Comma reports whether the decimal mark is a comma.
func (u Unit) Comma() bool { return u&commaMark != 0 }

// Written is the unit with this decimal mark and order of dates.
func (u Unit) Written(comma bool, dates Dates) Unit {
	u = u.Plain() | Unit(dates)<<dateShift
	if comma {
		u |= commaMark
	}
	return u
}

// In is how u writes, in another unit of length.
func (u Unit) In(other Unit) Unit { return u&^unitMask | other.Plain() }

// Mark writes the decimal numbers of a text with the shop's decimal mark; the
// stops of its sentences stay.
func (u Unit) Mark(text string) string {
	if !u.Comma() || !strings.Contains(text, ".") {
		return text
	}
	out := []byte(text)
	for i, c := range out {
		if c == '.' && (len(out) == 1 || i+1 < len(out) && out[i+1] >= '0' && out[i+1] <= '9') {
			out[i] = ','
		}
	}
	return string(out)
}

// Either is a text for a shop of inches, or its like for one of millimetres,
// whose decimals then have the shop's mark.
func (u Unit) Either(inches, metric string) string {
	if u.Metric() {
		return u.Mark(metric)
	}
	return inches
}

// Number writes f with that many decimals; fewer than 0: as many as it has.
func (u Unit) Number(f float64, places int) string {
	return u.Mark(strconv.FormatFloat(f, 'f', places, 64))
}

// Percent writes a percentage: "78%", in a metric shop "78 %" (ISO 80000-1
// puts a space before the sign).
func (u Unit) Percent(f float64, places int) string {
	if u.Metric() {
		return u.Number(f, places) + " %"
	}
	return u.Number(f, places) + "%"
}
