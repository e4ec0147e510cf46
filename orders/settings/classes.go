package settings

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"batchwright/orders/measure"
)

// Class is a commercial thickness of lumber: what it is sold as and what it
// yields once both faces are surfaced.
type Class struct {
	Name     string
	Rough    measure.Length // nominal, as sold and as tallied
	Surfaced measure.Length // surfaced two sides: the thickest finished part
}

// InchClasses are the rough hardwood thicknesses, thin to thick. Source: hardwood
// thickness chart, rough to surfaced two sides, as printed on
// engineeringtoolbox.com ("Hardwood Lumber Dimensions"); quarter names of 3/4,
// 7/4 and 14/4 derived.
var InchClasses = []Class{
	class("3/8", "3/8", 6),
	class("1/2", "1/2", 10),
	class("5/8", "5/8", 14),
	class("3/4", "3/4", 18),
	class("4/4", "1", 26),
	class("5/4", "1-1/4", 34),
	class("6/4", "1-1/2", 42),
	class("7/4", "1-3/4", 48),
	class("8/4", "2", 56),
	class("12/4", "3", 88),
	class("14/4", "3-1/2", 104),
	class("16/4", "4", 120),
}

// metricYields are the metric thicknesses lumber is sawn to, and what each planes
// to (common practice: a shop corrects them by its own boards).
const metricYields = "18: 14; 22: 18; 27: 22; 34: 28; 40: 33; 52: 44; 65: 56; 80: 70"

func class(name, rough string, surfaced32nds int64) Class {
	r, err := measure.Parse(rough, measure.Reading{Bare: measure.Inches})
	if err != nil {
		panic("settings: class " + name + ": " + err.Error())
	}
	return Class{name, r, measure.Inch / 32 * measure.Length(surfaced32nds)}
}

// Classes are the thickness classes this shop knows, thin to thick: those in
// inches, and the metric ones with what each planes to.
func (s *Shop) Classes() []Class {
	out := slices.Clone(s.PlanedYields)
	for _, c := range InchClasses {
		if !slices.ContainsFunc(out, func(own Class) bool { return own.Name == c.Name }) {
			out = append(out, c)
		}
	}
	slices.SortStableFunc(out, func(a, b Class) int { return int(a.Rough-b.Rough) / int(measure.Micrometre) })
	return out
}

// ClassesOf are the classes of one system of units: those that the named class
// belongs to.
func (s *Shop) ClassesOf(name string) []Class {
	return slices.DeleteFunc(s.Classes(), func(c Class) bool { return IsMetricClass(c.Name) != IsMetricClass(name) })
}

// FindClass looks a class of this shop up by its name, such as 4/4 or 27 mm.
func (s *Shop) FindClass(name string) (Class, bool) {
	plain := ClassName(name)
	for _, c := range s.Classes() {
		if c.Name == plain {
			return c, true
		}
	}
	return Class{}, false
}

// ClassName is a class's name without spaces and unit: "27 mm" is 27.
func ClassName(written string) string {
	plain := strings.ReplaceAll(strings.ToLower(strings.TrimSpace(written)), " ", "")
	return strings.TrimSuffix(plain, "mm")
}

// IsMetricClass reports whether a class is named by its millimetres.
func IsMetricClass(name string) bool {
	n, err := strconv.Atoi(ClassName(name))
	return err == nil && n >= 6 && n <= 300
}

// ClassNames lists the shop's classes for people, its own units first.
func (s *Shop) ClassNames() string {
	var own, other []string
	for _, c := range s.Classes() {
		if IsMetricClass(c.Name) == s.Units.Metric() {
			own = append(own, c.Name)
		} else {
			other = append(other, c.Name)
		}
	}
	return strings.Join(append(own, other...), ", ")
}

// parseYields reads "27: 22; 52: 44; 4/4: 20.6 mm".
func parseYields(text string, e Entry) (out []Class, err error) {
	for one := range strings.SplitSeq(text, ";") {
		if strings.TrimSpace(one) == "" {
			continue
		}
		name, planed, ok := strings.Cut(one, ":")
		c := Class{Name: ClassName(name)}
		for _, known := range InchClasses {
			if known.Name == c.Name {
				c.Rough = known.Rough
			}
		}
		if c.Rough == 0 && IsMetricClass(name) {
			mm, _ := strconv.Atoi(c.Name)
			c.Rough = measure.Length(mm) * measure.Millimetre
		}
		if !ok || c.Rough == 0 {
			return nil, fmt.Errorf("%q is not a class and what it planes to, such as 27: 22", strings.TrimSpace(one))
		}
		how := measure.Reading{Bare: measure.Millimetres, DecimalComma: e.DecimalComma}
		if !IsMetricClass(name) {
			how.Bare = measure.Inches
		}
		if c.Surfaced, err = measure.Parse(planed, how); err != nil {
			return nil, err
		}
		if c.Surfaced <= 0 || c.Surfaced >= c.Rough {
			return nil, fmt.Errorf("%q: a class must plane to less than its rough thickness", strings.TrimSpace(one))
		}
		out = append(out, c)
	}
	return out, nil
}

func yieldsText(classes []Class) string {
	var out []string
	for _, c := range classes {
		planed := c.Surfaced.Ratio().Decimal()
		if !IsMetricClass(c.Name) {
			planed += " mm"
		}
		out = append(out, c.Name+": "+planed)
	}
	return strings.Join(out, "; ")
}

// withMetric is the classes given and the usual metric ones that they do not name.
func withMetric(given []Class) []Class {
	usual, _ := parseYields(metricYields, Entry{})
	for _, c := range usual {
		if !slices.ContainsFunc(given, func(own Class) bool { return own.Name == c.Name }) {
			given = append(given, c)
		}
	}
	return given
}

func planedYields() Definition {
	return Definition{Name: "Planed yields", Group: "Boards", Default: metricYields, dress: numbers, Origin: common,
		Help:       "what boards of a class plane to at most: metric classes in mm, those in inches as 4/4: 13/16; a class that is not listed keeps its usual yield, a new one is added",
		MetricHelp: "what boards of a class plane to at most, in mm; a class that is not listed keeps its usual yield, a new one is added",
		set: func(s *Shop, value string, e Entry) error {
			classes, err := parseYields(value, e)
			if err == nil {
				s.PlanedYields = withMetric(classes)
			}
			return err
		},
		value: func(s *Shop) any { return yieldsText(s.PlanedYields) }}
}

// typicalClass is the class of boards that are bought; a name that is no class
// is refused.
func typicalClass() Definition {
	return Definition{Name: "Typical class", Group: "Boards", Default: "4/4", Metric: "27", Help: "the thinnest standard class", Origin: common,
		Also: []string{"Standard class"},
		set: func(s *Shop, value string, _ Entry) error {
			c, ok := s.FindClass(value)
			if !ok && len(s.PlanedYields) == 0 {
				c.Name, ok = ClassName(value), true // the defaults are not complete yet
			}
			if !ok {
				return fmt.Errorf("%q is not a thickness class: write one of %s", value, s.ClassNames())
			}
			s.TypicalClass = c.Name
			return nil
		},
		value: func(s *Shop) any { return s.TypicalClass }}
}
