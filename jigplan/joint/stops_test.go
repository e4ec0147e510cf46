package joint

import (
	"strings"
	"testing"

	"batchwright/orders/measure"
	"batchwright/orders/settings"
)

// M10x1.5 with a blade of 2.8 mm: a fit is twice the kerf less whole steps of
// the screw. One stop steps 1.5 mm: 5.6 - 4.5 = 1.1 and 5.6 - 6.0 = -0.4, no fit
// from 0.05 to 0.20. Three stops step 0.5 mm: 5.6 - 5.5 = 0.100 (by hand).
func TestThreeStopsRescueTheMetricDefault(t *testing.T) {
	s := settings.Default()
	if err := s.Set("Units", "mm", settings.Entry{}); err != nil {
		t.Fatal(err)
	}
	q := Request{Finger: 6 * measure.Millimetre, Heights: []measure.Length{84 * measure.Millimetre}, RowA: 12 * measure.Millimetre, RowB: 12 * measure.Millimetre, Settings: s}
	a, err := Solve(q)
	if err != nil || a.Refused != nil || a.Best().Fit.Decimal() != "0.1" {
		t.Errorf("3 stops: %v, %+v, fit %s, want 0.1", err, a.Refused, a.Best().Fit.Decimal())
	}
	q.Settings.StopsPerTurn = 1
	a, err = Solve(q)
	if err != nil || a.Refused == nil || !strings.Contains(a.Refused.Nearest, "stops per turn") {
		t.Fatalf("1 stop: %v, %+v", err, a.Refused)
	}
	q.Settings.WheelStops = []int{1, 2}
	a, err = Solve(q)
	if err != nil || a.Refused == nil || strings.Contains(a.Refused.Nearest, "3 stops per turn") {
		t.Errorf("a wheel of 1 and 2 stops: %v, %+v", err, a.Refused)
	}
}
