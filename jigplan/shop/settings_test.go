package shop

import (
	"math"
	"reflect"
	"slices"
	"testing"
	"time"

	"batchwright/jigplan"
	"batchwright/orders/measure"
	"batchwright/orders/settings"
)

// Quartiles of 1..5 and 1..4 as type 7 gives them: numpy's and R's default,
// worked by hand from h = (n-1)p.
func TestQuantile(t *testing.T) {
	for _, tt := range []struct {
		values []float64
		p      float64
		want   float64
	}{
		{[]float64{1, 2, 3, 4, 5}, 0.5, 3}, {[]float64{1, 2, 3, 4, 5}, 0.25, 2},
		{[]float64{1, 2, 3, 4}, 0.5, 2.5}, {[]float64{1, 2, 3, 4}, 0.75, 3.25}, {[]float64{7}, 0.9, 7},
	} {
		if got := quantile(tt.values, tt.p); math.Abs(got-tt.want) > 1e-12 {
			t.Errorf("%v at %v: %v, want %v", tt.values, tt.p, got, tt.want)
		}
	}
}

func TestCalibration(t *testing.T) {
	tests := []struct {
		name   string
		ratios []float64 // of element Sanding
		logs   int       // 0: not calibrated
		factor float64
	}{
		{"four logs are too few", []float64{1.5, 1.5, 1.5, 1.5}, 0, 0},
		{"the median, whatever the outlier", []float64{1.2, 1.3, 1.1, 9, 1.25}, 5, 1.25},
		{"no slower than twice", []float64{3, 3, 3, 3, 3}, 5, 2},
		{"no quicker than half", []float64{0.1, 0.1, 0.2, 0.1, 0.1}, 5, 0.5},
		{"an interrupted one does not count", []float64{1, 1, 1, 1, -7}, 0, 0},
	}
	for _, tt := range tests {
		do := testShop(t)
		do(func(tx *Tx) error {
			for _, r := range tt.ratios {
				if err := AddTime(tx, TimeLog{Element: "Sanding", Actual: 12 * math.Abs(r), Planned: 24, Base: 12, Dropped: r < 0}); err != nil {
					return err
				}
			}
			factors, err := Calibration(tx)
			switch {
			case tt.logs == 0 && len(factors) > 0:
				t.Errorf("%s: %+v", tt.name, factors)
			case tt.logs > 0 && (len(factors) != 1 || factors[0].Logs != tt.logs || math.Abs(factors[0].Factor-tt.factor) > 1e-9):
				t.Errorf("%s: %+v, want %v", tt.name, factors, tt.factor)
			}
			s := settings.Default()
			if err := Calibrate(&s, factors); err != nil {
				return err
			}
			if want := 240 * max(tt.factor, map[bool]float64{true: 1}[tt.logs == 0]); math.Abs(s.Times.SandBox-want) > 0.001 {
				t.Errorf("%s: sanding %v s, want %v", tt.name, s.Times.SandBox, want)
			}
			return err
		})
	}
}

// Stacks of different sizes are never mixed: the size with most logs counts.
func TestStackSizesAreNotMixed(t *testing.T) {
	testShop(t)(func(tx *Tx) error {
		for i := range 9 {
			l := TimeLog{Element: StackEnd, Boards: 4, Actual: 12, Base: 10}
			if i > 4 {
				l.Boards, l.Actual = 8, 20
			}
			if err := AddTime(tx, l); err != nil {
				return err
			}
		}
		factors, err := Calibration(tx)
		if len(factors) != 1 || factors[0].Boards != 4 || math.Abs(factors[0].Factor-1.2) > 1e-9 {
			t.Errorf("%+v", factors)
		}
		s := settings.Default()
		if err := Calibrate(&s, factors); err != nil || math.Abs(s.Times.CutPass-8.4) > 1e-9 || s.Times.SandBox != 240 {
			t.Errorf("cut pass %v, sanding %v, %v", s.Times.CutPass, s.Times.SandBox, err)
		}
		return err
	})
}

func TestSettingsAndProfiles(t *testing.T) {
	testShop(t)(func(tx *Tx) error {
		set := func(name, value string) []string {
			changes, err := SetSetting(tx, Setting{Name: name, Value: value}, "test")
			if err != nil {
				t.Error(err)
			}
			return changes
		}
		set("Units", "mm")
		set("Carriage opening", "120")
		if again := set("Carriage opening", "120"); len(again) > 0 {
			t.Errorf("the same again changes %q", again)
		}
		s, err := Settings(tx, settings.Default())
		if err != nil || s.Opening != 120*measure.Millimetre {
			t.Errorf("opening %v, %v", s.Opening, err)
		}
		set("Sanding", "600") // no part of the jig
		p, err := LatestProfile(tx)
		if err != nil || p.Version != 2 {
			t.Errorf("profile %d, want 2: the units with their defaults, then the opening; %v", p.Version, err)
		}
		changes, err := LogKerf(tx, KerfLog{Blade: "thin", Kerf: 2 * measure.Millimetre, After: "sharpening"}, "2", "mm")
		if err != nil || len(changes) != 1 {
			t.Errorf("%q %v", changes, err)
		}
		s, _ = Settings(tx, settings.Default())
		blades, _ := Blades(tx)
		if p, _ = LatestProfile(tx); p.Version != 3 || s.BladeKerf != 2*measure.Millimetre || !s.KerfMeasured || !blades[0].InUse {
			t.Errorf("profile %d, kerf %v, blades %+v", p.Version, s.BladeKerf, blades)
		}
		if d := p.Differences(DefaultProfile(), measure.Millimetres); !slices.Contains(d, `Blade kerf ~2.381 mm -> 2 mm`) {
			t.Errorf("%q", d)
		}
		if _, err := SetSetting(tx, Setting{Name: "Carriage opening", Value: "wide"}, "test"); err == nil {
			t.Error("a value that cannot be read was kept")
		}
		return nil
	})
}

// The last week sheet given out is the one that comes back, whole.
func TestWeekSheetsAreKept(t *testing.T) {
	change := testShop(t)
	monday := time.Date(2027, 3, 8, 0, 0, 0, 0, time.UTC)
	sheet := jigplan.WeekSheet{Given: monday.Add(7 * time.Hour), From: monday, Days: 6, Jobs: []jigplan.SheetJob{{ID: "12", Name: "tea", Due: monday}},
		Tasks: []jigplan.SheetTask{{ID: "12/mill", Job: "12", What: "mill", Start: monday, End: monday.Add(time.Hour)}}, Done: []string{"12/saw U1"}}
	change(func(tx *Tx) error {
		if s, err := GivenOut(tx); s != nil || err != nil {
			t.Errorf("%v, %v before any was given out", s, err)
		}
		if err := GiveOut(tx, jigplan.WeekSheet{From: monday.AddDate(0, 0, -7)}); err != nil {
			return err
		}
		return GiveOut(tx, sheet)
	})
	change(func(tx *Tx) error {
		s, err := GivenOut(tx)
		if err == nil && !reflect.DeepEqual(*s, sheet) {
			t.Errorf("%+v, want %+v", *s, sheet)
		}
		return err
	})
}
