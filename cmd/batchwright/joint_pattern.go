package main

import (
	"fmt"
	"slices"
	"strings"

	"batchwright/jigplan/check"
	"batchwright/jigplan/document"
	"batchwright/jigplan/joint"
	"batchwright/orders/measure"
	"batchwright/reports"
)

// patternJSON is a pattern beside the joint's own lists.
type patternJSON struct {
	jointJSON
	Features []measure.Ratio   `json:"features_mm"` // from the marked edge of row A
	First    string            `json:"first"`       // what the first feature of row A is
	Mating   []joint.Mating    `json:"mating"`      // ways to make row B, the handiest first
	Turned   *document.Program `json:"turned,omitempty"`
}

// pattern answers a decorative joint.
func (c *common) pattern(f *jointFlags, q joint.Request) error {
	p, err := joint.ParsePattern(f.pattern, q.Finger, slices.Max(q.Heights), q.Settings.Reading())
	if err != nil {
		return exit{exitUsage, err}
	}
	a, err := joint.SolvePattern(q, p)
	if err != nil {
		return c.impossible(err)
	}
	flat := joint.Answer{Finger: q.Finger, Refused: a.Refused}
	if a.Refused == nil {
		flat.Candidates = []joint.Candidate{a.Candidate}
	}
	if err := provedPattern(flat, a); err != nil {
		return err
	}
	if err := c.writeJSON(patternRecord(q, flat, a)); err != nil {
		return err
	}
	if a.Refused != nil {
		return refusedJoint(a.Refused)
	}
	w := reports.Words{Unit: q.Settings.Units}
	c.tell([]string{patternWords(w, a)})
	handiest := a.Candidate
	if a.Mating[0] == joint.ByTurning {
		handiest = joint.Candidate{Program: *a.Turned}
	}
	for _, program := range named(handiest) {
		c.show([]reports.Table{countTable(w, q, program), heightTable(w, program)})
		c.tell(program.Warnings)
	}
	c.tell([]string{reports.CautionLine})
	return c.jointCard(f.card, q, handiest)
}

func provedPattern(flat joint.Answer, a joint.PatternAnswer) error {
	if err := proved(flat); err != nil || a.Turned == nil {
		return err
	}
	if faults := append(check.Program(*a.Turned), check.Turned(*a.Turned)...); len(faults) > 0 {
		return refuse("a bug in the program: its own check refuses this pattern: %w; please report it with the command line", faults[0])
	}
	return nil
}

func patternRecord(q joint.Request, flat joint.Answer, a joint.PatternAnswer) patternJSON {
	out := patternJSON{jointJSON: jointRecord(q, flat), Features: []measure.Ratio{}, First: firstFeature(a), Mating: []joint.Mating{}}
	out.Features = append(out.Features, a.Features...)
	out.Mating = append(out.Mating, a.Mating...)
	if a.Turned != nil {
		turned := *a.Turned
		turned.ID = "J1 turned"
		program := document.OfProgram(&turned)
		out.Turned = &program
	}
	return out
}

func firstFeature(a joint.PatternAnswer) string {
	if a.PinFirst {
		return "pin"
	}
	return "slot"
}

func patternWords(w reports.Words, a joint.PatternAnswer) string {
	var widths, ways []string
	for _, f := range a.Features {
		widths = append(widths, w.Fine(f))
	}
	for _, m := range a.Mating {
		ways = append(ways, string(m))
	}
	return fmt.Sprintf("Pattern from the marked edge of row A, %s first: %s\nRow B is made %s; the widest miss is %s",
		firstFeature(a), strings.Join(widths, ", "), strings.Join(ways, ", or "), w.Fine(a.Candidate.FingerError))
}
