package solve

import "slices"

// maxRegions is how many regions the places to cut may span.
const maxRegions = 3_000_000

// places is where a plate with defects is cut. Everything cut from a rectangle,
// pushed to the origin, ends at a defect's end or the origin plus a sum of
// parts.
type places struct {
	b      *board
	xs, ys []int64 // from 0 to the whole
	all    bool    // these are all that matter

	alongX, alongY []span
}

// span is the stretch between two places.
type span struct {
	from, to int16
	size     int    // index of the largest size of the grid in it
	meets    uint64 // a bit for each defect it meets along its axis
}

func newPlaces(b *board, most int) *places {
	p := &places{b: b}
	startX, startY := []int64{0}, []int64{0}
	for _, d := range b.defects {
		startX, startY = append(startX, max(0, d.toX)), append(startY, max(0, d.toY))
	}
	xs, ys := starts(b.grid.xs.at, startX, b.length), starts(b.grid.ys.at, startY, b.width)
	mx, my := min(most, len(xs)), min(most, len(ys))
	for (mx+1)*(mx+2)/2*((my+1)*(my+2)/2) > maxRegions {
		if mx > my {
			mx = mx * 9 / 10
		} else {
			my = my * 9 / 10
		}
	}
	p.all = mx >= len(xs) && my >= len(ys)
	for _, d := range b.defects {
		startX, startY = append(startX, d.fromX), append(startY, d.fromY)
	}
	if p.all {
		startX, startY = nil, nil
	}
	p.xs, p.ys = fewPlaces(xs, startX, b.length, mx), fewPlaces(ys, startY, b.width, my)
	p.alongX = spans(p.xs, &b.grid.xs, func(from, to int64) uint64 {
		return b.meeting(Rect{from, 0, to - from, b.width}, true)
	})
	p.alongY = spans(p.ys, &b.grid.ys, func(from, to int64) uint64 {
		return b.meeting(Rect{0, from, b.length, to - from}, false)
	})
	return p
}

// meeting returns a bit for each defect that r meets along one axis; from the
// 64th on they share the last bit.
func (b *board) meeting(r Rect, alongX bool) (bits uint64) {
	for k, d := range b.defects {
		if alongX && r.X < d.toX && r.X+r.Length > d.fromX || !alongX && r.Y < d.toY && r.Y+r.Width > d.fromY {
			bits |= 1 << min(k, 63)
		}
	}
	return bits
}

// starts returns all starts plus sums below whole.
func starts(sums, from []int64, whole int64) []int64 {
	var at []int64
	for _, s := range from {
		for _, d := range sums {
			if s+d < whole {
				at = append(at, s+d)
			}
		}
	}
	slices.Sort(at)
	return slices.Compact(at)
}

// fewPlaces keeps most of at, evenly chosen, those in keep, and both ends.
func fewPlaces(at, keep []int64, whole int64, most int) []int64 {
	out := []int64{0, whole}
	for _, k := range keep {
		if k > 0 && k < whole {
			out = append(out, k)
		}
	}
	for k := range most {
		out = append(out, at[k*len(at)/most])
	}
	slices.Sort(out)
	return slices.Compact(out)
}

// spans lists the stretches between places, shorter ones (in places) first.
func spans(at []int64, sizes *axis, meets func(from, to int64) uint64) []span {
	var out []span
	for n := 1; n < len(at); n++ {
		for k := 0; k+n < len(at); k++ {
			out = append(out, span{int16(k), int16(k + n), sizes.floor(at[k+n] - at[k]), meets(at[k], at[k+n])})
		}
	}
	return out
}

// spanAt returns the index in spans of the stretch from place i to place j of n.
func spanAt(n, i, j int) int {
	long := j - i
	return (long-1)*n - (long-1)*long/2 + i
}
