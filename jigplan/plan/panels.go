package plan

import (
	"cmp"
	"fmt"
	"slices"

	"batchwright/jigplan"
	"batchwright/nesting"
	"batchwright/nesting/cutting"
	"batchwright/orders"
	"batchwright/orders/measure"
	"batchwright/orders/settings"
	"batchwright/orders/woods"
)

// A solid panel wider than the boards is edge-glued from strips (common
// practice): the fewest joints the boards allow, strips of about equal width,
// none under Narrowest strip; 1 in longer than the panel, trimmed after the
// glue-up; thicker by the planing allowance, for flattening; each glued edge
// jointed; clamps every 6 to 12 in, alternately above and below.

// extraLength is what a strip is longer than its panel.
func extraLength(set *settings.Shop) measure.Length {
	if set.Units.Metric() {
		return 25 * measure.Millimetre
	}
	return measure.Inch
}

// gluePanels replaces the panels that no board holds by their strips.
func gluePanels(p *jigplan.Plan) {
	if p.Order.Settings.GlueUp == "no" {
		return
	}
	g := gluer{p: p, job: jobOf(p.Order), cuts: map[panelKind][]measure.Length{}}
	g.replace(func(part *orders.Part) []measure.Length { return g.widths(part, false) })
}

// layGlued lays the order again with the panels glued up that boards hold, but
// not enough boards, and keeps that where fewer parts are short.
func layGlued(p *jigplan.Plan, opt Options) {
	before := *p
	before.Builds = slices.Clone(p.Builds)
	if len(p.Layout.Short) == 0 || !glueShort(p) {
		return
	}
	lay(p, opt)
	if missing(p) >= missing(&before) {
		*p = before
	}
}

// missing counts the parts that are short, the strips of one panel once.
func missing(p *jigplan.Plan) int {
	short, seen := shortOf(p), map[string]bool{}
	for i := range p.Parts {
		if part := &p.Parts[i]; short[part.ID] != "" {
			seen[cmp.Or(part.Panel, part.ID)] = true
		}
	}
	return len(seen)
}

// glueShort glues those panels, and reports whether there were any.
func glueShort(p *jigplan.Plan) bool {
	if p.Order.Settings.GlueUp == "no" {
		return false
	}
	short := shortOf(p)
	g := gluer{p: p, job: jobOf(p.Order), cuts: map[panelKind][]measure.Length{}}
	before := len(p.Panels)
	g.replace(func(part *orders.Part) []measure.Length {
		if short[part.ID] == "" {
			return nil
		}
		return g.widths(part, true)
	})
	return len(p.Panels) > before
}

// gluer decides how panels are divided, each size once.
type gluer struct {
	p    *jigplan.Plan
	job  cutting.Job
	cuts map[panelKind][]measure.Length
}

type panelKind struct {
	wood                     string
	role                     orders.Role
	length, width, thickness measure.Length
}

func kindOf(p *orders.Part) panelKind {
	return panelKind{woods.Key(p.Wood), p.Role, p.Length, p.Width, p.Thickness}
}

// glueable reports whether a part may be glued up: solid, without fingers or a
// grain run, its grain along it.
func glueable(p *orders.Part) bool {
	return p.Joint == nil && p.Run == "" && p.Panel == "" && p.Role != orders.Strip && !woods.IsSheet(p.Wood) && p.Grain == orders.AlongLength && !isSpare(*p)
}

// widths are the strips of a panel, nothing when it is not glued.
func (g *gluer) widths(part *orders.Part, even bool) []measure.Length {
	if !glueable(part) {
		return nil
	}
	kind := kindOf(part)
	cuts, known := g.cuts[kind]
	if !known {
		if even || !cutting.OffersFor(g.job, *part).Fits {
			cuts = g.divide(part)
		}
		g.cuts[kind] = cuts
	}
	return cuts
}

// divide finds the fewest strips that the boards give; nothing when they give
// none.
func (g *gluer) divide(part *orders.Part) []measure.Length {
	set := &g.p.Order.Settings
	narrow := strip(part, set, set.NarrowestStrip, 2)
	offers := cutting.OffersFor(g.job, narrow)
	var fewest []measure.Length
	for n := 2; ; n++ {
		widths := shares(part, set, n)
		if widths == nil {
			return fewest
		}
		widest := measure.Length(0)
		for i, w := range widths {
			widest = max(widest, strip(part, set, w, edgesGlued(i, n)).CutWidth)
		}
		if widest > offers.Widest {
			continue
		}
		if fewest == nil {
			fewest = widths
		}
		if widest <= offers.Plenty || g.supplied(part, widths) {
			return widths
		}
	}
}

// supplied reports whether the boards that are listed give the strips of all
// panels like this one.
func (g *gluer) supplied(part *orders.Part, widths []measure.Length) bool {
	job := g.job
	job.Standard, job.Parts = false, nil
	for i := range g.p.Parts {
		other := &g.p.Parts[i]
		if !glueable(other) || kindOf(other) != kindOf(part) {
			continue
		}
		for k, w := range widths {
			s := strip(other, &g.p.Order.Settings, w, edgesGlued(k, len(widths)))
			s.ID = fmt.Sprintf("%s-%d", other.ID, k)
			job.Parts = append(job.Parts, s)
		}
	}
	return len(cutting.Nest(job, nesting.Limits{Think: firstThink}).Short) == 0
}

// shares divides a panel's width into n strips; nothing when they would be
// narrower than is glued. Of an even number the middle joint lies half an inch
// off the middle of a lid, where its handle goes, if the strips allow it.
func shares(part *orders.Part, set *settings.Shop, n int) []measure.Length {
	step := measure.Inch / 16
	if set.Units.Metric() {
		step = measure.Millimetre
	}
	one := part.Width / measure.Length(n) / step * step
	if off := (measure.Inch + measure.Length(n) - 1) / measure.Length(n); part.Role == orders.LidP && n%2 == 0 {
		larger := (one + off + step - 1) / step * step
		if part.Width-measure.Length(n-1)*larger >= set.NarrowestStrip {
			one = larger
		}
	}
	last := part.Width - measure.Length(n-1)*one
	if min(one, last) < set.NarrowestStrip || one <= 0 || last <= 0 {
		return nil
	}
	out := make([]measure.Length, n)
	for i := range out {
		out[i] = one
	}
	out[n-1] = last
	return out
}

// edgesGlued is how many edges of the i-th of n strips are glued.
func edgesGlued(i, n int) int {
	if i == 0 || i == n-1 {
		return 1
	}
	return 2
}

// strip is one strip of a panel: its own share of the width, with what jointing
// and trimming take in its cut size.
func strip(part *orders.Part, set *settings.Shop, width measure.Length, glued int) orders.Part {
	s := *part
	s.Role, s.Grain = orders.Strip, orders.AlongLength
	s.Width = width
	s.Thickness += set.Planing
	s.CutLength = part.Length + max(set.PartLength, extraLength(set))
	s.CutWidth = width + measure.Length(glued)*set.JointAllowance + measure.Length(2-glued)*((set.PartWidth+1)/2)
	return s
}

// replace puts strips in the place of the panels that are divided, and says so
// once a line.
func (g *gluer) replace(widths func(*orders.Part) []measure.Length) {
	type lineRole struct {
		loose bool
		line  int
		role  orders.Role
	}
	said := map[lineRole]bool{}
	out := make([]orders.Part, 0, len(g.p.Parts))
	for i := range g.p.Parts {
		part := &g.p.Parts[i]
		cuts := widths(part)
		if cuts == nil {
			out = append(out, *part)
			continue
		}
		panel := orders.GluedPanel{ID: part.ID, Source: part.Source, Line: part.Line, Box: part.Box, Unit: part.Unit,
			Role: part.Role, Wood: part.Wood, Length: part.Length, Width: part.Width, Thickness: part.Thickness}
		for k, w := range cuts {
			s := strip(part, &g.p.Order.Settings, w, edgesGlued(k, len(cuts)))
			s.ID, s.Panel = fmt.Sprintf("%s-%d", part.ID, k+1), panel.ID
			s.Notes = fmt.Sprintf("strip %d of %d of the %s", k+1, len(cuts), roleName(part.Role))
			panel.Strips = append(panel.Strips, s.ID)
			out = append(out, s)
		}
		g.p.Panels = append(g.p.Panels, panel)
		at := lineRole{part.Role == orders.Loose, part.Line, part.Role}
		if !said[at] {
			said[at] = true
			g.say(&panel, len(cuts))
		}
	}
	g.p.Parts = out
}

func roleName(role orders.Role) string {
	if role == orders.Loose {
		return "part"
	}
	return string(role)
}

// say notes what is glued, and puts the steps into how its boxes are made.
func (g *gluer) say(panel *orders.GluedPanel, n int) {
	set := &g.p.Order.Settings
	show := func(l measure.Length) string { return l.OnRule(set.Units) }
	size := fmt.Sprintf("%s x %s x %s", show(panel.Length), show(panel.Width), show(panel.Thickness))
	g.p.Findings = append(g.p.Findings, orders.Finding{Level: orders.Note, Source: panel.Source,
		Read: fmt.Sprintf("%s, %s", roleName(panel.Role), size),
		Did:  fmt.Sprintf("wider than the boards of %s: glued up from %d strips", panel.Wood, n),
		Fix:  "OK if intended; for one board add a wider one to Rack or Yard, or set Glue up panels to no"})
	for i := range g.p.Builds {
		b := &g.p.Builds[i]
		if b.Line != panel.Line || panel.Role == orders.Loose {
			continue
		}
		clamps := int((panel.Length+12*measure.Inch-1)/(12*measure.Inch)) + 1
		steps := []orders.MakingStep{
			{When: orders.BeforeJoints, Why: "an edge that is straight and square needs no force to close",
				What: fmt.Sprintf("%s: plane its %d strips to %s, joint the edges that are glued, lay them in number order with the grain running one way, and mark a triangle across them",
					roleName(panel.Role), n, show(panel.Thickness+set.Planing))},
			{When: orders.BeforeJoints, Why: fmt.Sprintf("glue reaches its strength only after the cure (setting Cure: %s h); if scraped and flattened sooner, the joint lines sink", set.Units.Number(set.Week.CureHours, -1)),
				What: fmt.Sprintf("%s: glue the edges and clamp with %d clamps or more, %s apart, alternately above and below; after the cure flatten it to %s and trim it to %s x %s",
					roleName(panel.Role), clamps, set.Units.Either("6 to 12 in (150 to 300 mm)", "150 to 300 mm"), show(panel.Thickness), show(panel.Length), show(panel.Width))},
		}
		b.Steps = append(steps, b.Steps...)
	}
}
