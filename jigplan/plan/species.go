package plan

import (
	"fmt"
	"slices"
	"sort"
	"strings"

	"batchwright/jigplan"
	"batchwright/nesting"
	"batchwright/nesting/cutting"
	"batchwright/orders"
	"batchwright/orders/woods"
)

// A general wood name, such as oak or ply, uses boards of any species it
// covers, never two species in one box. One species for all is tried first,
// each in turn; then what each can make from the rack, one after the other.

// chooseSpecies gives the parts of general names the species they are cut from.
func chooseSpecies(p *jigplan.Plan) {
	var names []string
	for i := range p.Parts {
		if name := p.Parts[i].Wood; !slices.Contains(names, name) {
			names = append(names, name)
		}
	}
	for _, name := range names {
		if found := speciesOf(p.Order, name); len(found) > 0 {
			(&naming{p: p, name: name, species: found}).choose()
		}
	}
}

// speciesOf are the woods of rack and yard that a name covers, and the name
// itself where boards are called so; nothing when it covers none.
func speciesOf(o *orders.Order, name string) (out []string) {
	covered := false
	job := jobOf(o)
	for _, b := range append(slices.Clone(job.Rack), job.Yard...) {
		if b.Count <= 0 && !b.Unlimited {
			continue
		}
		covers := woods.Covers(name, b.Wood)
		covered = covered || covers
		if (covers || woods.Same(name, b.Wood)) && !slices.ContainsFunc(out, func(s string) bool { return woods.Same(s, b.Wood) }) {
			out = append(out, b.Wood)
		}
	}
	if !covered {
		return nil
	}
	sort.Strings(out)
	return out
}

// naming is one general name while it is decided.
type naming struct {
	p       *jigplan.Plan
	name    string
	species []string
	boxes   [][]int // the parts of the name, box by box; loose parts one by one
}

func (n *naming) choose() {
	n.gather()
	var best []string
	var found nesting.Layout
	try := func(as []string) {
		l := n.lay(as, len(as), jobOf(n.p.Order))
		a, b := attempt{layout: l}, attempt{layout: found}
		if best == nil || a.better(b) {
			best, found = as, l
		}
	}
	for _, s := range n.species {
		try(slices.Repeat([]string{s}, len(n.boxes)))
	}
	if len(n.species) > 1 && (len(found.Short) > 0 || slices.ContainsFunc(found.Boards, bought)) {
		try(n.split(best[0]))
	}
	n.write(best)
}

func bought(b nesting.CutBoard) bool {
	return b.Stock.Origin == orders.FromYard || b.Stock.Origin == orders.FromTypical
}

func (n *naming) gather() {
	type unit struct{ line, unit int }
	at := map[unit]int{}
	for i := range n.p.Parts {
		part := &n.p.Parts[i]
		if part.Wood != n.name {
			continue
		}
		u := unit{part.Line, part.Unit}
		k, seen := at[u]
		if part.IsLoose() || !seen {
			k = len(n.boxes)
			n.boxes = append(n.boxes, nil)
			if !part.IsLoose() {
				at[u] = k
			}
		}
		n.boxes[k] = append(n.boxes[k], i)
	}
}

// lay lays the first boxes, each as its species, on some boards.
func (n *naming) lay(as []string, first int, job cutting.Job) nesting.Layout {
	job.Parts = nil
	for k, box := range n.boxes[:first] {
		for _, i := range box {
			part := n.p.Parts[i]
			part.Wood = as[k]
			job.Parts = append(job.Parts, part)
		}
	}
	return cutting.Nest(job, nesting.Limits{Think: firstThink})
}

// split makes of each species, in turn, as many boxes as the rack has wood for,
// and the rest of the one given.
func (n *naming) split(rest string) []string {
	job := jobOf(n.p.Order)
	job.Standard, job.Yard = false, nil
	as := slices.Repeat([]string{rest}, len(n.boxes))
	from := 0
	for _, s := range n.species {
		more := sort.Search(len(n.boxes)-from, func(k int) bool {
			trial := slices.Clone(as)
			for i := from; i <= from+k; i++ {
				trial[i] = s
			}
			return len(n.lay(trial, from+k+1, job).Short) > 0
		})
		for i := from; i < from+more; i++ {
			as[i] = s
		}
		from += more
	}
	return as
}

// write gives the parts their wood, and says which once a line.
func (n *naming) write(as []string) {
	type note struct {
		source orders.Source
		wood   string
	}
	said := map[note]bool{}
	for k, box := range n.boxes {
		for _, i := range box {
			part := &n.p.Parts[i]
			part.Wood = as[k]
			at := note{part.Source, as[k]}
			if said[at] || woods.Same(as[k], n.name) {
				continue
			}
			said[at] = true
			n.p.Findings = append(n.p.Findings, orders.Finding{Level: orders.Note, Source: part.Source, Read: n.name,
				Did: fmt.Sprintf("%s covers %s here; %s is used, one species to a box", n.name, strings.Join(n.species, ", "), as[k]),
				Fix: "OK if intended; for one species write its name, for example " + as[k]})
		}
	}
}
