package main

import (
	"strings"
	"testing"

	"batchwright/jigplan"
	"batchwright/orders/measure"
	"batchwright/orders/settings"
)

// Worked by hand: three turns of 1/16 in past a pin with a kerf of 0.0955 fit
// 2 x 0.0955 - 0.1875 = 0.0035 in. A kerf 0.001 other moves that by 0.002, a
// lead longer by one part in 500 by 0.1875 / 500 = 0.000375.
func TestDrift(t *testing.T) {
	thousandths := func(n int64) measure.Length { return measure.Length(n * int64(measure.Inch) / 100_000) }
	p := jigplan.Program{ID: "J1", Kerf: thousandths(9550), Lead: measure.Inch.Ratio().Over(16), Fit: thousandths(350).Ratio()}
	longer := measure.Inch / 16
	tests := []struct {
		name       string
		kerf, lead measure.Length
		want       string // empty: nothing to say
		alarm      bool
	}{
		{"as it was", thousandths(9550), 0, "", false},
		{"as it was, the lead measured", thousandths(9550), measure.Inch / 16, "", false},
		{"a hair thicker", thousandths(9560), 0, "0.0035 in -> 0.0037 in, still good", false},
		{"sharpened below the pin", thousandths(9350), 0, "0.0035 in -> -0.0005 in, good -> interference; the shop accepts 0.0000 in to 0.0100 in", true},
		{"another class, still accepted", thousandths(9650), 0, "0.0035 in -> 0.0055 in, good -> easy", true},
		{"a longer lead", thousandths(9550), longer + longer/500, "0.0035 in -> 0.0031 in, still good", false},
	}
	for _, tt := range tests {
		s := settings.Default()
		s.BladeKerf, s.Lead = tt.kerf, tt.lead
		got := drifts([]jigplan.Program{p}, &s)
		switch {
		case tt.want == "" && len(got) > 0:
			t.Errorf("%s: %q", tt.name, got[0].text)
		case tt.want != "" && (len(got) != 1 || !strings.Contains(got[0].text, tt.want) || got[0].alarm != tt.alarm):
			t.Errorf("%s: %+v, want %q, alarm %v", tt.name, got, tt.want, tt.alarm)
		}
	}
}
