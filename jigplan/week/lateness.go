package week

// Line is jobs on one machine that should be done by a date, on plain
// integers. A job late by so many units costs as many times its weight.
type Line struct {
	Time, Weight, Due []int
	First             []int   // setup before a job that is first; nil: none
	Setup             [][]int // Setup[i][j] before j when it follows i; nil: none
}

// LinePlan is the cheapest order found, and a bound that none is below.
type LinePlan struct {
	Order []int
	Cost  int
	Bound int // proven: equal to Cost when no order is cheaper
}

// Cost is what being late costs when the jobs run in the order given, without
// a pause.
func (l Line) Cost(order []int) int {
	now, cost, last := 0, 0, -1
	for _, j := range order {
		now += l.setup(last, j) + l.Time[j]
		cost += l.Weight[j] * max(0, now-l.Due[j])
		last = j
	}
	return cost
}

func (l Line) setup(last, j int) int {
	switch {
	case last < 0 && l.First != nil:
		return l.First[j]
	case last >= 0 && l.Setup != nil:
		return l.Setup[last][j]
	}
	return 0
}

// Plan finds an order with the least cost, or the least within the limits: a
// descent over moved runs and exchanged jobs, disturbed and repeated.
func (l Line) Plan(limits Limits) LinePlan {
	if len(l.Time) == 0 {
		return LinePlan{Order: []int{}}
	}
	s := newLineSearch(l, newClock(limits))
	bound := l.bound()
	s.run(bound)
	return LinePlan{Order: s.best, Cost: s.bestCost, Bound: bound}
}

// bound: the job in place k is done no earlier than after itself and the k
// quickest of the others, setups at their least. What each job costs in each
// place at least makes an assignment problem.
func (l Line) bound() int {
	n := len(l.Time)
	quickest := make([]int, n)
	for j := range n {
		quickest[j] = l.Time[j] + l.leastSetup(j)
	}
	cost := make([][]int, n)
	for j := range n {
		cost[j] = make([]int, n)
		others := othersSorted(quickest, j)
		now := quickest[j]
		for k := range n {
			cost[j][k] = l.Weight[j] * max(0, now-l.Due[j])
			if k < n-1 {
				now += others[k]
			}
		}
	}
	return assign(cost)
}

func (l Line) leastSetup(j int) int {
	least := l.setup(-1, j)
	for i := range l.Time {
		if i != j {
			least = min(least, l.setup(i, j))
		}
	}
	return least
}
