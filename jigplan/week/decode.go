package week

import "slices"

// decoder carries out lists of tasks. Its memory is kept between calls.
type decoder struct {
	n       *network
	free    []uint64 // what is left of the resources at each time, guards set
	words   int
	early   []int
	start   [2][]int
	sortKey []int
	list    []int32
	until   int // free is untouched from here on
}

func newDecoder(n *network) *decoder {
	d := &decoder{n: n, words: len(n.full), early: make([]int, n.n), sortKey: make([]int, n.n), list: make([]int32, n.n)}
	d.start[0], d.start[1] = make([]int, n.n), make([]int, n.n)
	d.free = make([]uint64, (n.total+1)*d.words)
	d.until = n.total + 1
	return d
}

// serial starts each task of the list as early as its order and the resources
// allow, and returns when the last one ends. Direction 1 does so backwards in
// time: starts then count from the far end.
func (d *decoder) serial(list []int32, direction int) int {
	for t := 0; t < d.until; t++ {
		copy(d.free[t*d.words:(t+1)*d.words], d.n.full)
	}
	d.until = 0
	clear(d.early)
	start := d.start[direction]
	for _, i := range list {
		s := d.place(int(i))
		start[i] = s
		end := s + d.n.time[i]
		d.until = max(d.until, end)
		for _, j := range d.n.next[direction][i] {
			d.early[j] = max(d.early[j], end)
		}
	}
	return d.until
}

// place books a task at the earliest time from early on.
func (d *decoder) place(i int) int {
	length := d.n.time[i]
	if d.words == 1 {
		return d.placeOne(d.n.packed[i][0], d.early[i], length)
	}
	s := d.early[i]
	for t := s; t < s+length; t++ {
		for w, demand := range d.n.packed[i] {
			if (d.free[t*d.words+w]-demand)&guards != guards {
				s = t + 1
				break
			}
		}
	}
	for t := s; t < s+length; t++ {
		for w, demand := range d.n.packed[i] {
			d.free[t*d.words+w] -= demand
		}
	}
	return s
}

func (d *decoder) placeOne(demand uint64, s, length int) int {
	for t := s; t < s+length; t++ {
		if (d.free[t]-demand)&guards != guards {
			s = t + 1
		}
	}
	for t := s; t < s+length; t++ {
		d.free[t] -= demand
	}
	return s
}

// justify carries out a list, then pushes every task right, last end first,
// and left again, earliest start first, as long as that shortens the plan. It
// leaves the starts in d.start[0] and sorts the list by them.
func (d *decoder) justify(list []int32) int {
	makespan := d.serial(list, 0)
	for {
		d.byEnd(d.start[0], 1)
		d.serial(d.list, 1)
		d.byEnd(d.start[1], 0)
		again := d.serial(d.list, 0)
		if again >= makespan {
			makespan = again
			break
		}
		makespan = again
	}
	copy(list, d.byStart())
	return makespan
}

// byEnd lists the tasks by their end, the last first: carried out in the
// other direction, each moves as far as it can. Tasks that take no time tie
// with those they follow, so ties keep the order of that direction.
func (d *decoder) byEnd(start []int, direction int) {
	for i := range d.sortKey {
		d.sortKey[i] = -(start[i] + d.n.time[i])
	}
	d.sort(direction)
}

// byStart lists the tasks by their start.
func (d *decoder) byStart() []int32 {
	copy(d.sortKey, d.start[0])
	d.sort(0)
	return d.list
}

func (d *decoder) sort(direction int) {
	copy(d.list, d.n.order)
	if direction == 1 {
		slices.Reverse(d.list)
	}
	key := d.sortKey
	slices.SortStableFunc(d.list, func(a, b int32) int { return key[a] - key[b] })
}
