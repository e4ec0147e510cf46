package settings

import (
	"fmt"
	"strconv"
	"strings"

	"batchwright/orders/spelling"
)

// Relaxation is the share of the work time that a condition of the work adds
// to it, in percent.
type Relaxation struct {
	Group     string // "noise"
	Condition string // within its group: "intermittent loud"; empty: the group is the condition
	Percent   float64
	Most      float64 // where the table gives a range: its upper end; else Percent
}

// Name is what the setting Allowance calls the condition.
func (r *Relaxation) Name() string { return strings.TrimSpace(r.Group + " " + r.Condition) }

// Relaxations is the table of allowances recommended by the International
// Labour Organization, as printed with problem 7-6 of an operations textbook
// (read in its published answers, not in the organization's own book). Personal
// needs and basic fatigue are for everybody; the rest is by the conditions of
// the work.
var Relaxations = []Relaxation{
	{"personal", "", 5, 5},
	{"basic fatigue", "", 4, 4},
	{"standing", "", 2, 2},
	{"position", "slightly awkward", 0, 0},
	{"position", "awkward (bending)", 2, 2},
	{"position", "very awkward (lying, stretching)", 7, 7},
	{"lift", "5 lb", 0, 0},
	{"lift", "10 lb", 1, 1},
	{"lift", "15 lb", 2, 2},
	{"lift", "20 lb", 3, 3},
	{"lift", "25 lb", 4, 4},
	{"lift", "30 lb", 5, 5},
	{"lift", "35 lb", 7, 7},
	{"lift", "40 lb", 9, 9},
	{"lift", "45 lb", 11, 11},
	{"lift", "50 lb", 13, 13},
	{"lift", "60 lb", 17, 17},
	{"lift", "70 lb", 22, 22},
	{"light", "slightly below recommended", 0, 0},
	{"light", "well below", 2, 2},
	{"light", "very inadequate", 5, 5},
	{"heat and humidity", "", 0, 10},
	{"close attention", "fairly fine", 0, 0},
	{"close attention", "fine or exacting", 2, 2},
	{"close attention", "very fine or very exacting", 5, 5},
	{"noise", "continuous", 0, 0},
	{"noise", "intermittent loud", 2, 2},
	{"noise", "intermittent very loud", 5, 5},
	{"noise", "high-pitched loud", 5, 5},
	{"mental strain", "fairly complex", 1, 1},
	{"mental strain", "complex or wide span", 4, 4},
	{"mental strain", "very complex", 8, 8},
	{"monotony", "low", 0, 0},
	{"monotony", "medium", 1, 1},
	{"monotony", "high", 4, 4},
	{"tedium", "rather tedious", 0, 0},
	{"tedium", "tedious", 2, 2},
	{"tedium", "very tedious", 5, 5},
}

// Allow adds up conditions of the table, as in "personal; basic fatigue;
// standing; heat and humidity 3". A percentage may stand behind each; it is
// needed where the table gives a range. What comes back is the sum in percent
// and the conditions with their percentages, which Allow reads again.
func Allow(text string) (percent float64, said string, err error) {
	var parts []string
	counted := map[string]bool{}
	for item := range strings.SplitSeq(text, ";") {
		if item = spelling.Fold(item); item == "" {
			continue
		}
		r, share, err := relaxation(item)
		if err != nil {
			return 0, "", err
		}
		if counted[r.Group] {
			return 0, "", fmt.Errorf("%q: the table gives one %s at a time", item, r.Group)
		}
		counted[r.Group] = true
		percent += share
		parts = append(parts, r.Name()+" "+strconv.FormatFloat(share, 'f', -1, 64))
	}
	if len(parts) == 0 || percent > maxAllowance {
		return 0, "", fmt.Errorf("%q adds up to %v%%: it is 0 to %v", text, percent, maxAllowance)
	}
	return percent, strings.Join(parts, "; "), nil
}

// relaxation finds one condition, and what of its range is meant.
func relaxation(item string) (r *Relaxation, share float64, err error) {
	for i := range Relaxations {
		r := &Relaxations[i]
		rest, found := strings.CutPrefix(item, r.Name())
		if !found || rest != "" && !strings.HasPrefix(rest, " ") {
			continue
		}
		share, err := strconv.ParseFloat(strings.TrimSpace(strings.TrimSuffix(rest, "%")), 64)
		switch {
		case rest == "" && r.Most == r.Percent:
			return r, r.Percent, nil
		case rest == "" || err != nil || !(share >= r.Percent && share <= r.Most):
			return nil, 0, fmt.Errorf("%q: the table gives it %s", item, r.percentText())
		}
		return r, share, nil
	}
	return nil, 0, fmt.Errorf("%q is neither a percentage nor a condition of the table of allowances%s", item, nearConditions(item))
}

func (r *Relaxation) percentText() string {
	if r.Most > r.Percent {
		return fmt.Sprintf("%v to %v%%: write which, as in %q", r.Percent, r.Most, r.Name()+" 3")
	}
	return fmt.Sprintf("%v%%", r.Percent)
}

// nearConditions names the conditions that share a word with a text.
func nearConditions(text string) string {
	var near []string
	for i := range Relaxations {
		for _, word := range strings.Fields(text) {
			if len(word) > 3 && strings.Contains(Relaxations[i].Name(), word) {
				near = append(near, Relaxations[i].Name())
				break
			}
		}
	}
	if len(near) == 0 {
		return "; the sheet Time lists it"
	}
	return "; it has " + strings.Join(near, "; ")
}

// maxAllowance is in percent: a share of the shift must leave some of it.
const maxAllowance = 95.0

// allowance is the setting: a percentage, or conditions that add up to one.
func allowance() Definition {
	d := figure("Allowance", "Times", "%", "15", "for fatigue and fetching, added to all work; or conditions of the table on the sheet Time: personal; basic fatigue; standing",
		maxAllowance, func(s *Shop) *float64 { return &s.Times.AllowancePercent })
	number := d.set
	d.set = func(s *Shop, value string, e Entry) error {
		s.Times.AllowanceFor = ""
		if !strings.ContainsFunc(strings.TrimSuffix(value, "%"), isLetter) {
			return number(s, value, e)
		}
		percent, said, err := Allow(value)
		if err != nil {
			return err
		}
		s.Times.AllowancePercent, s.Times.AllowanceFor = percent, said
		return nil
	}
	d.value = func(s *Shop) any {
		if s.Times.AllowanceFor != "" {
			return s.Times.AllowanceFor
		}
		return s.Times.AllowancePercent
	}
	return d
}

func isLetter(r rune) bool { return r >= 'a' && r <= 'z' || r >= 'A' && r <= 'Z' }
