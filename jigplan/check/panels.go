package check

import (
	"fmt"

	"batchwright/jigplan"
	"batchwright/orders"
	"batchwright/orders/measure"
)

// Panels goes over the glued-up panels: each is no part itself; its strips are
// parts of it alone, of its wood, box and length; their widths add up to its
// own, none under the narrowest that is glued; each is cut long, thick and wide
// enough for what trimming, flattening and jointing take.
func Panels(p *jigplan.Plan) []error {
	c := panelCheck{plan: p, parts: map[string]*orders.Part{}, owner: map[string]string{}}
	for i := range p.Parts {
		c.parts[p.Parts[i].ID] = &p.Parts[i]
	}
	for i := range p.Panels {
		c.panel(&p.Panels[i])
	}
	for i := range p.Parts {
		part := &p.Parts[i]
		if (part.Role == orders.Strip) != (part.Panel != "") || part.Panel != c.owner[part.ID] {
			c.wrong("part %s belongs to panel %q and is listed with %q", part.ID, part.Panel, c.owner[part.ID])
		}
	}
	return c.found
}

type panelCheck struct {
	plan  *jigplan.Plan
	parts map[string]*orders.Part
	owner map[string]string
	found []error
}

func (c *panelCheck) wrong(format string, a ...any) {
	c.found = append(c.found, fmt.Errorf("panels: "+format, a...))
}

func (c *panelCheck) panel(g *orders.GluedPanel) {
	if c.parts[g.ID] != nil {
		c.wrong("%s is a panel and a part", g.ID)
	}
	if len(g.Strips) < 2 {
		c.wrong("%s is glued from %d strips", g.ID, len(g.Strips))
	}
	var sum measure.Length
	for k, id := range g.Strips {
		s := c.parts[id]
		if s == nil || c.owner[id] != "" {
			c.wrong("strip %s of %s is no part, or another panel's", id, g.ID)
			continue
		}
		c.owner[id] = g.ID
		sum += s.Width
		c.strip(g, s, k == 0 || k == len(g.Strips)-1)
	}
	if sum != g.Width {
		c.wrong("the strips of %s are %v mm wide together, not %v", g.ID, sum.Millimetres(), g.Width.Millimetres())
	}
}

// strip: an inner strip has two glued edges, an outer one a glued edge and one
// that is trimmed with the panel.
func (c *panelCheck) strip(g *orders.GluedPanel, s *orders.Part, outer bool) {
	set := &c.plan.Order.Settings
	takes := 2 * set.JointAllowance
	if outer {
		takes = set.JointAllowance + set.PartWidth/2
	}
	switch {
	case s.Wood != g.Wood || s.Line != g.Line || s.Unit != g.Unit || s.Grain != orders.AlongLength:
		c.wrong("strip %s is not of the wood, box or grain of %s", s.ID, g.ID)
	case s.Length != g.Length || s.CutLength < g.Length+set.PartLength:
		c.wrong("strip %s is too short for %s", s.ID, g.ID)
	case s.Width < set.NarrowestStrip:
		c.wrong("strip %s is narrower than the narrowest strip", s.ID)
	case s.CutWidth < s.Width+takes:
		c.wrong("strip %s is cut %v mm wide: too little is left to joint its edges", s.ID, s.CutWidth.Millimetres())
	case s.Thickness < g.Thickness+set.Planing:
		c.wrong("strip %s is too thin to be flattened to %s", s.ID, g.ID)
	}
}
