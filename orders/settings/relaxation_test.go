package settings_test

import (
	"strings"
	"testing"

	"batchwright/orders/settings"
)

// The first case has the conditions of problem 7-6 of the operations textbook
// that prints the table; its printed answer was not seen, the sum of 32 % is
// worked out by hand: 5 + 4 + 2 + 0 + 11 + 5 + 5 + 0.
func TestAllowanceByConditions(t *testing.T) {
	for _, tt := range []struct {
		why, value string
		percent    float64
		wrong      string // a part of the error; empty: none
	}{
		{"the textbook's work", "personal; basic fatigue; standing; position slightly awkward; lift 45 lb; light very inadequate; noise intermittent very loud; monotony low", 32, ""},
		{"any case and spaces, as a person types", " Personal ;Basic  Fatigue;STANDING;", 11, ""},
		{"with percentages, as it is printed", "personal 5; standing 2 %", 7, ""},
		{"a range needs its figure", "personal; heat and humidity", 0, "0 to 10%: write which"},
		{"a figure within the range", "personal; heat and humidity 3", 8, ""},
		{"a figure outside it", "heat and humidity 12", 0, "0 to 10%"},
		{"another figure than the table's", "standing 3", 0, "the table gives it 2%"},
		{"one noise at a time", "noise continuous; noise intermittent loud", 0, "one noise at a time"},
		{"no such condition", "noise loud", 0, "it has noise continuous; noise intermittent loud"},
		{"nothing like it", "weather", 0, "the sheet Time lists it"},
		{"a plain figure", "12.5", 12.5, ""},
		{"a plain figure with its sign", "20 %", 20, ""},
		{"too much", "100", 0, "from 0 to 95"},
	} {
		s := settings.Default()
		err := s.Set("Allowance", tt.value, settings.Entry{})
		switch {
		case tt.wrong != "" && (err == nil || !strings.Contains(err.Error(), tt.wrong)):
			t.Errorf("%s: %q gives %v, want an error with %q", tt.why, tt.value, err, tt.wrong)
		case tt.wrong == "" && (err != nil || s.Times.AllowancePercent != tt.percent):
			t.Errorf("%s: %q gives %v %%, %v; want %v %%", tt.why, tt.value, s.Times.AllowancePercent, err, tt.percent)
		}
	}
}

// What is printed of the conditions is read again as the same, and a plain
// figure takes their place.
func TestAllowanceIsReadAgain(t *testing.T) {
	s := settings.Default()
	for _, value := range []string{"personal; heat and humidity 3.5", "personal 5; heat and humidity 3.5", "12"} {
		if err := s.Set("Allowance", value, settings.Entry{}); err != nil {
			t.Fatal(err)
		}
		want := "personal 5; heat and humidity 3.5"
		if value == "12" {
			want = ""
		}
		if s.Times.AllowanceFor != want {
			t.Errorf("%q is kept as %q, want %q", value, s.Times.AllowanceFor, want)
		}
	}
}

func TestTableOfAllowances(t *testing.T) {
	if len(settings.Relaxations) != 38 {
		t.Errorf("%d rows, the table has 38", len(settings.Relaxations))
	}
	for _, r := range settings.Relaxations {
		if r.Percent < 0 || r.Most < r.Percent {
			t.Errorf("%+v", r)
		}
	}
}
