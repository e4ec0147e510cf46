package joint

import (
	"strconv"

	"batchwright/orders/measure"
)

// say writes a size as a person at the saw reads it: inches to a ten
// thousandth, or millimetres to a thousandth.
func say(r measure.Ratio, unit measure.Unit) string {
	if unit == measure.Millimetres || unit == measure.Centimetres {
		return rounded(r.Over(int64(measure.Millimetre)), 1_000) + " mm"
	}
	return rounded(r.Over(int64(measure.Inch)), 10_000) + " in"
}

func rounded(r measure.Ratio, scale int64) string {
	value := float64(r.Times(scale).Round()) / float64(scale)
	return strconv.FormatFloat(value, 'f', -1, 64)
}

func (q Request) say(r measure.Ratio) string  { return say(r, q.Settings.Units) }
func (w workshop) say(r measure.Ratio) string { return w.q.say(r) }
