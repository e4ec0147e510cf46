package main

import (
	"fmt"
	"strings"

	"batchwright/jigplan"
	"batchwright/jigplan/joint"
	"batchwright/orders/measure"
	"batchwright/orders/settings"
	"batchwright/reports"
)

// warnOfProfile warns when the jig is no longer what the cards were made for,
// and says what that does to each fit.
func (c *common) warnOfProfile(s *shown, p *jigplan.Plan) {
	if s.latest.Version == s.revision.Profile || p.Order.Settings.OwnJig() {
		return
	}
	c.sayf("warning: the cards are for jig profile %d, the shop is at %d (%s): do not cut with them before a test corner",
		s.revision.Profile, s.latest.Version, strings.Join(s.latest.Differences(s.profile, s.settings.Units), "; "))
	for _, d := range drifts(p.Programs, &s.settings) {
		c.sayf("  %s", d.text)
	}
}

// drift is what a blade and a rod other than the planned ones do to a fit.
type drift struct {
	text  string
	alarm bool // it leaves its class, or what the shop accepts
}

// drifts says what the shop's kerf and lead do to the fits of programs. A fit is
// twice the kerf less the travel past a pin, and that grows as the lead does.
func drifts(programs []jigplan.Program, s *settings.Shop) (out []drift) {
	w := reports.Words{Unit: s.Units}
	for _, p := range programs {
		past := p.Kerf.Ratio().Times(2).Sub(p.Fit)
		if lead := leadOf(s); lead.Sign() > 0 && lead.Cmp(p.Lead) != 0 {
			past = past.Mul(lead.Div(p.Lead))
		}
		moved := s.BladeKerf.Ratio().Times(2).Sub(past)
		if moved.Cmp(p.Fit) == 0 {
			continue
		}
		d := drift{text: fmt.Sprintf("%s: fit %s -> %s", p.ID, w.Caliper(p.Fit), w.Caliper(moved))}
		was, is := joint.FitClass(p.Fit), joint.FitClass(moved)
		if d.alarm = was != is; d.alarm {
			d.text += ", " + was + " -> " + is
		} else {
			d.text += ", still " + is
		}
		if moved.Cmp(s.FitAtLeast.Ratio()) < 0 || moved.Cmp(s.FitAtMost.Ratio()) > 0 {
			d.alarm = true
			d.text += fmt.Sprintf("; the shop accepts %s to %s", w.Caliper(s.FitAtLeast.Ratio()), w.Caliper(s.FitAtMost.Ratio()))
		}
		out = append(out, d)
	}
	return out
}

// leadOf is the lead of the shop's rod: as measured, else as its name says; 0
// when the name cannot be read.
func leadOf(s *settings.Shop) measure.Ratio {
	if s.Lead > 0 {
		return s.Lead.Ratio()
	}
	rod, err := joint.ParseRod(s.Rod)
	if err != nil {
		return measure.Ratio{}
	}
	return rod.Lead()
}
