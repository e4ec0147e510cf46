package main

import (
	"slices"

	"batchwright/jigplan"
	"batchwright/jigplan/check"
	"batchwright/jigplan/document"
	"batchwright/jigplan/joint"
	"batchwright/orders/measure"
)

// jointJSON is one joint as other programs read it. Candidates cut both rows;
// a joint that needs one program a row stands in pairs.
type jointJSON struct {
	Candidates []candidateJSON `json:"candidates"`
	Pairs      []pairJSON      `json:"pairs"`
	Near       []candidateJSON `json:"near"`
	Dialled    []pairJSON      `json:"dialled"`
	Offers     []offerJSON     `json:"offers"` // of the best candidate's heights
	Warnings   []string        `json:"warnings"`
	Refused    *refusedJSON    `json:"refused,omitempty"`
}

type candidateJSON struct {
	document.Program
	FingerError measure.Ratio `json:"finger_error_mm"`
	Why         string        `json:"why,omitempty"` // what is wrong with a near one
}

type pairJSON struct {
	A           document.Program `json:"a"`
	B           document.Program `json:"b"`
	Turns       string           `json:"turns,omitempty"` // from A's home to B's first cut
	FingerError measure.Ratio    `json:"finger_error_mm"`
	Price       string           `json:"price,omitempty"`
}

// offerJSON is what one height could have with the best candidate's fingers.
type offerJSON struct {
	Height  measure.Length    `json:"height_mm"`
	Layouts []document.Height `json:"layouts"`
	Even    []evenJSON        `json:"even_heights"` // nearest first
}

type evenJSON struct {
	Height  measure.Length `json:"height_mm"`
	Fingers int64          `json:"fingers"`
}

func offerRecords(offers []joint.Offer) []offerJSON {
	out := []offerJSON{}
	for _, o := range offers {
		as := document.OfProgram(&jigplan.Program{Heights: o.Layouts})
		line := offerJSON{Height: o.Height, Layouts: as.Heights, Even: []evenJSON{}}
		for _, e := range o.Even {
			line.Even = append(line.Even, evenJSON{e.Height, e.Fingers})
		}
		out = append(out, line)
	}
	return out
}

type refusedJSON struct {
	Why     string    `json:"why"`
	Nearest string    `json:"nearest"`
	Ways    []wayJSON `json:"ways"`
}

// wayJSON is one way out; setting and value are empty where no one setting does it.
type wayJSON struct {
	Kind    jigplan.WayKind `json:"kind"`
	Text    string          `json:"text"`
	Setting string          `json:"setting"`
	Value   string          `json:"value"`
}

func jointRecord(q joint.Request, a joint.Answer) jointJSON {
	out := jointJSON{Candidates: []candidateJSON{}, Pairs: []pairJSON{}, Near: []candidateJSON{}, Dialled: []pairJSON{}, Warnings: []string{}}
	for _, c := range a.Candidates {
		if c.Mate != nil {
			out.Pairs = append(out.Pairs, pairRecord(c, "", ""))
			continue
		}
		out.Candidates = append(out.Candidates, candidateRecord(c))
	}
	for _, c := range a.Near {
		out.Near = append(out.Near, candidateRecord(c))
	}
	for _, d := range a.Dialled {
		pair := joint.Candidate{Program: d.A, Mate: &d.B, FingerError: d.FingerError}
		out.Dialled = append(out.Dialled, pairRecord(pair, d.Turns.String(), d.Price))
	}
	out.Offers = offerRecords(joint.Offers(q, a.Best()))
	out.Warnings = append(out.Warnings, a.Warnings...)
	for _, text := range a.Best().Warnings {
		if !slices.Contains(out.Warnings, text) {
			out.Warnings = append(out.Warnings, text)
		}
	}
	if a.Refused != nil {
		out.Refused = &refusedJSON{Why: a.Refused.Why, Nearest: a.Refused.Nearest, Ways: []wayJSON{}}
		for _, way := range a.Refused.Ways {
			out.Refused.Ways = append(out.Refused.Ways, wayJSON{way.Kind, way.Text, way.Setting, way.Value})
		}
	}
	return out
}

func candidateRecord(c joint.Candidate) candidateJSON {
	return candidateJSON{document.OfProgram(&named(c)[0]), c.FingerError, c.Why}
}

func pairRecord(c joint.Candidate, turns, price string) pairJSON {
	programs := named(c)
	return pairJSON{document.OfProgram(&programs[0]), document.OfProgram(&programs[1]), turns, c.FingerError, price}
}

// named gives a candidate's programs the names they bear on their own.
func named(c joint.Candidate) []jigplan.Program {
	programs := slices.Clone(c.Programs())
	if len(programs) == 1 {
		programs[0].ID = "J1"
		return programs
	}
	programs[0].ID, programs[0].Mate = "J1", "J2"
	programs[1].ID, programs[1].Mate = "J2", "J1"
	return programs
}

// proved puts every legal program through the independent check before anyone
// sees it.
func proved(a joint.Answer) error {
	for _, c := range a.Candidates {
		if faults := check.Programs(named(c)); len(faults) > 0 {
			return refuse("a bug in the program: its own check refuses this joint: %w; please report it with the command line", faults[0])
		}
	}
	return nil
}
