package week

import "slices"

// bound is the highest of three bounds on the end of every plan: the longest
// chain; for each resource, the work of the tasks between a head and a tail;
// and the same for tasks of which no two fit beside one another.
func (n *network) bound() int {
	best := 0
	for i := range n.n {
		best = max(best, n.head[i]+n.time[i]+n.tail[i])
	}
	for r := range n.project.Capacity {
		best = max(best, n.between(func(i int) int { return n.project.Demand[i][r] * n.time[i] }, n.project.Capacity[r]))
	}
	for i := range n.n {
		alone := n.clique(i)
		best = max(best, n.between(func(j int) int {
			if slices.Contains(alone, j) {
				return n.time[j]
			}
			return 0
		}, 1))
	}
	return best
}

// between: for each least head and least tail, the tasks with at least those
// do their work between the two, capacity units at a time.
func (n *network) between(work func(int) int, capacity int) int {
	type task struct{ head, tail, work int }
	var tasks []task
	for i := range n.n {
		if w := work(i); w > 0 {
			tasks = append(tasks, task{n.head[i], n.tail[i], w})
		}
	}
	slices.SortFunc(tasks, func(a, b task) int { return b.tail - a.tail })
	best := 0
	for _, first := range tasks {
		sum := 0
		for _, t := range tasks {
			if t.head >= first.head {
				sum += t.work
				best = max(best, first.head+(sum+capacity-1)/capacity+t.tail)
			}
		}
	}
	return best
}

// clique collects tasks of which no two can run at once, from task i on, the
// longest first.
func (n *network) clique(i int) []int {
	alone := []int{i}
	rest := make([]int, 0, n.n)
	for j := range n.n {
		if j != i && n.time[j] > 0 {
			rest = append(rest, j)
		}
	}
	slices.SortStableFunc(rest, func(a, b int) int { return n.time[b] - n.time[a] })
	for _, j := range rest {
		if !slices.ContainsFunc(alone, func(k int) bool { return !n.apart(j, k) }) {
			alone = append(alone, j)
		}
	}
	return alone
}

// apart reports whether two tasks never run at once.
func (n *network) apart(i, j int) bool {
	for r, c := range n.project.Capacity {
		if n.project.Demand[i][r]+n.project.Demand[j][r] > c {
			return true
		}
	}
	return n.reach(i, j) || n.reach(j, i)
}
