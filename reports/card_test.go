package reports

import (
	"strings"
	"testing"

	"batchwright/jigplan"
	"batchwright/orders"
	"batchwright/orders/measure"
	"batchwright/orders/settings"
)

// oneRow cuts slots of 9/32 every 9/16 from an origin, on boards 3 in high.
func oneRow(id, mate string, rows jigplan.Rows, origin measure.Ratio, slots int64) jigplan.Program {
	p := jigplan.Program{ID: id, Mate: mate, Rows: rows, Kerf: measure.Inch * 3 / 32, Spacer: inches(9, 32), Origin: origin,
		Heights: []jigplan.Height{{Height: 3 * measure.Inch, ALow: jigplan.Edge{Notch: true, Width: inches(9, 32)}, BLow: jigplan.Edge{Width: inches(9, 32)}}}}
	for slot := range slots {
		for cut := range int64(4) {
			total := slot*9 + cut
			p.Steps = append(p.Steps, jigplan.Step{Slot: int(slot) + 1, Cut: int(cut) + 1, TotalTurns: measure.Whole(total), Travel: inches(total, 16)})
		}
	}
	return p
}

// Two programs of one row each cut one end: the card of either shows the end
// its mate cuts, and where one has a slot the other has a pin.
func TestCardShowsTheMatesEnd(t *testing.T) {
	plan := &jigplan.Plan{Order: &orders.Order{Settings: settings.Default()}, Programs: []jigplan.Program{
		oneRow("J1", "J2", jigplan.OnlyA, measure.Ratio{}, 6),
		oneRow("J2", "J1", jigplan.OnlyB, inches(9, 32), 5)}}
	for _, card := range Cards(plan) {
		e := card.Ends[0]
		if e.A == nil || e.B == nil {
			t.Fatalf("card %s shows one end alone", card.Program.ID)
		}
		for i, slot := range e.B.Slots {
			if pin := e.A.Pins()[i]; !same(slot, pin) {
				t.Errorf("card %s: slot %d of B is %v, the pin of A %v", card.Program.ID, i+1, slot, pin)
			}
		}
	}
	if alone := CardOf(&plan.Programs[0], nil, &plan.Order.Settings); alone.Ends[0].B != nil {
		t.Error("a card without its mate shows an end that nobody cut")
	}
	head := Cards(plan)[1].Head()
	for _, p := range head {
		if p.Name == "Rows" && !strings.Contains(p.Text, "row B alone, behind the spacer of 9/32 in") {
			t.Errorf("row B's card says %q: its setup puts the spacer in", p.Text)
		}
		if p.Name == "Home" && !strings.Contains(p.Text, "inside the marked edge of row B") {
			t.Errorf("home reads %q", p.Text)
		}
	}
}

// TestCardOnItsOwn: what a card of its own must say for want of
// a setup, and which edge goes to the stop where the boards are their own mates.
func TestCardOnItsOwn(t *testing.T) {
	s := settings.Default()
	p := oneRow("J1", "", jigplan.OnlyA, measure.Ratio{}, 6)
	p.MateThickness = measure.Inch * 3 / 8
	card := CardOf(&p, nil, &s)
	said := func(c Card) string {
		for _, line := range c.Head() {
			if line.Name == "Blade height" {
				return line.Text
			}
		}
		return ""
	}
	if got := said(card); got != "25/64 in: the mates' 3/8 in and 1/64 in to stand proud" {
		t.Errorf("blade height %q", got)
	}
	card.Setups = []*jigplan.Setup{{ID: "U1"}}
	if got := said(card); got != "" {
		t.Errorf("the setup has a height, the head says %q too", got)
	}
	if at := card.AtTheStop(); at != "A's marked, B's other edge to the stop" {
		t.Errorf("boards that are their own mates: %q", at)
	}
	p.Mate = "J2"
	if at := CardOf(&p, nil, &s).AtTheStop(); at != "marked edge to the stop" {
		t.Errorf("a row with a card of its own: %q", at)
	}
}

func TestTurnsAsTheyAreWritten(t *testing.T) {
	for want, r := range map[string]measure.Ratio{
		"6": measure.Whole(6), "6½": measure.Frac(13, 2), "¾": measure.Frac(3, 4), "0": {}, "6-5/16": measure.Frac(101, 16),
		"5/16": measure.Frac(5, 16), "-1¼": measure.Frac(-5, 4), "2⅓": measure.Frac(7, 3),
	} {
		if got := Turns(r); got != want {
			t.Errorf("%v turns are written %q, want %q", r, got, want)
		}
	}
}

func TestHoursAsTheyAreSaid(t *testing.T) {
	for minutes, want := range map[float64]string{0: "0 min", 59.4: "59 min", 59.6: "1 h", 61: "1 h 1 min", 120: "2 h"} {
		if got := Hours(minutes); got != want {
			t.Errorf("%v minutes are %q, want %q", minutes, got, want)
		}
	}
}
