package joint

import (
	"slices"
	"strings"

	"batchwright/orders/measure"
	"batchwright/orders/settings"
)

// bench is what can be put together into a workshop: what is fitted now stands
// first in every list, then what the shop owns, then what is sold.
type bench struct {
	rods   []benchRod
	blades []benchBlade
	stops  []int
}

type benchRod struct {
	Rod
	owned bool
}

// benchBlade is a blade; one that is sold and not owned has no name.
type benchBlade struct {
	name  string
	kerf  measure.Length
	owned bool
}

// knowsShop reports whether anybody said what lies in the shop.
func (w workshop) knowsShop() bool {
	return len(w.q.Settings.OwnRods)+len(w.q.Settings.OwnBlades) > 0
}

// owned is what the shop can put together today. Where nobody said which stops
// the wheel has, it can be marked for the usual ones.
func (w workshop) owned() bench {
	s := w.q.Settings
	b := bench{
		rods:   []benchRod{{Rod{Name: w.rodName, Pitch: w.lead, Starts: 1}, true}},
		blades: []benchBlade{{kerf: s.BladeKerf, owned: true}},
		stops:  []int{s.StopsPerTurn},
	}
	for _, r := range OwnRods(s.OwnRods) {
		b.addRod(r, true)
	}
	for _, o := range s.OwnBlades {
		b.addBlade(benchBlade{o.Name, o.Size, true})
	}
	stops := s.WheelStops
	if len(stops) == 0 {
		stops = CommonStops
	}
	for _, n := range stops {
		if !slices.Contains(b.stops, n) {
			b.stops = append(b.stops, n)
		}
	}
	return b
}

// sold is the owned bench and, behind it, all that the tables list.
func (w workshop) sold() bench {
	b := w.owned()
	metric := w.q.Settings.Units.Metric()
	for _, own := range []bool{true, false} { // the shop's own system of units first
		for _, r := range Rods() {
			if r.Metric() == metric == own {
				b.addRod(r, false)
			}
		}
		for _, kerf := range CommonBlades {
			if (kerf%(100*measure.Micrometre) == 0) == metric == own {
				b.addBlade(benchBlade{kerf: kerf})
			}
		}
	}
	return b
}

// Metric reports whether a rod is of a metric series: M10x1.5, Tr12x3.
func (r Rod) Metric() bool {
	name := strings.ToLower(r.Name)
	return strings.HasPrefix(name, "m") || strings.HasPrefix(name, "tr")
}

// addRod adds a rod unless one of its lead is there.
func (b *bench) addRod(r Rod, owned bool) {
	same := func(o benchRod) bool { return o.Lead().Cmp(r.Lead()) == 0 }
	if !slices.ContainsFunc(b.rods, same) {
		b.rods = append(b.rods, benchRod{r, owned})
	}
}

// addBlade adds a blade that could be one unless one of its kerf is there.
func (b *bench) addBlade(blade benchBlade) {
	same := func(o benchBlade) bool { return o.kerf == blade.kerf }
	if blade.kerf >= minScrew && blade.kerf <= maxKerf && !slices.ContainsFunc(b.blades, same) {
		b.blades = append(b.blades, blade)
	}
}

// OwnRods are the shop's rods with the leads they were measured at, else those
// of their names. A name that says no lead, of a rod that was never measured,
// is left out.
func OwnRods(owned []settings.Owned) []Rod {
	var out []Rod
	for _, o := range owned {
		r, err := ParseRod(o.Name)
		switch {
		case o.Size >= minScrew && o.Size.Ratio().Cmp(maxLead) <= 0:
			r = Rod{Name: o.Name, Pitch: o.Size.Ratio(), Starts: 1}
		case err != nil:
			continue
		}
		out = append(out, r)
	}
	return out
}
