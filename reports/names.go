package reports

import (
	"fmt"
	"strings"

	"batchwright/jigplan"
	"batchwright/orders"
)

// Name is what people call one part: "Recipe box, side 1, box 3 of 6". Code is
// its short code, which stands beside the name.
type Name struct {
	Code  string
	Box   string // the box's or the loose part's own name
	What  string // "side"; empty: a loose part
	N, Of int    // the N-th of so many of the kind in its box
	Unit  int    // which box of the line, or which of the loose parts
	Units int
	line  lineKey
}

// lineKey is one line of the order.
type lineKey struct {
	loose bool
	line  int
}

// Names finds the name of every part of a plan by its code.
type Names map[string]*Name

// NamesOf names the parts of a plan.
func NamesOf(p *jigplan.Plan) Names {
	type kind struct {
		line lineKey
		unit int
		role orders.Role
	}
	names, count, units := Names{}, map[kind]int{}, map[lineKey]int{}
	kindOf := func(part *orders.Part) kind {
		return kind{lineKey{part.IsLoose(), part.Line}, part.Unit, part.Role}
	}
	twice := repeatedNames(p.Order)
	for i := range p.Parts {
		part := &p.Parts[i]
		k := kindOf(part)
		count[k]++
		units[k.line] = max(units[k.line], part.Unit)
		n := &Name{Code: part.ID, Box: part.Box, What: string(part.Role), N: count[k], Unit: part.Unit, line: k.line}
		if k.line.loose {
			n.Box, n.What = looseName(p, part), ""
		}
		if twice[n.Box] {
			n.Box += " (" + part.Source.Cell + ")"
		}
		names[part.ID] = n
	}
	for i := range p.Parts {
		k, n := kindOf(&p.Parts[i]), names[p.Parts[i].ID]
		n.Of, n.Units = count[k], units[k.line]
	}
	return names
}

func looseName(p *jigplan.Plan, part *orders.Part) string {
	if part.Line < len(p.Order.Loose) && p.Order.Loose[part.Line].Name != "" {
		return p.Order.Loose[part.Line].Name
	}
	return "loose part"
}

// repeatedNames is the names that several lines of an order share.
func repeatedNames(o *orders.Order) map[string]bool {
	seen, twice := map[string]bool{}, map[string]bool{}
	add := func(name string) {
		twice[name] = seen[name]
		seen[name] = true
	}
	for i := range o.Boxes {
		add(o.Boxes[i].Name)
	}
	for i := range o.Loose {
		add(o.Loose[i].Name)
	}
	return twice
}

// Part is "side 1", or "bottom" where a box has one of the kind.
func (n *Name) Part() string {
	if n.What == "" || n.Of < 2 {
		return n.What
	}
	return fmt.Sprintf("%s %d", n.What, n.N)
}

// Which is "box 3 of 6", or "3 of 6" of loose parts; empty where there is one.
func (n *Name) Which() string {
	switch {
	case n.Units < 2:
		return ""
	case n.What == "":
		return fmt.Sprintf("%d of %d", n.Unit, n.Units)
	}
	return fmt.Sprintf("box %d of %d", n.Unit, n.Units)
}

// String is the whole name: "Recipe box, side 1, box 3 of 6".
func (n *Name) String() string { return joined(", ", n.Box, n.Part(), n.Which()) }

// Of finds a part's name; a part that is not known is called by its code.
func (n Names) Of(code string) *Name {
	if name := n[code]; name != nil {
		return name
	}
	return &Name{Code: code, Box: code, Units: 1, Unit: 1}
}

// Together names parts in few words: "Recipe box: sides of boxes 1-3, side 1 of
// box 4; Test corner blank 1-8". Without box names where bare.
func (n Names) Together(codes []string, bare bool) string {
	var lines []lineKey
	of := map[lineKey][]*Name{}
	for _, code := range codes {
		name := n.Of(code)
		if of[name.line] == nil {
			lines = append(lines, name.line)
		}
		of[name.line] = append(of[name.line], name)
	}
	var out []string
	for _, line := range lines {
		text := sortedOut(of[line])
		box := of[line][0].Box
		switch {
		case text == "":
			text = box
		case of[line][0].What == "":
			text = box + " " + text
		case !bare || len(lines) > 1:
			text = box + ": " + text
		}
		out = append(out, text)
	}
	return strings.Join(out, "; ")
}

// sortedOut names the parts of one line of the order.
func sortedOut(names []*Name) string {
	if names[0].What == "" {
		if names[0].Units < 2 {
			return ""
		}
		return Ranges(unitsIn(names))
	}
	var kinds []string
	of := map[string][]*Name{}
	for _, name := range names {
		if of[name.What] == nil {
			kinds = append(kinds, name.What)
		}
		of[name.What] = append(of[name.What], name)
	}
	var out []string
	for _, kind := range kinds {
		out = append(out, ofKind(of[kind])...)
	}
	return strings.Join(out, ", ")
}

// ofKind names parts of one kind of one line: those boxes together of which all
// are there, then "side 1 of box 3".
func ofKind(names []*Name) (out []string) {
	count := map[int]int{}
	for _, n := range names {
		count[n.Unit]++
	}
	var whole []*Name
	var singles []string
	of := map[string][]*Name{}
	for _, n := range names {
		if count[n.Unit] == n.Of {
			whole = append(whole, n)
			continue
		}
		if of[n.Part()] == nil {
			singles = append(singles, n.Part())
		}
		of[n.Part()] = append(of[n.Part()], n)
	}
	if len(whole) > 0 {
		what := whole[0].What
		if len(whole) > 1 {
			what += "s"
		}
		out = append(out, what+ofBoxes(whole))
	}
	for _, part := range singles {
		out = append(out, part+ofBoxes(of[part]))
	}
	return out
}

func ofBoxes(names []*Name) string {
	units := unitsIn(names)
	word := " of box "
	for _, u := range units[1:] {
		if u != units[0] {
			word = " of boxes "
		}
	}
	if names[0].Units < 2 {
		return ""
	}
	return word + Ranges(units)
}

func unitsIn(names []*Name) (units []int) {
	for _, n := range names {
		units = append(units, n.Unit)
	}
	return units
}
