package joint

import (
	"strings"
	"testing"

	"pgregory.net/rapid"

	"batchwright/orders/measure"
	"batchwright/orders/settings"
)

const thou = measure.Inch / 1000

func plainRequest(finger, height measure.Length) Request {
	s := settings.Default()
	s.BladeKerf, s.KerfMeasured = 955*2032, true
	return Request{Finger: finger, Heights: []measure.Length{height}, RowA: measure.Inch / 2, RowB: measure.Inch / 2, Settings: s}
}

// TestRefusals: what cannot be cut is refused with the reason and a number
// that would work.
func TestRefusals(t *testing.T) {
	for _, c := range []struct {
		reason       string
		change       func(*Request)
		why, nearest string
	}{
		{"the cliff: a hair too tight, and the next fit is a whole step away", func(q *Request) {
			q.Settings.BladeKerf, q.Settings.FitAtLeast = 94*thou, thou
		}, "0.0005 in is too tight by 0.0005 in, next is 0.0630 in", "kerf"},
		{"a metric rod with a metric blade that never meet", func(q *Request) {
			q.Settings.Rod, q.Settings.BladeKerf, q.Settings.Units = "M8", 2400*measure.Micrometre, measure.Millimetres
			q.Settings.FitAtMost = 250 * measure.Micrometre
		}, "1.050 mm, too loose by 0.800 mm", "stops per turn"},
		{"a finger narrower than one cut makes", func(q *Request) { q.Finger = measure.Inch / 32 }, "even one cut makes a finger of 0.0938 in", "finger"},
		{"a board under two fingers", func(q *Request) { q.Heights[0] = 2 * measure.Inch / 5 }, "under two fingers: at least 0.5625 in, or a finger of at most 0.2000 in", "finger"},
		{"one of several boards under two fingers", func(q *Request) { q.Heights = append(q.Heights, 2*measure.Inch/5) }, "under two fingers", "finger"},
		{"a rod too short", func(q *Request) { q.Settings.RodTravel = 2 * measure.Inch }, "lower", "boards of 1.9688 in, or a rod that lets the carriage travel 3.5000 in"},
		{"a board too low for any finger", func(q *Request) { q.Heights[0] = measure.Inch / 8 }, "under two fingers", "boards of at least 0.1875 in, with fingers of 0.0938 in"},
		{"a blade whose kerf is no ten-thousandth of an inch: what is named can be typed", func(q *Request) {
			q.Settings.Rod, q.Finger, q.Heights[0] = "M10", measure.Inch*3/8, measure.Inch*35/8
		}, "has no fit", "a blade of kerf 3 mm (0.1181 in)"},
		{"the same among millimetres, of a blade in inches", func(q *Request) {
			q.Settings.Units, q.Settings.BladeKerf = measure.Millimetres, 2300*measure.Micrometre
			q.Settings.FitAtMost = 100 * measure.Micrometre
			q.Settings.OwnBlades = []settings.Owned{{Name: "plain", Size: measure.Inch * 3 / 32}}
		}, "has no fit", "blade plain of kerf 2.38125 mm"},
		{"a fit that cannot be had and boards too high for any tool: both are said", func(q *Request) {
			q.Settings.Rod, q.Settings.BladeKerf, q.Finger, q.Heights[0] = "1/2-13", measure.Inch/8, measure.Inch*3/8, measure.Inch*67/8
		}, "has no fit", "4 stops per turn, with boards of 7.1250 in, or a rod that lets the carriage travel 8.4038 in"},
		{"fins and boards too high: a longer rod alone would leave the fins", func(q *Request) {
			q.Settings.Rod, q.Settings.BladeKerf, q.Finger, q.Heights[0] = "1/2-13", 80*thou, measure.Inch/2, measure.Inch*119/16
		}, "fins are left", "4 stops per turn, with boards of"},
		{"passes that leave fins", func(q *Request) {
			q.Settings.Rod, q.Settings.BladeKerf, q.Settings.FitAtMost = "1/2-10 acme", measure.Inch*3/32, 90*thou
			q.Finger = measure.Inch / 2
		}, "fins are left between passes", "4 stops per turn"},
	} {
		q := plainRequest(measure.Inch/4, measure.Inch*7/2)
		q.Settings.WheelStops = []int{1, 2, 4}
		c.change(&q)
		a, err := Solve(q)
		switch {
		case err != nil:
			t.Errorf("%s: %v", c.reason, err)
		case a.Refused == nil:
			t.Errorf("%s: accepted with finger %s", c.reason, say(a.Best().Finger, measure.Inches))
		case !strings.Contains(a.Refused.Why, c.why) || !strings.Contains(a.Refused.Nearest, c.nearest):
			t.Errorf("%s:\n  why %q, want %q\n  nearest %q, want %q", c.reason, a.Refused.Why, c.why, a.Refused.Nearest, c.nearest)
		case len(a.Near) == 0:
			t.Errorf("%s: no neighbour is shown", c.reason)
		}
	}
}

// TestWrongRequests: what is no joint at all is an error that says what would
// be right, never a panic.
func TestWrongRequests(t *testing.T) {
	for _, c := range []struct {
		reason string
		change func(*Request)
		word   string
	}{
		{"no rod", func(q *Request) { q.Settings.Rod = "rope" }, "3/8-16"},
		{"negative lead", func(q *Request) { q.Settings.Lead = -1 }, "1/16"},
		{"negative exact lead", func(q *Request) { q.Lead = measure.Whole(-1) }, "1/16"},
		{"lead of a tick", func(q *Request) { q.Settings.Lead = 1 }, "1/16"},
		{"no stops", func(q *Request) { q.Settings.StopsPerTurn = 0 }, "between 1"},
		{"no kerf", func(q *Request) { q.Settings.BladeKerf = 0 }, "at least 0.1 mm"},
		{"overlap over kerf", func(q *Request) { q.Settings.LeastOverlap = measure.Inch }, "less than the kerf"},
		{"fits the wrong way round", func(q *Request) { q.Settings.FitAtLeast = measure.Inch / 8 }, "more than fit at most"},
		{"a fit of a foot", func(q *Request) { q.Settings.FitAtMost = measure.Foot }, "not usual"},
		{"negative finger", func(q *Request) { q.Finger = -1 }, "more than 0"},
		{"no heights", func(q *Request) { q.Heights = nil }, "between 1"},
		{"height zero", func(q *Request) { q.Heights[0] = 0 }, "more than 0"},
		{"a mast", func(q *Request) { q.Heights[0] = 400 * measure.Foot }, "at most 100 in"},
		{"origin a mile off", func(q *Request) { q.Settings.EdgeOrigin = measure.Whole(1 << 40) }, "edge origin"},
		{"origin too fine", func(q *Request) { q.Settings.EdgeOrigin = measure.Frac(1, 1<<40) }, "edge origin"},
	} {
		q := plainRequest(measure.Inch/4, measure.Inch*7/2)
		q.Settings.WheelStops = []int{1, 2, 4}
		c.change(&q)
		if _, err := Solve(q); err == nil || !strings.Contains(err.Error(), c.word) {
			t.Errorf("%s: %v, want a word about %q", c.reason, err, c.word)
		}
	}
}

// TestNothingOverflows asks for the extremes that are still believed.
func TestNothingOverflows(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		q := plainRequest(measure.Length(rapid.Int64Range(1, int64(maxFinger)).Draw(t, "finger")), 0)
		s := &q.Settings
		q.Heights = []measure.Length{measure.Length(rapid.Int64Range(1, int64(maxHeight)).Draw(t, "height")), maxHeight - 1}
		s.BladeKerf = measure.Length(rapid.Int64Range(int64(minScrew), int64(maxKerf)).Draw(t, "kerf"))
		s.LeastOverlap = measure.Length(rapid.Int64Range(0, int64(s.BladeKerf)-1).Draw(t, "overlap"))
		s.StopsPerTurn = rapid.IntRange(1, maxStops).Draw(t, "stops")
		s.FitAtMost = measure.Inch / 32
		s.RodTravel = 200 * measure.Inch
		s.EdgeOrigin = measure.Frac(rapid.Int64Range(-1000, 1000).Draw(t, "origin"), rapid.Int64Range(1, 999).Draw(t, "part"))
		q.Lead = measure.Frac(rapid.Int64Range(1_000_000_000, 40_000_000_000).Draw(t, "lead"), rapid.Int64Range(1, 999).Draw(t, "lead part"))
		w, err := q.workshop()
		if err != nil {
			if !strings.Contains(err.Error(), "lead") {
				t.Fatal(err)
			}
			return
		}
		if a := w.solve(q.Finger); a.Refused != nil {
			w.nearest(w.owned(), q.Finger)
		}
	})
}

// TestNearestIsNearest tries every rod, blade and index of the tables by the
// plain solver: none with as little effort misses the finger by less.
func TestNearestIsNearest(t *testing.T) {
	for _, kerf := range []measure.Length{94 * thou, 2500 * measure.Micrometre} {
		q := plainRequest(measure.Inch/4, measure.Inch*7/2)
		q.Settings.BladeKerf = kerf
		q.Settings.FitAtLeast, q.Settings.FitAtMost = thou, 6*thou
		w, err := q.workshop()
		if err != nil {
			t.Fatal(err)
		}
		a := w.solve(q.Finger)
		if a.Refused == nil {
			t.Fatalf("kerf %s is no refusal", kerf.DecimalInches())
		}
		got, ok := w.nearest(w.sold(), q.Finger)
		if !ok {
			t.Fatalf("kerf %s: no way out found", kerf.DecimalInches())
		}
		leads := map[string]bool{}
		for _, rod := range append([]Rod{{Name: "3/8-16", Pitch: w.lead, Starts: 1}}, Rods()...) {
			if leads[rod.Lead().String()] {
				continue
			}
			leads[rod.Lead().String()] = true
			for _, blade := range append([]measure.Length{kerf}, CommonBlades...) {
				for _, stops := range []int{1, 2, 4} {
					other := q
					other.Settings.Rod, other.Settings.BladeKerf, other.Settings.StopsPerTurn = rod.Name, blade, stops
					bench, err := other.workshop()
					if err != nil {
						continue
					}
					b := bench.solve(q.Finger)
					if b.Refused != nil {
						continue
					}
					effort := 0
					for i, changed := range []bool{stops != 1, blade != kerf, rod.Lead().Cmp(w.lead) != 0} {
						if changed {
							effort += 1 << i
						}
					}
					miss := b.Candidates[0].FingerError.Abs()
					if effort < got.effort || effort == got.effort && miss.Cmp(got.best.FingerError.Abs()) < 0 {
						t.Errorf("kerf %s: %s with kerf %s and %d stops (effort %d, misses by %s) is nearer than %+v",
							kerf.DecimalInches(), rod.Name, blade.DecimalInches(), stops, effort, miss, got)
					}
				}
			}
		}
	}
}

// TestAutoFinger: a blank finger is the shop's size nearest half the side's
// thickness, the wider in a tie, of those that fit the boards.
func TestAutoFinger(t *testing.T) {
	for _, c := range []struct {
		reason     string
		rowA, rowB measure.Length
		sides      string
		height     measure.Length
		want       measure.Length
	}{
		{"half of 1/2", measure.Inch / 2, measure.Inch / 2, "notch", 3 * measure.Inch, measure.Inch / 4},
		{"half of 3/4", measure.Inch * 3 / 4, measure.Inch * 3 / 4, "notch", 3 * measure.Inch, measure.Inch * 3 / 8},
		{"3/16 lies between two sizes", measure.Inch * 3 / 8, measure.Inch * 3 / 8, "notch", 3 * measure.Inch, measure.Inch / 4},
		{"thick boards take the widest", 2 * measure.Inch, 2 * measure.Inch, "notch", 3 * measure.Inch, measure.Inch / 2},
		{"sides are row B when they start with a pin", measure.Inch / 4, measure.Inch, "pin", 3 * measure.Inch, measure.Inch / 2},
		{"a low board takes what fits", measure.Inch, measure.Inch, "notch", measure.Inch * 3 / 8, measure.Inch / 8},
	} {
		q := plainRequest(0, c.height)
		q.RowA, q.RowB, q.Settings.SideStarts = c.rowA, c.rowB, c.sides
		a, err := Solve(q)
		if err != nil || a.Refused != nil || a.Finger != c.want {
			t.Errorf("%s: finger %s (%v %v), want %s", c.reason, a.Finger.Fraction(), err, a.Refused, c.want.Fraction())
		}
	}
}

// TestOwnToolsComeFirst: what lies in the shop goes before what is sold, and
// the answer says whose each tool is.
func TestOwnToolsComeFirst(t *testing.T) {
	wide := settings.Owned{Name: "wide", Size: 126 * thou}
	for _, c := range []struct {
		reason        string
		rods, blades  []settings.Owned
		says, without string
	}{
		{"an own blade goes before an index of the tables' rods", nil, []settings.Owned{{Name: "sharp", Size: 955 * 2032}},
			"blade sharp of kerf 0.0955 in (owned): finger", "to be bought"},
		{"an own rod goes before a blade that must be bought", []settings.Owned{{Name: "1/2-13"}, {Name: "M8"}}, nil,
			"rod M8 (owned) and 4 stops per turn", "to be bought"},
		{"a measured lead goes before the name's", []settings.Owned{{Name: "the old one", Size: measure.Inch * 46 / 1000}}, nil,
			"rod the old one (owned)", "to be bought"},
		{"nothing that is owned will do", []settings.Owned{{Name: "3/8-16"}}, []settings.Owned{{Name: "bent", Size: 93 * thou}},
			"(to be bought)", "(owned)"},
		{"rod and blade that are both owned", []settings.Owned{{Name: "1-8"}, {Name: "1/4-20"}}, []settings.Owned{wide},
			"blade wide of kerf 0.1260 in (owned)", "to be bought"},
		{"a rod whose name says nothing is passed over", []settings.Owned{{Name: "the long one"}}, []settings.Owned{wide},
			"blade wide", "the long one"},
	} {
		q := plainRequest(measure.Inch/4, measure.Inch*7/2)
		q.Settings.BladeKerf, q.Settings.FitAtLeast, q.Settings.FitAtMost = 94*thou, thou, 5*thou
		q.Settings.OwnRods, q.Settings.OwnBlades, q.Settings.WheelStops = c.rods, c.blades, []int{1, 2, 4}
		a, err := Solve(q)
		if err != nil || a.Refused == nil {
			t.Fatalf("%s: %v, %d candidates", c.reason, err, len(a.Candidates))
		}
		if near := a.Refused.Nearest; !strings.Contains(near, c.says) || strings.Contains(near, c.without) {
			t.Errorf("%s: %q, want %q and no %q", c.reason, near, c.says, c.without)
		}
	}
}
