package solve

import (
	"testing"

	"pgregory.net/rapid"
)

// mostValue fills times plates by trying every set of yields.
func mostValue(plate Plate, times int, parts []Part, rules Rules) (most int64) {
	e := everyCut{plate: plate, parts: parts, rules: rules}
	sums := map[int]bool{0: true}
	yields := e.yields()
	for range times {
		next := make(map[int]bool)
		e.add(next, sums, yields)
		sums = next
	}
	for m := range sums {
		value := int64(0)
		for k, n := range e.digits(m) {
			value += int64(n) * parts[k].Value
		}
		most = max(most, value)
	}
	return most
}

// TestFillPlatesAgainstEveryCut: no bound below the most value that trying
// everything finds, no proof of a value that is not the most, limits kept over
// all plates.
func TestFillPlatesAgainstEveryCut(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		plate, parts, rules := smallPlate(t)
		times := rapid.IntRange(2, 3).Draw(t, "plates")
		run, value, bound, stop := FillPlates(plate, times, parts, rules, Budget{Work: 2_000_000})
		made, sum := make([]int, len(parts)), int64(0)
		for _, f := range run {
			for k, n := range checkTree(t, plate, parts, rules, f.Tree) {
				made[k] += n
				sum += int64(n) * parts[k].Value
			}
		}
		for k, n := range made {
			if n > parts[k].Max {
				t.Fatalf("part %d is made %d times of %d", k, n, parts[k].Max)
			}
		}
		most := mostValue(plate, times, parts, rules)
		if len(run) > times || sum != value || value > most || bound < most || stop == StopProven && value < most {
			t.Fatalf("value %d, counted %d, bound %d, %s; the most is %d", value, sum, bound, stop, most)
		}
	})
}
