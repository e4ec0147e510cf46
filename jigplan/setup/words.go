package setup

import (
	"strings"

	"batchwright/orders/measure"
)

// BladeName names a blade by its kerf, the one thing about it that changes
// what is cut: "3/32 in kerf", "0.0955 in kerf", "2.4 mm kerf".
func BladeName(kerf measure.Length, units measure.Unit) string {
	text := kerf.ShowUnit(units)
	if strings.HasPrefix(text, measure.About) {
		text = units.Mark(kerf.DecimalInches()) + " in"
	}
	return text + " kerf"
}
