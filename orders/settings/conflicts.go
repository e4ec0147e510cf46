package settings

import "fmt"

// Conflict is two settings that cannot both hold.
type Conflict struct {
	Setting string // the one to change
	Why     string
}

// Conflicts are the settings that contradict each other, each in the shop's
// words.
func (s *Shop) Conflicts() (out []Conflict) {
	add := func(setting, why string, args ...any) {
		out = append(out, Conflict{setting, fmt.Sprintf(why, args...)})
	}
	if s.FitAtLeast > s.FitAtMost {
		add("Fit at most", "Fit at least %s is more than Fit at most %s", s.FitAtLeast.ShowUnit(s.Units), s.FitAtMost.ShowUnit(s.Units))
	}
	if takes := s.ClampTakes + s.Backing; takes >= s.Opening {
		add("Carriage opening", "clamp and backing board take %s, and the opening is %s: no board fits", takes.ShowUnit(s.Units), s.Opening.ShowUnit(s.Units))
	}
	if m, a := s.Week.Morning, s.Week.Afternoon; m.To > a.From && a.To > a.From && m.To > m.From {
		add("Afternoon", "the morning %s and the afternoon %s overlap", m, a)
	}
	if s.Making.HumidityLow > s.Making.HumidityHigh {
		add("Humidity high", "Humidity low %g%% is more than Humidity high %g%%", s.Making.HumidityLow, s.Making.HumidityHigh)
	}
	return out
}
