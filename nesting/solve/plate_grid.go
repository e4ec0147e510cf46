package solve

import "slices"

// grid is the sizes a rectangle can have without loss when everything in it is
// pushed to the origin: sums of part lengths along x, of widths along y
// (Herz's canonical or "normal" patterns), each ending with the whole plate.
type grid struct {
	xs, ys axis
	nx, ny int
}

// axis is one dimension's sizes, ascending from 0 to the whole plate.
type axis struct {
	at    []int64
	pairs [][]pair // the ways to cut size i in two sizes, low <= high
	exact bool     // every sum of parts is there; else a rounded-up choice

	pairCount int64 // over all sizes
}

// pair is a cut of one size into two.
type pair struct{ low, high int32 }

// run is one length and how often it may stand in a row.
type run struct {
	size  int64
	times int
}

// newAxis lists the sums of runs up to the largest whole. When there are more
// than most, it keeps an even choice of them, every single run and every whole.
func newAxis(wholes []int64, runs []run, most int) axis {
	whole := slices.Max(wholes)
	at, exact := sums(whole, runs, 16*most)
	a := axis{at: at, exact: exact && len(at) <= most}
	if !a.exact {
		for _, w := range wholes {
			runs = append(runs, run{w, 1})
		}
		a.at = thin(at, runs, most, whole)
	}
	a.pairs = a.cuts()
	return a
}

// maxSums is the longest plate whose every size may be listed on the way.
const maxSums = 1 << 20

// sums returns the sums of runs up to whole, ascending from 0, and whether
// they are all there: where more than most arise, some are left out.
func sums(whole int64, runs []run, most int) (at []int64, all bool) {
	at, all = []int64{0}, true
	for _, r := range merged(runs) {
		n := min(int64(r.times), whole/r.size)
		if step := n/int64(most) + 1; step > 1 && whole > maxSums {
			at = addRun(at, run{r.size, 1}, whole)
			r, all = run{r.size * step, int(n / step)}, false
		}
		at = addRun(at, r, whole)
		if len(at) > most {
			at, all = thin(at, nil, most/2, whole), false
		}
	}
	return at, all
}

// merged joins runs of equal size, longest first.
func merged(runs []run) []run {
	rs := slices.Clone(runs)
	slices.SortFunc(rs, func(a, b run) int { return int(min(max(b.size-a.size, -1), 1)) })
	var out []run
	for _, r := range rs {
		if n := len(out); n > 0 && out[n-1].size == r.size {
			out[n-1].times = min(Unlimited, out[n-1].times+r.times)
		} else if r.size > 0 && r.times > 0 {
			out = append(out, r)
		}
	}
	return out
}

// addRun merges at with at + k*r.size for k up to r.times. Both lists ascend,
// so that one pass does; used counts the copies the cheapest way to a sum takes.
func addRun(at []int64, r run, whole int64) []int64 {
	out := make([]int64, 0, 2*len(at))
	used := make([]int, 0, 2*len(at))
	from := 0
	for i := 0; ; {
		for from < len(out) && used[from] >= r.times {
			from++
		}
		next, viaRun := whole+1, false
		if i < len(at) {
			next = at[i]
		}
		if from < len(out) && out[from]+r.size < next {
			next, viaRun = out[from]+r.size, true
		}
		if next > whole {
			return out
		}
		if viaRun {
			out, used = append(out, next), append(used, used[from]+1)
			from++
			continue
		}
		if from < len(out) && out[from]+r.size == next {
			from++
		}
		out, used = append(out, next), append(used, 0)
		i++
	}
}

// thin keeps every run's own size up to whole and an even choice of the sums.
func thin(at []int64, runs []run, most int, whole int64) []int64 {
	keep := []int64{0}
	for _, r := range runs {
		if r.times > 0 && r.size <= whole {
			keep = append(keep, r.size)
		}
	}
	step := max(1, float64(len(at))/float64(most))
	for f := 0.0; int(f) < len(at); f += step {
		keep = append(keep, at[int(f)])
	}
	slices.Sort(keep)
	return slices.Compact(keep)
}

// floor returns the largest index whose size is at most v.
func (a *axis) floor(v int64) int {
	i, found := slices.BinarySearch(a.at, v)
	if found {
		return i
	}
	return i - 1
}

// cuts lists, for every size, the pairs of sizes it can be cut into. On an
// exact axis a pair that does not fill its size is a pair of a smaller size.
func (a *axis) cuts() [][]pair {
	out := make([][]pair, len(a.at))
	for i, whole := range a.at {
		hi := i - 1
		for lo := 1; lo <= hi; lo++ {
			for hi > 0 && a.at[hi] > whole-a.at[lo] {
				hi--
			}
			if hi < lo {
				break
			}
			sum := a.at[lo] + a.at[hi]
			if sum == whole || (!a.exact && sum > a.at[i-1]) {
				out[i] = append(out[i], pair{int32(lo), int32(hi)})
				a.pairCount++
			}
		}
	}
	return out
}
