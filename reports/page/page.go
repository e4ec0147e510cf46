// Package page makes the count page for the saw: one file for a telephone or a
// tablet that says what to turn, what to cut, and keeps the place. It leaves
// the count itself to the plan, and printing to workbook.
package page

import (
	"bytes"
	"crypto/sha256"
	_ "embed"
	"encoding/hex"
	"encoding/json"
	"html/template"
	"strconv"

	"batchwright/jigplan"
	"batchwright/orders"
	"batchwright/orders/measure"
	"batchwright/reports"
)

//go:embed count.html
var source string

var document = template.Must(template.New("count").Parse(source))

// run is one stack at one end, or one program alone: what is read on the page.
type run struct {
	Name    string   `json:"name"` // "Recipe box, stack 2, end 1"
	Card    string   `json:"card"` // "Jig J1"
	Set     []string `json:"set"`  // what is set and loaded first
	Then    []string `json:"then"` // what follows, each a step of its own: the spacer in, and out
	Minutes float64  `json:"min"`
}

// card is the count that all stacks of a program share.
type card struct {
	Steps []step `json:"steps"`
	Back  string `json:"back"` // turns back to zero
	Unit  string `json:"unit"` // of the rule
}

// step is one cut: the turns before it, and what must be seen after them.
type step struct {
	Slot  int     `json:"slot"`
	Slots int     `json:"slots"` // of the program
	Cut   int     `json:"cut"`
	Cuts  int     `json:"cuts"` // of this slot
	Turn  string  `json:"turn"`
	Past  bool    `json:"past"` // the turns go past a pin
	Total string  `json:"total"`
	Angle float64 `json:"angle"` // of the handle, in degrees from 12
	Clock string  `json:"clock"`
	Rule  string  `json:"rule"`
}

// Count is the page for every stack of a plan, in running order.
func Count(p *jigplan.Plan) ([]byte, error) {
	w := reports.WordsOf(p)
	byID := map[string]reports.Card{}
	for _, c := range reports.Cards(p) {
		byID[c.Program.ID] = c
	}
	var runs []run
	names := reports.NamesOf(p)
	for _, u := range reports.SetupsOf(p) {
		c, ok := byID[u.Setup.Program]
		if !ok {
			continue
		}
		for _, pair := range u.Stacks {
			for _, k := range []*jigplan.Stack{pair.First, pair.Other} {
				if k == nil {
					continue
				}
				r := stackRun(c, &u, k, names, w)
				r.Name = u.Boxes + ", stack " + strconv.Itoa(pair.N) + ", end " + strconv.Itoa(k.End)
				if runs = append(runs, r); c.Program.Passes() == 2 {
					runs[len(runs)-1].Minutes /= 2
					runs = append(runs, secondRun(c, runs[len(runs)-1], w))
				}
			}
		}
	}
	cards := map[string]card{}
	for _, c := range byID {
		cards["Jig "+c.Program.ID] = count(c, w)
	}
	return write(p.Order.File, runs, cards)
}

func stackRun(c reports.Card, u *reports.SetupView, k *jigplan.Stack, names reports.Names, w reports.Words) run {
	r := run{Card: "Jig " + c.Program.ID, Then: []string{}, Minutes: k.Minutes}
	r.Set = append(r.Set, "blade "+u.Blade+", height "+u.Height)
	for _, row := range []orders.Row{orders.RowA, orders.RowB} {
		if boards := reports.StackRow(k, row, names, w); boards != "" {
			r.Set = append(r.Set, "row "+string(row)+": "+boards)
		}
	}
	if u.Setup.Spacer.Sign() > 0 {
		r.Then = append(r.Then, "Put in spacer "+u.Spacer+", behind row A. Row B against it. Clamp.", "Take the spacer out.")
	} else {
		r.Set = append(r.Set, "no spacer")
	}
	r.Set = append(r.Set, headLines(c)...)
	return r
}

// secondRun is the same card once more, with the shim at the stop.
func secondRun(c reports.Card, r run, w reports.Words) run {
	r.Name += ", second pass"
	r.Then = []string{}
	r.Set = []string{"saw stopped, wheel back at zero", "shim of " + w.Both(c.Program.SecondPass) + " between the stop and the boards; clamp again"}
	return r
}

// headLines are the lines of the card that are set before the first cut.
func headLines(c reports.Card) []string {
	var out []string
	for _, p := range c.Head() {
		out = append(out, p.Name+": "+p.Text)
	}
	out = append(out, c.TestCorner()...)
	return append(out, c.Program.Warnings...)
}

func count(c reports.Card, w reports.Words) card {
	r := card{Back: reports.Turns(c.Program.ReturnTurns), Unit: w.UnitName(), Steps: []step{}}
	cuts := map[int]int{}
	for _, row := range c.Rows {
		cuts[row.Slot] = row.Cuts
	}
	for i := range c.Program.Steps {
		s := &c.Program.Steps[i]
		part := s.TotalTurns.Mod(measure.Whole(1))
		r.Steps = append(r.Steps, step{Slot: s.Slot, Slots: len(c.Rows), Cut: s.Cut, Cuts: cuts[s.Slot],
			Turn: reports.Turns(s.Turns), Past: i > 0 && c.Program.Steps[i-1].Slot != s.Slot,
			Total: reports.Turns(s.TotalTurns), Angle: part.Float() * 360, Clock: s.Clock, Rule: w.Rule(s.Travel)})
	}
	return r
}

// write fills the page in. What is kept of the place is kept under the hash of
// what is counted, so that another plan never inherits it.
func write(about string, runs []run, cards map[string]card) ([]byte, error) {
	if runs == nil {
		runs = []run{}
	}
	data, err := json.Marshal(struct {
		Runs  []run           `json:"runs"`
		Cards map[string]card `json:"cards"`
	}{runs, cards}) // escapes <, > and &: it cannot end the script
	if err != nil {
		return nil, err
	}
	sum := sha256.Sum256(data)
	var out bytes.Buffer
	err = document.Execute(&out, map[string]any{
		"About": about, "Caution": reports.CautionLine, "Key": hex.EncodeToString(sum[:8]), "Plan": template.JS(data),
	})
	return out.Bytes(), err
}
