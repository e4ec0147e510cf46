package reports

import (
	"fmt"
	"strconv"
	"strings"

	"batchwright/jigplan"
	"batchwright/orders/measure"
)

// Words writes figures the way the plan's shop reads them.
type Words struct{ Unit measure.Unit }

// WordsOf is how the plan's shop reads figures.
func WordsOf(p *jigplan.Plan) Words { return Words{p.Order.Settings.Units} }

// Len is a length with its unit: "3-1/2 in", "0.0955 in", "88.9 mm".
func (w Words) Len(l measure.Length) string {
	if number, exact, ok := strings.Cut(w.Bare(l), " ("); ok {
		return number + " " + w.UnitName() + " (" + exact // ~3-35/64 in (90 mm)
	}
	return w.Bare(l) + " " + w.UnitName()
}

// Sizes is "12 x 8 x 3-1/2 in"; sizes that only whole tenths of a millimetre
// tell exactly stay as they are: "300 x 200 x 90 mm".
func (w Words) Sizes(sizes ...measure.Length) string {
	in := w
	for _, l := range sizes {
		if strings.HasSuffix(w.Bare(l), "mm)") {
			in.Unit = measure.Millimetres
		}
	}
	for _, l := range sizes {
		if l%(100*measure.Micrometre) != 0 {
			in = w
		}
	}
	var out []string
	for _, l := range sizes[:len(sizes)-1] {
		out = append(out, in.Bare(l))
	}
	return strings.Join(append(out, in.Len(sizes[len(sizes)-1])), " x ")
}

// Bare is a length without its unit, for columns whose heading says it: a
// fraction of an inch where a rule has that mark, a decimal where a caliper
// shows it, else the nearest mark, with the millimetres it was given in;
// millimetres to the hundredth where that is all of it, else to the tenth.
func (w Words) Bare(l measure.Length) string {
	if w.Unit.Metric() {
		return l.BareOnRule(w.Unit)
	}
	nearest := l.Fraction()
	switch {
	case !strings.HasPrefix(nearest, measure.About):
		return nearest
	case l%tenThousandth == 0:
		return w.Unit.Mark(l.DecimalInches())
	case l%(100*measure.Micrometre) == 0:
		return nearest + " (" + l.Show(measure.Millimetres) + " mm)"
	}
	return nearest
}

// tenThousandth is 0.0001 in, the finest a caliper shows.
const tenThousandth = measure.Inch / 10_000

func trimZeros(decimal string) string {
	if !strings.Contains(decimal, ".") {
		return decimal
	}
	return strings.TrimRight(strings.TrimRight(decimal, "0"), ".")
}

// Size is "12 x 3-1/2 in".
func (w Words) Size(l, wide measure.Length) string {
	return w.Bare(l) + " x " + w.Len(wide)
}

// Fine is a screw position or a joint's width: "9/32 in" where a rule has that
// mark, else "0.2813 in"; "7.144 mm".
func (w Words) Fine(r measure.Ratio) string {
	sixtyFourths := r.Mul(measure.Frac(64, int64(measure.Inch)))
	if !w.Unit.Metric() && r.Sign() != 0 && sixtyFourths.IsWhole() {
		return r.Length().Fraction() + " in"
	}
	return w.Caliper(r)
}

// Caliper is a width as a caliper shows it: "0.2813 in", "7.144 mm".
func (w Words) Caliper(r measure.Ratio) string { return r.Show(w.Unit) + " " + w.UnitName() }

// Both is a width as a rule has it and as a caliper shows it.
func (w Words) Both(r measure.Ratio) string {
	rule, caliper := w.Fine(r), w.Caliper(r)
	if rule == caliper {
		return rule
	}
	return rule + " (" + caliper + ")"
}

// UnitName is "in" or "mm".
func (w Words) UnitName() string {
	if w.Unit.Metric() {
		return "mm"
	}
	return "in"
}

// UnitWord is "inches" or "millimetres".
func (w Words) UnitWord() string {
	if w.Unit.Metric() {
		return "millimetres"
	}
	return "inches"
}

// Rule is a length as it is read on a rule: the nearest 1/64 in, or the
// nearest tenth of a millimeter, marked ~ where that is rounded.
func (w Words) Rule(r measure.Ratio) string {
	if w.Unit.Metric() {
		text := w.Unit.Mark(trimZeros(r.Places(measure.Millimetres, 1)))
		if !r.Div((measure.Millimetre / 10).Ratio()).IsWhole() {
			text = measure.About + text
		}
		return text
	}
	if sixtyFourth := (measure.Inch / 64).Ratio(); !r.Div(sixtyFourth).IsWhole() {
		return measure.About + strings.TrimPrefix(r.Length().Fraction(), measure.About)
	}
	return r.Length().Fraction()
}

// Marked is a length as it is set by a rule: the nearest mark, with its unit.
func (w Words) Marked(l measure.Length) string { return w.Rule(l.Ratio()) + " " + w.UnitName() }

// MarkedSize is two lengths as they are set by a rule.
func (w Words) MarkedSize(l, wide measure.Length) string {
	return w.Rule(l.Ratio()) + " x " + w.Marked(wide)
}

// single has the fractions that are one character in the common fonts.
var single = map[string]string{"1/2": "½", "1/4": "¼", "3/4": "¾", "1/3": "⅓", "2/3": "⅔",
	"1/8": "⅛", "3/8": "⅜", "5/8": "⅝", "7/8": "⅞"}

// Turns writes turns of the wheel: "6", "6½", "6-5/16".
func Turns(r measure.Ratio) string {
	sign := ""
	if r.Sign() < 0 {
		sign, r = "-", r.Neg()
	}
	whole := r.Floor()
	rest := r.Sub(measure.Whole(whole))
	switch {
	case rest.Sign() == 0:
		return sign + strconv.FormatInt(whole, 10)
	case whole == 0 && single[rest.String()] != "":
		return sign + single[rest.String()]
	case whole == 0:
		return sign + rest.String()
	case single[rest.String()] != "":
		return sign + strconv.FormatInt(whole, 10) + single[rest.String()]
	}
	return sign + strconv.FormatInt(whole, 10) + "-" + rest.String()
}

// Hours writes minutes as people say them: "45 min", "6 h 20 min".
func Hours(minutes float64) string {
	n := int(minutes + 0.5)
	switch {
	case n < 60:
		return fmt.Sprintf("%d min", n)
	case n%60 == 0:
		return fmt.Sprintf("%d h", n/60)
	}
	return fmt.Sprintf("%d h %d min", n/60, n%60)
}

// Counted is "1 box", "2 boxes".
func Counted(n int, one, many string) string {
	if n == 1 {
		return "1 " + one
	}
	return strconv.Itoa(n) + " " + many
}

// stopped ends a sentence with one stop, also after an abbreviation.
func stopped(text string) string { return strings.TrimSuffix(text, ".") + "." }

// Listed joins names; past limit it says how many more there are.
func Listed(names []string, limit int) string {
	if len(names) <= limit {
		return strings.Join(names, ", ")
	}
	return fmt.Sprintf("%s and %d more", strings.Join(names[:limit], ", "), len(names)-limit)
}
