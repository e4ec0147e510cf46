package joint

import (
	"fmt"
	"strconv"

	"batchwright/orders/measure"
)

// say writes a size as a person at the saw reads it: inches to a ten
// thousandth, or millimetres to a thousandth.
func say(r measure.Ratio, unit measure.Unit) string {
	if unit.Metric() {
		return r.Show(unit) + " mm"
	}
	return r.Show(unit.In(measure.Inches)) + " in"
}

func (q Request) say(r measure.Ratio) string  { return say(r, q.Settings.Units) }
func (w workshop) say(r measure.Ratio) string { return w.q.say(r) }

// sayExact writes a size so that it reads back as itself: with all its decimals
// in a metric shop; in millimetres first where inches would round it.
func (w workshop) sayExact(l measure.Length) string {
	rounded := w.say(l.Ratio())
	if readsAs(rounded, l, w.q.Settings.Reading()) {
		return rounded
	}
	unit := w.q.Settings.Units
	if unit.Metric() {
		return unit.Mark(l.Decimal()) + " mm"
	}
	return fmt.Sprintf("%s mm (%s)", l.Show(unit.In(measure.Millimetres)), rounded)
}

// sayMiss writes how far off something is; never as nothing.
func (w workshop) sayMiss(r measure.Ratio) string {
	least := measure.Inch / 10_000
	if w.q.Settings.Units.Metric() {
		least = measure.Micrometre
	}
	if r.Cmp(least.Ratio()) < 0 {
		return "less than " + w.say(least.Ratio())
	}
	return w.say(r)
}

// turnsOf is "1 turn", "13/2 turns".
func turnsOf(turns measure.Ratio) string {
	if turns.Cmp(measure.Whole(1)) == 0 {
		return "1 turn"
	}
	return turns.String() + " turns"
}

// stopsOf is "1 stop per turn", "4 stops per turn".
func stopsOf(n int64) string {
	if n == 1 {
		return "1 stop per turn"
	}
	return strconv.FormatInt(n, 10) + " stops per turn"
}
