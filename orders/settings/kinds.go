package settings

import (
	"errors"
	"fmt"
	"math"
	"strconv"
	"strings"

	"batchwright/orders/measure"
	"batchwright/orders/spelling"
)

// The kinds of setting: each reads a row of the Shop sheet into its field and
// gives the value back as the plan's JSON has it.

func choice(name, group, def, help string, field func(*Shop) *string, allowed ...string) Definition {
	d := Definition{Name: name, Group: group, Default: def, Help: help, Origin: common}
	d.set = func(s *Shop, value string, _ Entry) (err error) {
		*field(s), err = oneOf(value, allowed)
		return err
	}
	d.value = func(s *Shop) any { return *field(s) }
	return d
}

// oneOf is the word of a list that a value is, in any case.
func oneOf(value string, allowed []string) (string, error) {
	for _, a := range allowed {
		if spelling.Fold(value) == spelling.Fold(a) {
			return a, nil
		}
	}
	if allowed[0] == "" {
		allowed = append([]string{"blank"}, allowed[1:]...)
	}
	return "", fmt.Errorf("%q is not one of: %s", value, strings.Join(allowed, ", "))
}

// writing is a choice of how the shop writes units, numbers or dates: whatever
// prints follows it.
func writing(name, def, help string, allowed []string, set func(*Shop, string), get func(*Shop) string) Definition {
	d := Definition{Name: name, Group: "General", Default: def, Help: help, Origin: common}
	d.set = func(s *Shop, value string, _ Entry) error {
		if name == "Units" && unitSpelt(value) != "" {
			value = unitSpelt(value)
		}
		if name == "Dates" && dateOrder(value) != "" {
			value = dateOrder(value)
		}
		word, err := oneOf(value, allowed)
		if err == nil {
			set(s, word)
			s.SetUnits(s.Units)
		}
		return err
	}
	d.value = func(s *Shop) any { return get(s) }
	return d
}

// unitSpelt is "in" or "mm" for those units as people spell them out.
func unitSpelt(value string) string {
	switch strings.Trim(spelling.Fold(value), ".") {
	case "inch", "inches", "ins", "in", "\"":
		return "in"
	case "millimetre", "millimetres", "millimeter", "millimeters", "mm":
		return "mm"
	}
	return ""
}

// dateOrder is the order of dates as people spell it.
func dateOrder(value string) string {
	switch strings.ReplaceAll(spelling.Fold(value), "-", " ") {
	case "month first", "month", "mdy", "m/d/y", "mm/dd/yyyy", "us", "month/day":
		return "month first"
	case "day first", "day", "dmy", "d/m/y", "d.m.y", "dd.mm.yyyy", "dd/mm/yyyy", "day/month":
		return "day first"
	case "iso", "iso 8601", "ymd", "y m d", "yyyy mm dd":
		return "ISO"
	}
	return ""
}

func text(name, group, def, help string, field func(*Shop) *string) Definition {
	return Definition{Name: name, Group: group, Default: def, Help: help, Origin: common,
		set:   func(s *Shop, value string, _ Entry) error { *field(s) = value; return nil },
		value: func(s *Shop) any { return *field(s) }}
}

func length(name, group, def, help string, field func(*Shop) *measure.Length) Definition {
	return Definition{Name: name, Group: group, Default: def, Unit: "in", Help: help, Origin: common, dress: numbers, bare: measure.Inches,
		set: func(s *Shop, value string, e Entry) error {
			l, err := measure.Parse(value, e.reading())
			if err != nil {
				return err
			}
			if l < 0 {
				return fmt.Errorf("%q is below zero", value)
			}
			*field(s) = l
			return nil
		},
		value: func(s *Shop) any { return *field(s) }}
}

// signed is a length that may be negative, down to -limit.
func signed(name, group, def, help string, limit measure.Length, field func(*Shop) *measure.Length) Definition {
	d := length(name, group, def, help, field)
	positive := d.set
	d.set = func(s *Shop, value string, e Entry) error {
		digits, negative := strings.CutPrefix(strings.Replace(strings.TrimSpace(value), "\u2212", "-", 1), "-")
		if !negative {
			return positive(s, value, e)
		}
		if err := positive(s, digits, e); err != nil {
			return err
		}
		if *field(s) = -*field(s); *field(s) < -limit {
			return fmt.Errorf("%q is below the limit of -%s in (-%s mm)", value, limit.DecimalInches(), limit.Ratio().Decimal())
		}
		return nil
	}
	return d
}

func rectangle(name, group, def, help string, fields func(*Shop) (l, w *measure.Length)) Definition {
	return Definition{Name: name, Group: group, Default: def, Unit: "in", Help: help, Origin: common, dress: numbers, bare: measure.Inches,
		set: func(s *Shop, value string, e Entry) error {
			long, wide, ok := strings.Cut(strings.ReplaceAll(strings.ToLower(value), "×", "x"), "x")
			if !ok {
				return fmt.Errorf("%q is not a size such as 12 in x 2 in", value)
			}
			l, err1 := measure.Parse(long, e.reading())
			w, err2 := measure.Parse(wide, e.reading())
			if err := errors.Join(err1, err2); err != nil {
				return err
			}
			lp, wp := fields(s)
			*lp, *wp = l, w
			return nil
		},
		value: func(s *Shop) any {
			l, w := fields(s)
			return l.Ratio().Decimal() + " x " + w.Ratio().Decimal()
		}}
}

// Flat is the length and width of a board.
type Flat struct{ Length, Width measure.Length }

// lengths is a list of lengths above zero.
func lengths(name, group, def, help string, field func(*Shop) *[]measure.Length) Definition {
	return Definition{Name: name, Group: group, Default: def, Unit: "in", Help: help, Origin: common, dress: numbers, bare: measure.Inches,
		set: func(s *Shop, value string, e Entry) error {
			var out []measure.Length
			for one := range strings.SplitSeq(value, ";") {
				l, err := measure.Parse(one, e.reading())
				if err == nil && l <= 0 {
					err = fmt.Errorf("%q is not above zero", strings.TrimSpace(one))
				}
				if err != nil {
					return err
				}
				out = append(out, l)
			}
			*field(s) = out
			return nil
		},
		value: func(s *Shop) any {
			var out []string
			for _, l := range *field(s) {
				out = append(out, l.Ratio().Decimal())
			}
			return strings.Join(out, "; ")
		}}
}

// flats is any number of sizes of boards, none by default.
func flats(name, group, help string, field func(*Shop) *[]Flat) Definition {
	return Definition{Name: name, Group: group, Unit: "in", Help: help, Origin: common, dress: numbers, bare: measure.Inches,
		set: func(s *Shop, value string, e Entry) error {
			var sizes []Flat
			for one := range strings.SplitSeq(value, ";") {
				if strings.TrimSpace(one) == "" {
					continue
				}
				var size Flat
				read := rectangle(name, group, "", help, func(*Shop) (l, w *measure.Length) { return &size.Length, &size.Width })
				if err := read.set(s, one, e); err != nil {
					return err
				}
				if size.Length <= 0 || size.Width <= 0 {
					return fmt.Errorf("%q is not above zero", strings.TrimSpace(one))
				}
				sizes = append(sizes, size)
			}
			*field(s) = sizes
			return nil
		},
		value: func(s *Shop) any {
			var out []string
			for _, size := range *field(s) {
				out = append(out, size.Length.Ratio().Decimal()+" x "+size.Width.Ratio().Decimal())
			}
			return strings.Join(out, "; ")
		}}
}

// count is a whole number from 1 up.
func count(name, group, def, help string, field func(*Shop) *int) Definition {
	return wholeFrom(1, name, group, def, help, field)
}

func wholeFrom(least int, name, group, def, help string, field func(*Shop) *int) Definition {
	return Definition{Name: name, Group: group, Default: def, Help: help, Origin: common,
		set: func(s *Shop, value string, _ Entry) error {
			n, err := strconv.Atoi(value)
			if err != nil || n < least {
				return fmt.Errorf("%q is not a whole number from %d up", value, least)
			}
			*field(s) = n
			return nil
		},
		value: func(s *Shop) any { return *field(s) }}
}

// wholes is a list of whole numbers from 1 to 100, none by default.
func wholes(name, group, help string, field func(*Shop) *[]int) Definition {
	return Definition{Name: name, Group: group, Help: help, Origin: common,
		set: func(s *Shop, value string, _ Entry) error {
			var out []int
			for one := range strings.FieldsFuncSeq(value, func(r rune) bool { return strings.ContainsRune(",; ", r) }) {
				n, err := strconv.Atoi(one)
				if err != nil || n < 1 || n > 100 {
					return fmt.Errorf("%q is not a list of whole numbers from 1 to 100 such as 1, 2, 4", value)
				}
				out = append(out, n)
			}
			*field(s) = out
			return nil
		},
		value: func(s *Shop) any {
			var out []string
			for _, n := range *field(s) {
				out = append(out, strconv.Itoa(n))
			}
			return strings.Join(out, ", ")
		}}
}

func turns(name, group, def, help string, field func(*Shop) *measure.Ratio) Definition {
	return Definition{Name: name, Group: group, Default: def, Unit: "turns", Help: help, Origin: common, dress: numbers,
		set: func(s *Shop, value string, e Entry) error {
			r, err := measure.ParseRatio(e.reading().Plain(value))
			if err == nil {
				*field(s) = r
			}
			return err
		},
		value: func(s *Shop) any { return field(s).String() }}
}

// Work is when in a job an element of time is done, and so in which tasks of
// the week its minutes are.
type Work string

// The kinds of work, in the order of a job.
const (
	Milling   Work = "milling" // at the saw, before the jig
	SettingUp Work = "setting up"
	AtJig     Work = "at the jig"
	Grooving  Work = "grooves"
	Gluing    Work = "gluing"
	AtBench   Work = "at the bench" // after gluing
	Finishing Work = "finishing"
)

// Elements are the elements of time that are one kind of work.
func Elements(w Work) []string {
	var out []string
	for i := range Definitions {
		if Definitions[i].Work == w && w != "" {
			out = append(out, Definitions[i].Name)
		}
	}
	return out
}

// WorkOf is the kind of work of an element; empty: none, as an allowance.
func WorkOf(element string) Work {
	for i := range Definitions {
		if Definitions[i].Name == element {
			return Definitions[i].Work
		}
	}
	return ""
}

// AllMilling is what all the elements of milling are logged under together.
const AllMilling = "Milling"

// Timed are the elements that a log of one element times together: what a box
// takes and what its area takes, or all of the milling.
func Timed(element string) []string {
	if element == AllMilling {
		return Elements(Milling)
	}
	out := []string{element}
	for i := range Definitions {
		if Definitions[i].Name == element+" a square foot" {
			out = append(out, Definitions[i].Name)
		}
	}
	return out
}

func seconds(w Work, name, def, help string, field func(*Times) *float64) Definition {
	d := number(name, "s", def, help, field)
	d.Work = w
	return d
}

// later is an element whose default nobody measured yet.
func later(w Work, name, def, help string, field func(*Times) *float64) Definition {
	d := seconds(w, name, def, help, field)
	d.Origin = common + ", low confidence: log your own"
	return d
}

func number(name, unit, def, help string, field func(*Times) *float64) Definition {
	return Definition{Name: name, Group: "Times", Default: def, Unit: unit, Help: help, Origin: common, dress: numbers,
		set: func(s *Shop, value string, e Entry) error {
			f, err := e.reading().Number(value)
			if err != nil || f < 0 || f > 1e9 {
				return fmt.Errorf("%q is not a number from 0 up", value)
			}
			*field(&s.Times) = f
			return nil
		},
		value: func(s *Shop) any { return *field(&s.Times) }}
}

// figure is a plain number from 0 to most that is no element time.
func figure(name, group, unit, def, help string, most float64, field func(*Shop) *float64) Definition {
	return Definition{Name: name, Group: group, Default: def, Unit: unit, Help: help, Origin: common, dress: numbers,
		set: func(s *Shop, value string, e Entry) error {
			f, err := e.reading().Number(strings.TrimSuffix(value, unit))
			if err != nil || !(f >= 0 && f <= most) {
				return fmt.Errorf("%q is not a number from 0 to %v", value, most)
			}
			*field(s) = f
			return nil
		},
		value: func(s *Shop) any { return *field(s) }}
}

// temperature is kept in degrees Celsius, within the range of the tables of
// wood moisture (-20 to 120 C).
func temperature(name, group, def, help string, field func(*Shop) *float64) Definition {
	return Definition{Name: name, Group: group, Default: def, Unit: "C", Help: help, Origin: common, dress: numbers, bare: measure.Inches,
		set: func(s *Shop, value string, e Entry) error {
			f, err := e.reading().Number(strings.TrimRight(strings.ToUpper(value), " °CF"))
			fahrenheit := strings.HasSuffix(strings.ToUpper(value), "F") ||
				!strings.HasSuffix(strings.ToUpper(value), "C") && !e.Bare.Metric()
			if fahrenheit {
				f = (f - 32) / 1.8
			}
			if err != nil || !(f >= -20 && f <= 120) {
				return fmt.Errorf("%q is not a temperature such as 70 F or 21 C", value)
			}
			*field(s) = f
			return nil
		},
		value: func(s *Shop) any { return math.Round(*field(s)*100) / 100 },
		exact: func(s *Shop) any { return *field(s) }}
}
