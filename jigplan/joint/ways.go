package joint

import (
	"fmt"
	"strconv"
	"strings"

	"batchwright/jigplan"
	"batchwright/orders/measure"
	"batchwright/orders/settings"
)

// waysOut lists how a refused finger can be had after all, missed by less than
// short, nearest first: a tighter fit, a second pass, another finger, the
// shop's other tools, more stops on the wheel, a purchase; else another height.
func (w workshop) waysOut(finger measure.Length, short measure.Ratio) []jigplan.Way {
	var ways []jigplan.Way
	add := func(way jigplan.Way, ok bool) {
		if ok {
			ways = append(ways, way)
		}
	}
	add(w.tighterFit(finger))
	add(w.twice(finger))
	add(w.fingerOf(bench{w.owned().rods[:1], w.owned().blades[:1], w.owned().stops[:1]}, finger))
	closer := func(r remedy, ok bool) bool { return ok && r.best.FingerError.Abs().Cmp(short) < 0 }
	own := len(ways)
	stops := []int{1, 3, 5, 7}
	if r, ok := w.nearestOf(w.owned(), finger, 2, 4, 6); closer(r, ok) {
		add(w.toolWay(jigplan.OwnTools, r), true)
		stops = stops[:1]
	}
	if r, ok := w.nearestOf(w.owned(), finger, stops...); closer(r, ok) {
		add(w.toolWay(jigplan.MoreStops, r), true)
	}
	if len(ways) == own {
		if r, ok := w.nearest(w.sold(), finger); closer(r, ok) {
			add(w.toolWay(jigplan.BuyTools, r), true)
		}
	}
	for _, bench := range []bench{w.owned(), w.sold()} {
		if len(ways) == 0 {
			add(w.fingerOf(bench, finger))
		}
	}
	if len(ways) == 0 {
		add(jigplan.Way{Kind: jigplan.OtherHeight, Text: w.otherHeight(finger)}, true)
	}
	return ways
}

// tighterFit accepts the fit just under the limit, where it is one that wood
// still takes and the joint then has a program.
func (w workshop) tighterFit(finger measure.Length) (jigplan.Way, bool) {
	_, high := w.fitRange()
	fit := w.fit(high + 1)
	least := w.fineStep().Times(fit.Div(w.fineStep()).Floor())
	if least.Cmp(settings.TightestFit.Ratio().Neg().Times(2).Over(5)) < 0 {
		return jigplan.Way{}, false
	}
	tight := w
	tight.fitMin = least
	c, ok := tight.best(finger, maxFinger.Ratio())
	if !ok || c.Program.Fit.Cmp(w.fitMin) >= 0 {
		return jigplan.Way{}, false
	}
	text := fmt.Sprintf("accept the tighter fit of %s", w.say(c.Program.Fit))
	if c.Program.Fit.Sign() < 0 {
		text += ", a press fit"
	}
	return w.setting(jigplan.TighterFit, text, "Fit at least", w.bare(least)), true
}

// fineStep is what a fit is set in: thousandths of an inch, or hundredths of a
// millimetre.
func (w workshop) fineStep() measure.Ratio {
	if w.q.Settings.Units.Metric() {
		return (measure.Millimetre / 100).Ratio()
	}
	return (measure.Inch / 1000).Ratio()
}

// twice is the whole card cut a second time with a shim.
func (w workshop) twice(finger measure.Length) (jigplan.Way, bool) {
	if w.q.Settings.SecondPass == "yes" {
		return jigplan.Way{}, false
	}
	low, high := w.fitRange()
	if low <= high {
		return jigplan.Way{}, false
	}
	found := w.secondPass(high+1, finger)
	if len(found) == 0 {
		return jigplan.Way{}, false
	}
	p := found[0].Program
	text := fmt.Sprintf("cut every card twice, the second time with a shim of %s at the stop: fit %s", w.say(p.SecondPass), w.say(p.Fit))
	return w.setting(jigplan.SecondPass, text, "Second pass", "yes"), true
}

// fingerOf is the usual finger nearest the wanted one that a bench can cut.
func (w workshop) fingerOf(b bench, finger measure.Length) (jigplan.Way, bool) {
	other, r, ok := w.otherFinger(b, finger)
	if !ok {
		return jigplan.Way{}, false
	}
	return jigplan.Way{Kind: jigplan.OtherFinger, Text: w.sayOther(other, r)}, true
}

// toolWay is other tools, with the command where one setting brings them in.
func (w workshop) toolWay(kind jigplan.WayKind, r remedy) jigplan.Way {
	text := w.sayRemedy(r)
	switch r.effort {
	case 1:
		return w.setting(kind, text, "Stops per turn", strconv.Itoa(r.stops))
	case 2:
		return w.setting(kind, text, "Blade kerf", w.sayBare(r.blade.kerf))
	case 4:
		return w.setting(kind, text, "Rod", r.rod.Name)
	}
	return jigplan.Way{Kind: kind, Text: text}
}

// setting is a way that changes one setting.
func (w workshop) setting(kind jigplan.WayKind, text, name, value string) jigplan.Way {
	way := jigplan.Way{Kind: kind, Text: text, Setting: name, Value: value}
	if from := w.q.Settings.Source(name); from.Sheet != settings.ShopFileSheet {
		way.On = from
	}
	return way
}

// bare is a size as a setting is typed, in the shop's unit.
func (w workshop) bare(r measure.Ratio) string {
	unit := w.q.Settings.Units
	if unit.Metric() {
		return plain(r.Show(unit)) + " mm"
	}
	return plain(r.Show(unit.In(measure.Inches)))
}

// plain is a decimal without the zeros at its end.
func plain(decimal string) string {
	if strings.ContainsAny(decimal, ".,") {
		decimal = strings.TrimRight(strings.TrimRight(decimal, "0"), ".,")
	}
	return decimal
}

// sayBare is a size that reads back as itself.
func (w workshop) sayBare(l measure.Length) string {
	if text := w.bare(l.Ratio()); readsAs(text, l, w.q.Settings.Reading()) {
		return text
	}
	return w.q.Settings.Units.Mark(l.Decimal()) + " mm"
}

func readsAs(text string, l measure.Length, how measure.Reading) bool {
	back, err := measure.Parse(text, how)
	return err == nil && back == l
}
