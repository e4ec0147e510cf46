package settings_test

import (
	"testing"

	"batchwright/orders/settings"
)

func TestWeekSettings(t *testing.T) {
	tests := []struct {
		name, value string
		want        string // as the setting gives it; empty: an error
	}{
		{"Morning", "7:30 - 12", "7:30-12:00"},
		{"Afternoon", "closed", "closed"},
		{"Morning", "12:00-8:00", ""},
		{"Morning", "8:75-9", ""},
		{"Morning", "8", ""},
		{"Afternoon", "13-24:00", "13:00-24:00"},
		{"Closed days", "saturday; Mon", "Mon, Sat"},
		{"Closed days", "none", "none"},
		{"Closed days", "Sat, Holiday", ""},
		{"Closed days", "mon tue wed thu fri sat sun", ""},
		{"Holidays", "2027-01-01, 2027-12-24", "2027-01-01, 2027-12-24"},
		{"Holidays", "1.1.2027", "2027-01-01"},
		{"Holidays", "2027-12-30 to 2028-01-02; Jan 15, 2028", "2027-12-30, 2027-12-31, 2028-01-01, 2028-01-02, 2028-01-15"},
		{"Holidays", "3/4/2027", ""},
		{"Absences", "every Mon; every Tue and Thu from 2027-03-01 to 30.6.2027 afternoon 2 people", "every Mon; every Tue Thu from 2027-03-01 to 2027-06-30 afternoon 2 people"},
		{"Absences", "18.12.2026 to 2026-12-20", "2026-12-18 to 2026-12-20"},
		{"Absences", "2026-12-20 to 2026-12-18", ""},
		{"Absences", "every week", ""},
		{"Absences", "2027-03-09; 2027-03-10 Morning, 2027-03-11 afternoon 2 people; 2027-03-12 1 person", "2027-03-09; 2027-03-10 morning; 2027-03-11 afternoon 2 people; 2027-03-12"},
		{"Absences", "none; 2027-03-09 2 people", "2027-03-09 2 people"},
		{"Absences", "next Tuesday", ""},
		{"Absences", "2027-03-09 evening", ""},
		{"Absences", "2027-03-09 0 people", ""},
	}
	for _, tt := range tests {
		s := settings.Default()
		err := s.Set(tt.name, tt.value, settings.Entry{})
		if (err == nil) != (tt.want != "") {
			t.Errorf("%s %q: error %v, want %q", tt.name, tt.value, err, tt.want)
			continue
		}
		for _, used := range s.Used() {
			if tt.want != "" && used.Name == tt.name && used.Value != tt.want {
				t.Errorf("%s %q: %v, want %q", tt.name, tt.value, used.Value, tt.want)
			}
		}
	}
}
