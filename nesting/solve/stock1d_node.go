package solve

import "slices"

// barNode is a subproblem of the search: types of pieces with their demand.
// A type is a length that was asked for, or several that a branching decision
// has glued into one; two types kept apart never share a bar.
type barNode struct {
	bars   []Bar // lengths already hold one kerf more, see newBarRoot
	size   []int64
	demand []int64   // 0: no more of this type
	glued  [][]int32 // of the type, the root types it consists of
	apart  []bitset  // of the type, the types it never shares a bar with
}

// barColumn is a pattern within a node: ascending types, each with its count.
type barColumn struct {
	bar   int
	parts []barPart
}

type barPart struct {
	kind  int32 // type of piece
	count int32
}

// bitset is a set of small numbers.
type bitset []uint64

func (b bitset) has(i int32) bool {
	w := int(i >> 6)
	return w < len(b) && b[w]>>(i&63)&1 != 0
}

// with returns a copy of the set that also holds i.
func (b bitset) with(i int32) bitset {
	c := make(bitset, max(len(b), int(i>>6)+1))
	copy(c, b)
	c[i>>6] |= 1 << (i & 63)
	return c
}

// union returns a set of what either holds.
func (b bitset) union(o bitset) bitset {
	if len(o) > len(b) {
		b, o = o, b
	}
	c := slices.Clone(b)
	for w, bits := range o {
		c[w] |= bits
	}
	return c
}

func (b bitset) empty() bool {
	for _, w := range b {
		if w != 0 {
			return false
		}
	}
	return true
}

// clone copies what a branching decision changes.
func (n *barNode) clone() *barNode {
	return &barNode{
		bars:   n.bars,
		size:   slices.Clone(n.size),
		demand: slices.Clone(n.demand),
		glued:  slices.Clone(n.glued),
		apart:  slices.Clone(n.apart),
	}
}

// together returns the subproblem where some bar holds both an i and a j (two
// of i when they are equal), and the type they became.
func (n *barNode) together(i, j int32) (*barNode, int32) {
	c := n.clone()
	kind := int32(len(c.size))
	c.size = append(c.size, n.size[i]+n.size[j])
	c.demand = append(c.demand, 1)
	c.demand[i]--
	c.demand[j]--
	c.glued = append(c.glued, slices.Concat(n.glued[i], n.glued[j]))
	c.apart = append(c.apart, n.apart[i].union(n.apart[j]))
	for k := range kind {
		if c.apart[kind].has(k) {
			c.apart[k] = c.apart[k].with(kind)
		}
	}
	return c, kind
}

// separate returns the subproblem where no bar holds both an i and a j (two of
// i when they are equal).
func (n *barNode) separate(i, j int32) *barNode {
	c := n.clone()
	c.apart[i] = c.apart[i].with(j)
	c.apart[j] = c.apart[j].with(i)
	return c
}

// without returns the subproblem left when a pattern is cut the given number of
// times.
func (n *barNode) without(col barColumn, times int64) *barNode {
	c := *n
	c.demand = slices.Clone(n.demand)
	for _, p := range col.parts {
		c.demand[p.kind] = max(0, c.demand[p.kind]-times*int64(p.count))
	}
	if n.bars[col.bar].Count < Unlimited {
		c.bars = slices.Clone(n.bars)
		c.bars[col.bar].Count -= times
	}
	return &c
}

// fit restricts a pattern to what the node still wants and allows: it drops
// copies beyond the demand and, of two types kept apart, the later one.
func (n *barNode) fit(col barColumn) barColumn {
	out := barColumn{bar: col.bar}
	var held []int32
next:
	for _, p := range col.parts {
		count := min(int64(p.count), n.demand[p.kind])
		if count <= 0 {
			continue
		}
		apart := n.apart[p.kind]
		if !apart.empty() {
			if apart.has(p.kind) {
				count = 1
			}
			for _, h := range held {
				if apart.has(h) {
					continue next
				}
			}
		}
		held = append(held, p.kind)
		out.parts = append(out.parts, barPart{p.kind, int32(count)})
	}
	return out
}

// glue rewrites a pattern of the parent for the child in which i and j became
// kind: one that holds both holds the new type instead.
func (col barColumn) glue(i, j, kind int32) barColumn {
	needI, needJ := int32(1), int32(1)
	if i == j {
		needI, needJ = 2, 0
	}
	if col.count(i) < needI || col.count(j) < needJ {
		return col
	}
	out := barColumn{bar: col.bar}
	for _, p := range col.parts {
		if p.kind == i {
			p.count -= needI
		} else if p.kind == j {
			p.count -= needJ
		}
		if p.count > 0 {
			out.parts = append(out.parts, p)
		}
	}
	out.parts = append(out.parts, barPart{kind, 1})
	return out
}

func (col barColumn) count(kind int32) int32 {
	for _, p := range col.parts {
		if p.kind == kind {
			return p.count
		}
	}
	return 0
}

// expand rewrites a pattern of the node into root types.
func (n *barNode) expand(col barColumn) barColumn {
	counts := map[int32]int32{}
	for _, p := range col.parts {
		for _, root := range n.glued[p.kind] {
			counts[root] += p.count
		}
	}
	out := barColumn{bar: col.bar}
	for root, count := range counts {
		out.parts = append(out.parts, barPart{root, count})
	}
	sortParts(out.parts)
	return out
}
