package sequence

import (
	"math"
	"math/rand/v2"
	"slices"
)

// climb is iterated local search: exchange runs of nodes until nothing
// improves, disturb the path a little, and again from there.
type climb struct {
	g       *graph
	rng     *rand.Rand
	best    *path
	current *path
	queue   *queue
	scratch set
	idle    int // rounds since the best was found
}

func newClimb(g *graph, seed uint64) *climb {
	c := &climb{g: g, rng: rand.New(rand.NewPCG(seed, 0)), queue: newQueue(g.n), scratch: newSet(g.n)}
	c.current = newPath(g, g.greedy())
	c.queue.fill(c.current.nodes)
	c.settle(c.current)
	c.best = c.current.clone()
	return c
}

// adopt goes on from a path found elsewhere.
func (c *climb) adopt(nodes []int) {
	c.current.set(nodes)
	c.queue.fill(nodes)
	c.settle(c.current)
	c.keep()
}

func (c *climb) keep() {
	if c.current.length < c.best.length {
		c.best.copy(c.current)
		c.idle = 0
	}
}

// hot is the loss, as a share of a mean arc, that is accepted about once in
// three times: chosen by trial on open instances of 18 to 80 nodes.
const hot = 0.7

// run disturbs and settles the path so many times. What comes out worse is
// accepted with a chance that falls with the loss. After long without a new
// best the search goes back to the best, or to a much disturbed path.
func (c *climb) run(clock *clock, rounds int) {
	patience := 40 * c.g.n
	heat := hot * float64(c.best.length) / float64(c.g.n)
	last := c.current.clone()
	for range rounds {
		if clock.spent() {
			return
		}
		c.disturb()
		c.settle(c.current)
		c.idle++
		c.keep()
		worse := c.current.length - last.length
		switch {
		case c.idle > patience:
			c.restart()
			last.copy(c.current)
		case worse <= 0 || c.rng.Float64() < math.Exp(-float64(worse)/heat):
			last.copy(c.current)
		default:
			c.current.copy(last)
		}
	}
}

// restart goes back to the best path and, every other time, away from it.
func (c *climb) restart() {
	c.idle = 0
	if c.rng.IntN(2) == 0 {
		c.current.copy(c.best)
	}
	for range c.g.n / 4 {
		c.disturb()
	}
	c.settle(c.current)
	c.keep()
}

// disturb exchanges two short pairs of neighbouring runs at random places.
func (c *climb) disturb() {
	n := c.g.n
	if n < 5 {
		return
	}
	longest := min(max(3, n/5), 12)
	done := 0
	for tries := 0; done < 2 && tries < 40; tries++ {
		h := c.rng.IntN(n - 3)
		i := h + 1 + c.rng.IntN(longest)
		j := i + 1 + c.rng.IntN(longest)
		if j > n-2 || !c.mayExchange(h, i, j) {
			continue
		}
		c.touch(h, i, j)
		c.current.exchange(h, i, j)
		done++
	}
}

func (c *climb) touch(h, i, j int) {
	nodes := c.current.nodes
	for _, p := range [...]int{h, h + 1, i, i + 1, j, j + 1} {
		c.queue.push(nodes[p])
	}
}

// mayExchange reports whether no node of the run h+1..i must come before one
// of the run i+1..j.
func (c *climb) mayExchange(h, i, j int) bool {
	nodes := c.current.nodes
	if !c.g.free {
		c.scratch.clear()
		for p := h + 1; p <= i; p++ {
			c.scratch.unite(c.g.after[nodes[p]])
		}
		for p := i + 1; p <= j; p++ {
			if c.scratch.has(nodes[p]) {
				return false
			}
		}
	}
	return c.current.gain(h, i, j) > -forbidden/2
}

// greedy always goes on to the cheapest node that may come next.
func (g *graph) greedy() []int {
	nodes, done := []int{0}, newSet(g.n)
	done.add(0)
	for len(nodes) < g.n {
		last, next := nodes[len(nodes)-1], -1
		for j := range g.n {
			if !done.has(j) && contains(done, g.before[j]) && (next < 0 || g.cost[last][j] < g.cost[last][next]) {
				next = j
			}
		}
		done.add(next)
		nodes = append(nodes, next)
	}
	return nodes
}

func contains(all, some set) bool {
	for k := range all {
		if some[k]&^all[k] != 0 {
			return false
		}
	}
	return true
}

// path is an order of all nodes with each node's place in it.
type path struct {
	g      *graph
	nodes  []int
	at     []int
	length int
	spare  []int
}

func newPath(g *graph, nodes []int) *path {
	p := &path{g: g, nodes: make([]int, g.n), at: make([]int, g.n), spare: make([]int, g.n)}
	p.set(nodes)
	return p
}

func (p *path) set(nodes []int) {
	copy(p.nodes, nodes)
	for i, v := range p.nodes {
		p.at[v] = i
	}
	p.length = p.g.length(p.nodes)
}

func (p *path) clone() *path { return newPath(p.g, slices.Clone(p.nodes)) }

func (p *path) copy(q *path) {
	copy(p.nodes, q.nodes)
	copy(p.at, q.at)
	p.length = q.length
}

// gain is how much shorter the path becomes when the runs h+1..i and i+1..j
// change places.
func (p *path) gain(h, i, j int) int {
	c, v := p.g.cost, p.nodes
	return c[v[h]][v[h+1]] + c[v[i]][v[i+1]] + c[v[j]][v[j+1]] -
		c[v[h]][v[i+1]] - c[v[j]][v[h+1]] - c[v[i]][v[j+1]]
}

// exchange lets the runs h+1..i and i+1..j change places.
func (p *path) exchange(h, i, j int) {
	p.length -= p.gain(h, i, j)
	n := copy(p.spare, p.nodes[h+1:i+1])
	copy(p.nodes[h+1:], p.nodes[i+1:j+1])
	copy(p.nodes[h+1+j-i:], p.spare[:n])
	for k := h + 1; k <= j; k++ {
		p.at[p.nodes[k]] = k
	}
}

// queue holds the nodes whose way on may be improved, each once.
type queue struct {
	nodes []int
	in    []bool
}

func newQueue(n int) *queue { return &queue{in: make([]bool, n)} }

func (q *queue) push(v int) {
	if !q.in[v] {
		q.in[v] = true
		q.nodes = append(q.nodes, v)
	}
}

func (q *queue) fill(nodes []int) {
	for _, v := range nodes {
		q.push(v)
	}
}

func (q *queue) pop() (v int, ok bool) {
	if len(q.nodes) == 0 {
		return 0, false
	}
	v = q.nodes[len(q.nodes)-1]
	q.nodes = q.nodes[:len(q.nodes)-1]
	q.in[v] = false
	return v, true
}
