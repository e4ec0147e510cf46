package solve

import (
	"reflect"
	"runtime"
	"testing"
	"time"
)

// tightPlates is a random-looking order that fills its plates closely, so that
// a search has something to do.
func tightPlates() ([]Stock, []PlatePart) {
	var parts []PlatePart
	for k := range uint64(30) {
		parts = append(parts, PlatePart{
			Length: 1 + int64(mix(3*k)%35), Width: 1 + int64(mix(3*k+1)%35), Max: 1 + int(mix(3*k+2)%2), Value: 1,
		})
	}
	return []Stock{{Plate{Length: 40, Width: 40}, Unlimited, 3}, {Plate{Length: 40, Width: 25}, Unlimited, 2}}, parts
}

// TestStock2DSame: the same question has the same answer to the last cut, on one
// core and on two.
func TestStock2DSame(t *testing.T) {
	stock, parts := tightPlates()
	two := Stock2D(stock, parts, Rules{}, Budget{Work: 60_000_000})
	defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(1))
	one := Stock2D(stock, parts, Rules{}, Budget{Work: 60_000_000})
	if !reflect.DeepEqual(one, two) {
		t.Errorf("cost %d, %s, work %d on one core; cost %d, %s, work %d on two",
			one.Cost, one.Stop, one.Work, two.Cost, two.Stop, two.Work)
	}
}

// TestStopsInTime: a deadline or an interrupt ends both searches of a tandem at
// once, with an answer that holds.
func TestStopsInTime(t *testing.T) {
	stock, parts := tightPlates()
	for k := range parts {
		parts[k].Max *= 40
	}
	stop := make(chan struct{})
	close(stop)
	for why, b := range map[Stop]Budget{
		StopTime:        {Deadline: time.Now().Add(30 * time.Millisecond)},
		StopInterrupted: {Stop: stop},
	} {
		c := Stock2D(stock, parts, Rules{KerfX: 1, KerfY: 1}, b)
		checkCover(t, stock, parts, Rules{KerfX: 1, KerfY: 1}, c)
		if c.Stop != why || total(c.Missing) > 0 {
			t.Errorf("stopped by %q, missing %v; want %q and nothing missing", c.Stop, c.Missing, why)
		}
	}
}
