package sequence

import (
	"slices"
	"time"
)

// maxDated is how many setups are put in order of their dates: every run of
// them is tried at every place.
const maxDated = 150

// earliestFirst brings the nodes with the earliest dates forward wherever the
// route grows no longer by it: from the front on, a run of nodes moves, as it
// is or turned round, while the list of dates becomes earlier, the first place
// counting most. Nodes without a date count as the latest.
func earliestFirst(p RouteProblem, nodes []int, due []time.Time) {
	if len(nodes) > maxDated || !slices.ContainsFunc(due, func(d time.Time) bool { return !d.IsZero() }) {
		return
	}
	d := dated{p: p, nodes: nodes, try: make([]int, len(nodes)), length: p.Length(nodes)}
	for _, date := range due {
		rank := int64(1 << 62)
		if !date.IsZero() {
			rank = date.Unix()
		}
		d.rank = append(d.rank, rank)
	}
	for at := 1; at < len(nodes); at++ {
		for d.bringForward(at) {
		}
	}
}

// dated is a route whose nodes have dates.
type dated struct {
	p          RouteProblem
	nodes, try []int
	rank       []int64 // of each node, the earliest least
	length     int
}

// bringForward makes the first move to a place that makes the list of dates
// earlier from there on.
func (d *dated) bringForward(at int) bool {
	for from := at; from < len(d.nodes); from++ {
		for to := from + 1; to <= len(d.nodes); to++ {
			if d.move(at, from, to, false) || d.move(at, from, to, true) {
				copy(d.nodes, d.try)
				return true
			}
		}
	}
	return false
}

// move puts nodes[from:to], turned round or not, in front of nodes[at] in try,
// and reports whether that is sooner, no longer and allowed.
func (d *dated) move(at, from, to int, turned bool) bool {
	head := d.nodes[from]
	if turned {
		head = d.nodes[to-1]
	}
	if d.rank[head] > d.rank[d.nodes[at]] {
		return false
	}
	copy(d.try, d.nodes[:at])
	copy(d.try[at:], d.nodes[from:to])
	copy(d.try[at+to-from:], d.nodes[at:from])
	copy(d.try[to:], d.nodes[to:])
	if turned {
		slices.Reverse(d.try[at : at+to-from])
	}
	return d.sooner(at) && d.p.Length(d.try) <= d.length && d.p.allows(d.try)
}

// sooner compares try with the route from a place on.
func (d *dated) sooner(at int) bool {
	for i := at; i < len(d.nodes); i++ {
		if a, b := d.rank[d.try[i]], d.rank[d.nodes[i]]; a != b {
			return a < b
		}
	}
	return false
}

// allows reports whether an order keeps to Before.
func (p RouteProblem) allows(nodes []int) bool {
	place := make([]int, len(nodes))
	for i, n := range nodes {
		place[n] = i
	}
	for _, pair := range p.Before {
		if place[pair[0]] > place[pair[1]] {
			return false
		}
	}
	return true
}
