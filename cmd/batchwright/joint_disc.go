package main

import (
	"fmt"
	"math"
	"slices"
	"strconv"

	"batchwright/jigplan/joint"
	"batchwright/orders/measure"
	"batchwright/orders/settings"
	"batchwright/reports"
)

// wheelStops are the numbers of stops a turn that are mapped: those the wheel
// has, else the usual ones.
func wheelStops(s settings.Shop) []int {
	if len(s.WheelStops) > 0 {
		return s.WheelStops
	}
	return joint.CommonStops
}

// discTable says what a detent disc would open: how many pairs of rod and blade
// with no usable fit at the wheel's stops have one at another number of stops,
// and the circle of holes to drill for it.
func discTable(s settings.Shop, w reports.Words, rods, blades []string, diameter string) (reports.Table, error) {
	circle := 4 * measure.Inch
	if s.Units.Metric() {
		circle = 100 * measure.Millimetre
	}
	if diameter != "" {
		l, err := measure.Parse(diameter, s.Reading())
		if err == nil && l < measure.Inch/2 {
			err = fmt.Errorf("%q is too small for a circle of holes", diameter)
		}
		if err != nil {
			return reports.Table{}, fmt.Errorf("--disc: %w", err)
		}
		circle = l
	}
	now := []int{s.StopsPerTurn}
	if len(s.WheelStops) > 0 {
		now = s.WheelStops
	}
	fits := map[string]bool{} // pairs that fit today
	key := func(r joint.Reach) string { return r.Rod.Name + " " + r.Blade.Decimal() }
	today, err := fitMap(s, rods, blades, texts(now))
	if err != nil {
		return reports.Table{}, err
	}
	for _, r := range today {
		fits[key(r)] = fits[key(r)] || !r.Dead()
	}
	t := reports.Table{Title: fmt.Sprintf("What a detent disc would add (%s; %d of %d pairs fit with %s today)",
		"holes on a circle of "+w.Len(circle)+" diameter", countTrue(fits), len(fits), reports.Listed(texts(now), 9)+" stops a turn"),
		Head: []string{"Stops a turn", "More pairs fit", "Angle", "Hole to hole"}, Numbers: []int{0, 1}}
	for _, n := range joint.CommonStops {
		if slices.Contains(now, n) || n == 1 {
			continue
		}
		m, err := fitMap(s, rods, blades, []string{strconv.Itoa(n)})
		if err != nil {
			return t, err
		}
		more := 0
		for _, r := range m {
			if !r.Dead() && !fits[key(r)] {
				more++
			}
		}
		t.Add(n, more, s.Units.Number(360/float64(n), -1)+"\u00b0", chordText(s.Units, circle, n))
	}
	t.Note("Hole to hole is the straight distance to set dividers to: the circle's diameter times the sine of half the angle.")
	return t, nil
}

// chordText is the straight distance between neighbouring holes of n on a circle.
func chordText(unit measure.Unit, circle measure.Length, n int) string {
	chord := math.Sin(math.Pi / float64(n))
	if unit.Metric() {
		return unit.Number(circle.Millimetres()*chord, 2) + " mm"
	}
	return unit.Number(circle.Inches()*chord, 3) + " in"
}

func texts(numbers []int) (out []string) {
	for _, n := range numbers {
		out = append(out, strconv.Itoa(n))
	}
	return out
}

func countTrue(of map[string]bool) (n int) {
	for _, yes := range of {
		if yes {
			n++
		}
	}
	return n
}
