package week

import "slices"

// othersSorted is all times but that of j, rising.
func othersSorted(times []int, j int) []int {
	others := append(slices.Clone(times[:j]), times[j+1:]...)
	slices.Sort(others)
	return others
}

// assign is the least cost of giving each row a column of its own, by
// shortest augmenting paths (R. Jonker, A. Volgenant, Computing 38, 1987).
func assign(cost [][]int) int {
	n := len(cost)
	const far = 1 << 60
	rowPrice, columnPrice := make([]int, n+1), make([]int, n+1)
	rowOf := make([]int, n+1) // column -> row, both from 1; 0: none
	for row := 1; row <= n; row++ {
		rowOf[0] = row
		near, from, done := make([]int, n+1), make([]int, n+1), make([]bool, n+1)
		for c := range near {
			near[c] = far
		}
		at := 0
		for rowOf[at] != 0 {
			done[at] = true
			r, step, next := rowOf[at], far, 0
			for c := 1; c <= n; c++ {
				if done[c] {
					continue
				}
				if d := cost[r-1][c-1] - rowPrice[r] - columnPrice[c]; d < near[c] {
					near[c], from[c] = d, at
				}
				if near[c] < step {
					step, next = near[c], c
				}
			}
			for c := range done {
				if done[c] {
					rowPrice[rowOf[c]] += step
					columnPrice[c] -= step
				} else {
					near[c] -= step
				}
			}
			at = next
		}
		for at != 0 {
			rowOf[at] = rowOf[from[at]]
			at = from[at]
		}
	}
	sum := 0
	for c := 1; c <= n; c++ {
		sum += cost[rowOf[c]-1][c-1]
	}
	return sum
}
